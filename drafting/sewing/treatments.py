"""How seams and edges are finished: which rows of stitches, through how much cloth.

A treatment knows nothing of garments. For a seam or edge of a given length it says which rows are sewn
to join it and which later, after a fitting, to finish it.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from ..pattern import SeamTreatment, StitchKind
from .stitches import STITCHES, Stack, roll_thickness

NARROW = 6.0
"""mm of allowance up to which a faced or bound edge is sewn in short stitches. common practice, no source."""

SHORT_STITCH = 3.0
"""mm of back stitch along such an edge. common practice, no source."""

EdgeTreatment = Literal["double-turned", "single-turned", "rolled"]


@dataclass(frozen=True, slots=True)
class StitchRow:
    """One row of stitches, mm long. `stitch_length` None takes the stitch's own."""

    stitch: StitchKind
    length: float
    stack: Stack
    stitch_length: float | None = None

    @property
    def count(self) -> int:
        return STITCHES[self.stitch].count(self.length, self.stitch_length)

    @property
    def path(self) -> float:
        """mm of thread lying in the row, without tails and slack."""
        return STITCHES[self.stitch].thread(self.length, self.stack, self.stitch_length)


@dataclass(frozen=True, slots=True)
class Site:
    """Where rows go: mm of seam, its allowance, the joining stitch, and the cloth's thickness.

    `ground` is the thickness on the side the seam is felled towards, `other` on the far side, so that
    felling either way through cloths of unlike weight comes out right. `outer` is the length of the
    second edge of a facing or binding, where it differs.
    """

    length: float
    allowance: float
    stitch: StitchKind
    ground: float
    other: float
    outer: float | None = None


Rows = Callable[[Site], tuple[StitchRow, ...]]


def _none(_: Site) -> tuple[StitchRow, ...]:
    return ()


def _run(site: Site) -> tuple[StitchRow, ...]:
    return (StitchRow(site.stitch, site.length, Stack(site.ground + site.other)),)


def _run_close(site: Site) -> tuple[StitchRow, ...]:
    """Along a narrow allowance, which frays out from under long stitches, back stitches are short."""
    (row,) = _run(site)
    short = site.stitch == "back" and site.allowance <= NARROW
    return (replace(row, stitch_length=SHORT_STITCH if short else None),)


def _whipped(site: Site) -> tuple[StitchRow, ...]:
    return (StitchRow("whip", site.length, Stack(site.ground + site.other)),)


def _fell_over(site: Site) -> tuple[StitchRow, ...]:
    # The far side's allowance is folded over the trimmed one: two layers lie at the felled edge.
    return (StitchRow("fell", site.length, Stack(site.ground, 2 * site.other)),)


def _fell_on(site: Site) -> tuple[StitchRow, ...]:
    return (StitchRow("fell", site.length, Stack(2 * site.ground, 2 * site.other)),)


def _fell_both(site: Site) -> tuple[StitchRow, ...]:
    return (
        StitchRow("fell", site.length, Stack(site.ground, 2 * site.ground)),
        StitchRow("fell", site.length, Stack(site.other, 2 * site.other)),
    )


def _overcast_both(site: Site) -> tuple[StitchRow, ...]:
    return tuple(StitchRow("whip", site.length, Stack(cloth)) for cloth in (site.ground, site.other))


def _lap(site: Site) -> tuple[StitchRow, ...]:
    return (StitchRow("fell", site.length, Stack(site.ground, site.other)),)


def _lap_back(site: Site) -> tuple[StitchRow, ...]:
    return (StitchRow("fell", site.length, Stack(site.other, site.ground)),)


def _fell_outer(site: Site) -> tuple[StitchRow, ...]:
    length = site.length if site.outer is None else site.outer
    return (StitchRow("fell", length, Stack(site.ground, 2 * site.other)),)


def _hem_twice(site: Site) -> tuple[StitchRow, ...]:
    return (StitchRow("hem", site.length, Stack(site.ground, 2 * site.ground)),)


def _hem_once(site: Site) -> tuple[StitchRow, ...]:
    return (StitchRow("hem", site.length, Stack(site.ground, site.ground)),)


def _rolled(site: Site) -> tuple[StitchRow, ...]:
    return (StitchRow("roll", site.length, Stack(roll_thickness(site.allowance, site.ground))),)


@dataclass(frozen=True)
class Treatment:
    """`join` rows are sewn when the pieces meet, `finish` rows afterwards.

    `say_join` and `say_finish` are sentences for the sewer; `layers` a word for the seam table.
    """

    kind: SeamTreatment | EdgeTreatment
    title: str
    join: Rows
    finish: Rows
    say_join: str
    say_finish: str = ""
    iso_4916: str = ""
    provenance: str = "common practice, no source"


SEAMS: Mapping[SeamTreatment | EdgeTreatment, Treatment] = {
    treatment.kind: treatment
    for treatment in (
        Treatment(
            "run-and-fell", "run and fell", _run, _fell_over,
            "Right sides together.",
            "Trim the allowance on the side it will lie to half, fold the other over it and turn "
            "its edge under, lay both flat and fell the fold down.",
            iso_4916="2.04",
            provenance="from memory: ISO 4916:1991, class 2; common practice, no source",
        ),
        Treatment(
            "felled-open", "run, opened and felled", _run, _fell_both,
            "Right sides together.",
            "Press the allowances apart, turn the edge of each under and fell both down.",
        ),
        Treatment(
            "overcast", "run, edges overcast", _run, _overcast_both,
            "Right sides together.",
            "Press the allowances apart and overcast each raw edge.",
        ),
        Treatment(
            "plain", "run, edges left raw", _run, _none,
            "Right sides together. The cloth must be fulled enough not to fray.",
        ),
        Treatment(
            "butted selvedges", "butted and whipped", _whipped, _none,
            "Lay the two selvedges or turned edges side by side, right sides together, and whip "
            "them so that the seam opens flat.",
        ),
        Treatment(
            "felled lining", "lining felled on", _fell_on, _none,
            "Lay the lining in, wrong side to wrong side, turn its edge under and fell it to the hem's "
            "allowance, so that no stitch shows outside.",
        ),
        Treatment(
            "pleat", "pleat sewn down", _run, _none,
            "Bring the pleat's two lines together, right sides together, and sew from the top down.",
        ),
        Treatment(
            "lapped", "lapped and felled twice", _lap, _lap_back,
            "Lay one edge over the other by the allowance, both right sides up, and fell the edge "
            "that shows.",
            "Turn the work over and fell the other edge down inside.",
        ),
        Treatment(
            "faced", "faced", _run_close, _fell_outer,
            "Lay the facing's right side on the garment's right side.",
            "Snip the allowance along the curve, turn the facing to the inside and roll the seam "
            "just out of sight. Turn the facing's outer edge under and fell it down.",
        ),
        Treatment(
            "bound", "bound", _run_close, _fell_outer,
            "Lay the binding's right side on the garment's right side, edges level.",
            "Fold the binding over the edge, turn it under and fell it down inside, on the line of "
            "the first row.",
        ),
        Treatment(
            "quilted", "quilted in rows", _run, _none,
            "Lay the lining on the piece, wrong side to wrong side, smooth it from the middle outwards and "
            "baste "
            "the two together all round.",
        ),
        Treatment(
            "ridge", "sewn into a ridge", _run, _none,
            "Fold the cloth along the seam above, wrong sides together, so that it stands up outside, and "
            "lay both "
            "lines on each other.",
        ),
        Treatment(
            "layered", "laid over and basted", _run, _none,
            "Lay one over the other, both right sides up and the edges level, and baste them together "
            "along the "
            "edge: the next seam takes both.",
        ),
        Treatment(
            "edged", "edged with a strip", _run_close, _fell_outer,
            "Lay the strip's right side on the garment's wrong side, edges level.",
            "Turn the strip over the edge to the outside, where it is to be seen, and roll the seam just out "
            "of sight. Turn the strip's other edge under and fell it down.",
        ),
    )
}

EDGES: Mapping[SeamTreatment | EdgeTreatment, Treatment] = {
    treatment.kind: treatment
    for treatment in (
        Treatment("double-turned", "hem turned twice", _none, _hem_twice, "",
                  "Fold the edge to the inside by half the allowance, fold again, and hem."),
        Treatment("single-turned", "turned once", _none, _hem_once, "",
                  "Turn the edge to the inside once and hem it; the cloth must not fray."),
        Treatment("rolled", "rolled edge", _none, _rolled, "",
                  "Roll the raw edge to the inside, tight as a straw, and whip over the roll."),
    )
}

ROLLED_UNDER = 10.0
"""mm of allowance under which a folded edge is rolled, not turned twice. common practice, no source."""


def edge_treatment(allowance: float) -> Treatment:
    """How a folded edge with so many mm of allowance is hemmed."""
    return EDGES["rolled" if allowance < ROLLED_UNDER else "double-turned"]
