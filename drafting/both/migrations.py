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


def from_version_2(kit):
    """Version 2 took `bust_girth` under the arms, where `upper_chest_girth` is taken now."""
    now = dict(kit)
    now["version"] = 3
    wearers = kit.get("wearers", [])
    if _are_entries(wearers):
        now["wearers"] = [under_the_arms(wearer) for wearer in wearers]
    return now


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


MIGRATIONS = {1: from_version_1, 2: from_version_2}
"""From a version to the next: what is done to a file that an earlier Ellwand saved."""
