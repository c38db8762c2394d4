"""A child's garment next season: how long it fits as it is and when let out, what to let out, and whom it
fits then.

Growth is the curve of `body.growth` (CDC 2000, its source named there); what a garment has in reserve is
read off its pattern as `checks.growing` does. All from one day of measuring: nothing here reads a clock.
"""

from dataclasses import dataclass

from ..body import Body
from ..body.growth import FIRST_MONTH, LAST_MONTH, expected
from ..checks.growing import (
    OUTLOOK,
    SHORT_BY,
    SLEEVE_SHORT_BY,
    Ages,
    Lasts,
    cuff_spare,
    lasting,
    let_down,
    let_out,
    rises,
    wanted,
)
from ..garments import Garment
from ..pattern import UNSEEN, Pattern
from ..words.problems import BadInput
from .adjust import Sized, fitted
from .as_cut import AsCut, most_on_the_cloth, on_the_cloth
from .fits import Fit

SEASON = 6
"""Months that what is let out should last. common practice, no source."""

TOO_LONG = 0.12
"""Part of the length wanted by which a garment may be longer, to be taken up with a tuck. common practice, no
source."""

SLEEVE_TOO_LONG = 60.0
"""mm of sleeve that can be turned back. common practice, no source."""

TOO_WIDE = 0.22
"""Part of the body's chest that a garment may have as room and not swamp the wearer. common practice, no
source."""

WORTH_LETTING = 5.0
"""mm under which nothing is let out. common practice, no source."""


@dataclass(frozen=True)
class Outlook:
    """Months from the measuring that a garment fits as it is, and with all that it has let out; None for
    longer than OUTLOOK. `first` is the part that gives out first, `then` the part that does when all is
    let out."""

    as_it_is: int | None
    let_out: int | None
    first: str
    then: str

    def fits(self, months: int) -> bool:
        return self.as_it_is is None or months <= self.as_it_is

    def can_be_let_out(self, months: int) -> bool:
        return self.let_out is None or months <= self.let_out


def outlook(pattern: Pattern, body: Body, age_months: int, meant: Pattern | None = None) -> Outlook:
    """Of a garment that was `meant` for the body as another pattern, and altered since; else of that itself.
    For a child from two to twenty years. Raises BadInput where the curve does not know the age, or
    there is no height."""
    expected(body.values, body.sex, age_months, (0,))
    now, all_out = (lasting(pattern, body, age_months, reserves=reserves, meant=meant)
                    for reserves in (False, True))
    return Outlook(_months(now), _months(all_out), _part(now), _part(all_out))


def _months(lasts: tuple[Lasts, ...]) -> int | None:
    return lasts[0].months if lasts else None


def _part(lasts: tuple[Lasts, ...]) -> str:
    return lasts[0].part if lasts else ""


def grows(age_months: int | None) -> bool:
    """Whether growth can be told at that age."""
    return age_months is not None and FIRST_MONTH <= age_months < LAST_MONTH


def to_let(one: Sized, age_months: int, months: int, meant: Pattern | None = None) -> tuple[Fit, ...]:
    """What to let down and out so that it fits so many months after the measuring, and a season more, as far
    as its reserves go."""
    pattern, body, asked = one.pattern, one.body, (meant or one.pattern).finished
    ages = Ages(pattern, body, age_months)
    then = ages.at(months + SEASON)
    found = []
    length = pattern.finished.get("length")
    if length and rises(pattern):
        lacks = wanted(pattern, "length", min(length, asked["length"]), body, then) - length
        if lacks > SHORT_BY * length:
            found.append(Fit("length", min(lacks, let_down(pattern))))
    sleeve = pattern.finished.get("sleeve_length")
    if sleeve:
        wished = min(sleeve, asked["sleeve_length"])
        lacks = wanted(pattern, "sleeve_length", wished, body, then) - sleeve
        if lacks > SLEEVE_SHORT_BY:
            found.append(Fit("sleeve-length", min(lacks, cuff_spare(pattern))))
    limits = ages.limits(months + SEASON)
    if limits is not None and "bust_girth" in pattern.finished:
        lacks = max((limits.get(c.name, 0.0) - c.value for c in pattern.clearances if c.at_side_seams),
                    default=0.0)
        if lacks > 0:
            found.append(Fit("chest", min(lacks, let_out(pattern))))
    return tuple(fit for fit in found if fit.change >= WORTH_LETTING)


def let_on_the_cloth(one: Sized, fits: tuple[Fit, ...]) -> tuple[tuple[Fit, ...], AsCut | None]:
    """As much of the fits as the cloth as cut holds, and how; None where it holds none."""
    held = []
    for fit in fits:
        try:
            most = fit.change * most_on_the_cloth(one, fit)
        except BadInput:
            continue
        if most >= WORTH_LETTING:
            held.append(Fit(fit.place, most))
    while held:
        try:
            cloth = on_the_cloth(fitted(one, tuple(held)))
        except BadInput:
            cloth = None
        if cloth and cloth.holds:
            return tuple(held), cloth
        held.pop()
    return (), None


def fits_other(one: Sized, garment: Garment, other: Body, age_months: int | None) -> tuple[int, int] | None:
    """From which month to which, counted from the other's measuring, the garment fits another wearer; None
    for never within OUTLOOK. Someone grown is looked at as they are, from 0 to OUTLOOK."""
    if age_months is None or not grows(age_months):
        return (0, OUTLOOK) if _goes_on(one, garment, other) else None
    months = [m for m in range(0, OUTLOOK + 1) if _goes_on(one, garment, _grown(other, age_months, m))]
    if not months:
        return None
    last = next((m for m in months if m + 1 not in months), months[-1])
    return months[0], last


def _grown(body: Body, age_months: int, months: int) -> Body:
    (then,) = expected(body.values, body.sex, age_months, (months,))
    return Body(then.values, body.estimated, body.sex, body.age_months)


def _goes_on(one: Sized, garment: Garment, other: Body) -> bool:
    return _not_too_large(one, other) and _not_too_small(one, garment, other)


def _not_too_large(one: Sized, other: Body) -> bool:
    finished = one.pattern.finished
    length, sleeve = finished.get("length"), finished.get("sleeve_length")
    if length and rises(one.pattern) and length > (1 + TOO_LONG) * wanted(
            one.pattern, "length", length, one.body, other):
        return False
    if sleeve and sleeve > SLEEVE_TOO_LONG + wanted(one.pattern, "sleeve_length", sleeve, one.body, other):
        return False
    chest = finished.get("bust_girth")
    if not chest or "bust_girth" not in other:
        return True
    usual = chest - one.body["bust_girth"]
    return chest <= max(other["bust_girth"] * (1 + TOO_WIDE), other["bust_girth"] + usual * 1.5)


def _not_too_small(one: Sized, garment: Garment, other: Body) -> bool:
    pattern = one.pattern
    length, sleeve = pattern.finished.get("length"), pattern.finished.get("sleeve_length")
    if length and rises(pattern) and wanted(pattern, "length", length, one.body, other) > (
            1 + SHORT_BY) * length:
        return False
    if sleeve and wanted(pattern, "sleeve_length", sleeve, one.body, other) > sleeve + SLEEVE_SHORT_BY:
        return False
    try:
        then = garment.draft(other, one.options)
    except BadInput:
        return False
    limits = {c.name: c.limit for c in then.clearances}
    return all(limits.get(c.name, 0.0) <= c.value + UNSEEN for c in pattern.clearances if c.clears)
