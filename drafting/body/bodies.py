"""A body: what was measured, what was estimated from it and how well, and how both are read."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field
from math import isfinite

from drafting.body.growth import Sex
from drafting.body.joint import joint
from drafting.body.measures import MEASURES, closest, label_of
from drafting.words.problems import BadInput, Problem
from drafting.words.units import (
    LengthError,
    Unit,
    format_estimate,
    format_length,
    parse_length,
    quoted,
)


@dataclass(frozen=True)
class Body:
    """Measures in mm by name. `estimated` gives those not measured, with one SD of error, mm.

    `sex` and `age_months` serve estimates only. Raises BadInput for a name that is no measure and
    for a length that is not above zero.
    """

    values: Mapping[str, float]
    estimated: Mapping[str, float] = field(default_factory=dict)
    sex: Sex | None = None
    age_months: int | None = None

    def __post_init__(self) -> None:
        problems = [
            *(_unknown(name) for name in (*self.values, *self.estimated) if name not in MEASURES),
            *(_not_a_length(name) for name, mm in self.values.items() if not _above_zero(mm)),
        ]
        if problems:
            raise BadInput(problems)

    def __getitem__(self, name: str) -> float:
        """The measure in mm, given or estimated. Raises BadInput, which names it, if neither."""
        if name in self.values:
            return self.values[name]
        if name not in MEASURES:
            raise BadInput([_unknown(name)])
        raise BadInput([Problem(name, f"{label_of(name)} is missing: please measure it.")])

    def __contains__(self, name: object) -> bool:
        return name in self.values

    def is_estimated(self, name: str) -> bool:
        """Whether the measure was estimated, not taken."""
        return name in self.estimated

    @property
    def measured(self) -> dict[str, float]:
        """The measures that were taken, mm."""
        return {name: mm for name, mm in self.values.items() if name not in self.estimated}


def read_measurements(
    texts: Mapping[str, str], unit: Unit = "cm", needed: Collection[str] = ()
) -> tuple[dict[str, float], tuple[Problem, ...]]:
    """Measures in mm from texts as typed, and a problem for each that cannot be read.

    A name may be written with spaces or hyphens. An empty text is a measurement not taken. Unknown
    names become problems, with the nearest name when there is one. Those `needed` may not be left empty.
    """
    values: dict[str, float] = {}
    problems: list[Problem] = []
    for written, text in texts.items():
        name = written.strip().lower().replace(" ", "_").replace("-", "_")
        if name not in MEASURES:
            problems.append(_unknown(written))
        elif text.strip():
            try:
                mm = parse_length(text, unit)
            except LengthError as error:
                problems.append(Problem(name, f"{label_of(name)}: {error}"))
            else:
                if mm > 0:
                    values[name] = mm
                else:
                    problems.append(_not_a_length(name, name in needed))
    return values, tuple(problems)


def complete(
    values: Mapping[str, float],
    needed: Iterable[str],
    *,
    sex: Sex | None = None,
    age_months: int | None = None,
    never_estimate: frozenset[str] = frozenset(),
) -> Body:
    """The body with every needed measure, those not in `values` estimated from all that are.

    Raises BadInput naming each measure that is missing and may not be estimated, or cannot be
    because neither a measure nor an age is known.
    """
    body = Body(values, sex=sex, age_months=age_months)
    missing = [name for name in dict.fromkeys(needed) if name not in body]
    problems = [_missing(name) for name in missing if name in never_estimate]
    problems += [_unknown(name) for name in missing if name not in MEASURES]
    if not values and age_months is None:
        problems += [_nothing(name) for name in missing if name not in never_estimate]
    if problems:
        raise BadInput(problems)
    model = joint(sex, age_months)
    filled, errors = dict(values), {}
    for name, estimate in model.estimates(missing, values).items():
        low, high = model.range(name)
        filled[name] = float(round(min(max(estimate.mean, low), high)))
        errors[name] = estimate.sd
    return Body(filled, errors, sex, age_months)


def in_words(body: Body, name: str, unit: Unit = "cm") -> str:
    """The measure to read: "92 cm", or "about 31 cm, ± 2.5 cm" when it is estimated."""
    shown = format_length(body[name], unit)
    if not body.is_estimated(name):
        return shown
    return f"about {format_estimate(body[name], unit)}, ± {format_length(body.estimated[name], unit)}"


def _above_zero(mm: float) -> bool:
    return isfinite(mm) and mm > 0


def _unknown(name: str) -> Problem:
    near = closest(name)
    hint = f": did you mean {near}?" if near else "."
    return Problem(name, f"{quoted(name)} is not a measurement known here{hint}")


def _not_a_length(name: str, needed: bool = False) -> Problem:
    would_do = "please measure it" if needed else "measure it, or leave it empty to have it estimated"
    return Problem(name, f"{label_of(name)} must be more than zero: {would_do}.")


def _missing(name: str) -> Problem:
    return Problem(
        name, f"{label_of(name)} is missing and too important to be estimated: please measure it."
    )


def _nothing(name: str) -> Problem:
    return Problem(
        name,
        f"{label_of(name)} is missing, and nothing is known yet to estimate it from: please "
        "measure it, or give the height.",
    )
