"""The kit: wearers, their garments, the cloths they are cut from, and how far the sewing has got.

    {"format": "ellwand-kit", "version": 5, "title": "…", "unit": "cm",
     "impression": {"year": "980", "region": "Denmark", "rank": "farmer"},
     "wearers": [{"id": "w1", "name": "…", "measurements": {…}, …}],
     "cloths": [{"id": "c1", "name": "…", "width": "150 cm", …}],
     "garments": [{"id": "g1", "wearer": "w1", "garment": "tunic", "options": {…},
                   "cloths": {"main": "c1", "lining": "c2"}, "done": ["step", …],
                   "taken_up": {"chest": "+3 cm"}, "life": [{"what": "sewn", "date": "…"}, …]}],
     "house_rules": {…} or null}

Texts stay as they were typed. A garment's life is told in both/lives.py; it and `taken_up` are left out where
there is nothing to tell. What a file holds that this version does not know is never dropped without
a word: it is refused, or named and set aside (readkit.py). migrations.py tells what earlier versions held.
"""

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Literal

from ..body.measures import MEASURES
from ..body.wearer import Wearer
from ..garments import GARMENTS
from ..words.problems import BadInput, Problem
from ..words.units import Unit, quoted

FORMAT = "ellwand-kit"
VERSION = 5
MOST_ENTRIES = 500
"""Wearers, cloths or garments in one kit."""


@dataclass(frozen=True)
class KitCloth:
    """A bolt; `texts` are the cloth's fields as typed (see cloth.read_cloth)."""

    id: str
    texts: Mapping[str, str]


LifeKind = Literal["cut", "sewn", "fitted", "altered", "handed on"]


@dataclass(frozen=True)
class LifeEvent:
    """What happened to a garment on a `date`, "" where that is not known; both/lives.py says what each field
    is of which kind."""

    what: LifeKind
    date: str = ""
    wearer: str = ""
    felt: Mapping[str, str] = field(default_factory=dict)
    fits: Mapping[str, str] = field(default_factory=dict)

    def as_values(self) -> dict[str, Any]:
        told: dict[str, Any] = {"what": self.what, "date": self.date}
        if self.wearer:
            told["wearer"] = self.wearer
        both = {"felt": dict(self.felt), "fits": dict(self.fits)}
        return told | {name: texts for name, texts in both.items() if texts}


@dataclass(frozen=True)
class KitGarment:
    """One garment for one wearer. `cloths` are the ids of those it is cut from, by the part that its
    pieces name ("main", "lining"); `done` holds the ids of sewing steps that are ticked. `taken_up` is what
    an earlier try-on changed, with which this one is drafted; `life` what became of it."""

    id: str
    wearer: str
    garment: str
    options: Mapping[str, str] = field(default_factory=dict)
    cloths: Mapping[str, str] = field(default_factory=dict)
    done: tuple[str, ...] = ()
    taken_up: Mapping[str, str] = field(default_factory=dict)
    life: tuple[LifeEvent, ...] = ()

    def as_values(self) -> dict[str, Any]:
        told: dict[str, Any] = {"id": self.id, "wearer": self.wearer, "garment": self.garment,
                                "cloths": dict(self.cloths), "options": dict(self.options),
                                "done": list(self.done)}
        if self.taken_up:
            told["taken_up"] = dict(self.taken_up)
        if self.life:
            told["life"] = [event.as_values() for event in self.life]
        return told


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
            problems += [
                Problem("file", f"A garment of this kit was {event.what} by or to "
                        f"{quoted(event.wearer)}, who is not in it.")
                for event in garment.life if event.wearer and event.wearer not in wearers
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
        "garments": [garment.as_values() for garment in kit.garments],
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
