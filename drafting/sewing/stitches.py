"""Hand stitches: how far each carries the seam, and how much thread it takes.

The thread per stitch is the length of the path the needle leads it along, drawn taut and square
through the cloth; lengths in mm. With s the stitch length, T the whole stack's thickness, g and f
those of the ground and of the fold laid on it, and b the bite (how far from the edge the needle goes):

    running   over s, down T, under s, up T                         2s + 2T   every 2s
    back      over s, down T, under 2s, up T                        3s + 2T   every s
    fell      over the fold b and f, down g, slanting back under    b + 2f + 2g + √(s² + b²)   every s
    hem       the same, but only half of the ground is caught       b + 2f + g + √(s² + b²)    every s
    whip      through T, then round the edge like a helix           T + √((2b + T)² + s²)      every s
    roll      one turn of a helix round a roll of thickness d       √((πd)² + s²)              every s

source: plane geometry (straight runs, the hypotenuse, and the helix unrolled).
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import ceil, hypot, pi, sqrt

from ..pattern import StitchKind

NEEDLEFUL = 600.0
"""mm of thread cut at a time, about a forearm and a hand. common practice, no source."""

TAIL = 60.0
"""mm lost at each end of a needleful, to fasten on and off. common practice, no source."""

SLACK = 0.05
"""Part added because thread is never quite taut. common practice, no source."""


@dataclass(frozen=True, slots=True)
class Stack:
    """What a stitch goes through: the thickness, mm, of the ground and of the fold that lies on it."""

    ground: float
    fold: float = 0.0

    @property
    def whole(self) -> float:
        return self.ground + self.fold


@dataclass(frozen=True)
class Stitch:
    """A hand stitch. `length` and `bite` in mm are what one takes unless told otherwise.

    `advance` is how many stitch lengths of seam one stitch covers, counting the stitches that show on
    the side one sews from. `per_minute` is what a practised hand keeps up for hours, turning the work and
    looking at it (common practice, no source). `iso_4915` is empty where this project knows of no number.
    """

    name: StitchKind
    title: str
    how: str
    length: float
    bite: float
    per_minute: float
    advance: float
    path: Callable[[float, float, Stack], float]
    iso_4915: str = ""
    provenance: str = "common practice, no source"

    def count(self, seam: float, length: float | None = None) -> int:
        """How many stitches a seam of so many mm takes."""
        return ceil(seam / (self.advance * (length or self.length)) - 1e-9)

    def thread(self, seam: float, stack: Stack, length: float | None = None) -> float:
        """mm of thread lying in a seam of so many mm, without tails and slack."""
        size = length or self.length
        return seam / (self.advance * size) * self.path(size, self.bite, stack)


def needlefuls(path: float) -> int:
    """How many lengths of thread are cut for a path of so many mm."""
    return ceil(path * (1 + SLACK) / (NEEDLEFUL - 2 * TAIL) - 1e-9)


def thread_to_cut(path: float) -> float:
    """mm of thread used up by a path of so many mm: with its slack and two tails a needleful.

    path × (1 + SLACK) + 2 TAIL × needlefuls; nought for no path.
    """
    return path * (1 + SLACK) + 2 * TAIL * needlefuls(path)


def _running(s: float, _: float, stack: Stack) -> float:
    return 2 * s + 2 * stack.whole


def _back(s: float, _: float, stack: Stack) -> float:
    return 3 * s + 2 * stack.whole


def _fell(s: float, b: float, stack: Stack) -> float:
    return b + 2 * stack.fold + 2 * stack.ground + hypot(s, b)


def _hem(s: float, b: float, stack: Stack) -> float:
    return b + 2 * stack.fold + stack.ground + hypot(s, b)


def _whip(s: float, b: float, stack: Stack) -> float:
    return stack.whole + hypot(2 * b + stack.whole, s)


def _roll(s: float, _: float, stack: Stack) -> float:
    return hypot(pi * stack.whole, s)


def roll_thickness(allowance: float, thickness: float) -> float:
    """mm across a roll into which `allowance` mm of cloth is rolled.

    The cloth's section keeps its area: π d² / 4 = allowance × thickness. source: plane geometry.
    """
    return 2 * sqrt(allowance * thickness / pi)


STITCHES: Mapping[StitchKind, Stitch] = {
    stitch.name: stitch
    for stitch in (
        Stitch("running", "running stitch",
               "Weave the needle in and out; the stitches on top are as long as the gaps.",
               length=6.0, bite=0.0, per_minute=9, advance=2, path=_running, iso_4915="209",
               provenance="from memory: ISO 4915:1991, class 200; 6 mm: common practice, no source"),
        Stitch("back", "back stitch",
               "Come up one stitch ahead, go down where the last stitch ended: no gaps on top.",
               length=4.0, bite=0.0, per_minute=8, advance=1, path=_back, iso_4915="202",
               provenance="from memory: ISO 4915:1991, class 200; 4 mm: common practice, no source"),
        Stitch("fell", "fell stitch",
               "Come up through the fold, go down into the cloth just beside it, slant on beneath.",
               length=5.0, bite=1.5, per_minute=7, advance=1, path=_fell,
               provenance="4–6 mm: common practice, no source"),
        Stitch("hem", "hem stitch",
               "Like the fell stitch, but take up only a few threads of the cloth, so that "
               "nothing shows outside.",
               length=5.0, bite=1.5, per_minute=7, advance=1, path=_hem),
        Stitch("whip", "whip stitch",
               "Go over the two edges and through both, again and again, close to the edge.",
               length=4.0, bite=2.0, per_minute=10, advance=1, path=_whip),
        Stitch("roll", "rolled-edge whip stitch",
               "Roll the edge between finger and thumb and go round the roll, never through it.",
               length=4.0, bite=0.0, per_minute=8, advance=1, path=_roll),
    )
}
