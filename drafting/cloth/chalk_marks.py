"""The marks of one piece: where each is rounded to, which lines go through it, what shares it."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from ..geometry import Bounds, Point
from ..words.units import MM_PER_INCH, Unit
from .chalk import Mark, Sides, Stroke, drawn, places
from .chalk_curve import astray
from .chalk_runs import Run, mirrored

METRIC_STEPS = (5.0, 2.0, 1.0)
INCH_STEPS = (MM_PER_INCH / 4, MM_PER_INCH / 8, MM_PER_INCH / 16)
"""mm to which numbers are rounded, the easiest first."""

CORNER_MISS, CURVE_MISS, ALONG_MISS = 1.6, 0.8, 4.0
"""mm by which rounding may move a corner, and a mark on a curve off the curve and along it."""

SAME_PLACE = 1.0
"""mm within which two places are one mark."""

AXIS_SLACK = 0.3
"""mm within which what is inside a piece is as symmetrical as the piece."""

LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
"""Without I and O, which read as numbers."""


def steps_of(unit: Unit) -> tuple[float, ...]:
    return INCH_STEPS if unit == "in" else METRIC_STEPS


def rounded(value: float, step: float) -> float:
    return round(round(value / step) * step, 6)


@dataclass
class Marking:
    """The marks of one piece in the making; `axis` is its middle line's true x where it has one.

    `lone` are the places that are asked for one by one: one of them is a mark to both sides where its
    mirror image is among them. `slack` is the part of the allowed misses that rounding may take up.
    """

    axis: float | None
    on_fold: bool
    steps: tuple[float, ...]
    slack: float
    lone: Sequence[Point] = ()
    _made: list[tuple[Mark, Point]] = field(default_factory=list)
    _drawn: list[tuple[Stroke, Run]] = field(default_factory=list)

    @property
    def middle(self) -> float | None:
        if self.axis is None or self.on_fold:
            return self.axis
        return rounded(self.axis, self.steps[-1])

    @property
    def marks(self) -> tuple[Mark, ...]:
        return tuple(mark for mark, _ in self._made)

    @property
    def places(self) -> dict[str, Point]:
        return places(self.marks, self.middle)

    @property
    def astray(self) -> float:
        """mm by which what is drawn from the marks misses at most."""
        at = self.places
        return max((astray(drawn(stroke, at), run.points) for stroke, run in self._drawn), default=0.0)

    def strokes(self, runs: Iterable[Run], *, symmetrical: bool) -> tuple[Stroke, ...]:
        """What to draw, runs of straight lines in one; `symmetrical` to the middle line, as all of it is."""
        pairs = [(self._stroke(run, symmetrical), run) for run in runs]
        self._drawn += pairs
        return tuple(_joined(stroke for stroke, _ in pairs))

    def box(self, box: Bounds) -> tuple[Stroke, ...]:
        """A rectangle about the middle line from its two upper corners: one mark, to both sides."""
        left, top, right, bottom = box
        label = self.point(Point(right, top), symmetrical=True)
        down = rounded(bottom - self.places[label].y, self.steps[-1])
        stroke = Stroke("box", (label.lower(), label), down=down)
        ring = Point(left, top), Point(right, top), Point(right, bottom), Point(left, bottom)
        self._drawn.append((stroke, Run("box", (*ring, ring[0]))))
        return (stroke,)

    def point(
        self, at: Point, *, bend: Point | None = None, symmetrical: bool = False, note: str = ""
    ) -> str:
        """The letter of the mark at a true place: an old one's where there is one.

        `bend` is the unit vector across the curve that passes there.
        """
        left = self.axis is not None and at.x < self.axis - AXIS_SLACK
        right = mirrored(at, self.axis) if self.axis is not None and left else at
        both = symmetrical or self._asked_for_at_both_sides(at)
        for number, (mark, true) in enumerate(self._made):
            if true.distance(right) <= SAME_PLACE and _serves(mark, left, both):
                if note and note not in mark.notes:
                    notes = *mark.notes, note
                    self._made[number] = Mark(mark.label, mark.across, mark.down, mark.sides, notes), true
                return mark.label.lower() if left and mark.across else mark.label
        across, down = self._numbers(right, bend)
        sides: Sides = ""
        if self.axis is not None:
            sides = "both" if both or not across else "left" if left else "right"
        label = _letter(len(self._made))
        self._made.append((Mark(label, across, down, sides, (note,) if note else ()), right))
        return label.lower() if left and across else label

    def _asked_for_at_both_sides(self, at: Point) -> bool:
        if self.axis is None:
            return False
        other = mirrored(at, self.axis)
        return any(other.distance(p) <= SAME_PLACE for p in self.lone)

    def _numbers(self, at: Point, bend: Point | None) -> tuple[float, float]:
        axis, middle = self.axis or 0.0, self.middle or 0.0
        off = abs(middle - axis)
        on_the_middle = self.axis is not None and abs(at.x - axis) <= AXIS_SLACK
        for step in self.steps:
            across = 0.0 if on_the_middle else max(rounded(at.x - axis, step), 0.0)
            down = max(rounded(at.y, step), 0.0)
            miss = Point(abs(across - (at.x - axis)) + off, abs(down - at.y))
            if bend is None:
                good = miss.length <= CORNER_MISS * self.slack
            else:
                off_the_curve = miss.x * abs(bend.x) + miss.y * abs(bend.y)
                good = off_the_curve <= CURVE_MISS * self.slack and miss.length <= ALONG_MISS * self.slack
            if good:
                break
        return across, down

    def _stroke(self, run: Run, symmetrical: bool) -> Stroke:
        start, end = (self.point(p, symmetrical=symmetrical) for p in (run.points[0], run.points[-1]))
        if run.how == "straight":
            return Stroke("straight", (start, end))
        if run.how == "bend":
            (corner,) = run.stops
            middle = self.point(corner, symmetrical=symmetrical)
            return Stroke("bend", (start, middle, end), reach=rounded(run.reach, self.steps[-1]))
        held = run.centre and self.point(run.centre, symmetrical=symmetrical, note="hold the string")
        inner = [self.point(p, bend=_bend(run, p), symmetrical=symmetrical) for p in run.stops]
        if run.how == "loop":
            return Stroke("loop", tuple(inner))
        if held:
            at = self.places
            reach = (at[start].distance(at[held]) + at[end].distance(at[held])) / 2
            return Stroke("string", (start, *inner, end), held, rounded(reach, self.steps[-1]))
        return Stroke("curve", (start, *inner, end))


def _serves(mark: Mark, left: bool, both: bool) -> bool:
    if mark.sides in ("", "both"):
        return True
    return not both and mark.sides == ("left" if left else "right")


def _bend(run: Run, at: Point) -> Point:
    """The unit vector across the run where it passes `at`."""
    p, q = min(pairwise(run.points), key=lambda part: part[0].towards(part[1], 0.5).distance(at))
    return (q - p).unit().outward if p != q else Point(0.0, 1.0)


def _letter(number: int) -> str:
    """A, B, … Z, A2, B2, …"""
    again, which = divmod(number, len(LETTERS))
    return LETTERS[which] + (str(again + 1) if again else "")


def _joined(strokes: Iterable[Stroke]) -> Iterator[Stroke]:
    """Straight lines that follow each other in one."""
    before: Stroke | None = None
    for stroke in strokes:
        if before and before.how == stroke.how == "straight" and before.marks[-1] == stroke.marks[0]:
            before = Stroke("straight", (*before.marks, *stroke.marks[1:]))
            continue
        if before:
            yield before
        before = stroke
    if before:
        yield before
