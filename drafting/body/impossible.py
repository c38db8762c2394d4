"""Measurements that no body shows: each is an error, with the likeliest slip that led to it."""

from collections.abc import Mapping
from functools import cache
from itertools import pairwise
from math import log

from drafting.body.doubts import Doubt, small_label, without
from drafting.body.joint import KITCHEN_READING_ERROR, Joint, joint
from drafting.body.measures import label_of
from drafting.body.slips import USUAL, Slip, likeliest_slip
from drafting.words.problems import Meant, Problem
from drafting.words.units import MM_PER_INCH, Unit
from drafting.words.wording import said

WAIST_OVER_BUST = 400.0
"""mm. source: ANSUR II, Gordon et al. 2014: among 6,068 adults the waist is at most 173 mm more
than the chest, and the chest at most 320 mm more than the waist."""

_A_BABY_OR_INCHES = 2.5
"""How much the log density must gain before all measures are taken for inches in fields of
centimetres, which makes a grown body as large as a baby: typical children from 750 mm of stature
stay below it."""

_FAR_LIKELIER = 15.0
"""The same for centimetres in fields of inches."""

_HALF = 5.0
"""How much it must gain before all girths are taken for half of what they are."""

_HEIGHTS = ("stature", "cervicale_height", "axilla_height", "waist_height", "inside_leg_height",
            "knee_height")  # fmt: skip


def impossible(taken: Mapping[str, float], model: Joint, unit: Unit) -> list[Doubt]:
    """What no body shows, by itself or beside another measure; lengths in mm, typed in `unit`."""
    found = _beyond_any_body(taken, unit)
    found += _out_of_order(without(taken, found), model, unit)
    return found + _waist_against_bust(without(taken, found), model, unit)


def all_in_another_unit(taken: Mapping[str, float], model: Joint) -> Problem | None:
    """One problem when every measure makes sense once inches and centimetres are exchanged.

    It is an error when any measure as it stands is no body's, else a warning.
    """
    if len(taken) < 2:
        return None
    per_inch = MM_PER_INCH / 10
    first, *others = taken
    size = sum(mm / joint().typical(name) for name, mm in taken.items()) / len(taken)
    for factor, enough, sentence in (
        (per_inch, _A_BABY_OR_INCHES, "In centimetres these measurements are hardly a baby's: were "
         "they read in inches? {first} would then be {meant}."),
        (1 / per_inch, _FAR_LIKELIER, "In inches these measurements fit no body: were they read in "
         "centimetres? {first} would then be {meant}."),
    ):  # fmt: skip
        if not 0.6 < size * factor < 1.7:
            continue
        other = {name: mm * factor for name, mm in taken.items()}
        gain = model.log_density(other) + len(other) * log(factor) - model.log_density(taken)
        if gain < enough:
            continue
        foretold = model.each_from_the_rest(other)
        if all(foretold[name].tail(mm) > USUAL for name, mm in other.items()):
            told = sentence.format(first=label_of(first), meant=said(other[first]))
            human = all(_is_human(name, mm) for name, mm in taken.items())
            unit: Unit = "in" if factor > 1 else "cm"
            meant = tuple(Meant(name, mm, unit) for name, mm in other.items())
            return Problem(first, told, "warning" if human else "error", tuple(others), meant)
    return None


def all_girths_half(taken: Mapping[str, float], model: Joint) -> Problem | None:
    """One problem when every girth, of several, makes sense beside the lengths once it is doubled.

    It is an error when any of them as it stands is no body's, else a warning.
    """
    girths = [name for name in taken if name.endswith("girth")]
    if len(girths) < 2 or len(girths) == len(taken):
        return None
    doubled = {name: mm * 2 if name in girths else mm for name, mm in taken.items()}
    gain = model.log_density(doubled) + len(girths) * log(2) - model.log_density(taken)
    if gain < _HALF:
        return None
    foretold = model.each_from_the_rest(doubled)
    if not all(foretold[name].tail(doubled[name]) > USUAL for name in girths):
        return None
    first, *others = girths
    told = (
        "Beside the lengths these girths are half of what they should be: was the tape laid flat, half the "
        f"way round? {label_of(first)} would then be {said(doubled[first])}."
    )
    human = all(_is_human(name, taken[name]) for name in girths)
    meant = tuple(Meant(name, doubled[name]) for name in girths)
    return Problem(first, told, "warning" if human else "error", tuple(others), meant)


@cache
def _limits(name: str) -> tuple[float, float]:
    """What no body that walks falls short of or exceeds, mm."""
    low, high = joint().range(name)
    return 0.8 * low, 1.4 * high


def _is_human(name: str, mm: float) -> bool:
    low, high = _limits(name)
    return low <= mm <= high


def _beyond_any_body(taken: Mapping[str, float], unit: Unit) -> list[Doubt]:
    beyond = {name: mm for name, mm in taken.items() if not _is_human(name, mm)}
    rest = {name: mm for name, mm in taken.items() if name not in beyond}
    model = joint(None, None, KITCHEN_READING_ERROR)
    found = []
    for name, mm in beyond.items():
        size = "smaller" if mm < _limits(name)[0] else "larger"
        slip = likeliest_slip(name, mm, model.each_from_the_rest({**rest, name: mm})[name], unit)
        told = f"{label_of(name)} {said(mm)} is {size} than any body's: {_advice(slip)}"
        found.append(Doubt(Problem(name, told, meant=_meant(name, slip)), (name,)))
    return found


def _out_of_order(taken: Mapping[str, float], model: Joint, unit: Unit) -> list[Doubt]:
    found: list[Doubt] = []
    while pair := _reversed_heights(without(taken, found)):
        rest = without(taken, found)
        upper, lower = pair
        about: tuple[str, ...]
        meant: tuple[Meant, ...]
        if _fit_exchanged(upper, lower, rest, model):
            blamed, advice, about = lower, "Exchange them?", pair
            meant = (Meant(upper, rest[lower]), Meant(lower, rest[upper]))
        else:
            blamed, slip = _blamed(pair, rest, model, unit)
            advice, about = f"{label_of(blamed)}: {_advice(slip)}", (blamed,)
            meant = _meant(blamed, slip)
        told = (
            f"{label_of(lower)} {said(rest[lower])} is not less than {small_label(upper)} "
            f"{said(rest[upper])}, which no body shows. {advice}"
        )
        found.append(Doubt(Problem(blamed, told, also=_other(pair, blamed), meant=meant), about))
    return found


def _reversed_heights(taken: Mapping[str, float]) -> tuple[str, str] | None:
    heights = [name for name in _HEIGHTS if name in taken]
    wrong = (pair for pair in pairwise(heights) if taken[pair[1]] >= taken[pair[0]])
    return next(wrong, None)


def _fit_exchanged(one: str, other: str, rest: Mapping[str, float], model: Joint) -> bool:
    exchanged = {**rest, one: rest[other], other: rest[one]}
    foretold = model.each_from_the_rest(exchanged)
    return all(foretold[name].tail(exchanged[name]) > USUAL for name in (one, other))


def _waist_against_bust(taken: Mapping[str, float], model: Joint, unit: Unit) -> list[Doubt]:
    pair = ("waist_girth", "bust_girth")
    if not set(pair) <= taken.keys():
        return []
    waist, bust = taken["waist_girth"], taken["bust_girth"]
    if abs(waist - bust) < WAIST_OVER_BUST:
        return []
    more = "more" if waist > bust else "less"
    blamed, slip = _blamed(pair, taken, model, unit)
    told = (
        f"Waist girth {said(waist)} is {said(abs(waist - bust))} {more} than bust girth "
        f"{said(bust)}, which no body shows. {label_of(blamed)}: {_advice(slip)}"
    )
    problem = Problem(blamed, told, also=_other(pair, blamed), meant=_meant(blamed, slip))
    return [Doubt(problem, (blamed,))]


def _blamed(
    pair: tuple[str, str], taken: Mapping[str, float], model: Joint, unit: Unit
) -> tuple[str, Slip | None]:
    """Which of two measures that cannot both be is the wrong one, and what it was meant to be."""
    foretold = model.each_from_the_rest(taken)
    slips_of = {name: likeliest_slip(name, taken[name], foretold[name], unit) for name in pair}
    told = {
        name: slip.log_likelihood + foretold[name].log_density(slip.meant)
        for name, slip in slips_of.items()
        if slip is not None
    }
    if told:
        blamed = max(told, key=told.__getitem__)
    else:
        blamed = min(pair, key=lambda name: foretold[name].tail(taken[name]))
    return blamed, slips_of[blamed]


def _other(pair: tuple[str, str], one: str) -> tuple[str, ...]:
    return tuple(name for name in pair if name != one)


def _meant(name: str, slip: Slip | None) -> tuple[Meant, ...]:
    return slip.meant_for(name) if slip else ()


def _advice(slip: Slip | None) -> str:
    return slip.question if slip else "please measure it again."
