"""How a child grows: the CDC 2000 stature-for-age curves, and what they mean for clothing.

source: Kuczmarski et al. 2002, CDC growth charts for the United States, Vital and Health Statistics
11(246), table of L, M and S from 2 to 20 years; X = M (1 + L S Z)^(1/L), Cole & Green 1992,
Statistics in Medicine 11:1305. A child is expected to stay on its centile; measures other than
stature grow as a typical child's of that stature do. Statures in mm, ages in months.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import erf, exp, log, sqrt
from typing import Literal

from drafting.body.children import typical_child
from drafting.body.data import load
from drafting.words.problems import BadInput, Problem

Sex = Literal["woman", "man"]
"""Which curve and which survey to estimate from; girls are on the women's, boys on the men's."""

FIRST_MONTH = 24
LAST_MONTH = 240

# Length grows by about 0.9 cm a month in the second year: common practice, no source.
_MM_PER_MONTH_BEFORE_TWO = 9.0

_MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August",
           "September", "October", "November", "December")  # fmt: skip


@dataclass(frozen=True)
class Expected:
    """Stature and the other measures, mm, so many months after the child was measured."""

    months: int
    stature: float
    values: Mapping[str, float]


def lms(sex: Sex, age_months: float) -> tuple[float, float, float]:
    """L, M (cm) and S of stature at an age, between the table's months in proportion.

    From 240 months on the last row holds. Raises BadInput below 24 months.
    """
    table = load("cdc2000_stature")
    months: list[float] = table["months"]
    if not age_months >= FIRST_MONTH:
        raise BadInput([Problem("age_months", "The growth curve begins at two years of age.")])
    age = min(age_months, months[-1])
    i = min(max(int(age - 23.5), 0), len(months) - 2)
    while i > 0 and months[i] > age:
        i -= 1
    part = (age - months[i]) / (months[i + 1] - months[i])
    power, median, spread = (
        column[i] + part * (column[i + 1] - column[i]) for column in map(table[sex].get, "LMS")
    )
    return power, median, spread


def stature_z(stature: float, sex: Sex | None, age_months: float) -> float:
    """Standard deviations above the median for age; without a sex, the mean of both curves'."""
    if sex is None:
        return (stature_z(stature, "woman", age_months) + stature_z(stature, "man", age_months)) / 2
    power, median, spread = lms(sex, age_months)
    ratio = stature / 10 / median
    return (ratio**power - 1) / (power * spread) if power else log(ratio) / spread


def centile(stature: float, sex: Sex | None, age_months: float) -> float:
    """The percentage of children of this age who are shorter, 0 to 100."""
    return 50 * (1 + erf(stature_z(stature, sex, age_months) / sqrt(2)))


def stature_at(z: float, sex: Sex | None, age_months: float) -> float:
    """The stature, mm, of a child `z` standard deviations above the median for its age."""
    if sex is None:
        return (stature_at(z, "woman", age_months) + stature_at(z, "man", age_months)) / 2
    power, median, spread = lms(sex, age_months)
    if not power:
        return 10 * median * exp(spread * z)
    return float(10 * median * max(1 + power * spread * z, 0.01) ** (1 / power))


def stature_distribution(sex: Sex, age_months: float) -> tuple[float, float]:
    """Median and SD of stature, mm, at any age; before two years run back in a straight line."""
    _, median, spread = lms(sex, max(age_months, FIRST_MONTH))
    before = max(FIRST_MONTH - age_months, 0) * _MM_PER_MONTH_BEFORE_TWO
    return 10 * median - before, 10 * median * spread


def expected_stature(
    stature: float, sex: Sex | None, age_months: float, months_later: float
) -> float:
    """Stature, mm, when the child stays on the centile it is on now."""
    z = stature_z(stature, sex, age_months)
    later = stature_at(z, sex, age_months + months_later)
    return max(stature, stature + later - stature_at(z, sex, age_months))


def expected(
    values: Mapping[str, float],
    sex: Sex | None,
    age_months: float,
    months_later: tuple[int, ...] = (6, 12, 18, 24),
) -> tuple[Expected, ...]:
    """All measures, mm, so many months on. `values` must hold the stature.

    Raises BadInput when the stature is missing or the age lies before the curve's beginning.
    """
    if "stature" not in values:
        raise BadInput([Problem("stature", "Growth is reckoned from stature: please measure it.")])
    stature = values["stature"]
    found = []
    for months in months_later:
        later = expected_stature(stature, sex, age_months, months)
        found.append(Expected(months, later, _grown(values, stature, later)))
    return tuple(found)


def month_name(measured: str, months_later: int) -> str:
    """The month, such as "May 2028", so many months after an ISO date such as 2026-11-25."""
    year, month = int(measured[:4]), int(measured[5:7])
    years, index = divmod(month - 1 + months_later, 12)
    return f"{_MONTHS[index]} {year + years}"


def _grown(values: Mapping[str, float], stature: float, later: float) -> dict[str, float]:
    now, then = typical_child(stature), typical_child(later)
    return {
        name: value * then[name] / now[name] if name in now else value
        for name, value in values.items()
    }
