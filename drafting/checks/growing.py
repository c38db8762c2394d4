"""How a child will grow, and how long the garment's reserves keep up with it: sentences for a draft.

The growth curve is `body.growth`'s (CDC 2000, its source named there). What a garment has in reserve
is read off its pattern: the growth tuck, the hems, the seam allowances, and the room that its own
checks find. Nothing here reads a clock: the day comes with the request.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from ..body import Body
from ..body.growth import FIRST_MONTH, LAST_MONTH, Expected, centile, expected, month_name
from ..garments import GARMENTS, LengthOption
from ..pattern import UNSEEN, LineRole, Pattern
from ..words.problems import BadInput
from ..words.wording import said

OUTLOOK = 60
"""Months looked ahead. common practice, no source: cloth for a child is seldom planned for longer."""

SHORT_BY = 0.05
"""Part of its length by which a hem may ride up before it looks outgrown. common practice, no source."""

SLEEVE_SHORT_BY = 20.0
"""mm by which a sleeve may fall short of the wrist. common practice, no source."""

NARROW_HEM = 20.0
"""mm of allowance that the narrowest hem, turned twice, still takes. common practice, no source."""

LEAST_ALLOWANCE = 10.0
"""mm of allowance that a run-and-fell seam cannot do without. common practice, no source."""

SIDE_SEAMS = 2
"""Seams that can be let out at any height, one at each side. common practice, no source."""

NEARLY_GROWN = 5.0
"""mm of height in two years below which growth is called over. common practice, no source."""

LENGTH, SLEEVES = "the length", "the sleeves"
"""What the parts are called that no check of the garment names."""

STALE = 3
"""Months after which a child's measurements should be taken again. common practice, no source."""


@dataclass(frozen=True)
class Lasts:
    """For how many whole months a part of the garment keeps up, and what it then is."""

    months: int
    part: str


def growth_in_sentences(
    pattern: Pattern, body: Body, *, measured: str | None = None, today: str | None = None
) -> tuple[str, ...]:
    """What a child's growth means for the garment; empty when the wearer is no child of 2 to 20 years.

    `body` must hold the stature and age; lengths come as marks for `wording.spell`. `measured` and
    `today` are ISO dates. Months are counted from `measured`, else from `today`; with neither they
    stay numbers.
    """
    age = body.age_months
    if age is None or not FIRST_MONTH <= age < LAST_MONTH:
        return ()
    if "stature" not in body.measured:
        return ("To say how long this will fit, the child's height is needed: please measure it.",)
    start = measured or today
    later = expected(body.values, body.sex, age)
    return (
        *_stale(body, age, measured, today),
        _standing(body, age, later, start),
        *_wanted(pattern, body, later),
        _verdict(pattern, body, age, start),
    )


def lasting(
    pattern: Pattern, body: Body, age_months: int, *, reserves: bool = True, meant: Pattern | None = None
) -> tuple[Lasts, ...]:
    """The parts of the garment that keep up with the child, the first to give out first: all that can be let
    down and out counted on, or without `reserves` as it is.

    What was let down since is longer than it was `meant` to be on the body of then, which says how long it
    should stay; what was taken up since was meant to be as short as that. A part that lasts `OUTLOOK` months,
    or until growth ends, is left out.
    """
    ages = Ages(pattern, body, age_months)
    last = min(OUTLOOK, max(0, LAST_MONTH - age_months))
    found = [Lasts(_last_month(last, keeps), part)
             for part, keeps in _parts(pattern, ages, reserves, (meant or pattern).finished)]
    return tuple(sorted((one for one in found if one.months < last), key=lambda one: one.months))


def let_down(pattern: Pattern) -> float:
    """mm by which the hem can be let down: the growth tuck's fold, and the hem to a narrow one."""
    return 2 * float(pattern.options.get("growth_tuck", 0.0)) + _spare(pattern, "hem")


def cuff_spare(pattern: Pattern) -> float:
    """mm by which the sleeves can be let down."""
    return _spare(pattern, "cuff")


def let_out(pattern: Pattern) -> float:
    """mm by which the girth can be let out in the side seams, both sides of each."""
    if "growth_tuck" not in pattern.options:
        return 0.0
    spare = float(pattern.options.get("seam_allowance", 0.0)) - LEAST_ALLOWANCE
    return 2 * SIDE_SEAMS * max(spare, 0.0)


class Ages:
    """The child month by month, and what the garment's checks would then ask for."""

    def __init__(self, pattern: Pattern, body: Body, age_months: int) -> None:
        self.pattern, self.body, self._age = pattern, body, age_months
        self._limits: dict[int, dict[str, float] | None] = {}

    def at(self, months: int) -> Body:
        (then,) = expected(self.body.values, self.body.sex, self._age, (months,))
        return Body(then.values, self.body.estimated, self.body.sex, self.body.age_months)

    def limits(self, months: int) -> dict[str, float] | None:
        """By check; None when the options no longer go with so large a body."""
        if months not in self._limits:
            try:
                garment = GARMENTS[self.pattern.garment]
                then = garment.draft(self.at(months), garment.chosen(self.pattern.options))
            except BadInput:
                self._limits[months] = None
            else:
                self._limits[months] = {c.name: c.limit for c in then.clearances}
        return self._limits[months]

    def long_enough(self, option: str, length: float, most: float) -> "_Keeps":
        """Whether a length that keeps its proportion to the body is still no more than `most`."""
        return lambda months: (
            wanted(self.pattern, option, length, self.body, self.at(months)) <= most
        )

    def roomy(self, name: str, most: float) -> "_Keeps":
        """Whether a check asks for no more than `most`."""
        def keeps(months: int) -> bool:
            limits = self.limits(months)
            return limits is not None and limits.get(name, 0.0) <= most + UNSEEN

        return keeps


_Keeps = Callable[[int], bool]


def _parts(
    pattern: Pattern, ages: Ages, reserves: bool, meant: Mapping[str, float]
) -> Iterator[tuple[str, _Keeps]]:
    """What can grow too small, each with whether it still does so many months on."""
    length, sleeve = pattern.finished.get("length"), pattern.finished.get("sleeve_length")
    if length and rises(pattern):
        most = length * (1 + SHORT_BY) + (let_down(pattern) if reserves else 0.0)
        yield LENGTH, ages.long_enough("length", min(length, meant.get("length", length)), most)
    if sleeve:
        most = sleeve + SLEEVE_SHORT_BY + (cuff_spare(pattern) if reserves else 0.0)
        wished = min(sleeve, meant.get("sleeve_length", sleeve))
        yield SLEEVES, ages.long_enough("sleeve_length", wished, most)
    for clearance in pattern.clearances:
        if clearance.clears:
            more = let_out(pattern) if reserves and clearance.at_side_seams else 0.0
            yield f"“{clearance.name}”", ages.roomy(clearance.name, clearance.value + more)


def wanted(pattern: Pattern, option: str, length: float, now: Body, grown: Body) -> float:
    """mm that a length of the garment should have for the grown body, in the same proportion."""
    rule = _rule(pattern, option)
    if rule is None or not callable(rule.default):
        return length
    return length * rule.default(grown) / rule.default(now)


def _rule(pattern: Pattern, option: str) -> LengthOption | None:
    for declared in GARMENTS[pattern.garment].options:
        if declared.name == option and isinstance(declared, LengthOption):
            return declared
    return None


def rises(pattern: Pattern) -> bool:
    """Whether the garment's length follows the body's height."""
    return "stature" in (*GARMENTS[pattern.garment].needs, *GARMENTS[pattern.garment].uses)


def _spare(pattern: Pattern, role: LineRole) -> float:
    """mm that every hem (or cuff) of the garment has over the narrowest."""
    widths = [
        piece.allowance(one.name)
        for piece in pattern.pieces
        for one in piece.outline.edges
        if piece.role(one.name) == role and one.name in piece.allowances
    ]
    return max(min(widths, default=0.0) - NARROW_HEM, 0.0)


def _last_month(last: int, keeps: _Keeps) -> int:
    """The last whole month, 0 to `last`, at which it still keeps up; children only grow."""
    low, high = 0, last + 1
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if keeps(middle) else (low, middle)
    return low


def _stale(body: Body, age: int, measured: str | None, today: str | None) -> tuple[str, ...]:
    months = months_between(measured, today)
    if months < STALE:
        return ()
    (now,) = expected(body.values, body.sex, age, (months,))
    if now.stature - body["stature"] < NEARLY_GROWN:
        return ()
    return (
        f"These measurements are {months} months old: the height is likely about "
        f"{said(now.stature)} by now. Measure again before cutting.",
    )


def months_between(measured: str | None, today: str | None) -> int:
    """Whole months from one ISO date to the other; 0 when either is missing or they are reversed."""
    if not measured or not today or today <= measured:
        return 0
    months = 12 * (int(today[:4]) - int(measured[:4])) + int(today[5:7]) - int(measured[5:7])
    return months - (today[8:10] < measured[8:10])


def _standing(body: Body, age: int, later: tuple[Expected, ...], start: str | None) -> str:
    on = min(max(round(centile(body["stature"], body.sex, age)), 1), 99)
    whom = {"woman": "girls", "man": "boys", None: "children"}[body.sex]
    first = f"Taller than about {on} in 100 {whom} of that age (CDC 2000 growth charts)"
    if later[-1].stature - body["stature"] < NEARLY_GROWN:
        return f"{first}; growth in height is nearly over."
    heights = ", ".join(f"{said(then.stature)} {_when(then.months, start)}" for then in later)
    return f"{first}. Growing on like that, the height will be about {heights}."


def _when(months: int, start: str | None) -> str:
    return f"in {month_name(start, months)}" if start else f"in {months} months"


def _wanted(pattern: Pattern, body: Body, later: tuple[Expected, ...]) -> tuple[str, ...]:
    """What growth asks of length, sleeve and girth, after one year and two."""
    rows = []
    for then in (later[1], later[3]):
        grown = Body(then.values, body.estimated, body.sex, body.age_months)
        asks = []
        for name, option in (("length", "length"), ("sleeve", "sleeve_length")):
            now = pattern.finished.get(option)
            if now and (option != "length" or rises(pattern)):
                asks.append((wanted(pattern, option, now, body, grown) - now, f"in {name}"))
        if "bust_girth" in pattern.finished and "bust_girth" in body:
            asks.append((grown["bust_girth"] - body["bust_girth"], "round the chest"))
        told = [f"{said(more)} {where}" for more, where in asks if more >= 1]
        if told:
            years = "a year" if then.months == 12 else "two years"
            rows.append(f"in {years} by {_listed(told)}")
    return (f"A garment to go with that would have to be larger {'; '.join(rows)}.",) if rows else ()


def _verdict(pattern: Pattern, body: Body, age: int, start: str | None) -> str:
    lasts = lasting(pattern, body, age)
    reserves = _listed([
        f"{said(mm)} {how}"
        for mm, how in (
            (2 * float(pattern.options.get("growth_tuck", 0.0)), "of the growth tuck let down"),
            (_spare(pattern, "hem"), "of the hem let down"),
            (let_out(pattern), "of girth let out at the sides"),
        )
        if mm >= 1
    ])
    counted = f" That counts on {reserves}." if reserves else ""
    if not lasts:
        until = _until(min(OUTLOOK, LAST_MONTH - age), start)
        return f"This garment fits {until} and longer.{counted}"
    first, rest = lasts[0], [f"{one.part} {_until(one.months, start)}" for one in lasts[1:4]]
    then = f" After that: {'; '.join(rest)}." if rest else ""
    fits = (f"This garment fits {_until(first.months, start)}" if first.months
            else "This garment fits now, with nothing to grow into")
    return f"{fits}; the first to give out is {first.part}.{then}{counted}"


def _until(months: int, start: str | None) -> str:
    if start:
        return f"until about {month_name(start, months)}"
    return f"for about {months} month{'' if months == 1 else 's'}"


def _listed(parts: list[str]) -> str:
    return " and ".join([", ".join(parts[:-1]), parts[-1]] if len(parts) > 1 else parts)
