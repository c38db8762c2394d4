"""The three kinds of segment an outline is made of: line, circular arc and cubic.

Each knows its ends, its length, the point and direction at a parameter from 0 to 1, and how to give
itself as points, reversed, moved, cut in two or set off sideways.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import acos, ceil, cos, hypot, pi, sin, sqrt, tan

from .pens import Pen
from .point import Point, polar

Mapping2D = Callable[[Point], Point]
"""A rigid motion of the plane; it may turn it over."""

QUARTER = 0.5522847498
"""Control length of a cubic over the radius for a quarter circle, 4/3 · (√2 − 1): out by under 3/10,000.
source: e.g. Goldapp 1991, Computer Aided Geometric Design 8:227."""


@dataclass(frozen=True, slots=True)
class Line:
    start: Point
    end: Point

    @property
    def length(self) -> float:
        return self.start.distance(self.end)

    def point_at(self, t: float) -> Point:
        return self.start.towards(self.end, t)

    def direction_at(self, t: float) -> Point:
        """Unit vector. Raises ZeroDivisionError for a line of no length."""
        return (self.end - self.start).unit()

    def parameter_at(self, distance: float) -> float:
        return distance / self.length

    def points(self, tolerance: float) -> list[Point]:
        return [self.start, self.end]

    def reversed(self) -> "Line":
        return Line(self.end, self.start)

    def moved(self, motion: Mapping2D) -> "Line":
        return Line(motion(self.start), motion(self.end))

    def split(self, t: float) -> tuple["Line", "Line"]:
        middle = self.point_at(t)
        return Line(self.start, middle), Line(middle, self.end)

    def offset(self, distance: float) -> "list[Segment]":
        shift = self.direction_at(0).outward * distance
        return [Line(self.start + shift, self.end + shift)]

    def draw(self, pen: Pen) -> None:
        pen.line_to(self.end)


@dataclass(frozen=True, slots=True)
class Arc:
    """A circular arc from `start_angle` through `sweep` radians, positive clockwise on the page."""

    centre: Point
    radius: float
    start_angle: float
    sweep: float

    @classmethod
    def between(cls, start: Point, end: Point, centre: Point, clockwise: bool) -> "Arc":
        """The arc about `centre` from `start` round to the direction of `end` (under a full turn)."""
        a = (start - centre).angle
        sweep = ((end - centre).angle - a) % (2 * pi)
        return cls(centre, start.distance(centre), a, sweep if clockwise else sweep - 2 * pi)

    @property
    def start(self) -> Point:
        return self.centre + polar(self.radius, self.start_angle)

    @property
    def end(self) -> Point:
        return self.centre + polar(self.radius, self.start_angle + self.sweep)

    @property
    def length(self) -> float:
        return self.radius * abs(self.sweep)

    def point_at(self, t: float) -> Point:
        return self.centre + polar(self.radius, self.start_angle + self.sweep * t)

    def direction_at(self, t: float) -> Point:
        a = self.start_angle + self.sweep * t
        way = 1.0 if self.sweep >= 0 else -1.0
        return Point(-sin(a) * way, cos(a) * way)

    def parameter_at(self, distance: float) -> float:
        return distance / self.length

    def points(self, tolerance: float) -> list[Point]:
        # The chord of an arc of angle s lies r(1 − cos s/2) inside it; a speck of an arc is a chord.
        step = 2 * acos(max(-1.0, 1 - tolerance / max(self.radius, tolerance / 2)))
        count = max(1, ceil(abs(self.sweep) / step))
        return [self.point_at(i / count) for i in range(count + 1)]

    def reversed(self) -> "Arc":
        return Arc(self.centre, self.radius, self.start_angle + self.sweep, -self.sweep)

    def moved(self, motion: Mapping2D) -> "Arc":
        centre = motion(self.centre)
        start, quarter = motion(self.start), motion(self.centre + polar(1, self.start_angle + pi / 2))
        turned_over = (start - centre).cross(quarter - centre) < 0
        sweep = -self.sweep if turned_over else self.sweep
        return Arc(centre, self.radius, (start - centre).angle, sweep)

    def split(self, t: float) -> tuple["Arc", "Arc"]:
        first = self.sweep * t
        return (
            Arc(self.centre, self.radius, self.start_angle, first),
            Arc(self.centre, self.radius, self.start_angle + first, self.sweep - first),
        )

    def offset(self, distance: float) -> "list[Segment]":
        """The concentric arc; a hollow arc that the offset swallows shrinks to its centre: []."""
        radius = self.radius + (distance if self.sweep >= 0 else -distance)
        return [Arc(self.centre, radius, self.start_angle, self.sweep)] if radius > 1e-9 else []

    def draw(self, pen: Pen) -> None:
        """As cubics of at most 22.5°, which stray from the circle by under 1e-7 of its radius."""
        count = max(1, ceil(abs(self.sweep) / (pi / 8)))
        step = self.sweep / count
        # source: the usual control length 4/3 tan(θ/4), e.g. Goldapp 1991, CAGD 8:227.
        reach = self.radius * 4 / 3 * tan(abs(step) / 4)
        for i in range(count):
            t0, t1 = i / count, (i + 1) / count
            p0, p1 = self.point_at(t0), self.point_at(t1)
            pen.curve_to(
                p0 + self.direction_at(t0) * reach, p1 - self.direction_at(t1) * reach, p1
            )


# Abscissae and weights of 8-point Gauss–Legendre quadrature on [−1, 1].
# source: Abramowitz & Stegun 1964, Handbook of Mathematical Functions, table 25.4.
_GAUSS = (
    (0.1834346424956498, 0.3626837833783620),
    (0.5255324099163290, 0.3137066458778873),
    (0.7966664774136267, 0.2223810344533745),
    (0.9602898564975363, 0.1012285362903763),
)


@dataclass(frozen=True, slots=True)
class Cubic:
    """A cubic Bézier curve with its two control points."""

    start: Point
    control1: Point
    control2: Point
    end: Point

    @property
    def length(self) -> float:
        return self.length_to(1.0)

    def length_to(self, t: float) -> float:
        """Way along the curve from 0 to `t`, by Gauss–Legendre quadrature over eight spans."""
        p0, p1, p2, p3 = self.start, self.control1, self.control2, self.end
        # The velocity as a quadratic in t, on bare numbers: every round hole asks this many times.
        ax, ay = p3.x - 3 * (p2.x - p1.x) - p0.x, p3.y - 3 * (p2.y - p1.y) - p0.y
        bx, by = 2 * (p2.x - 2 * p1.x + p0.x), 2 * (p2.y - 2 * p1.y + p0.y)
        cx, cy = p1.x - p0.x, p1.y - p0.y
        total = 0.0
        spans = 8
        half = t / spans / 2
        for i in range(spans):
            middle = (2 * i + 1) * half
            for abscissa, weight in _GAUSS:
                u, v = middle - abscissa * half, middle + abscissa * half
                total += weight * (
                    hypot((ax * u + bx) * u + cx, (ay * u + by) * u + cy)
                    + hypot((ax * v + bx) * v + cx, (ay * v + by) * v + cy)
                )
        return 3 * half * total

    def _velocity(self, t: float) -> Point:
        s = 1 - t
        return (
            (self.control1 - self.start) * (3 * s * s)
            + (self.control2 - self.control1) * (6 * s * t)
            + (self.end - self.control2) * (3 * t * t)
        )

    def point_at(self, t: float) -> Point:
        s = 1 - t
        a, b, c, d = s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t
        p0, p1, p2, p3 = self.start, self.control1, self.control2, self.end
        return Point(
            a * p0.x + b * p1.x + c * p2.x + d * p3.x, a * p0.y + b * p1.y + c * p2.y + d * p3.y
        )

    def direction_at(self, t: float) -> Point:
        """Unit vector; where a control point falls on its end, the way to the next one."""
        velocity = self._velocity(t)
        if velocity.length < 1e-9:
            velocity = self.point_at(min(1.0, t + 1e-4)) - self.point_at(max(0.0, t - 1e-4))
        return velocity.unit()

    def parameter_at(self, distance: float) -> float:
        """By Newton's steps, halved into the bracket where one would leave it."""
        low, high = 0.0, 1.0
        whole = self.length
        t = min(1.0, max(0.0, distance / whole)) if whole else 0.0
        for _ in range(50):
            off = self.length_to(t) - distance
            if abs(off) <= 1e-9 or high - low <= 1e-15:
                break
            low, high = (low, t) if off > 0 else (t, high)
            speed = self._velocity(t).length
            t = t - off / speed if speed > 0 else low
            if not low < t < high:
                t = (low + high) / 2
        return t

    def points(self, tolerance: float) -> list[Point]:
        # A chord over parameter span h strays by at most h²/8 · max|B″| (linear interpolation's
        # error bound, any numerical analysis text), and |B″| ≤ 6 × the larger second difference.
        bend1 = (self.start - self.control1 * 2 + self.control2).length
        bend2 = (self.control1 - self.control2 * 2 + self.end).length
        count = max(1, ceil(sqrt(6 * max(bend1, bend2) / (8 * tolerance))))
        return [self.point_at(i / count) for i in range(count + 1)]

    def reversed(self) -> "Cubic":
        return Cubic(self.end, self.control2, self.control1, self.start)

    def moved(self, motion: Mapping2D) -> "Cubic":
        return Cubic(
            motion(self.start), motion(self.control1), motion(self.control2), motion(self.end)
        )

    def split(self, t: float) -> tuple["Cubic", "Cubic"]:
        p0, p1, p2, p3 = self.start, self.control1, self.control2, self.end
        a, b, c = p0.towards(p1, t), p1.towards(p2, t), p2.towards(p3, t)
        d, e = a.towards(b, t), b.towards(c, t)
        middle = d.towards(e, t)
        return Cubic(p0, a, d, middle), Cubic(middle, e, c, p3)

    def offset(self, distance: float) -> "list[Segment]":
        """Lines between points set off along the normals: a cubic's offset is no cubic."""
        count = max(8, len(self.points(0.02)))
        moved = [
            self.point_at(i / count) + self.direction_at(i / count).outward * distance
            for i in range(count + 1)
        ]
        return [Line(a, b) for a, b in zip(moved, moved[1:], strict=False) if a.distance(b) > 1e-9]

    def draw(self, pen: Pen) -> None:
        pen.curve_to(self.control1, self.control2, self.end)


Segment = Line | Arc | Cubic
