"""Two wearers of a kit who are one person, measured twice: made one, and two again.

Nothing here touches the page.
"""

from entries import entry
from kitvalues import PERSON, garments_of
from lengths import under

MEASURED = ("unit", "measured", "age_months", "measurements", "start")


def settle(kit, mine_id, theirs_id, take_theirs, lengths):
    """Give all garments of both to the first of the two, measured as before or as the second was.

    Of garments that are alike then, one stays, with what is done of either. Gives what `undo` needs.
    """
    mine, theirs = entry(kit["wearers"], mine_id), entry(kit["wearers"], theirs_id)
    own, came = garments_of(kit, mine_id), garments_of(kit, theirs_id)
    gone = {"mine": dict(mine), "theirs": theirs, "at": kit["at"], "alike": [],
            "came": [g["id"] for g in came],
            "were": {g["id"]: dict(g["options"]) for g in own + came}}
    unit = theirs["unit"] if take_theirs else mine["unit"]
    for garment in own + came:
        before = mine["unit"] if garment in own else theirs["unit"]
        garment["options"] = under(garment["options"], before, unit, lengths.get(garment["garment"], ()))
        garment["wearer"] = mine_id
    for garment in came:
        twin = next((g for g in own if _alike(g, garment)), None)
        if twin:
            for key in ("done", "life"):
                twin[key] += [one for one in garment[key] if one not in twin[key]]
            gone["alike"].append((garment, twin["id"]))
            kit["garments"].remove(garment)
            if kit["at"] == garment["id"]:
                kit["at"] = twin["id"]
    if take_theirs:
        for key in PERSON:
            if key in MEASURED or not mine[key]:
                mine[key] = theirs[key]
    gone["named"] = _rename(kit, theirs_id, mine_id)
    kit["wearers"].remove(theirs)
    return gone


def undo(kit, gone):
    """Make them two again; what was sewn since stays with the garment."""
    mine = entry(kit["wearers"], gone["mine"]["id"])
    if not mine:
        return
    mine.update(gone["mine"])
    kit["wearers"].append(gone["theirs"])
    kit["garments"] += [garment for garment, _ in gone["alike"]]
    _rename(kit, gone["mine"]["id"], gone["theirs"]["id"], gone["named"])
    for garment in kit["garments"]:
        if garment["id"] in gone["came"]:
            garment["wearer"] = gone["theirs"]["id"]
        if garment["id"] in gone["were"]:
            garment["options"] = gone["were"][garment["id"]]
    if entry(kit["garments"], gone["at"]):
        kit["at"] = gone["at"]


def _alike(one, other):
    return all(one[key] == other[key] for key in ("garment", "options", "cloths", "taken_up"))


def _rename(kit, before, after, only=None):
    """Have what became of a garment name another wearer, everywhere or at `only` those places; the places."""
    found = []
    for garment in kit["garments"]:
        for number, event in enumerate(garment["life"]):
            place = [garment["id"], number]
            if event.get("wearer") == before and (only is None or place in only):
                event["wearer"] = after
                found.append(place)
    return found
