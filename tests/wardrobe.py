"""Drafts of the wardrobe for tests: volunteers of Marram Farm in any garment and any options."""

from collections.abc import Mapping
from typing import Any

from hypothesis import strategies as st

from drafting.body import Body, complete
from drafting.checks.truing import Check, true_up
from drafting.garments import GARMENTS, ChoiceOption, CountOption, Garment, Option
from drafting.garments.garment import read_options
from drafting.garments.options import Options
from drafting.pattern import Pattern, SeamEdge

ASTA = {"stature": 1660.0, "bust_girth": 940.0, "waist_girth": 810.0, "hip_girth": 1020.0,
        "arm_length": 555.0, "crotch_length": 625.0, "shoulder_width": 370.0}
TAM = {"stature": 1180.0, "bust_girth": 605.0, "waist_girth": 565.0, "hip_girth": 640.0,
       "arm_length": 395.0, "crotch_length": 465.0}
"""Invented bodies of a woman and of a child, mm, for demo drafts."""

BLOCK_GARMENTS = ("underdress", "tunic", "wrap-coat")


def body_for(garment: Garment, values: Mapping[str, float] = ASTA, **changes: float) -> Body:
    return complete({**values, **changes}, garment.needs + garment.uses)


def draft(
    name: str, options: Mapping[str, str] | None = None, values: Mapping[str, float] = ASTA,
    **changes: float,
) -> Pattern:
    """The garment with options as they would be typed."""
    garment = GARMENTS[name]
    body = body_for(garment, values, **changes)
    return garment.draft(body, read_options(garment, options or {}, body))


def checks(
    name: str, options: Mapping[str, str] | None = None, values: Mapping[str, float] = ASTA,
    **changes: float,
) -> dict[str, Check]:
    return {check.name: check for check in true_up(draft(name, options, values, **changes))}


def failing(pattern: Pattern) -> set[str]:
    return {check.name for check in true_up(pattern) if not check.passed}


def geometry_failing(pattern: Pattern) -> list[Check]:
    """What fails of seams, corners, hems and cutting lines, which no option may spoil."""
    return [check for check in true_up(pattern) if not check.passed and check.sense == "at most"]


def parts_of(pattern: Pattern) -> list[SeamEdge]:
    """Every edge that takes part in a seam, once for each seam (lips of a slit twice)."""
    return [part for seam in pattern.seams for part in (*seam.a, *seam.b)]


@st.composite
def option_values(draw: st.DrawFn, garment: Garment, body: Body) -> Options:
    """Options within their declared ranges, most of them as they default."""
    values: dict[str, Any] = {o.name: o.default_for(body) for o in garment.options}
    for option in draw(st.lists(st.sampled_from(garment.options), unique_by=lambda o: o.name)):
        values[option.name] = draw(_values(option, body))
    return garment.chosen(values)


def _values(option: Option, body: Body) -> st.SearchStrategy[Any]:
    if isinstance(option, ChoiceOption):
        return st.sampled_from(list(option.choices))
    if isinstance(option, CountOption):
        return st.integers(option.least, option.most)
    usual = option.default_for(body)
    near = st.floats(max(option.least, 0.6 * usual), max(option.least, min(option.most, 1.5 * usual)))
    return st.one_of(near, near, st.floats(option.least, option.most))
