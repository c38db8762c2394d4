"""What becomes of the kit's garments, noted with its day. Nothing here touches the page."""

from lives import has_it_now


def note(garment, what, day, **more):
    """Have something told of a garment's life. What `unnote` needs to take it back."""
    event = {"what": what, "date": day, "wearer": "", "felt": {}, "fits": {}}
    event.update(more)
    garment["life"].append(event)
    return event


def unnote(garment, event):
    if event in garment["life"]:
        garment["life"].remove(event)


def come_to(garment, what, is_so, day):
    """Note that a garment is cut, or sewn, once; or that it is not after all."""
    if "life" not in garment:
        return  # a link's, which is nobody's yet
    events = [event for event in garment["life"] if event["what"] == what]
    if is_so and not events:
        note(garment, what, day)
    elif not is_so:
        for event in events:
            garment["life"].remove(event)


def altered(garment):
    """What was done on its own cloth since it was cut: [[place, change]], the first first."""
    return [[place, event["fits"][place]]
            for event in garment["life"] if event["what"] == "altered" for place in event["fits"]]


def handed_to(kit, wearer_id):
    """The garments that a wearer was handed by another."""
    return [g for g in kit["garments"] if g["wearer"] != wearer_id and has_it_now(g) == wearer_id]


def same_kind_not_begun(kit, garment):
    """The wearer's other garments of that kind of which nothing is done yet."""
    return [
        one for one in kit["garments"]
        if one["id"] != garment["id"] and one["wearer"] == garment["wearer"]
        and one["garment"] == garment["garment"] and not (one["done"] or one["life"])
    ]
