"""Pieces laid next to each other as they will be sewn, for pictures.

All lie right side up. The largest stays as it was drafted; each other is turned so that the straight
line between its seam's ends matches its partner's, a little way off. source: plane geometry.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from math import atan2

from ..geometry import Outline, Path, Point, bounds
from ..geometry.polygon import overlap
from ..pattern import Pattern, Seam, SeamEdge
from .graph import Copy, SeamGraph, copy_of, parts_of

COARSE = 1.0
"""mm that a drawn line may stray from the true one."""

GAP_PART = 0.035
"""Between neighbours, over the size of the largest piece of the picture. Judged by eye."""

Motion = Callable[[Point], Point]


@dataclass(frozen=True)
class Placed:
    """A copy of a piece where it lies; `edges` are polylines, walked clockwise round the piece."""

    copy: Copy
    motion: Motion
    polygon: tuple[Point, ...]


class Shapes:
    """The copies of a pattern's pieces right side up, worked out once for all the pictures."""

    def __init__(self, pattern: Pattern) -> None:
        self.pattern = pattern
        self.graph = SeamGraph(pattern)
        self._outlines: dict[Copy, Outline] = {}
        self._polygons: dict[Copy, tuple[Point, ...]] = {}
        self._lengths: dict[SeamEdge, float] = {}

    def is_turned(self, copy: Copy) -> bool:
        """Every second copy of a mirrored piece is turned over, left to right."""
        return self.pattern.piece(copy[0]).mirrored and copy[1] % 2 == 0

    def as_it_lies(self, copy: Copy, p: Point) -> Point:
        return Point(-p.x, p.y) if self.is_turned(copy) else p

    def outline(self, copy: Copy) -> Outline:
        key = (copy[0], 2 if self.is_turned(copy) else 1)
        if key not in self._outlines:
            outline = self.pattern.piece(copy[0]).outline
            if key[1] == 2:
                outline = outline.moved(lambda p: Point(-p.x, p.y))
            self._outlines[key] = outline
        return self._outlines[key]

    def polygon(self, copy: Copy) -> tuple[Point, ...]:
        """Within COARSE mm of the outline."""
        key = (copy[0], 2 if self.is_turned(copy) else 1)
        if key not in self._polygons:
            self._polygons[key] = tuple(
                p for edge in self.outline(copy).edges for p in edge.path.points(COARSE)[:-1])
        return self._polygons[key]

    def path(self, part: SeamEdge) -> Path:
        """The line of a copy as it lies right side up; an edge is walked clockwise."""
        copy = copy_of(part)
        if not self.graph.inner_kind(part):
            return self.outline(copy)[part.edge].path
        path = self.pattern.piece(part.piece).line(part.edge)
        return path.moved(lambda p: self.as_it_lies(copy, p)) if self.is_turned(copy) else path

    def length(self, part: SeamEdge) -> float:
        key = SeamEdge(part.piece, part.edge)
        if key not in self._lengths:
            self._lengths[key] = self.pattern.piece(part.piece).line(part.edge).length
        return self._lengths[key]


class Table:
    """Lays out the copies of a step along its seams."""

    def __init__(self, shapes: Shapes, copies: Sequence[Copy], seams: Iterable[Seam]) -> None:
        self.shapes = shapes
        self.graph = shapes.graph
        self.placed: dict[Copy, Placed] = {}
        self.gap = GAP_PART * max(_size(shapes.polygon(copy)) for copy in copies)
        seams = list(seams)
        left = sorted(copies, key=lambda copy: -self.graph.area(copy))
        while left:
            found = self._next(left, seams)
            if found is None:
                self._put(left[0], self._beside(left[0]))
                left.pop(0)
            else:
                copy, motion = found
                self._put(copy, motion)
                left.remove(copy)

    def line(self, part: SeamEdge) -> tuple[Point, ...]:
        """An edge or inner line where it lies, in the direction it is walked clockwise."""
        motion = self.placed[copy_of(part)].motion
        return tuple(motion(p) for p in self.shapes.path(part).points(COARSE))

    def inner(self, copy: Copy, path: Path) -> tuple[Point, ...]:
        motion = self.placed[copy].motion
        return tuple(motion(self.shapes.as_it_lies(copy, p)) for p in path.points(COARSE))

    def _next(self, left: list[Copy], seams: list[Seam]) -> tuple[Copy, Motion] | None:
        """The largest copy left that is sewn to one already placed, and where it goes."""
        for copy in left:
            for seam in seams:
                for mine, theirs in self._pairs(seam):
                    if (copy_of(mine.part) == copy and copy_of(theirs.part) in self.placed
                            and not self.graph.inner_kind(mine.part)):
                        motion = self._against(mine, theirs)
                        if motion and not self._covers(copy, motion):
                            return copy, motion
        return None

    def _put(self, copy: Copy, motion: Motion) -> None:
        polygon = tuple(motion(p) for p in self.shapes.polygon(copy))
        self.placed[copy] = Placed(copy, motion, polygon)

    def _beside(self, copy: Copy) -> Motion:
        """To the right of all that lies there, tops level."""
        if not self.placed:
            return lambda p: p
        _, top, right, _ = bounds([p for placed in self.placed.values() for p in placed.polygon])
        left, own_top, _, _ = bounds(self.shapes.polygon(copy))
        shift = Point(right + 2 * self.gap - left, top - own_top)
        return lambda p: p + shift

    def _covers(self, copy: Copy, motion: Motion) -> bool:
        """Whether the copy would lie on one already placed."""
        polygon = [motion(p) for p in self.shapes.polygon(copy)]
        return any(overlap(polygon, placed.polygon) for placed in self.placed.values())

    def _pairs(self, seam: Seam) -> Iterable[tuple["_Stretch", "_Stretch"]]:
        """Stretches of one side and of the other that come to lie on each other, both ways round."""
        a = self._stretches(self._in_order(seam.a, forwards=True), forwards=True)
        b = self._stretches(self._in_order(seam.b, forwards=False), forwards=False)
        for one in a:
            for other in b:
                start, end = max(one.start, other.start), min(one.end, other.end)
                if end - start > 1.0:
                    yield one.cut(start, end), other.cut(start, end)
                    yield other.cut(start, end), one.cut(start, end)

    def _in_order(self, side: tuple[SeamEdge, ...], *, forwards: bool) -> tuple[SeamEdge, ...]:
        """The edges of a side so that each ends where the next begins, walked that way."""
        if len(side) < 2:
            return side
        given = sum(self._run_on(a, b, forwards) for a, b in zip(side, side[1:], strict=False))
        turned = side[::-1]
        other = sum(self._run_on(a, b, forwards) for a, b in zip(turned, turned[1:], strict=False))
        return turned if other > given else side

    def _run_on(self, one: SeamEdge, other: SeamEdge, forwards: bool) -> bool:
        """Whether a seam joins the corner where `one` is left to the corner where `other` begins."""
        near, far = self.graph.neighbours(one), self.graph.neighbours(other)
        if not near or not far:
            return False
        # Turned over, a piece is walked the other way round.
        leaving = near[1 if forwards != self.shapes.is_turned(copy_of(one)) else 0]
        entering = far[0 if forwards != self.shapes.is_turned(copy_of(other)) else 1]
        if copy_of(one) == copy_of(other):
            return leaving == other
        at_one = {seam.name for seam in self.graph.seams_at(leaving)}
        return bool(at_one & {seam.name for seam in self.graph.seams_at(entering)})

    def _stretches(self, side: Sequence[SeamEdge], *, forwards: bool) -> list["_Stretch"]:
        found, at = [], 0.0
        for part in side:
            length = self.shapes.length(part)
            found.append(_Stretch(part, self.shapes.path(part), length, at, at + length, at, forwards))
            at += length
        return found

    def _against(self, mine: "_Stretch", theirs: "_Stretch") -> Motion | None:
        motion = self.placed[copy_of(theirs.part)].motion
        a, b = (motion(p) for p in theirs.ends)
        c, d = mine.ends
        if a.distance(b) < 1.0 or c.distance(d) < 1.0:
            return None
        # Cloth lies to the right of an edge walked clockwise, so away from it is the left.
        out = (b - a if theirs.forwards else a - b).unit().outward * self.gap
        turn = atan2((b - a).y, (b - a).x) - atan2((d - c).y, (d - c).x)
        from_middle, to_middle = c.towards(d, 0.5), a.towards(b, 0.5) + out
        return lambda p: to_middle + (p - from_middle).turned(turn)


@dataclass(frozen=True)
class _Stretch:
    """Part of an edge between two distances along a seam's side; `origin` is where the edge begins."""

    part: SeamEdge
    path: Path
    length: float
    start: float
    end: float
    origin: float
    forwards: bool

    def cut(self, start: float, end: float) -> "_Stretch":
        return replace(self, start=start, end=end)

    @property
    def ends(self) -> tuple[Point, Point]:
        """In the direction of the seam."""
        a, b = self.start - self.origin, self.end - self.origin
        if not self.forwards:
            a, b = self.length - a, self.length - b
        return self.path.point_along(a), self.path.point_along(b)


def _size(polygon: Sequence[Point]) -> float:
    left, top, right, bottom = bounds(polygon)
    return max(right - left, bottom - top)


def meeting_copies(seams: Iterable[Seam]) -> list[set[Copy]]:
    """The copies that the seams join, one set for each assembly."""
    groups: list[set[Copy]] = []
    for seam in seams:
        new = {copy_of(part) for part in parts_of(seam)}
        touching = [group for group in groups if group & new]
        groups = [group for group in groups if group not in touching]
        groups.append(new.union(*touching))
    return groups
