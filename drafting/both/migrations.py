"""A kit's plain values brought up from one version of its file to the next.

It also runs in the page's MicroPython, on the kits that the browser keeps, so it imports nothing and
keeps to the plainest Python. What is not as that version wrote it stays as it is, for the reader to
refuse: nothing is dropped here.
"""

LINING = "lining_"


def from_version_1(kit):
    """Version 1 knew one `cloth` of a garment; its lining's fields stood among those of that cloth.

    Now `cloths` names one for each part that is cut from a cloth of its own: {"main": "c1", "lining": "c2"}.
    """
    now = dict(kit)
    now["version"] = 2
    cloths, garments = kit.get("cloths", []), kit.get("garments", [])
    if _are_entries(cloths) and _are_entries(garments):
        now["cloths"], linings = _parted(cloths)
        now["garments"] = [_named(garment, linings) for garment in garments]
    return now


def _parted(cloths):
    """(the cloths, a lining's fields as a cloth of its own, {cloth id: the id of its lining})."""
    found, linings = [], {}
    taken = [cloth.get("id") for cloth in cloths]
    for cloth in cloths:
        lining = {key[len(LINING):]: cloth[key] for key in cloth if key.startswith(LINING)}
        found.append({key: cloth[key] for key in cloth if not key.startswith(LINING)})
        if lining and isinstance(cloth.get("id"), str):
            number = 1
            while f"c{number}" in taken:
                number += 1
            lining["id"] = f"c{number}"
            lining.setdefault("name", "lining")
            taken.append(lining["id"])
            found.append(lining)
            linings[cloth["id"]] = lining["id"]
    return found, linings


def _named(garment, linings):
    cloth = garment.get("cloth")
    if "cloths" in garment or not (cloth is None or isinstance(cloth, str)):
        return garment
    now = {key: garment[key] for key in garment if key != "cloth"}
    now["cloths"] = {} if cloth is None else {"main": cloth}
    if cloth in linings:
        now["cloths"]["lining"] = linings[cloth]
    return now


def _are_entries(entries):
    return isinstance(entries, list) and all(isinstance(entry, dict) for entry in entries)


def _each_changed(kit, version, name, change):
    """The kit in that version, each of its entries of one kind changed; what are no entries stays."""
    now = dict(kit)
    now["version"] = version
    entries = kit.get(name, [])
    if _are_entries(entries):
        now[name] = [change(entry) for entry in entries]
    return now


def from_version_2(kit):
    """Version 2 took `bust_girth` under the arms, where `upper_chest_girth` is taken now."""
    return _each_changed(kit, 3, "wearers", under_the_arms)


def under_the_arms(wearer):
    """A wearer's plain values whose `bust_girth` was taken under the arms, by that measure's own name.

    A size's start value was never taken anywhere, and stays.
    """
    if not isinstance(wearer, dict):
        return wearer
    texts, start = wearer.get("measurements"), wearer.get("start") or []
    if not isinstance(texts, dict) or "bust_girth" not in texts or "bust_girth" in start:
        return wearer
    now = dict(wearer)
    now["measurements"] = {
        "upper_chest_girth" if name == "bust_girth" else name: texts[name] for name in texts
    }
    return now


PROPOSED_BEFORE = {
    "cloak": {"shape": "half-circle"},
    "hood": {"gore_shape": "wedge", "over": "skin"},
    "leg-wraps": {"edges": "hemmed", "joins": "one"},
    "wrap-coat": {"overlap": "130 mm"},
}
"""What was proposed for an option that stood nowhere, until kit files of version 3 and links of version 2."""

PLEATED_BEFORE = {"pleat_count": "6", "pleat_depth": "11 mm"}
"""Of a pleated dress; the depth was 0.012 of the bust then."""

UNFOLDED_BEFORE = {"fold_over": "0"}
"""Of a cloak that was to be a rectangle."""

SCOOPED_NOW = (
    "A circular cloak's neck is scooped now and closes down its fronts: its way round the neck is taken from "
    "clasp to clasp, where it was the neck edge. Look at its pieces before you cut."
)


def as_proposed_before(garment, options):
    """A garment's option texts with those that it left to what was proposed before."""
    if not isinstance(options, dict) or not isinstance(garment, str):
        return options
    before = dict(PROPOSED_BEFORE.get(garment, {}))
    if garment == "apron-dress" and options.get("style") == "pleated":
        before.update(PLEATED_BEFORE)
    if garment == "cloak" and options.get("shape") == "rectangle":
        before.update(UNFOLDED_BEFORE)
    before.update(options)
    return before


def drafted_before(garment, options):
    """(a link's option texts as `as_proposed_before`, sentences on what changed all the same)."""
    options = as_proposed_before(garment, options)
    round_cloak = garment == "cloak" and options.get("shape") != "rectangle"
    return options, [SCOOPED_NOW] if round_cloak else []


def from_version_3(kit):
    """Version 3 had other proposals for some options; what it left to them is written down."""
    return _each_changed(kit, 4, "garments", _proposed_before)


def _proposed_before(garment):
    options = as_proposed_before(garment.get("garment"), garment.get("options", {}))
    if not options:
        return garment
    now = dict(garment)
    now["options"] = options
    return now


def from_version_4(kit):
    """Version 4 knew nothing of a garment's life: what a try-on left for it, what became of it."""
    now = dict(kit)
    now["version"] = 5
    return now


MIGRATIONS = {1: from_version_1, 2: from_version_2, 3: from_version_3, 4: from_version_4}
"""From a version to the next: what is done to a file that an earlier Ellwand saved."""
