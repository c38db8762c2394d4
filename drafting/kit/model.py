"""The kit: wearers, their garments, the cloths they are cut from, and how far the sewing has got.

    {"format": "ellwand-kit", "version": 3, "title": "…", "unit": "cm",
     "impression": {"year": "980", "region": "Denmark", "rank": "farmer"},
     "wearers": [{"id": "w1", "name": "…", "measurements": {…}, …}],
     "cloths": [{"id": "c1", "name": "…", "width": "150 cm", …}],
     "garments": [{"id": "g1", "wearer": "w1", "garment": "tunic", "options": {…},
                   "cloths": {"main": "c1", "lining": "c2"}, "done": ["step", …]}],
     "house_rules": {…} or null}

Texts stay as they were typed. What a file holds that this version does not know is refused, never
dropped, so that nothing is lost on saving. migrations.py tells what earlier versions held.
"""

import json
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from ..body.measures import MEASURES
from ..body.wearer import Wearer
from ..both.migrations import MIGRATIONS
from ..garments import GARMENTS
from ..words.problems import BadInput, Problem
from ..words.reading import read_json
from ..words.units import Unit, quoted

FORMAT = "ellwand-kit"
VERSION = 3
LARGEST_FILE = 4_000_000
MOST_ENTRIES = 500
LONGEST_TEXT = 200
LONGEST_TITLE = 120


@dataclass(frozen=True)
class KitCloth:
    """A bolt; `texts` are the cloth's fields as typed (see cloth.read_cloth)."""

    id: str
    texts: Mapping[str, str]


@dataclass(frozen=True)
class KitGarment:
    """One garment for one wearer. `cloths` are the ids of those it is cut from, by the part that its
    pieces name ("main", "lining"); `done` holds the ids of sewing steps that are ticked."""

    id: str
    wearer: str
    garment: str
    options: Mapping[str, str] = field(default_factory=dict)
    cloths: Mapping[str, str] = field(default_factory=dict)
    done: tuple[str, ...] = ()


@dataclass(frozen=True)
class KitWearer:
    """A wearer with the id that garments name them by."""

    id: str
    wearer: Wearer
    start: tuple[str, ...] = ()
    """The measurements that are a size's start values still, and not measured."""


@dataclass(frozen=True)
class Kit:
    """Raises BadInput when ids repeat, or a garment names a wearer or cloth that is not there."""

    title: str = ""
    unit: Unit = "cm"
    impression: Mapping[str, str] = field(default_factory=dict)
    wearers: tuple[KitWearer, ...] = ()
    cloths: tuple[KitCloth, ...] = ()
    garments: tuple[KitGarment, ...] = ()
    house_rules: Mapping[str, Any] | None = None

    def __post_init__(self) -> None:
        problems = []
        for entries in (self.wearers, self.cloths, self.garments):
            ids = [entry.id for entry in entries]
            if len(set(ids)) != len(ids):
                problems.append(Problem("file", "Two entries of this kit have the same id."))
        wearers, cloths = {w.id for w in self.wearers}, {c.id for c in self.cloths}
        for garment in self.garments:
            if garment.wearer not in wearers:
                problems.append(Problem(
                    "file", f"A garment of this kit is for {quoted(garment.wearer)}, who is not in it."
                ))
            problems += [
                Problem("file", f"A garment of this kit is cut from {quoted(cloth)}, which is not in it.")
                for cloth in garment.cloths.values() if cloth not in cloths
            ]
        if problems:
            raise BadInput(problems)

    def wearer(self, wearer_id: str) -> Wearer:
        """Raises KeyError when there is none of that id."""
        return {entry.id: entry.wearer for entry in self.wearers}[wearer_id]

    def called(self, wearer_id: str) -> str:
        """A wearer's name, with a number where several go by it. Raises KeyError."""
        name = self.wearer(wearer_id).name
        alike = [entry.id for entry in self.wearers if entry.wearer.name == name]
        return name if len(alike) == 1 else f"{name} ({alike.index(wearer_id) + 1})"

    def cloth(self, cloth_id: str) -> KitCloth:
        """Raises KeyError when there is none of that id."""
        return {entry.id: entry for entry in self.cloths}[cloth_id]

    def with_wearer(self, wearer: Wearer) -> "Kit":
        """The kit with one wearer more, under a new id."""
        entry = KitWearer(new_id("w", {w.id for w in self.wearers}), wearer)
        return replace(self, wearers=(*self.wearers, entry))


def new_id(prefix: str, taken: set[str]) -> str:
    """The first id of that letter and a number that is not taken."""
    number = 1
    while f"{prefix}{number}" in taken:
        number += 1
    return f"{prefix}{number}"


def title_of(garment: str) -> str:
    """What a garment is called in a sentence; its own name where this version does not know it."""
    return GARMENTS[garment].title.lower() if garment in GARMENTS else garment


def write_kit(kit: Kit) -> str:
    """The kit as JSON text, which `read_kit` reads back as the same kit."""
    return json.dumps(as_values(kit), ensure_ascii=False, indent=1) + "\n"


def as_values(kit: Kit) -> dict[str, Any]:
    """The kit as plain values, ready to be written."""
    return {
        "format": FORMAT,
        "version": VERSION,
        "title": kit.title,
        "unit": kit.unit,
        "impression": dict(kit.impression),
        "wearers": [_wearer_values(entry) for entry in kit.wearers],
        "cloths": [{"id": c.id, **c.texts} for c in kit.cloths],
        "garments": [
            {"id": g.id, "wearer": g.wearer, "garment": g.garment, "cloths": dict(g.cloths),
             "options": dict(g.options), "done": list(g.done)}
            for g in kit.garments
        ],
        "house_rules": kit.house_rules,
    }


def _wearer_values(entry: KitWearer) -> dict[str, Any]:
    wearer = entry.wearer
    values: dict[str, Any] = {"id": entry.id, "name": wearer.name, "unit": wearer.unit}
    for key in ("measured", "sex", "born", "age"):
        if getattr(wearer, key) is not None:
            values[key] = getattr(wearer, key)
    if entry.start:
        values["start"] = list(entry.start)
    order = [*MEASURES, *(name for name in wearer.measurements if name not in MEASURES)]
    texts = {name: wearer.measurements[name] for name in order if name in wearer.measurements}
    return {**values, "measurements": texts}


def file_name(kit: Kit) -> str:
    """A name for the kit's file."""
    stem = re.sub(r"[^\w]+", "-", kit.title.lower()).strip("-_")[:40] or "my"
    return f"{stem}.kit.json"


def read_kit(text: str | bytes) -> Kit:
    """The kit that a file holds, brought up to this version.

    Raises BadInput for a file that is cut off, is not ours, comes from a later version, is too large
    or holds something out of bounds; nothing of it is used then.
    """
    if len(text) > LARGEST_FILE:
        raise _bad(f"This file is too large for a kit ({len(text):,} bytes; {LARGEST_FILE:,} would do).")
    try:
        plain = text.decode("utf-8-sig") if isinstance(text, bytes) else text.removeprefix("\ufeff")
        content = read_json(plain)
    except ValueError:
        raise _bad("This file does not read: it is cut off, or it is not a kit saved by Ellwand.") from None
    return from_values(content)


def from_values(content: object) -> Kit:
    """The kit in plain values, brought up to this version. Raises BadInput."""
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
    return _kit(content)


_KNOWN = {"format", "version", "title", "unit", "impression", "wearers", "cloths", "garments",
          "house_rules"}


def _kit(content: dict[str, Any]) -> Kit:
    strange = sorted(set(content) - _KNOWN)
    if strange:
        raise _bad(f"This kit holds {quoted(strange[0])}, which is not known here.")
    rules = content.get("house_rules")
    if rules is not None and not isinstance(rules, dict):
        raise _bad("The house rules of this kit do not read.")
    unit = content.get("unit", "cm")
    if unit not in ("cm", "in", "mm", "m"):
        raise _bad(f"This kit measures in {quoted(str(unit))}, which is not known here.")
    return Kit(
        title=_line(content.get("title", ""), "title", LONGEST_TITLE),
        unit=unit,
        impression=_texts(content.get("impression", {}), "impression"),
        wearers=tuple(_wearer(entry) for entry in _entries(content, "wearers")),
        cloths=tuple(
            KitCloth(_id(entry), _texts({k: v for k, v in entry.items() if k != "id"}, "cloth"))
            for entry in _entries(content, "cloths")
        ),
        garments=tuple(_garment(entry) for entry in _entries(content, "garments")),
        house_rules=rules,
    )


def _entries(content: dict[str, Any], key: str) -> list[dict[str, Any]]:
    entries = content.get(key, [])
    if not isinstance(entries, list) or not all(isinstance(entry, dict) for entry in entries):
        raise _bad(f"The {key} of this kit are not a list.")
    if len(entries) > MOST_ENTRIES:
        raise _bad(f"This kit holds {len(entries):,} {key}: up to {MOST_ENTRIES} are kept in one.")
    return entries


def _id(entry: dict[str, Any]) -> str:
    found = entry.get("id")
    if not isinstance(found, str) or not (found.isascii() and found.isalnum() and len(found) <= 40):
        raise _bad(f"An entry of this kit has the id {quoted(str(found))}: letters and digits would do.")
    return found


def _wearer(entry: dict[str, Any]) -> KitWearer:
    known = {"id", "name", "unit", "measured", "sex", "born", "age", "start", "measurements"}
    strange = sorted(set(entry) - known)
    if strange:
        raise _bad(f"A wearer of this kit has {quoted(str(strange[0]))}, which is not known here.")
    fields = {k: value for k, value in entry.items() if k not in ("id", "start") and value is not None}
    start = entry.get("start", [])
    if not isinstance(start, list) or len(start) > MOST_ENTRIES:
        raise _bad("The start values of a wearer of this kit are not a list.")
    names = tuple(_line(name, "start value") for name in start)
    return KitWearer(_id(entry), Wearer(**{"name": "", **fields}), names)


def _garment(entry: dict[str, Any]) -> KitGarment:
    strange = sorted(set(entry) - {"id", "wearer", "garment", "cloths", "options", "done"})
    if strange:
        raise _bad(f"A garment of this kit has {quoted(str(strange[0]))}, which is not known here.")
    done = entry.get("done", [])
    if not isinstance(done, list) or len(done) > MOST_ENTRIES:
        raise _bad("The steps done on a garment of this kit are not a list.")
    return KitGarment(
        _id(entry),
        _line(entry.get("wearer"), "wearer"),
        _line(entry.get("garment"), "garment"),
        _texts(entry.get("options", {}), "options"),
        _texts(entry.get("cloths", {}), "cloths"),
        tuple(_line(step, "step") for step in done),
    )


def _texts(value: object, what: str) -> dict[str, str]:
    if not isinstance(value, dict) or len(value) > MOST_ENTRIES:
        raise _bad(f"The {what} in this kit must be texts by name.")
    return {_line(key, what): _line(text, what) for key, text in value.items()}


def _line(value: object, what: str, longest: int = LONGEST_TEXT) -> str:
    """One line of text. Raises BadInput."""
    if not isinstance(value, str) or len(value) > longest or not value.isprintable():
        raise _bad(f"A {what} in this kit, {quoted(str(value))}, is not a short line of text.")
    return value


def _bad(sentence: str) -> BadInput:
    return BadInput([Problem("file", sentence)])
