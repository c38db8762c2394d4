"""The kit on the page, as plain values in the shape of the kit file, and the draft as a view of it.

    {"title": "…", "unit": "cm", "impression": {…}, "house_rules": None,
     "wearers": [{"id": "w1", …}], "cloths": [{"id": "c1", …}], "garments": [{"id": "g1", …}],
     "at": "g1", "looking": "", "paper": ""}

Texts stay as they were typed. Beyond the file, the page keeps what is its own: the garment on the
form (`at`), the one that stands there only because its kind was looked at (`looking`), the paper, a
wearer's `start` values and `age_months` as chosen, a garment's `progress`, and how it was `laid_as` when
its pieces were chalked. A garment's lengths are in its wearer's unit, a cloth's in the kit's. kitcloths.py
tells what each garment is cut from, kittexts.py how all of it is kept and written into a file,
kitbefore.py what earlier visits kept. Nothing here touches the page, so plain Python can test it.
"""

import kitcloths
from draft import FormDraft
from entries import entry, new_id
from lengths import under
from lives import fit_left

PERSON = ("name", "unit", "measured", "sex", "born", "age_months", "measurements", "start")
UNNAMED = "no name yet"


def fresh(garment, unit="cm"):
    """A kit of one wearer and one garment, with nothing typed."""
    kit = {"title": "", "unit": unit, "impression": {}, "house_rules": None, "wearers": [], "cloths": [],
           "garments": [], "at": "", "looking": "", "paper": ""}
    add_garment(kit, add_wearer(kit, nobody(unit)), garment)
    kit["at"] = kit["looking"] = "g1"
    return kit


def nobody(unit):
    return {"name": "", "unit": unit, "measured": "", "sex": "", "born": "", "age_months": "",
            "measurements": {}, "start": {}}


def wearer_of(kit, garment_id):
    return entry(kit["wearers"], entry(kit["garments"], garment_id)["wearer"])


def garments_of(kit, wearer_id):
    return [g for g in kit["garments"] if g["wearer"] == wearer_id]


def by_name(kit):
    """The wearers in order of their names, those without one last."""
    places = [(not w["name"].strip(), w["name"].strip().lower(), i) for i, w in enumerate(kit["wearers"])]
    return [kit["wearers"][place[2]] for place in sorted(places)]  # MicroPython's sort alone is not stable


def called(kit, wearer):
    """A wearer by their name, with a number where several go by it."""
    name = wearer["name"].strip()
    alike = [w["id"] for w in kit["wearers"] if w["name"].strip() == name] if name else []
    return (name or UNNAMED) + (" (%d)" % (alike.index(wearer["id"]) + 1) if len(alike) > 1 else "")


def is_nobody(wearer):
    return not (wearer["measurements"] or wearer["name"].strip() or wearer["born"])


def is_untouched(garment):
    """Whether nothing was decided about a garment but its kind."""
    return not (garment["options"] or garment["done"] or garment["life"])


def is_empty(kit):
    """Whether the kit holds nothing that would be missed."""
    return not kit["title"].strip() and all(kitcloths.is_blank(c) for c in kit["cloths"]) and all(
        is_nobody(w) for w in kit["wearers"]
    ) and all(is_untouched(g) for g in kit["garments"]) and len(kit["garments"]) < 2


# --- The draft as a view ------------------------------------------------------------------------------


def draft_of(kit, garment_id, lengths):
    """The FormDraft of one garment; `lengths` as for FormDraft.switch_unit."""
    garment = entry(kit["garments"], garment_id)
    wearer = entry(kit["wearers"], garment["wearer"])
    draft = FormDraft(garment["garment"], wearer["unit"])
    for key in PERSON:
        value = wearer[key]
        setattr(draft, key, dict(value) if isinstance(value, dict) else value)
    draft.wardrobe = {garment["garment"]: dict(garment["options"])}
    draft.fitted = {garment["garment"]: dict(garment["taken_up"])}
    draft.cloth_ids = dict(garment["cloths"])
    draft.cloths = kitcloths.view(kit, draft.cloth_ids, draft.unit)
    draft.paper = kit["paper"]
    draft.impression = dict(kit["impression"])
    return draft


def put_draft(kit, draft, lengths):
    """Write the draft back where it came from: the garment on the form, its wearer and its cloths.

    The first cloth of a kit is everyone's, until another one is chosen.
    """
    garment = entry(kit["garments"], kit["at"])
    wearer = entry(kit["wearers"], garment["wearer"])
    if draft.unit != wearer["unit"]:
        for other in garments_of(kit, wearer["id"]):
            other["options"] = under(other["options"], wearer["unit"], draft.unit,
                                     lengths.get(other["garment"], ()))
    for key in PERSON:
        value = getattr(draft, key)
        wearer[key] = dict(value) if isinstance(value, dict) else value
    garment["garment"] = draft.garment
    garment["options"] = dict(draft.options)
    garment["taken_up"] = dict(draft.taken_up)
    if kit["looking"] == kit["at"] and draft.options:
        kit["looking"] = ""
    kit["paper"] = draft.paper
    kit["impression"] = dict(draft.impression)
    first = not kit["cloths"]
    kitcloths.put(kit, garment, draft)
    if first and "main" in garment["cloths"]:
        kitcloths.cut_all_from(kit, garment["cloths"]["main"])


# --- More and fewer -----------------------------------------------------------------------------------


def add_wearer(kit, person):
    """Its id."""
    wearer = {key: person[key] for key in PERSON}
    wearer["id"] = new_id(kit, "wearers")
    kit["wearers"].append(wearer)
    return wearer["id"]


def add_garment(kit, wearer_id, kind, options=None, cloths=None):
    """Its id. It takes up what the wearer's last try-on of its kind left."""
    made = {"id": new_id(kit, "garments"), "wearer": wearer_id, "garment": kind,
            "cloths": dict(cloths or {}), "options": dict(options or {}), "done": [], "progress": "",
            "taken_up": usual_fit(kit, wearer_id, kind)[1], "life": []}
    kit["garments"].append(made)
    return made["id"]


def usual_fit(kit, wearer_id, kind):
    """The day of the wearer's last try-on of such a garment, and the changes that the next is to have."""
    return fit_left(kit["garments"], wearer_id, kind, entry(kit["wearers"], wearer_id)["measured"])


def copy_garment(kit, garment_id, wearer_id, lengths):
    """The same garment once more, for the same wearer or another, nothing of it sewn. Its id."""
    garment = entry(kit["garments"], garment_id)
    before, after = wearer_of(kit, garment_id)["unit"], entry(kit["wearers"], wearer_id)["unit"]
    options = under(garment["options"], before, after, lengths.get(garment["garment"], ()))
    return add_garment(kit, wearer_id, garment["garment"], options, garment["cloths"])


def add_draft(kit, draft):
    """A draft from elsewhere, as one more wearer with one more garment. The garment's id.

    Where the kit holds only nobody's, it takes that place.
    """
    nobodys = [w["id"] for w in kit["wearers"] if is_nobody(w)] if is_empty(kit) else []
    person = {key: getattr(draft, key) for key in PERSON}
    for key in ("measurements", "start"):
        person[key] = dict(person[key])
    garment_id = add_garment(kit, add_wearer(kit, person), draft.garment, draft.options)
    entry(kit["garments"], garment_id)["taken_up"] = dict(draft.taken_up)
    draft.cloth_ids = {}
    kitcloths.put(kit, entry(kit["garments"], garment_id), draft)
    for wearer_id in nobodys:
        take_out(kit, [g["id"] for g in garments_of(kit, wearer_id)], wearer_id)
    return garment_id


def keep_own(kit, before):
    """What the page has of its own and no file holds, carried over where the entries are the same."""
    kit["paper"] = before["paper"]
    for which, key in (("garments", "progress"), ("garments", "laid_as"), ("wearers", "name")):
        for one in before[which]:
            same = entry(kit[which], one["id"])
            if same and key in one:
                same[key] = one[key]
    if entry(kit["garments"], before["at"]):
        kit["at"] = before["at"]


def unmerge(kit, before, merged):
    """Take out again what a merge brought into the kit; what was done since stays, and what it needs.

    `before` and `merged` are the kit as it was before the merge and right after it.
    """
    for which in ("garments", "wearers", "cloths"):
        kit[which] = [
            one for one in kit[which]
            if entry(before[which], one["id"]) or not _is_as(one, entry(merged[which], one["id"]))
            or _is_needed(kit, which, one["id"])
        ]
    for one in kit["garments"]:
        was, came = entry(before["garments"], one["id"]), entry(merged["garments"], one["id"])
        for key in ("done", "life"):
            if was and came and one[key] == came[key]:
                one[key] = list(was[key])
    for key in ("title", "impression", "house_rules"):
        if kit[key] == merged[key]:
            kit[key] = before[key]


def _is_as(one, other):
    """Whether nothing was changed about an entry but how far its checks have come."""
    return other is not None and all(
        one.get(key) == other.get(key) for key in list(one) + list(other)
        if key not in ("progress", "laid_as")
    )


def _is_needed(kit, which, entry_id):
    if which == "wearers":
        return any(garment["wearer"] == entry_id for garment in kit["garments"])
    return which == "cloths" and any(
        garment["cloths"][part] == entry_id for garment in kit["garments"] for part in garment["cloths"]
    )


def take_out(kit, garment_ids, wearer_id=""):
    """Remove garments, and a wearer. Gives what `put_back` needs to undo it."""
    gone = {"at": kit["at"]}
    for which, ids in (("garments", garment_ids), ("wearers", [wearer_id])):
        gone[which] = [(i, one) for i, one in enumerate(kit[which]) if one["id"] in ids]
        kit[which] = [one for one in kit[which] if one["id"] not in ids]
    gone["left"] = [garment["id"] for garment in kit["garments"]]
    return gone


def put_back(kit, gone):
    """Undo `take_out`; what was done since stays."""
    looked_at = entry(kit["garments"], kit["looking"])
    if looked_at and looked_at["id"] not in gone["left"] and is_untouched(looked_at):
        _give_way(kit, looked_at)
    wearers = {}
    for which in ("wearers", "garments"):
        for i, one in gone[which]:
            before = one["id"]
            if entry(kit[which], before):
                one["id"] = new_id(kit, which)
            if which == "wearers":
                wearers[before] = one["id"]
            else:
                one["wearer"] = wearers.get(one["wearer"], one["wearer"])
                one["cloths"] = {part: one["cloths"][part] for part in one["cloths"]
                                 if entry(kit["cloths"], one["cloths"][part])}
            kit[which].insert(i, one)


def look_at(kit, kind):
    """Have the wearer on the form look at a kind of garment. The id of the garment to show.

    Theirs of that kind, if there is one. Else a new one, cut from the same cloth; the one that was
    only being looked at gives way, so that looking through the kinds leaves nothing behind.
    """
    now = entry(kit["garments"], kit["at"])
    passing = kit["looking"] == now["id"] and is_untouched(now)
    kit["looking"] = ""
    for one in garments_of(kit, now["wearer"]):
        if one["garment"] == kind:
            if passing and one is not now:
                kit["garments"].remove(now)
            return one["id"]
    if passing:
        now["garment"], now["progress"] = kind, ""
        now["taken_up"] = usual_fit(kit, now["wearer"], kind)[1]
        made = now["id"]
    else:
        made = add_garment(kit, now["wearer"], kind, {}, now["cloths"])
    kit["looking"] = made
    return made


def _give_way(kit, garment):
    """Take out a garment that only stood in for others, and a wearer who did."""
    wearer = entry(kit["wearers"], garment["wearer"])
    alone = len(garments_of(kit, wearer["id"])) == 1
    take_out(kit, [garment["id"]], wearer["id"] if alone and is_nobody(wearer) else "")
    kit["looking"] = ""


def stand_somewhere(kit, garment, kinds):
    """See to it that a garment that the page knows is on the form."""
    known = [g["id"] for g in kit["garments"] if g["garment"] in kinds]
    if kit["at"] in known:
        return
    if known:
        kit["at"] = known[0]
        return
    wearers = kit["wearers"]
    kit["at"] = add_garment(kit, wearers[0]["id"] if wearers else add_wearer(kit, nobody("cm")), garment)
    kit["looking"] = kit["at"]
