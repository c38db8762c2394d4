"""Measurements that do not go together: each is a warning that names both and what would reconcile
them. Every measure is held against what all the others foretell."""

from collections.abc import Mapping
from math import log

from drafting.body.doubts import Doubt, small_label, without
from drafting.body.joint import FromTheRest, Joint
from drafting.body.measures import MEASURES, label_of
from drafting.body.slips import SWAP, UNEXPLAINED, Slip, likeliest_slip
from drafting.words.problems import Meant, Problem
from drafting.words.units import Unit
from drafting.words.wording import said

RARE = 3e-4
"""A share of bodies so small that the measurement is doubted. At this share fewer than one in a
hundred of ANSUR II's bodies, each with 23 measures, are doubted."""

_FAIRLY_RARE = 0.03
_LIKELIER = 3.0
"""How much the log density must gain before a slip is suggested where nothing is RARE."""

_BEAR_OUT_A_WAIST = ("hip_girth", "thigh_girth", "upper_arm_girth", "shoulder_girth",
                     "neck_base_girth", "calf_girth")  # fmt: skip


def contradictions(taken: Mapping[str, float], model: Joint, unit: Unit) -> list[Doubt]:
    """Doubts, the gravest first; each is set aside before the rest is looked at again.

    Lengths in mm; `unit` is what a bare number in their fields means.
    """
    found: list[Doubt] = []
    while (doubt := _gravest(without(taken, found), model, unit)) is not None:
        found.append(doubt)
    return found


def waist_over_bust(taken: Mapping[str, float], age_months: int | None) -> list[Doubt]:
    """A doubt about a waist larger than the bust, unless other girths bear it out.

    A small child's belly may be a little larger than its chest.
    """
    if not {"waist_girth", "bust_girth"} <= taken.keys():
        return []
    waist, bust = taken["waist_girth"], taken["bust_girth"]
    small = taken.get("stature", 1600) < 1300 or (age_months is not None and age_months < 120)
    if waist <= (1.08 * bust if small else bust):
        return []
    if sum(name in taken for name in _BEAR_OUT_A_WAIST) >= 3:
        return []
    told = (
        f"Waist girth {said(waist)} is more than bust girth {said(bust)}. That happens, with a "
        "child on the way for one; if it is so, leave it, else measure both again."
    )
    return [_doubt("waist_girth", told, "bust_girth")]


def not_of_that_age(field: str, mm: float, age_months: int) -> Doubt:
    """A doubt about an age that alone makes a measure odd."""
    told = (
        f"{label_of(field)} {said(mm)} is not what a child of {_years(age_months)} shows: check "
        "the age and the measurement."
    )
    return Doubt(Problem(field, told, "warning", ("age_months",)), ())


def _gravest(taken: Mapping[str, float], model: Joint, unit: Unit) -> Doubt | None:
    """The likeliest story about the measures that are odd, if any needs one."""
    foretold = model.each_from_the_rest(taken)
    tails = {name: foretold[name].tail(mm) for name, mm in taken.items()}
    odd = sorted((name for name in taken if tails[name] < _FAIRLY_RARE), key=tails.__getitem__)[:4]
    stories: list[tuple[float, Doubt]] = []
    for name in odd:
        slip = likeliest_slip(name, taken[name], foretold[name], unit)
        if slip is not None:
            likelihood = slip.log_likelihood + foretold[name].log_density(slip.meant)
            stories.append((likelihood, _slipped(name, slip, taken, model)))
        if tails[name] < RARE:
            anything = foretold[name].log_density_of_the_rest - log(2 * taken[name])
            stories.append((UNEXPLAINED + anything, _rare(name, taken, foretold[name], model)))
    for i, one in enumerate(odd):
        for other in odd[i + 1 :] if len(taken) > 2 else ():
            exchanged = {**taken, one: taken[other], other: taken[one]}
            stories.append((SWAP + model.log_density(exchanged), _exchanged(one, other, taken)))
    if not stories:
        return None
    likelihood, doubt = max(stories, key=lambda story: story[0])
    if likelihood - model.log_density(taken) > _LIKELIER:
        return doubt
    first = odd[0]
    return _rare(first, taken, foretold[first], model) if tails[first] < RARE else None


def _slipped(name: str, slip: Slip, taken: Mapping[str, float], model: Joint) -> Doubt:
    partner = _disagrees_with(name, taken, model)
    if partner is None:
        told = f"{label_of(name)} {said(taken[name])} is very unusual: {slip.question}"
    else:
        told = (
            f"{label_of(name)} {said(taken[name])} does not go with {small_label(partner)} "
            f"{said(taken[partner])}: {slip.question}"
        )
    return _doubt(name, told, partner, slip.meant_for(name))


def _exchanged(one: str, other: str, taken: Mapping[str, float]) -> Doubt:
    told = (
        f"{label_of(one)} {said(taken[one])} and {small_label(other)} {said(taken[other])} would "
        "fit better the other way round: exchange them?"
    )
    meant = (Meant(one, taken[other]), Meant(other, taken[one]))
    return Doubt(Problem(one, told, "warning", (other,), meant), (one, other))


def _rare(name: str, taken: Mapping[str, float], foretold: FromTheRest, model: Joint) -> Doubt:
    expected = foretold.estimate
    low, high = expected.mean - 2 * expected.sd, expected.mean + 2 * expected.sd
    partner = _disagrees_with(name, taken, model)
    beside = f" beside {small_label(partner)} {said(taken[partner])}" if partner else ""
    told = (
        f"{label_of(name)} {said(taken[name])} is rare{beside}: {said(low)} to {said(high)} is "
        "usual. Measure it once more; if it is right, leave it."
    )
    return _doubt(name, told, partner)


def _doubt(name: str, told: str, partner: str | None, meant: tuple[Meant, ...] = ()) -> Doubt:
    return Doubt(Problem(name, told, "warning", (partner,) if partner else (), meant), (name,))


def _disagrees_with(name: str, taken: Mapping[str, float], model: Joint) -> str | None:
    """The measure beside which this one alone is oddest, of those that best foretell it."""
    telling = [other for other in MEASURES[name].best_estimated_from if other in taken]
    others = telling or [other for other in taken if other != name]

    def tail_beside(other: str) -> float:
        beside = {name: taken[name], other: taken[other]}
        return model.each_from_the_rest(beside)[name].tail(taken[name])

    return min(others, key=tail_beside, default=None)


def _years(age_months: int) -> str:
    parts = [
        f"{count} {word}{'' if count == 1 else 's'}"
        for count, word in zip(divmod(age_months, 12), ("year", "month"), strict=True)
        if count
    ]
    return " ".join(parts) or "no age"
