"""What earlier versions of the page kept in the browser, as the kit that it keeps now."""

import kitvalues
from draft import from_plain, person_from
from migrations import under_the_arms


def from_version_1(kept, garments, lengths):
    """(kit, view) out of the record that held one draft, with others waiting: nothing of it is lost.

    The wearers shared garment and options then: each gets a garment of the kind on the form. Options
    and ticks of other kinds become garments of the wearer who was drafted for. Raises ValueError.
    """
    draft = from_plain(under_the_arms(kept["draft"]), garments)
    view = kept.get("view")
    view = dict(view) if isinstance(view, dict) else {}
    done = view.pop("done", {})
    done = done if isinstance(done, dict) else {}
    kit = kitvalues.fresh(draft.garment, draft.unit)
    kitvalues.put_draft(kit, draft, lengths)
    wardrobe = draft.wardrobe
    kinds = sorted(set(wardrobe) | set(done), key=lambda kind: kind != draft.garment)
    for kind in kinds:
        ticked = [step for step in done.get(kind, []) if isinstance(step, str)]
        if kind == draft.garment:
            kit["garments"][0]["done"] = ticked
        elif wardrobe.get(kind) or ticked:
            made = kitvalues.add_garment(kit, "w1", kind, wardrobe.get(kind), kit["garments"][0]["cloths"])
            kitvalues.entry(kit["garments"], made)["done"] = ticked
    for plain in kept.get("wearers", []):
        wearer = kitvalues.add_wearer(kit, person_from(under_the_arms(plain)))
        kitvalues.copy_garment(kit, "g1", wearer, lengths)
    return kit, view
