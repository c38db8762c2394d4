"""A draft seen worn: its garment hung on its wearer's figure, and the files that come of it."""

import json
from collections.abc import Generator
from dataclasses import dataclass

from ..body import complete
from ..pattern import Pattern
from ..period.counsel import fibre_of
from ..period.dyes import read_colour, tone
from ..sewing.cloths import HANDLED_AS, LINEN, WOOL
from ..words.problems import BadInput, Problem
from ..words.wording import spell
from ..worn.answers import hem_heights, in_words
from ..worn.cloth_forces import BENDING_LENGTH, ClothFeel
from ..worn.figure import NEEDS
from ..worn.hanging import Worn, as_json, hang_in_steps
from ..worn.views import svg
from .drafts import Draft
from .order import Order
from .steps import at_one_go

LIGHTEST_CLOTH, HEAVIEST_CLOTH = 40.0, 1500.0
"""g/m² of a cloth that is still one. common practice, no source."""

TUCK = "growth_tuck"
"""The option of a tuck that is let out as a child grows: what it holds is not seen."""

UNDYED = {"wool": "#b9ac95", "linen": "#d8cfb8"}
"""Cloth of which no colour is said. Judged by eye."""


@dataclass(frozen=True)
class SeenWorn:
    """A garment worn, and what it tells in sentences."""

    worn: Worn
    sentences: tuple[str, ...]


def feel_of(drafted: Draft, weight: float | None = None) -> ClothFeel:
    """How the main cloth bends and weighs, by what is said of it. Raises BadInput for a weight that no cloth
    has."""
    asked = fibre_of(drafted.order.impression) or drafted.order.garment.usual_fibre
    like = HANDLED_AS.get(asked, "wool")
    given = weight if weight is not None else drafted.order.cloth().weight if drafted.order.cloths else None
    grams = given if given is not None else (WOOL if like == "wool" else LINEN).weight
    if not LIGHTEST_CLOTH <= grams <= HEAVIEST_CLOTH:
        raise BadInput([Problem(
            "cloth_weight", f"A cloth of {grams:g} g/m² cannot be hung: give {LIGHTEST_CLOTH:g} to "
            f"{HEAVIEST_CLOTH:g}; a light linen has 150, a heavy wool 500.")])
    return ClothFeel(grams, BENDING_LENGTH[like])


def wear_in_steps(drafted: Draft, weight: float | None = None) -> Generator[Worn, bool | None, Worn]:
    """As `worn.hanging.hang_in_steps`, for a draft. Raises BadInput."""
    order = drafted.order
    body = complete(order.body.measured, NEEDS, sex=order.body.sex or order.garment.estimated_as,
                    age_months=order.body.age_months)
    return hang_in_steps(order.garment, _as_worn(order), body, feel_of(drafted, weight))


def _as_worn(order: Order) -> Pattern:
    """Its pieces whole, however they are pieced to be cut, and without the cloth that lies in a tuck."""
    options = order.options
    if TUCK in options.declared:
        options = options.changed(TUCK, 0.0)
    for choice, shown in (order.garment.worn.shown_as if order.garment.worn else {}).items():
        name, _, value = choice.partition("=")
        if options.is_(name, value):
            options = options.changed(name, shown)
    return order.garment.draft(order.body, options)


def wear(drafted: Draft, weight: float | None = None) -> SeenWorn:
    """Hung until it rests. Raises BadInput."""
    return seen_worn(drafted, at_one_go(wear_in_steps(drafted, weight)))


def seen_worn(drafted: Draft, worn: Worn) -> SeenWorn:
    """With what it tells, in the unit of the order."""
    return SeenWorn(worn, tuple(spell(one, drafted.order.unit) for one in in_words(worn)))


def worn_files(drafted: Draft, seen: SeenWorn) -> dict[str, bytes]:
    """worn.json and worn.svg."""
    return {
        "worn.json": json.dumps(as_json(seen.worn, hem_heights(seen.worn))).encode(),
        "worn.svg": worn_picture(drafted, seen).encode(),
    }


def worn_picture(drafted: Draft, seen: SeenWorn) -> str:
    """Front, side and back, which says in words what it shows."""
    title = f"{drafted.pattern.title}, worn"
    shown = (f"{drafted.pattern.title} on a plain figure of its wearer's measurements, from the front, the "
             "left side and the back.")
    return svg(seen.worn, cloth_colour(drafted), title, " ".join((shown, *seen.sentences)))


def cloth_colour(drafted: Draft) -> str:
    """Of the main cloth, #rrggbb."""
    asked = drafted.order.impression
    fibre = HANDLED_AS.get(fibre_of(asked) or drafted.order.garment.usual_fibre, "wool")
    if asked.colour:
        found = tone(read_colour(asked.colour)[0], fibre) or tone(read_colour(asked.colour)[0])
        if found:
            return found.cloth
    return UNDYED[fibre]
