"""The curve that a hand draws through a few marks: where it runs, and how far from another line.

Every three marks in a row lie on one circle. Between two marks the curve goes over from the circle of
the two and the one before to that of the two and the one after; at an end there is but one of them. Marks
on a circle are joined by that circle, marks on a straight line by the line.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import atan2, pi, sqrt

from ..geometry import Point
from ..geometry.polygon import nearest

PARTS = 8
"""Straight pieces between two marks in which the curve is handed on."""

ALONGSIDE = 4
"""Sides of a line that are looked at before all of them are."""

FLAT = 1e-7
"""The sine of the angle between three marks below which they lie on a line."""


def circle_through(a: Point, b: Point, c: Point) -> tuple[Point, float] | None:
    """Centre and radius; None where the three lie on a line."""
    u, v = b - a, c - a
    twice = 2 * u.cross(v)
    if abs(twice) <= FLAT * u.length * v.length:
        return None
    uu, vv = u.dot(u), v.dot(v)
    out = Point((v.y * uu - u.y * vv) / twice, (u.x * vv - v.x * uu) / twice)
    return a + out, out.length


def by_eye(marks: Sequence[Point], *, closed: bool = False) -> list[Point]:
    """The polyline of the curve through `marks`, from the first to the last, or round to the first."""
    points = [p for p, before in zip(marks, [None, *marks], strict=False) if p != before]
    if len(points) < 3:
        return points
    count = len(points)
    found = [points[0]]
    for i in range(count if closed else count - 1):
        p, q = points[i], points[(i + 1) % count]
        before = points[i - 1] if closed or i else None
        after = points[(i + 2) % count] if closed or i + 2 < count else None
        ways = [arc for arc in (
            before and _arc(p, q, before, p, q), after and _arc(p, q, p, q, after)) if arc]
        first, last = ways[0], ways[-1]
        found += [a.towards(b, j / PARTS) for j, (a, b) in enumerate(zip(first, last, strict=True), 1)]
    return found


def bent(a: Point, corner: Point, b: Point, reach: float) -> list[Point]:
    """The polyline from `a` straight to the corner and on to `b`, rounded off from `reach` mm before the
    corner to as much after it by the circle that touches both lines there."""
    u, v = (a - corner).unit(), (b - corner).unit()
    half = sqrt(max(0.0, (1 + u.dot(v)) / 2))
    begins, ends = corner + u * reach, corner + v * reach
    if half < FLAT:
        return [a, begins, ends, b]
    onwards = 1 if (corner - a).cross(b - corner) > 0 else -1
    centre = corner + (u + v).unit() * (reach / half)
    return [a, begins, *along_circle(begins, ends, centre, onwards, 2 * PARTS), b]


def _arc(p: Point, q: Point, *three: Point) -> list[Point]:
    """PARTS points after `p` to `q` on the circle through the three, walked in their order."""
    circle = circle_through(*three)
    if circle is None:
        return [p.towards(q, j / PARTS) for j in range(1, PARTS + 1)]
    centre, _ = circle
    onwards = 1 if (three[1] - three[0]).cross(three[2] - three[1]) > 0 else -1
    return along_circle(p, q, centre, onwards, PARTS)


def along_circle(p: Point, q: Point, centre: Point, onwards: int, parts: int) -> list[Point]:
    """`parts` points after `p` round the centre to the direction of `q`, clockwise where `onwards` is 1."""
    u, v = p - centre, q - centre
    start = atan2(u.y, u.x)
    sweep = onwards * ((onwards * (atan2(v.y, v.x) - start)) % (2 * pi))
    return [p.turned(sweep * j / parts, centre) for j in range(1, parts + 1)]


def astray(one: Sequence[Point], other: Sequence[Point]) -> float:
    """mm by which two polylines miss each other where they do most, corners measured either way."""
    return max(_furthest(one, other), _furthest(other, one))


def near(one: Sequence[Point], other: Sequence[Point], limit: float) -> bool:
    """Whether two polylines miss each other by no more than `limit` mm: sooner told than by how much."""
    return _all_near(one, other, limit) and _all_near(other, one, limit)


def _all_near(points: Sequence[Point], line: Sequence[Point], limit: float) -> bool:
    sides = _sides(line)
    some = len(points) // 2, len(points) // 4, 3 * len(points) // 4, len(points) // 8
    if any(nearest(sides, points[i].x, points[i].y)[0] > limit for i in some):
        return False
    at = 0  # two lines that miss each other little run on side by side
    for p in points:
        far, onwards, _ = nearest(sides[at : at + ALONGSIDE], p.x, p.y)
        if far > limit:
            far, at, _ = nearest(sides, p.x, p.y)
            if far > limit:
                return False
        else:
            at += onwards
    return True


def _sides(line: Sequence[Point]) -> list[tuple[float, float, float, float]]:
    return [(a.x, a.y, b.x, b.y) for a, b in pairwise(line)] or [(*line[0], *line[0])]


def _furthest(points: Sequence[Point], line: Sequence[Point]) -> float:
    sides = _sides(line)
    return max(nearest(sides, p.x, p.y)[0] for p in points)
