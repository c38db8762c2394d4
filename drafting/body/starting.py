"""Start values from a clothing size: its girths, and the rest estimated from them. Nobody's body."""

from collections.abc import Iterable

from drafting.body.bodies import complete
from drafting.body.growth import FIRST_MONTH, LAST_MONTH, Sex, stature_at
from drafting.body.sizes import Size


def start_values(size: Size, names: Iterable[str]) -> dict[str, float]:
    """The size's own measures and the named ones, mm, the latter estimated and to the half centimetre.

    A child's size is taken for the age at which that stature is the median (CDC 2000).
    """
    sexes: dict[str, Sex] = {"woman": "woman", "man": "man"}
    sex = sexes.get(size.name.partition("-")[0])
    age = None if sex else median_age(size.values["stature"])
    body = complete(size.values, [*size.values, *names], sex=sex, age_months=age)
    return {
        name: mm if name in size.values else 5.0 * round(mm / 5) for name, mm in body.values.items()
    }


def median_age(stature: float) -> int:
    """The first month, from two years on, at which half the children are at least so tall."""
    months = range(FIRST_MONTH, LAST_MONTH)
    return next((m for m in months if stature_at(0.0, None, m) >= stature), LAST_MONTH)
