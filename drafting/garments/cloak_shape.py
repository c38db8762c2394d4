"""The cloak's shape: a rectangle or a sector of a ring, as the options, the body and the loom make it.

A sector of angle θ has its point at the nape, scooped to a radius s, and its hem at s + length. It closes
where the way round the neck, down one front, along the scoop and up the other, is N: (N − θ·s) / 2 down each
front. source: plane geometry (arc = radius × angle).
"""

from dataclasses import dataclass, replace
from math import pi, tan

from ..body import Body
from ..words.problems import BadInput, Problem
from ..words.wording import said
from .loom import fitted_note, loom_width, share_of_loom, unfitted_note
from .options import Options
from .rounding import up_to

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


CLASP_FROM_CORNER = 30.0
"""mm down a front to its clasp at least. common practice, no source."""


@dataclass(frozen=True)
class Sector:
    """A ring's sector, mm and radians, cut in so many equal parts; its neck is scooped to `radius`.

    `neck` is the way round the neck from clasp to clasp.
    """

    angle: float
    radius: float
    neck: float
    length: float
    parts: int

    @property
    def reach(self) -> float:
        """Of the hem."""
        return self.radius + self.length

    @property
    def edge(self) -> float:
        """Along the scoop."""
        return self.angle * self.radius

    @property
    def clasp(self) -> float:
        """Down each front to where it closes."""
        return max(CLASP_FROM_CORNER, (self.neck - self.edge) / 2)


@dataclass(frozen=True)
class Sheet:
    """A rectangle `width` round and `length` down from the fold at the neck, the `folded` rest above it.

    It is sewn together from so many equal widths of cloth.
    """

    width: float
    length: float
    folded: float
    parts: int
    selvedges: bool

    @property
    def height(self) -> float:
        """Of the whole cloth."""
        return self.length + self.folded

    @property
    def clasp(self) -> float:
        """Down each front from the cloth's top to where it is pinned, under the fold."""
        return self.folded + CLASP_FROM_CORNER


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
    neck = options["neck_length"] or up_to(body["neck_base_girth"] + NECK_EASE, 10)
    whole = options.is_("cut", "whole") or (
        options.is_("cut", "as-fits") and options.is_("shape", "half-circle")
    )
    parts = 1 if whole else round(angle / QUARTER)
    sector = Sector(angle, options["scoop"], neck, options["length"], parts)
    if sector.edge + 2 * CLASP_FROM_CORNER > neck:
        most = (neck - 2 * CLASP_FROM_CORNER) / angle
        raise BadInput([Problem(
            "scoop",
            f"A neck scooped {said(sector.radius)} deep is {said(sector.edge)} along, too wide for a neck of "
            f"{said(neck)} from clasp to clasp: give {said(most // 5 * 5)} or less, or a longer neck.",
            also=("neck_length",))])
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
        f"{label} of {said(options[names])} on both fronts run into each other inside a neck scooped "
        f"{said(sector.radius)} when the cloak is cut whole: give narrower ones or a scoop of "
        f"{said(up_to(needed, 5))} at least, or choose quarter circles.",
        also=("cut", "scoop"),
    )])


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
    return replace(sector, length=length), (note,)


def _sheet(body: Body, options: Options) -> tuple[Sheet, tuple[str, ...]]:
    """Whole widths of cloth where they come near the length: unlined, from selvedge to selvedge.

    The upper one is folded over and closes below the fold.
    """
    width, length, folded = options["width"], options["length"], options["fold_over"]
    wanted, loom = length + folded, loom_width(options)
    if not loom:
        return Sheet(width, length, folded, 1, selvedges=False), ()
    lined = options.is_("lining", "full")
    each = loom - 2 * options["seam_allowance"] if lined else loom
    near = max(1, round(wanted / max(each, 1.0)))
    longest = max(longest_that_clears(body), length)
    fitting = [(count, over) for count in (near, near - 1)
               if 0.8 * wanted <= count * each <= 1.2 * wanted
               and (over := _folded_over(count * each, length, folded, longest)) is not None
               and (count == 1 or over + 2 * CLASP_FROM_CORNER <= each)]
    if not fitting:
        return Sheet(width, length, folded, 1, selvedges=False), (
            unfitted_note("The cloak's cloth", wanted, loom),
        )
    count, over = fitting[0]
    across = "one width" if count == 1 else f"{count} widths"
    note = (f"The cloak's cloth is {said(count * each)} from top to hem instead of {said(wanted)}: {across} "
            f"of cloth {said(loom)} wide.")
    return Sheet(width, count * each - over, over, count, selvedges=not lined), (note,)


def _folded_over(height: float, length: float, folded: float, longest: float) -> float | None:
    """What is folded over of a cloth so high that it hangs `length` mm, or else `longest` at most.

    None where that cannot be.
    """
    over = max(0.0, height - length) if folded else 0.0
    return over if height - over <= longest else None


def too_wide(options: Options, sector: Sector) -> bool:
    loom = loom_width(options)
    across = sector.reach * (2 if sector.angle / sector.parts > pi else 1)
    return bool(loom) and across + _across_allowances(options, sector) > loom + 0.1


def _across_allowances(options: Options, sector: Sector) -> float:
    """Beyond the straight edge that lies along the selvedge, and beyond the hem."""
    straight = free_edge(options) if sector.parts == 1 else options["seam_allowance"]
    return straight + free_edge(options)
