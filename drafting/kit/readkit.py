"""Reading a kit: from the text of a file, or from plain values, brought up to this version.

One bad entry never costs the kit. Where it is given a list for that, what does not read is named in it and
set aside, a field alone where that is enough; where it is not, it is refused.
"""

from collections.abc import Callable, Mapping
from functools import partial
from typing import Any, TypeVar

from ..body import is_date
from ..body.wearer import Wearer
from ..both.lives import KINDS
from ..both.migrations import MIGRATIONS
from ..both.texts import is_one_line
from ..words.problems import BadInput, Problem
from ..words.reading import read_json
from ..words.units import quoted
from .model import FORMAT, MOST_ENTRIES, VERSION, Kit, KitCloth, KitGarment, KitWearer, LifeEvent, title_of

LARGEST_FILE = 4_000_000
MOST_TOLD = 12
"""Sentences on what was set aside; a last one says how many more there would be."""

Aside = list[Problem] | None
Read = TypeVar("Read")
Entry = TypeVar("Entry", KitWearer, KitCloth, KitGarment)
Values = Mapping[str, Any]


def read_kit(text: str | bytes, aside: Aside = None) -> Kit:
    """The kit that a file holds.

    Raises BadInput for a file that is cut off, is not ours, comes from a later version or is too large, and
    without an `aside` for an entry that is out of bounds.
    """
    if len(text) > LARGEST_FILE:
        raise _bad(f"This file is too large for a kit ({len(text):,} bytes; {LARGEST_FILE:,} would do).")
    try:
        plain = text.decode("utf-8-sig") if isinstance(text, bytes) else text.removeprefix("\ufeff")
        content = read_json(plain)
    except ValueError:
        raise _bad("This file does not read: it is cut off, or it is not a kit saved by Ellwand.") from None
    return from_values(content, aside)


def from_values(content: object, aside: Aside = None) -> Kit:
    """The kit in plain values. Raises BadInput as `read_kit` does."""
    if not isinstance(content, dict) or content.get("format") != FORMAT:
        raise _bad("This file is not a kit saved by Ellwand.")
    version = content.get("version")
    if type(version) is not int or version < 1:
        raise _bad("This kit does not say its version.")
    if version > VERSION:
        raise _bad(
            f"This kit was saved by a later Ellwand (version {str(version)[:12]}; this one reads "
            f"{VERSION}): please update Ellwand, and keep the file."
        )
    migrations: Mapping[int, Callable[[dict[str, Any]], dict[str, Any]]] = MIGRATIONS
    while version < VERSION:
        content = migrations[version](content)
        version += 1
    found: Aside = None if aside is None else []
    kit = _kit(content, found)
    if aside is not None and found:
        more = len(found) - MOST_TOLD
        aside += found[:MOST_TOLD]
        aside += [_problem(f"{more} more were set aside likewise.")] if more > 0 else []
    return kit


_KNOWN = {"format", "version", "title", "unit", "impression", "wearers", "cloths", "garments",
          "house_rules"}


def _kit(content: Values, aside: Aside) -> Kit:
    strange = sorted(set(content) - _KNOWN)
    if strange:
        raise _bad(f"This kit holds {quoted(strange[0])}, which is not known here.")
    unit = content.get("unit", "cm")
    if unit not in ("cm", "in", "mm", "m"):
        raise _bad(f"This kit measures in {quoted(str(unit))}, which is not known here.")
    wearers = _entries(content, "wearers", _wearer, aside)
    cloths = _entries(content, "cloths", _cloth, aside)
    people, bolts = {one.id for one in wearers}, {one.id for one in cloths}
    return Kit(
        title=_either(lambda: _line(content.get("title", ""), "title"), "", aside),
        unit=unit,
        impression=_either(lambda: _texts(content.get("impression", {}), "impression"), {}, aside),
        wearers=wearers,
        cloths=cloths,
        garments=_entries(
            content, "garments", lambda entry, aside: _garment(entry, people, bolts, aside), aside
        ),
        house_rules=_either(lambda: _house_rules(content.get("house_rules")), None, aside),
    )


def _either(read: Callable[[], Read], otherwise: Read, aside: Aside) -> Read:
    """What `read` gives; where it raises and there is an `aside`, that is told there."""
    try:
        return read()
    except BadInput as error:
        if aside is None:
            raise
        aside += [_problem(f"{problem.message} It was set aside.") for problem in error.problems]
        return otherwise


def _entries(
    content: Values, key: str, read: Callable[[Values, Aside], Entry], aside: Aside
) -> tuple[Entry, ...]:
    entries = content.get(key, [])
    if not isinstance(entries, list) or (aside is None and not all(isinstance(e, dict) for e in entries)):
        raise _bad(f"The {key} of this kit are not a list.")
    found: dict[str, Entry] = {}
    for entry in entries:
        told: Aside = None if aside is None else []
        try:
            if len(found) == MOST_ENTRIES:
                raise _bad(f"This kit holds {len(entries):,} {key}: up to {MOST_ENTRIES} are kept in one.")
            if not isinstance(entry, dict):
                raise _bad("It is no entry of a kit.")
            one = read(entry, told)
            if one.id in found:
                raise _bad("Two entries of this kit have the same id.")
        except BadInput as error:
            if aside is None:
                raise
            aside += [_problem(f"{_called(key, entry)} was set aside: {error}")]
            continue
        found[one.id] = one
        if aside is not None and told:
            aside += [_problem(f"{_called(key, entry)}: {problem.message}") for problem in told]
    return tuple(found.values())


def _called(key: str, entry: object) -> str:
    """An entry in a sentence."""
    values = entry if isinstance(entry, dict) else {}
    kind = {"wearers": "wearer", "cloths": "cloth", "garments": "garment"}[key]
    name = values.get("name") or values.get("garment") or values.get("id")
    if not isinstance(name, str):
        return f"A {kind}"
    return f"The {kind} {quoted(title_of(name) if key == 'garments' else name)}"


def _id(entry: Values) -> str:
    found = entry.get("id")
    if not isinstance(found, str) or not (found.isascii() and found.isalnum() and len(found) <= 40):
        raise _bad(f"An entry of this kit has the id {quoted(str(found))}: letters and digits would do.")
    return found


_OF_A_WEARER = {"id", "name", "unit", "measured", "sex", "born", "age", "start", "measurements"}


def _wearer(entry: Values, aside: Aside) -> KitWearer:
    strange = sorted(set(entry) - _OF_A_WEARER, key=str)
    if strange:
        raise _bad(f"A wearer of this kit has {quoted(str(strange[0]))}, which is not known here.")
    fields = {k: value for k, value in entry.items() if k not in ("id", "start") and value is not None}
    start = entry.get("start", [])
    if not isinstance(start, list) or len(start) > MOST_ENTRIES:
        raise _bad("The start values of a wearer of this kit are not a list.")
    names = tuple(_line(name, "start value") for name in start)
    return KitWearer(_id(entry), _person({"name": "", **fields}, aside), names)


def _person(fields: dict[str, Any], aside: Aside) -> Wearer:
    """The wearer, without those fields that do not read where that is enough to make one."""
    try:
        return Wearer(**fields)
    except BadInput as error:
        if aside is None:
            raise
        wrong = {problem.field for problem in error.problems} - {"name", "unit"}
        less = {key: value for key, value in fields.items() if key not in wrong}
        texts = less.get("measurements")
        if isinstance(texts, Mapping):
            less["measurements"] = {key: value for key, value in texts.items() if key not in wrong}
        person = Wearer(**less)
        aside += [_problem(f"{problem.message} It was left out.") for problem in error.problems]
        return person


def _cloth(entry: Values, aside: Aside) -> KitCloth:
    return KitCloth(_id(entry), _texts({k: v for k, v in entry.items() if k != "id"}, "cloth"))


_OF_AN_EVENT = {"what", "date", "wearer", "felt", "fits"}
_OF_A_GARMENT = {"id", "wearer", "garment", "cloths", "options", "done", "taken_up", "life"}


def _garment(entry: Values, wearers: set[str], cloths: set[str], aside: Aside) -> KitGarment:
    strange = sorted(set(entry) - _OF_A_GARMENT, key=str)
    if strange:
        raise _bad(f"A garment of this kit has {quoted(str(strange[0]))}, which is not known here.")
    done = entry.get("done", [])
    if not isinstance(done, list) or len(done) > MOST_ENTRIES:
        raise _bad("The steps done on a garment of this kit are not a list.")
    wearer = _line(entry.get("wearer"), "wearer")
    if wearer not in wearers:
        raise _bad(f"A garment of this kit is for {quoted(wearer)}, who is not in it.")
    return KitGarment(
        _id(entry),
        wearer,
        _line(entry.get("garment"), "garment"),
        _texts(entry.get("options", {}), "options"),
        _known_cloths(_texts(entry.get("cloths", {}), "cloths"), cloths, aside),
        tuple(_line(step, "step") for step in done),
        _texts(entry.get("taken_up", {}), "changes taken up"),
        _life(entry.get("life", []), wearers, aside),
    )


def _life(events: object, wearers: set[str], aside: Aside) -> tuple[LifeEvent, ...]:
    if not isinstance(events, list) or len(events) > MOST_ENTRIES:
        raise _bad("What became of a garment of this kit is not a list.")
    read = [_either(partial(_event, event, wearers), None, aside) for event in events]
    return tuple(event for event in read if event)


def _event(event: object, wearers: set[str]) -> LifeEvent | None:
    """Raises BadInput."""
    if not isinstance(event, dict) or event.get("what") not in KINDS or set(event) - _OF_AN_EVENT:
        raise _bad("Something that became of a garment of this kit is not known here.")
    day, wearer = event.get("date", ""), event.get("wearer", "")
    if day != "" and not (isinstance(day, str) and is_date(day)):
        raise _bad(f"A garment of this kit was {event['what']} on {quoted(str(day))}: 2026-11-25 would do.")
    if wearer != "" and wearer not in wearers:
        raise _bad(f"A garment of this kit was {event['what']} by or to {quoted(str(wearer))}, who is not in "
                   "it.")
    return LifeEvent(event["what"], day, wearer, _texts(event.get("felt", {}), "answers of a try-on"),
                     _texts(event.get("fits", {}), "changes of a try-on"))


def _known_cloths(named: Mapping[str, str], cloths: set[str], aside: Aside) -> Mapping[str, str]:
    strange = [cloth for cloth in named.values() if cloth not in cloths]
    problems = [
        _problem(f"A garment of this kit is cut from {quoted(cloth)}, which is not in it.")
        for cloth in strange
    ]
    if problems and aside is None:
        raise BadInput(problems)
    if aside is not None:
        aside += problems
    return {part: cloth for part, cloth in named.items() if cloth in cloths}


def _house_rules(value: object) -> Mapping[str, Any] | None:
    if value is not None and not isinstance(value, dict):
        raise _bad("The house rules of this kit do not read.")
    return value


def _texts(value: object, what: str) -> dict[str, str]:
    if not isinstance(value, dict) or len(value) > MOST_ENTRIES:
        raise _bad(f"The {what} in this kit must be texts by name.")
    return {_line(key, what): _line(text, what) for key, text in value.items()}


def _line(value: object, what: str) -> str:
    """One line of text. Raises BadInput."""
    if not isinstance(value, str) or not is_one_line(value):  # type: ignore[no-untyped-call]
        raise _bad(f"A {what} in this kit, {quoted(str(value))}, is not a short line of text.")
    return value


def _bad(sentence: str) -> BadInput:
    return BadInput([_problem(sentence)])


def _problem(sentence: str) -> Problem:
    return Problem("file", sentence)
