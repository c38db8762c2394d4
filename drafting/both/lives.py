"""What became of a garment, day by day, and what a try-on leaves for the next of its kind.

A garment's `life` is a list of what happened to it, in the order of its days:

    {"what": "fitted", "date": "2027-03-01" or "", "wearer": "w2", "felt": {"chest": "tight 3 cm"},
     "fits": {"chest": "+3 cm"}}

`wearer` is who tried it on or to whom it went, left out for the garment's own wearer, and in a handing on
for somebody who is not in the kit. `felt` are the answers of a try-on. `fits` is, of a try-on, all that the
next of the kind is to have for that wearer; of an alteration, what was done on this one's own cloth.

It also runs in the page's MicroPython, so it imports nothing and keeps to the plainest Python.
"""

KINDS = ("cut", "sewn", "fitted", "altered", "handed on")
ALTERED = {"+": "let out", "-": "taken in"}


def fit_left(garments, wearer, kind, measured=""):
    """(the day of the last try-on of that kind on that wearer, the changes by place that the next is to
    have).

    “”, {} where there was none, or where the wearer was `measured` on a later day: a new tape says it anew.
    """
    last = None
    for garment in garments:
        for event in garment.get("life") or () if garment["garment"] == kind else ():
            tried_on = event["what"] == "fitted" and (event.get("wearer") or garment["wearer"]) == wearer
            if tried_on and (last is None or event["date"] >= last["date"]):
                last = event
    if last is None or not last.get("fits") or last["date"] < (measured or ""):
        return "", {}
    return last["date"], dict(last["fits"])


def has_it_now(garment):
    """The id of who has a garment: its own wearer until it was handed on, "" for somebody outside the kit."""
    now = garment["wearer"]
    for event in garment.get("life") or ():
        if event["what"] == "handed on":
            now = event.get("wearer") or ""
    return now


def story(garment, measured, called):
    """A garment's life in sentences, the first day first: when its wearer was `measured`, and what came of
    it.

    `called` gives a wearer's name for their id.
    """
    told = ["Measured: " + measured + "."] if measured else []
    if garment.get("taken_up"):
        told.append("Drafted with an earlier try-on: " + _listed(garment["taken_up"]) + ".")
    return told + [_told(event, called) for event in garment.get("life") or ()]


def _told(event, called):
    what, fits, wearer = event["what"], event.get("fits") or {}, event.get("wearer") or ""
    if what == "handed on":
        what += " to " + (called(wearer) if wearer else "somebody else")
    elif what == "fitted":
        what = "tried on" + (" by " + called(wearer) if wearer else "")
        what += ", " + (_listed(event.get("felt") or {}) or "it fits")
    elif what == "altered":
        ways = {fits[place].strip()[:1] for place in fits}
        what = ALTERED.get(ways.pop(), what) if len(ways) == 1 else what
        what += ": " + _listed(fits) if fits else ""
    what = what[0].upper() + what[1:]
    return what + (", " + event["date"] if event["date"] else "") + "."


def _listed(texts):
    return ", ".join(
        place.replace("-", " ") + " " + texts[place].replace("-", "−") for place in sorted(texts))
