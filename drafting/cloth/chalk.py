"""The chalk plan: how a lay reaches the cloth with a tape, a string and a piece of chalk.

Every mark is two distances, down from the cut end and across from the left selvedge, so rounding one
never shifts another; on a piece that is its own mirror image the second is the width out from the
middle line, for both sides at once. Of pieces that are alike one is chalked, the template; the others, its
twins, are cut round it. What is cut inside a piece and what sewing asks for is marked with it.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from ..geometry import Point
from ..words.units import Unit
from .chalk_curve import along_circle, bent, by_eye
from .chalk_runs import How

XY = tuple[float, float]
ChalkKind = Literal["outline", "hole", "slit", "fold", "tuck", "level", "row"]
Sides = Literal["", "both", "right", "left"]


@dataclass(frozen=True)
class Inside:
    """A line inside a placed piece: a hole's is where it is cut, and closed, each point once."""

    name: str
    kind: ChalkKind
    points: tuple[Point, ...]


@dataclass(frozen=True)
class Spot:
    """A mark that sewing asks for, on the sewing line."""

    label: str
    at: Point


@dataclass(frozen=True)
class ToChalk:
    """One piece as it lies, in cloth coordinates: x from the left selvedge, y from the cut end, mm.

    `on_fold`: only the half left of the fold lies there, and `outline` is the whole. `whose` says which
    bolt's piece it is, for whoever draws it.
    """

    title: str
    outline: tuple[Point, ...]
    insides: tuple[Inside, ...] = ()
    spots: tuple[Spot, ...] = ()
    on_fold: bool = False
    whose: int = 0


@dataclass(frozen=True)
class Mark:
    """A mark to make, mm rounded as printed: `down` from the cut end, `across` from the left selvedge.

    `sides`: where the piece has a middle line `across` is measured from that instead, to both sides or to
    one. `notes`: what it is for, where it is no corner.
    """

    label: str
    across: float
    down: float
    sides: Sides = ""
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class Stroke:
    """What to draw through the marks named, at one go: a straight line from each to the next, a curve by
    eye through all, round to the first (`loop`), with a string of `radius` held at the mark `held`, with a
    square the `box` that goes `down` so many mm from its two upper corners, or two straight lines and their
    corner rounded off, from `reach` mm before to as much after (`bend`)."""

    how: How
    marks: tuple[str, ...]
    held: str = ""
    radius: float = 0.0
    down: float = 0.0
    reach: float = 0.0


@dataclass(frozen=True)
class Twin:
    """Another piece, or a line in it, to draw round: laid so that its `mark` is at (x, y), turned over
    left to right if `over`, and then head down if `turned`. `without` are marks that are not copied; a
    `line`'s place is the piece's own mark `at`."""

    of: str
    mark: str
    x: float
    y: float
    over: bool = False
    turned: bool = False
    line: str = ""
    at: str = ""
    without: tuple[str, ...] = ()


@dataclass(frozen=True)
class ChalkLine:
    """A line of a piece; with `twin` it is drawn round that, else by its strokes."""

    kind: ChalkKind
    name: str
    strokes: tuple[Stroke, ...] = ()
    twin: Twin | None = None


@dataclass(frozen=True)
class ChalkPiece:
    """One piece in the order to draw it. `middle` is its middle line's mm from the left selvedge.

    `along` are folds that run down the whole piece, mm from its middle line to both sides. `true` is the
    piece as it lies, for a picture.
    """

    title: str
    true: ToChalk
    middle: float | None = None
    marks: tuple[Mark, ...] = ()
    lines: tuple[ChalkLine, ...] = ()
    along: tuple[float, ...] = ()
    twin: Twin | None = None
    diagonal: tuple[str, str, float] | None = None

    @property
    def on_fold(self) -> bool:
        return self.true.on_fold

    @property
    def places(self) -> dict[str, Point]:
        """Each mark by its letter where it comes to lie; a mirrored mark's small letter is at the left."""
        return places(self.marks, self.middle)

    @property
    def rings(self) -> tuple[tuple[str, Point], ...]:
        """The letters to show in a picture and where: a twin's one mark, and of a half its own side's."""
        if self.twin:
            return ((self.twin.mark, Point(self.twin.x, self.twin.y)),)
        if self.on_fold and self.middle is not None:
            return tuple((label.upper(), p) for label, p in self.places.items() if p.x <= self.middle)
        return tuple(self.places.items())

    @property
    def count(self) -> int:
        """Marks to measure: a pair of widths is one, and so is a template's place."""
        return len(self.marks) + bool(self.twin)


@dataclass(frozen=True)
class ChalkPlan:
    """Pieces in the order to chalk them, templates first; `width` and `length` of the cloth in mm, as it
    lies: `folded` cloth has its fold at `width`. `cloth` names one that is no bolt, whose left and top edges
    stand for the selvedge and the cut end."""

    pieces: tuple[ChalkPiece, ...]
    width: float
    length: float
    unit: Unit
    folded: bool = False
    cloth: str = ""

    @property
    def count(self) -> int:
        return sum(piece.count for piece in self.pieces)


def places(marks: Sequence[Mark], middle: float | None) -> dict[str, Point]:
    """The marks' letters with where they lie: capitals right of the middle line, small ones left."""
    found = {}
    for mark in marks:
        if middle is None:
            found[mark.label] = Point(mark.across, mark.down)
            continue
        if mark.sides != "left":
            found[mark.label] = Point(middle + mark.across, mark.down)
        if mark.sides != "right" and (mark.across or mark.sides == "left"):
            found[mark.label.lower()] = Point(middle - mark.across, mark.down)
    return found


def drawn(stroke: Stroke, at: Mapping[str, Point]) -> list[Point]:
    """The polyline that someone draws who has nothing but the marks."""
    points = [at[label] for label in stroke.marks]
    if stroke.how == "straight":
        return points
    if stroke.how == "box":
        below = [p + Point(0.0, stroke.down) for p in points[::-1]]
        return [*points, *below, points[0]]
    if stroke.how in ("curve", "loop"):
        return by_eye(points, closed=stroke.how == "loop")
    if stroke.how == "bend":
        before, corner, after = points
        return bent(before, corner, after, stroke.reach)
    centre, found = at[stroke.held], points[:1]
    for a, b in pairwise(points):
        onwards = 1 if (a - centre).cross(b - centre) > 0 else -1
        arc = along_circle(a, b, centre, onwards, 40)
        found += [*(centre + (p - centre).unit() * stroke.radius for p in arc[:-1]), b]
    return found


def down_the_cloth(outline: Sequence[Point]) -> XY:
    """To sort by: pieces nearest the cut end first, and of those the nearest to the left selvedge."""
    return min(p.y for p in outline), min(p.x for p in outline)
