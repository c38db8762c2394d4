"""A path: segments joined end to end."""

from dataclasses import dataclass
from itertools import pairwise

from .curves import Line, Mapping2D, Segment
from .pens import Pen
from .point import Point
from .polygon import nearest

JOIN_TOLERANCE = 1e-6
FLAT = 0.05
"""How far, in mm, a polyline may stray from the true curve: half of what the contract allows."""


@dataclass(frozen=True, slots=True)
class Path:
    """One or more segments, each starting where the one before ends.

    Raises ValueError when there is none, or when two do not meet within a millionth of a millimetre.
    """

    segments: tuple[Segment, ...]

    def __post_init__(self) -> None:
        if not self.segments:
            raise ValueError("a path needs at least one segment")
        for before, after in zip(self.segments, self.segments[1:], strict=False):
            if before.end.distance(after.start) > JOIN_TOLERANCE:
                raise ValueError(f"segments do not meet: {before.end} and {after.start}")

    @classmethod
    def through(cls, *points: Point) -> "Path":
        """Straight lines from point to point; points that repeat the one before are passed over."""
        kept = [points[0]]
        for p in points[1:]:
            if p.distance(kept[-1]) > 1e-9:
                kept.append(p)
        return cls(tuple(Line(a, b) for a, b in zip(kept, kept[1:], strict=False)))

    @property
    def start(self) -> Point:
        return self.segments[0].start

    @property
    def end(self) -> Point:
        return self.segments[-1].end

    @property
    def length(self) -> float:
        return sum(segment.length for segment in self.segments)

    @property
    def is_straight(self) -> bool:
        """Whether it is no longer than the way from its start to its end, but for what no hand can draw."""
        return self.length - self.start.distance(self.end) < FLAT

    @property
    def start_direction(self) -> Point:
        return self.segments[0].direction_at(0)

    @property
    def end_direction(self) -> Point:
        return self.segments[-1].direction_at(1)

    def _locate(self, distance: float) -> tuple[int, float]:
        for i, segment in enumerate(self.segments):
            length = segment.length
            if distance <= length:
                return i, segment.parameter_at(max(0.0, distance)) if length > 0 else 0.0
            distance -= length
        return len(self.segments) - 1, 1.0

    def point_along(self, distance: float) -> Point:
        """The point `distance` mm from the start; the end when the path is shorter."""
        i, t = self._locate(distance)
        return self.segments[i].point_at(t)

    def direction_along(self, distance: float) -> Point:
        """Unit vector of the way on, `distance` mm from the start."""
        i, t = self._locate(distance)
        return self.segments[i].direction_at(t)

    def distance_along_to(self, p: Point, tolerance: float = FLAT) -> float:
        """How far along the path `p` lies, for a point on it; to the nearest place for any other.

        Within `tolerance` mm where the path is a curve.
        """
        chords = list(pairwise(self.points(tolerance)))
        _, i, part = nearest(((a.x, a.y, b.x, b.y) for a, b in chords), p.x, p.y)
        return sum(a.distance(b) for a, b in chords[:i]) + chords[i][0].distance(chords[i][1]) * part

    def along(self, distance: float) -> tuple[Point, Point]:
        """`point_along` and `direction_along` together, for the work of one."""
        i, t = self._locate(distance)
        return self.segments[i].point_at(t), self.segments[i].direction_at(t)

    def cut_at(self, distance: float) -> tuple["Path", "Path"]:
        """The path in two. Raises ValueError unless 0 < distance < length."""
        if not 0 < distance < self.length:
            raise ValueError(f"cannot cut a path of {self.length:.2f} mm at {distance:.2f} mm")
        i, t = self._locate(distance)
        first, second = self.segments[i].split(t)
        before = (*self.segments[:i], first) if first.length > 1e-9 else self.segments[:i]
        after = self.segments[i + 1 :]
        return Path(before), Path((second, *after) if second.length > 1e-9 else after)

    def points(self, tolerance: float = FLAT) -> list[Point]:
        """A polyline within `tolerance` mm of the path."""
        found = [self.start]
        for segment in self.segments:
            found.extend(segment.points(tolerance)[1:])
        return found

    def reversed(self) -> "Path":
        return Path(tuple(segment.reversed() for segment in reversed(self.segments)))

    def moved(self, motion: Mapping2D) -> "Path":
        return Path(tuple(segment.moved(motion) for segment in self.segments))

    def joined(self, other: "Path") -> "Path":
        return Path(self.segments + other.segments)

    def draw(self, pen: Pen, *, move: bool = True) -> None:
        if move:
            pen.move_to(self.start)
        for segment in self.segments:
            segment.draw(pen)
