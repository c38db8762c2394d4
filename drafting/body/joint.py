"""How the measures of a body go together: one distribution over adults and children.

It is a mixture of multivariate normals: women and men of ANSUR II, each also at two higher masses
than soldiers show, and children at every 50 mm of stature from 750 to 1650 mm. Within each, the
mean conditioned on the measures taken is their ordinary least-squares fit. Pure Python: a body has
some thirty measures.

All values are mm (mass in kg, which is never asked for and only tells heavier bodies apart).
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from math import erfc, exp, inf, log, sqrt, tau
from operator import mul

from drafting.body import growth
from drafting.body.children import typical_child
from drafting.body.data import load
from drafting.body.growth import Sex

LOG_TWO_PI = log(tau)
ADULT_MONTHS = 18 * 12
CHILD_MONTHS = 13 * 12

# Beliefs before any measure is known: common practice, no source.
_CHILD_SHARE = 0.2
_HEAVIER = ((0.0, 0.987), (3.0, 0.01), (6.0, 0.003))
_CHILD_STATURES = tuple(range(750, 1651, 50))

READING_ERROR = 0.005
"""Variance of a careful tape reading as a share of the measure's own; it keeps the solver well
posed."""

KITCHEN_READING_ERROR = 0.04
"""The same for a tape at a kitchen table: common practice, no source."""


@dataclass(frozen=True)
class Estimate:
    """A conditional mean and one standard deviation, mm."""

    mean: float
    sd: float


@dataclass(frozen=True)
class _Kind:
    """One normal of the mixture; kinds of one family share their correlation."""

    family: str
    mean: Mapping[str, float]
    sd: Mapping[str, float]
    log_share: float


@dataclass(frozen=True)
class _Inverse:
    """The inverse of a family's correlation among some measures, and its log determinant."""

    rows: tuple[tuple[float, ...], ...]
    log_determinant: float


@dataclass(frozen=True)
class FromTheRest:
    """A measure as the other measures foretell it: one normal for each kind of body.

    Each part is the log of (the kind's share times the density of the other measures), then a mean
    and an SD in mm.
    """

    parts: tuple[tuple[float, float, float], ...]

    @property
    def log_density_of_the_rest(self) -> float:
        """Log density of the other measures."""
        return _log_sum([part[0] for part in self.parts])

    @property
    def estimate(self) -> Estimate:
        """Mean and SD, mm."""
        shares = self._shares()
        return _mixed([(w, mean, sd) for w, (_, mean, sd) in zip(shares, self.parts, strict=True)])

    def log_density(self, mm: float) -> float:
        """Log density of all measures, were this one `mm`."""
        return _log_sum([at + _log_normal((mm - mean) / sd, sd) for at, mean, sd in self.parts])

    def tail(self, mm: float) -> float:
        """The share, 0 to 1, of bodies with the other measures that lie further out than `mm`."""
        return sum(
            weight * erfc(abs(mm - mean) / sd / sqrt(2))
            for weight, (_, mean, sd) in zip(self._shares(), self.parts, strict=True)
        )

    def _shares(self) -> list[float]:
        return _shares([part[0] for part in self.parts])


class Joint:
    """The distribution for a sex and an age, each of which may be unknown (None)."""

    def __init__(
        self,
        sex: Sex | None = None,
        age_months: int | None = None,
        reading_error: float = READING_ERROR,
    ) -> None:
        self._kinds = _kinds(sex, age_months)
        self._error = reading_error

    def estimate(self, target: str, given: Mapping[str, float]) -> Estimate:
        """`target` conditioned on `given` (which may be empty)."""
        return self.estimates([target], given)[target]

    def estimates(self, targets: Iterable[str], given: Mapping[str, float]) -> dict[str, Estimate]:
        """Each of the targets conditioned on `given` (which may be empty), by name."""
        names, error = _ordered(given), self._error
        logs = [kind.log_share + _log_density(kind, given, names, error) for kind in self._kinds]
        weighted = zip(_shares(logs), self._kinds, strict=True)
        likely = [(weight, kind) for weight, kind in weighted if weight > 1e-6]
        return {
            target: _mixed(
                [
                    (weight, *_conditional(kind, target, given, names, error))
                    for weight, kind in likely
                ]
            )
            for target in targets
        }

    def each_from_the_rest(self, given: Mapping[str, float]) -> dict[str, "FromTheRest"]:
        """Each measure as the others foretell it, by name."""
        names = _ordered(given)
        found: dict[str, list[tuple[float, float, float]]] = {name: [] for name in names}
        for kind in self._kinds:
            inverse = _inverse(kind.family, names, self._error)
            z = _standardised(kind, given, names)
            pulled = [_dot(row, z) for row in inverse.rows]
            density = kind.log_share + _log_density_from(kind, inverse, names, z, pulled)
            for i, name in enumerate(names):
                own = inverse.rows[i][i]
                residual, sd = pulled[i] / own, kind.sd[name] / sqrt(own)
                without = density - _log_normal(residual * sqrt(own), sd)
                found[name].append((without, given[name] - residual * kind.sd[name], sd))
        return {name: FromTheRest(tuple(parts)) for name, parts in found.items()}

    def log_density(self, given: Mapping[str, float]) -> float:
        """Log of the density of `given`, for comparing two readings of the same measures."""
        names = _ordered(given)
        return _log_sum(
            [kind.log_share + _log_density(kind, given, names, self._error) for kind in self._kinds]
        )

    def typical(self, name: str) -> float:
        """The mean, mm, of the commonest kind of body."""
        return max(self._kinds, key=lambda kind: kind.log_share).mean[name]

    def range(self, name: str) -> tuple[float, float]:
        """From well below the smallest typical body to three SDs above the largest."""
        return (
            0.7 * min(kind.mean[name] for kind in self._kinds),
            max(kind.mean[name] + 3 * kind.sd[name] for kind in self._kinds),
        )


@lru_cache(maxsize=64)
def joint(
    sex: Sex | None = None,
    age_months: int | None = None,
    reading_error: float = READING_ERROR,
) -> Joint:
    """The distribution for a sex and an age in months; kept, since making it costs some time."""
    return Joint(sex, age_months, reading_error)


@cache
def known_names() -> tuple[str, ...]:
    """The measures that the distribution holds."""
    return tuple(name for name in load("adults")["names"] if name != "weight_kg")


def _kinds(sex: Sex | None, age_months: int | None) -> tuple[_Kind, ...]:
    adult_share = 1 - _CHILD_SHARE
    if age_months is not None:
        adult_share = _adult_share(age_months)
    kinds: list[_Kind] = []
    sexes: tuple[Sex, ...] = ("woman", "man") if sex is None else (sex,)
    if adult_share > 0:
        for one in sexes:
            for heavier, share in _HEAVIER:
                kinds.append(_adult(one, heavier, log(adult_share * share / len(sexes))))
    if adult_share < 1:
        shares = _child_shares(sex, age_months)
        for stature, share in zip(_CHILD_STATURES, shares, strict=True):
            if share > 1e-9:
                kinds.append(_child(stature, log((1 - adult_share) * share)))
    return tuple(kinds)


def _adult_share(age_months: int) -> float:
    between = (age_months - CHILD_MONTHS) / (ADULT_MONTHS - CHILD_MONTHS)
    return min(1.0, max(0.0, between))


def _child_shares(sex: Sex | None, age_months: int | None) -> list[float]:
    if age_months is None:
        return [1 / len(_CHILD_STATURES)] * len(_CHILD_STATURES)
    by_sex = [
        growth.stature_distribution(one, age_months)
        for one in (("woman", "man") if sex is None else (sex,))
    ]
    raw = [
        sum(exp(-0.5 * ((stature - mean) / (1.5 * sd)) ** 2) for mean, sd in by_sex)
        for stature in _CHILD_STATURES
    ]
    total = sum(raw)
    return [share / total for share in raw]


def _adult(sex: Sex, heavier: float, log_share: float) -> _Kind:
    """Adults so many SDs heavier than usual for their stature."""
    names, table, correlation = load("adults")["names"], load("adults")[sex], _correlation(sex)
    mass, stature = (correlation[_index()[name]] for name in ("weight_kg", "stature"))
    together = mass[_index()["stature"]]
    with_mass = [
        (own_mass - own_stature * together) / sqrt(1 - together**2)
        for own_mass, own_stature in zip(mass, stature, strict=True)
    ]
    means = zip(names, table["mean"], with_mass, table["sd"], strict=True)
    return _Kind(
        family=sex,
        mean={name: mean + heavier * part * sd for name, mean, part, sd in means},
        sd=dict(zip(names, table["sd"], strict=True)),
        log_share=log_share,
    )


def _child(stature: float, log_share: float) -> _Kind:
    mean = typical_child(stature)
    adults = load("adults")
    spread = {
        name: (adults["woman"]["sd"][i] / adults["woman"]["mean"][i]
               + adults["man"]["sd"][i] / adults["man"]["mean"][i]) / 2
        for i, name in enumerate(adults["names"])
    }  # fmt: skip
    return _Kind("child", mean, {name: spread[name] * mean[name] for name in mean}, log_share)


@cache
def _correlation(family: str) -> tuple[tuple[float, ...], ...]:
    if family == "child":
        woman, man = _correlation("woman"), _correlation("man")
        return tuple(
            tuple((a + b) / 2 for a, b in zip(one, two, strict=True))
            for one, two in zip(woman, man, strict=True)
        )
    adults = load("adults")
    size, lower = len(adults["names"]), iter(adults[family]["correlation"])
    rows = [[1.0] * size for _ in range(size)]
    for i in range(size):
        for j in range(i):
            rows[i][j] = rows[j][i] = next(lower)
    return tuple(map(tuple, rows))


@cache
def _index() -> Mapping[str, int]:
    return {name: i for i, name in enumerate(load("adults")["names"])}


def _ordered(given: Iterable[str]) -> tuple[str, ...]:
    index = _index()
    return tuple(sorted(given, key=index.__getitem__))


@lru_cache(maxsize=512)
def _inverse(family: str, names: tuple[str, ...], error: float) -> _Inverse:
    correlation, at = _correlation(family), [_index()[name] for name in names]
    work = [
        [correlation[i][j] + (error if i == j else 0.0) for j in at] + [float(i == j) for j in at]
        for i in at
    ]
    size, log_determinant = len(at), 0.0
    for i in range(size):
        pivot = work[i][i]
        log_determinant += log(pivot)
        top = work[i] = [x / pivot for x in work[i]]
        for j in range(size):
            if j != i and (factor := work[j][i]):
                work[j] = [x - factor * t for x, t in zip(work[j], top, strict=True)]
    return _Inverse(tuple(tuple(row[size:]) for row in work), log_determinant)


@lru_cache(maxsize=2048)
def _pull(
    family: str, target: str, names: tuple[str, ...], error: float
) -> tuple[tuple[float, ...], float]:
    """Standardised regression of target on names: coefficients and the residual's variance."""
    correlation, at = _correlation(family), _index()
    across = [correlation[at[target]][at[name]] for name in names]
    coefficients = tuple(_dot(row, across) for row in _inverse(family, names, error).rows)
    return coefficients, max(1 - _dot(coefficients, across), 1e-6)


def _standardised(kind: _Kind, given: Mapping[str, float], names: tuple[str, ...]) -> list[float]:
    return [(given[name] - kind.mean[name]) / kind.sd[name] for name in names]


def _log_density(
    kind: _Kind, given: Mapping[str, float], names: tuple[str, ...], error: float
) -> float:
    inverse, z = _inverse(kind.family, names, error), _standardised(kind, given, names)
    return _log_density_from(kind, inverse, names, z, [_dot(row, z) for row in inverse.rows])


def _log_density_from(
    kind: _Kind,
    inverse: _Inverse,
    names: tuple[str, ...],
    z: Sequence[float],
    pulled: Sequence[float],
) -> float:
    scale = sum(log(kind.sd[name]) for name in names)
    constant = inverse.log_determinant + len(names) * LOG_TWO_PI
    return -0.5 * (_dot(z, pulled) + constant) - scale


def _conditional(
    kind: _Kind, target: str, given: Mapping[str, float], names: tuple[str, ...], error: float
) -> tuple[float, float]:
    coefficients, variance = _pull(kind.family, target, names, error)
    z = _dot(coefficients, _standardised(kind, given, names))
    return kind.mean[target] + z * kind.sd[target], sqrt(variance) * kind.sd[target]


def _mixed(parts: Sequence[tuple[float, float, float]]) -> Estimate:
    total = sum(share for share, _, _ in parts)
    mean = sum(share * mean for share, mean, _ in parts) / total
    variance = sum(share * (sd * sd + (m - mean) ** 2) for share, m, sd in parts) / total
    return Estimate(mean, sqrt(variance))


def _shares(logs: Sequence[float]) -> list[float]:
    total = _log_sum(logs)
    return [exp(one - total) for one in logs]


def _log_sum(logs: Sequence[float]) -> float:
    top = max(logs)
    return top if top == -inf else top + log(sum(exp(one - top) for one in logs))


def _log_normal(z: float, sd: float) -> float:
    return -0.5 * (z * z + LOG_TWO_PI) - log(sd)


def _dot(a: Sequence[float], b: Sequence[float]) -> float:
    total: float = sum(map(mul, a, b))
    return total
