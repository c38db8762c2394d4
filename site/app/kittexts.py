"""The kit as a kit file's values, and as the text that the browser keeps. Nothing here touches the page."""

import json

from draft import in_a_unit_of_the_page, months, person_from, steps_of, text_of, texts_of
from entries import entry
from kitvalues import nobody, stand_somewhere
from lengths import under
from lives import KINDS
from texts import one_line

EARLIER = (1, 2, 3, 4)
FORMAT, VERSION = "ellwand-kit", 5
LISTS = ("wearers", "cloths", "garments")


def to_file(kit):
    """The kit file's values. Wearers without a name get a number, since a file asks for one."""
    wearers = []
    for number, wearer in enumerate(kit["wearers"], 1):
        values = {key: wearer[key] for key in ("id", "unit", "measured", "sex", "born") if wearer[key]}
        values["name"] = one_line(wearer["name"].strip()) or "Wearer %d" % number
        values["measurements"] = _lines(wearer["measurements"])
        if wearer["age_months"] and not wearer["born"]:
            values["age"] = months(wearer["age_months"])
        start = [n for n in wearer["start"] if wearer["measurements"].get(n) == wearer["start"][n]]
        if start:
            values["start"] = sorted(start)
        wearers.append(values)
    garments = []
    for garment in kit["garments"]:
        values = {key: garment[key] for key in ("id", "wearer", "garment", "cloths", "done")}
        values["options"] = _lines(garment["options"])
        if garment["taken_up"]:
            values["taken_up"] = _lines(garment["taken_up"])
        if garment["life"]:
            values["life"] = [_event(kit, event) for event in garment["life"]]
        garments.append(values)
    rules = kit["impression"].get("rules")
    impression = _lines(kit["impression"])
    if rules:
        impression["rules"] = rules  # a text of its own kind, which is read as a file is
    return {"format": FORMAT, "version": VERSION, "title": one_line(kit["title"].strip()),
            "unit": kit["unit"], "impression": impression, "wearers": wearers,
            "cloths": [_lines(cloth) for cloth in kit["cloths"]], "garments": garments,
            "house_rules": kit["house_rules"]}


def to_shop(kit, but=""):
    """The text that a shopping list is made of: without a garment, and without what is sewn."""
    values = to_file(kit)
    values["garments"] = [dict(one, done=[]) for one in values["garments"] if one["id"] != but]
    return json.dumps(values)


def _event(kit, event):
    """Something of a garment's life; who is no longer in the kit is nobody of it."""
    values = {"what": event["what"], "date": event["date"]}
    if entry(kit["wearers"], event.get("wearer")):
        values["wearer"] = event["wearer"]
    for key in ("felt", "fits"):
        if event.get(key):
            values[key] = _lines(event[key])
    return values


def _lines(texts):
    return {name: one_line(texts[name]) for name in texts}


def from_file(values, garment, lengths):
    """The page's kit from a kit file's values, which the worker has read.

    `garment` is the kind to begin with when the file has none.
    """
    kit = {"title": values["title"], "unit": values["unit"], "impression": dict(values["impression"]),
           "house_rules": values["house_rules"], "cloths": [dict(c) for c in values["cloths"]],
           "wearers": [], "garments": [], "at": "", "looking": "", "paper": ""}
    moved = {}
    for one in values["wearers"]:
        wearer = nobody(one["unit"])
        wearer["id"] = one["id"]
        for key in ("name", "measured", "sex", "born", "measurements"):
            wearer[key] = one.get(key) or wearer[key]
        wearer["age_months"] = str(one["age"]) if "age" in one else ""
        in_a_unit_of_the_page(wearer)
        moved[one["id"]] = (one["unit"], wearer["unit"])
        texts = wearer["measurements"]
        wearer["start"] = {name: texts[name] for name in one.get("start", ()) if name in texts}
        kit["wearers"].append(wearer)
    for one in values["garments"]:
        before, after = moved[one["wearer"]]
        options = under(one["options"], before, after, lengths.get(one["garment"], ()))
        kit["garments"].append({
            "id": one["id"], "wearer": one["wearer"], "garment": one["garment"],
            "cloths": dict(one["cloths"]), "options": options, "done": list(one["done"]), "progress": "",
            "taken_up": dict(one.get("taken_up") or {}), "life": _life_of(one.get("life", [])),
        })
    stand_somewhere(kit, garment, lengths)
    return kit


def from_kept(text, garments, lengths):
    """The kit in a text that this page kept. Raises ValueError when it is none of ours."""
    kit = json.loads(text)
    while isinstance(kit, dict) and kit.get("version") in EARLIER:
        from migrations import MIGRATIONS  # drafting/both/migrations.py

        kit = MIGRATIONS[kit["version"]](kit)
    if not isinstance(kit, dict) or kit.get("format") != FORMAT or kit.get("version") != VERSION:
        raise ValueError("no kit of this version")
    _be_as_kept(kit)
    del kit["format"], kit["version"]
    stand_somewhere(kit, garments[0], lengths)
    return kit


def _be_as_kept(kit):
    """See to it that all is of its kind. Raises ValueError where something is of another."""
    for key in ("title", "at", "looking", "paper"):
        kit[key] = text_of(kit.get(key, ""))
    kit["unit"] = text_of(kit.get("unit", "cm"))
    kit["impression"] = texts_of(kit.get("impression", {}))
    for which in LISTS:
        if not isinstance(kit.get(which), list):
            raise ValueError("no list")
        for one in kit[which]:
            if not isinstance(one, dict) or not text_of(one.get("id")):
                raise ValueError("no entry")
    for wearer in kit["wearers"]:
        wearer.update(person_from(wearer))
    kit["cloths"] = [texts_of(cloth) for cloth in kit["cloths"]]
    for garment in kit["garments"]:
        for key in ("wearer", "garment", "progress"):
            garment[key] = text_of(garment.get(key, ""))
        for key in ("cloths", "options", "taken_up"):
            garment[key] = texts_of(garment.get(key, {}))
        garment["life"] = _life_of(garment.get("life", []))
        garment["done"] = steps_of(garment.get("done", []))
        if not entry(kit["wearers"], garment["wearer"]):
            raise ValueError("nobody's garment")
    kit["house_rules"] = kit.get("house_rules") or None


def _life_of(events):
    """Raises ValueError where something is of another kind."""
    if not isinstance(events, list):
        raise ValueError("no life")
    found = []
    for event in events:
        if not isinstance(event, dict) or event.get("what") not in KINDS:
            raise ValueError("nothing that happens")
        one = {key: text_of(event.get(key, "")) for key in ("what", "date", "wearer")}
        for key in ("felt", "fits"):
            one[key] = texts_of(event.get(key, {}))
        found.append(one)
    return found


def to_keep(kit):
    """The text that `from_kept` reads."""
    kept = {"format": FORMAT, "version": VERSION}
    kept.update(kit)
    return json.dumps(kept)
