"""The cloak's shape: a rectangle or a sector of a ring, as the options, the body and the loom make it.

A sector of angle θ with a neck edge N long has its neck at radius r = N / θ, and its hem at r + length:
N / π for a half circle, 2N / 3π for three quarters. source: plane geometry (arc = radius × angle). Spread
out it is a cone; `way` from the neck it is N + θ·way round.
"""

from dataclasses import dataclass
from math import pi, tan

from ..body import Body
from ..words.problems import BadInput, Problem
from ..words.wording import said
from .loom import fitted_note, loom_width, share_of_loom, unfitted_note
from .options import Options
from .rounding import up_to
from .shoulders import girth_needed, way_to_shoulder_girth

ANGLES = {"half-circle": pi, "three-quarter-circle": 3 * pi / 2}
QUARTER = pi / 2

NECK_EASE = 40.0
LEAST_NECK_EASE = 20.0
LAP = 200.0
LEAST_LAP = 100.0
"""mm: of a sector's neck edge over the neck, and of a rectangle over the shoulders, where it laps. common
practice, no source."""

LEAST_GAP = 2.0
"""mm between the allowances of two fronts cut side by side, for the shears to pass. common practice, no
source."""

CLEAR_OF_GROUND = 0.08
"""Part of stature that the hem stays off the ground, the neck's tilt to the front included. common practice,
no source."""


@dataclass(frozen=True)
class Sector:
    """A ring's sector, mm and radians, cut in so many equal parts."""

    angle: float
    neck: float
    length: float
    parts: int

    @property
    def radius(self) -> float:
        """Of the neck edge."""
        return self.neck / self.angle

    @property
    def reach(self) -> float:
        """Of the hem."""
        return self.radius + self.length

    def girth_at(self, way: float) -> float:
        return self.neck + self.angle * way


@dataclass(frozen=True)
class Sheet:
    """A rectangle `width` round and `length` down, sewn together from so many equal widths of cloth."""

    width: float
    length: float
    parts: int
    selvedges: bool


def free_edge(options: Options) -> float:
    """Allowance of a free edge: turned twice, or sewn to the lining."""
    lined = options.is_("lining", "full")
    return options["seam_allowance"] if lined else 2 * options["hem_depth"]


def _check(options: Options) -> None:
    if not options.is_("shape", "rectangle"):
        return
    problems = []
    if options.is_("cut", "quarters"):
        problems.append(Problem(
            "cut",
            "A rectangle has no quarter circles: choose whole or as-fits pieces, or a circular shape.",
            also=("shape",),
        ))
    if options["neck_length"]:
        problems.append(Problem(
            "neck_length",
            f"A rectangle has no neck edge to be {said(options['neck_length'])} long: give 0, or "
            "choose a circular shape.",
            also=("shape",),
        ))
    if problems:
        raise BadInput(problems)


def shape_for(body: Body, options: Options) -> tuple[Sector | Sheet, tuple[str, ...]]:
    if options.is_("shape", "rectangle"):
        return _sheet(body, options)
    angle = options.pick("shape", ANGLES)
    neck = options["neck_length"] or _neck_that_fits(body, angle)
    whole = options.is_("cut", "whole") or (
        options.is_("cut", "as-fits") and options.is_("shape", "half-circle")
    )
    sector = Sector(angle, neck, options["length"], 1 if whole else round(angle / QUARTER))
    if whole and angle > pi:
        _check_fronts(options, sector)
        return sector, ()
    return _sector_on_the_loom(body, options, sector)


def _check_fronts(options: Options, sector: Sector) -> None:
    """Cut in one, two fronts face each other across the gap, and their allowances must not meet."""
    per_allowance = 1 / tan((2 * pi - sector.angle) / 2)
    needed = free_edge(options) * per_allowance + LEAST_GAP
    if sector.radius >= needed:
        return
    lined = options.is_("lining", "full")
    names, label = ("seam_allowance", "Seam allowances") if lined else ("hem_depth", "Hems")
    raise BadInput([Problem(
        names,
        f"{label} of {said(options[names])} on both fronts run into each other inside a neck edge of "
        f"{said(sector.neck)} when the cloak is cut whole: give narrower ones or a neck edge of "
        f"{said(up_to(needed * sector.angle, 10))} at least, or choose quarter circles.",
        also=("cut", "neck_length"),
    )])


def _neck_that_fits(body: Body, angle: float) -> float:
    """Long enough for the neck, and for the cone to be wide enough at the shoulders."""
    way = way_to_shoulder_girth(body)
    at_shoulders = girth_needed(body, way) - angle * way
    return up_to(max(body["neck_base_girth"] + NECK_EASE, at_shoulders), 10)


def longest_that_clears(body: Body) -> float:
    """What still clears the ground."""
    return body["cervicale_height"] - CLEAR_OF_GROUND * body["stature"]


def _sector_on_the_loom(
    body: Body, options: Options, sector: Sector
) -> tuple[Sector, tuple[str, ...]]:
    """A length that lets the sector reach from one selvedge to the other."""
    loom = loom_width(options)
    if not loom:
        return sector, ()
    beyond = _across_allowances(options, sector)
    fit = share_of_loom(loom, sector.reach, beyond, most_across=1, less=0.1, more=0.1)
    length = fit[0] - sector.radius if fit else 0.0
    if not fit or length > max(longest_that_clears(body), sector.length):
        return sector, (unfitted_note("The length", sector.length, loom),)
    note = fitted_note("The cloak is", sector.length, length, 1, loom)
    return Sector(sector.angle, sector.neck, length, sector.parts), (note,)


def _sheet(body: Body, options: Options) -> tuple[Sheet, tuple[str, ...]]:
    """Whole widths of cloth where they come near the length: unlined, from selvedge to selvedge."""
    width, wanted, loom = options["width"], options["length"], loom_width(options)
    if not loom:
        return Sheet(width, wanted, 1, selvedges=False), ()
    lined = options.is_("lining", "full")
    each = loom - 2 * options["seam_allowance"] if lined else loom
    near = max(1, round(wanted / max(each, 1.0)))
    longest = max(longest_that_clears(body), wanted)
    fitting = [count for count in (near, near - 1)
               if 0.8 * wanted <= count * each <= min(1.2 * wanted, longest)]
    if not fitting:
        return Sheet(width, wanted, 1, selvedges=False), (
            unfitted_note("The length", wanted, loom),
        )
    count = fitting[0]
    across = "one width" if count == 1 else f"{count} widths"
    note = (f"The cloak is {said(count * each)} long instead of {said(wanted)}: {across} of cloth "
            f"{said(loom)} wide.")
    return Sheet(width, count * each, count, selvedges=not lined), (note,)


def too_wide(options: Options, sector: Sector) -> bool:
    loom = loom_width(options)
    across = sector.reach * (2 if sector.angle / sector.parts > pi else 1)
    return bool(loom) and across + _across_allowances(options, sector) > loom + 0.1


def _across_allowances(options: Options, sector: Sector) -> float:
    """Beyond the straight edge that lies along the selvedge, and beyond the hem."""
    straight = free_edge(options) if sector.parts == 1 else options["seam_allowance"]
    return straight + free_edge(options)
