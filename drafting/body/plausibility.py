"""Whether measurements can be right.

What no body shows is an error. What is merely rare beside the other measurements is a warning, with
the measurement it disagrees with and what would reconcile the two: it never stops a draft. Lengths
in the sentences are marked for drafting.words.wording.spell.
"""

from collections.abc import Mapping

from drafting.body.bodies import Body
from drafting.body.contradictions import contradictions, not_of_that_age, waist_over_bust
from drafting.body.doubts import without
from drafting.body.growth import LAST_MONTH, Sex
from drafting.body.impossible import all_girths_half, all_in_another_unit, impossible
from drafting.body.joint import KITCHEN_READING_ERROR, joint
from drafting.body.measures import MEASURES
from drafting.words.problems import BadInput, Problem
from drafting.words.units import Unit, quoted


def check_body(
    body: Body | Mapping[str, float],
    *,
    sex: Sex | None = None,
    age_months: int | None = None,
    unit: Unit = "cm",
) -> tuple[Problem, ...]:
    """Every problem among the measures that were taken, mm, errors first; empty when all is well.

    `unit` is what a bare number in their fields means: mistakes are looked for as typed in it.

    Estimates are not checked, nor are names that are no measure. A Body brings its own sex and age.
    """
    if isinstance(body, Body):
        sex, age_months, taken = body.sex or sex, body.age_months or age_months, body.measured
    else:
        taken = {name: mm for name, mm in body.items() if name in MEASURES}
    model = joint(sex, age_months, KITCHEN_READING_ERROR)
    other_unit = all_in_another_unit(taken, model)
    if other_unit is not None:
        return (other_unit,)
    half = all_girths_half(taken, model)
    if half is not None:
        return (half,)
    errors = impossible(taken, model, unit)
    rest = without(taken, errors)
    doubts = contradictions(rest, model, unit)
    if doubts and age_months is not None and age_months < LAST_MONTH:
        ageless = contradictions(rest, joint(sex, None, KITCHEN_READING_ERROR), unit)
        if len(ageless) < len(doubts):
            odd = doubts[0].problem.field
            doubts = [not_of_that_age(odd, rest[odd], age_months), *ageless]
    doubts += waist_over_bust(without(rest, doubts), age_months)
    return tuple(doubt.problem for doubt in (*errors, *doubts))


def plausible_range(
    name: str,
    stature: float | None = None,
    *,
    sex: Sex | None = None,
    age_months: int | None = None,
) -> tuple[float, float]:
    """Between which lengths, mm, nearly every body of this stature lies (3 SD either side).

    Raises BadInput for a name that is no measure.
    """
    if name not in MEASURES:
        raise BadInput([Problem(name, f"{quoted(name)} is not a measurement known here.")])
    if name == "stature" or stature is None:
        return joint(sex, age_months).range(name)
    expected = joint(sex, age_months).estimate(name, {"stature": stature})
    low = max(expected.mean - 3 * expected.sd, 0.5 * expected.mean)
    return low, expected.mean + 3 * expected.sd
