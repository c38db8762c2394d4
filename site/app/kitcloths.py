"""The kit's cloths, and which of them each part of a garment is cut from.

A garment's `cloths` are {"main": id, "lining": id}; those of a draft are {part: {name: text}}, and its
`cloth_ids` tell which of the kit's they are a view of. Nothing here touches the page.
"""

from cloths import LENGTHS, PARTS
from entries import entry, new_id
from lengths import under, with_unit


def parts_of(garment):
    """What a garment is cut from cloths of their own: lined, two of them."""
    return PARTS if garment["options"].get("lining", "none") != "none" else PARTS[:1]


def cloth_of(kit, cloth_id):
    return entry(kit["cloths"], cloth_id)


def called(kit, cloth):
    """A cloth by its name, or by what is known of it."""
    if cloth.get("name", "").strip():
        return cloth["name"].strip()
    looks = [cloth[key].strip() for key in ("colour", "fibre") if cloth.get(key, "").strip()]
    width = [wide(kit, cloth)] if cloth.get("width", "").strip() else []
    return ", ".join((looks or ["cloth"]) + width) if looks or width else "a cloth without a name"


def wide(kit, cloth):
    return with_unit(cloth["width"], kit["unit"]) + " wide"


def is_blank(cloth):
    """Whether nothing was said of a cloth yet."""
    return len(cloth) == 1


def uses(kit, cloth_id):
    """[(garment, part)] that are cut from a cloth."""
    return [(garment, part) for garment in kit["garments"] for part in parts_of(garment)
            if garment["cloths"].get(part) == cloth_id]


# --- A draft's cloths ---------------------------------------------------------------------------------


def view(kit, cloth_ids, unit):
    """These cloths as a draft holds them, their lengths in `unit`."""
    return {part: _view(kit, cloth_of(kit, cloth_ids.get(part)), unit) for part in PARTS}


def _view(kit, cloth, unit):
    texts = {name: cloth[name] for name in cloth or () if name != "id"}
    return under(texts, kit["unit"], unit, LENGTHS)


def put(kit, garment, draft):
    """Write what a draft says of its cloths back into them; each that it says something new of is made."""
    before, now = garment["cloths"], {}
    seen = view(kit, draft.cloth_ids, draft.unit)
    for part in PARTS:
        texts = draft.cloths[part]
        cloth = cloth_of(kit, draft.cloth_ids.get(part))
        if not cloth and texts:
            cloth = {"id": new_id(kit, "cloths")}
        if cloth:
            now[part] = cloth["id"]
            if texts != seen[part]:  # else main and lining of one cloth would undo each other's change
                _write(kit, cloth, texts, draft.unit)
    draft.cloth_ids, garment["cloths"] = dict(now), now
    draft.cloths = view(kit, now, draft.unit)
    for part in before:
        if before[part] not in now.values():
            _forget(kit, before[part])


def cut_all_from(kit, cloth_id):
    """What no cloth was chosen for yet is cut from this one."""
    for garment in kit["garments"]:
        garment["cloths"].setdefault("main", cloth_id)


def _write(kit, cloth, texts, unit):
    for name in [name for name in cloth if name != "id"]:
        del cloth[name]
    cloth.update(under(texts, unit, kit["unit"], LENGTHS))
    known = cloth_of(kit, cloth["id"])
    if known is None:
        kit["cloths"].append(cloth)


# --- More and fewer -----------------------------------------------------------------------------------


def another(kit, garment_id, part):
    """A cloth more, of which nothing is said yet, for one part of a garment. Its id."""
    cloth_id = new_id(kit, "cloths")
    kit["cloths"].append({"id": cloth_id})
    cut_from(kit, garment_id, part, cloth_id)
    return cloth_id


def keep_left(kit, cloth_id, pieces):
    """What is left of a cloth as a cloth more, of pieces that are there already. Its id."""
    of = cloth_of(kit, cloth_id) or {}
    now = {key: of[key] for key in ("fibre", "weave", "colour", "selvedge", "nap") if key in of}
    now["id"] = new_id(kit, "cloths")
    now["name"] = "left of " + (called(kit, of) if of else "the cloth")
    for number, piece in enumerate(pieces):
        now["remnant_%d" % (number + 1)] = piece
    kit["cloths"].append(now)
    return now["id"]


def cut_from(kit, garment_id, part, cloth_id):
    """Cut a part of a garment from a cloth of the kit, or from none that is chosen yet."""
    garment = entry(kit["garments"], garment_id)
    if garment is None:
        return
    before = garment["cloths"].pop(part, None)
    if cloth_id:
        garment["cloths"][part] = cloth_id
    cloth = cloth_of(kit, before)
    if cloth and is_blank(cloth):
        _forget(kit, before)


def _forget(kit, cloth_id):
    """Take out a cloth that nothing is cut from any more."""
    if not any(cloth_id in garment["cloths"].values() for garment in kit["garments"]):
        kit["cloths"] = [cloth for cloth in kit["cloths"] if cloth["id"] != cloth_id]


def take_out(kit, cloth_id):
    """Remove a cloth; what was cut from it has none then. Gives what `put_back` needs."""
    gone = {"at": [c["id"] for c in kit["cloths"]].index(cloth_id), "cloth": cloth_of(kit, cloth_id),
            "of": []}
    kit["cloths"] = [cloth for cloth in kit["cloths"] if cloth["id"] != cloth_id]
    for garment in kit["garments"]:
        for part in [part for part in garment["cloths"] if garment["cloths"][part] == cloth_id]:
            del garment["cloths"][part]
            gone["of"].append((garment["id"], part))
    return gone


def put_back(kit, gone):
    """Undo `take_out`; what was cut from another cloth since stays with that."""
    cloth = gone["cloth"]
    if cloth_of(kit, cloth["id"]):
        cloth["id"] = new_id(kit, "cloths")
    kit["cloths"].insert(gone["at"], cloth)
    for garment in kit["garments"]:
        for part in PARTS:
            if (garment["id"], part) in gone["of"] and part not in garment["cloths"]:
                garment["cloths"][part] = cloth["id"]
