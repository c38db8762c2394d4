"""Questions about polygons: how large is one, is it simple, does it hold a point or another polygon.

A polygon is its corners, each once, closed from the last to the first. Every draft asks these of every
piece, so the inner loops work on bare numbers.
"""

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import hypot, inf

from .point import Point

Side = tuple[float, float, float, float]
"""A straight line from x, y to x, y."""

Bounds = tuple[float, float, float, float]
"""Left, top, right, bottom."""


def area(polygon: Sequence[Point]) -> float:
    """mm², positive when the polygon runs clockwise on the page. source: the shoelace formula."""
    total = 0.0
    before = polygon[-1]
    for p in polygon:
        total += before.cross(p)
        before = p
    return total / 2


def centroid(polygon: Sequence[Point]) -> Point:
    """Raises ZeroDivisionError for one of no area. source: first moments of a polygon."""
    twice = x = y = 0.0
    before = polygon[-1]
    for p in polygon:
        cross = before.cross(p)
        twice += cross
        x += (before.x + p.x) * cross
        y += (before.y + p.y) * cross
        before = p
    return Point(x / (3 * twice), y / (3 * twice))


def bounds(points: Sequence[Point]) -> Bounds:
    """Of one point or more."""
    xs = [p.x for p in points]
    ys = [p.y for p in points]
    return min(xs), min(ys), max(xs), max(ys)


def bounds_overlap(a: Bounds, b: Bounds) -> bool:
    """Whether two upright rectangles share more than a border."""
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def sides(polygon: Sequence[Point]) -> list[Side]:
    """In order, the last corner's to the first at the end."""
    points = [(p.x, p.y) for p in polygon]
    return [(*p, *q) for p, q in zip(points, points[1:] + points[:1], strict=True)]


def crossings(polygon_sides: Iterable[Side], y: float) -> list[float]:
    """The x of every place where sides cross the level line at `y`, in the sides' order.

    A corner on the line counts as lying above it, so that a polygon is crossed an even number of times.
    """
    return [
        x0 + (y - y0) * (x1 - x0) / (y1 - y0)
        for x0, y0, x1, y1 in polygon_sides
        if (y0 > y) != (y1 > y)
    ]


def inside(polygon_sides: Iterable[Side], x: float, y: float) -> bool:
    """Whether a point lies within sides that close on themselves. source: the even–odd rule."""
    found = False
    for crossing in crossings(polygon_sides, y):
        if x < crossing:
            found = not found
    return found


def is_simple(polygon: Sequence[Point]) -> bool:
    """Whether no two sides of the closed polygon touch, other than neighbours at their shared end.

    Sides are swept from left to right, so only those whose spans in x overlap are compared. A side
    that folds straight back on its neighbour counts as touching. Fewer than three points: False.
    """
    n = len(polygon)
    if n < 3:
        return False
    all_sides = sides(polygon)
    swept = sorted((min(x0, x1), max(x0, x1), i) for i, (x0, _, x1, _) in enumerate(all_sides))
    active: list[tuple[float, int]] = []
    for left, right, i in swept:
        active = [entry for entry in active if entry[0] >= left]
        for _, j in active:
            apart = (i - j) % n
            if apart == 1:
                if _folds_back(all_sides[j], all_sides[i]):
                    return False
            elif apart == n - 1:
                if _folds_back(all_sides[i], all_sides[j]):
                    return False
            elif _touch(all_sides[i], all_sides[j]):
                return False
        active.append((right, i))
    return True


def _folds_back(first: Side, second: Side) -> bool:
    ux, uy = first[2] - first[0], first[3] - first[1]
    vx, vy = second[2] - second[0], second[3] - second[1]
    along = ux * vx + uy * vy
    return along < 0 and abs(ux * vy - uy * vx) <= 1e-9 * -along


def _touch(a: Side, b: Side) -> bool:
    """Whether two closed line segments share a point."""
    ax0, ay0, ax1, ay1 = a
    bx0, by0, bx1, by1 = b
    if max(by0, by1) < min(ay0, ay1) or min(by0, by1) > max(ay0, ay1):
        return False
    if max(bx0, bx1) < min(ax0, ax1) or min(bx0, bx1) > max(ax0, ax1):
        return False
    ux, uy, vx, vy = ax1 - ax0, ay1 - ay0, bx1 - bx0, by1 - by0
    if (ux * (by0 - ay0) - uy * (bx0 - ax0)) * (ux * (by1 - ay0) - uy * (bx1 - ax0)) > 0:
        return False
    return (vx * (ay0 - by0) - vy * (ax0 - bx0)) * (vx * (ay1 - by0) - vy * (ax1 - bx0)) <= 0


def _cross(a: Side, b: Side) -> bool:
    """Whether two line segments cross, and do not only touch."""
    ax0, ay0, ax1, ay1 = a
    bx0, by0, bx1, by1 = b
    ux, uy, vx, vy = ax1 - ax0, ay1 - ay0, bx1 - bx0, by1 - by0
    if (ux * (by0 - ay0) - uy * (bx0 - ax0)) * (ux * (by1 - ay0) - uy * (bx1 - ax0)) >= 0:
        return False
    return (vx * (ay0 - by0) - vy * (ax0 - bx0)) * (vx * (ay1 - by0) - vy * (ax1 - bx0)) < 0


def overlap(one: Sequence[Point], other: Sequence[Point]) -> bool:
    """Whether two polygons share more than a border.

    By their sides and one corner of each: not seen where all their corners lie on each other's borders.
    """
    box = bounds(one)
    if not bounds_overlap(box, bounds(other)):
        return False
    mine, theirs = sides(one), sides(other)
    near = [side for side in theirs if bounds_overlap(_box(side), box)]
    return any(_cross(a, b) for a in mine for b in near) or (
        inside(mine, *other[0]) or inside(theirs, *one[0])
    )


def _box(side: Side) -> Bounds:
    x0, y0, x1, y1 = side
    return min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)


def holds_point(polygon: Sequence[Point], p: Point, slack: float = 0.0) -> bool:
    """Whether `p` lies inside, or outside by no more than `slack` mm."""
    all_sides = sides(polygon)
    return inside(all_sides, p.x, p.y) or (slack > 0 and _distance(all_sides, p) <= slack)


class _Bands:
    """A polygon's sides by the height they cross, so that a point is tested against few of them."""

    def __init__(self, all_sides: list[Side]) -> None:
        heights = [y for _, y, _, _ in all_sides]
        self._top, bottom = min(heights), max(heights)
        self._last = len(all_sides) - 1
        self._per_mm = self._last / (bottom - self._top) if bottom > self._top else 0.0
        self._bands: list[list[Side]] = [[] for _ in all_sides]
        at = [int((y - self._top) * self._per_mm) for y in heights]
        for side, start, end in zip(all_sides, at, at[1:] + at[:1], strict=True):
            for band in range(min(start, end), max(start, end) + 1):
                self._bands[band].append(side)

    def inside(self, p: Point) -> bool:
        band = int((p.y - self._top) * self._per_mm)
        return inside(self._bands[min(max(band, 0), self._last)], p.x, p.y)


def nearest(polyline_sides: Iterable[Side], x: float, y: float) -> tuple[float, int, float]:
    """How far the nearest of the sides is, which it is, and what part of it lies before the nearest place.

    Of several as near, the first; of none, inf away.
    """
    best, off_x, off_y, where, part = inf, inf, 0.0, -1, 0.0
    for i, (x0, y0, x1, y1) in enumerate(polyline_sides):
        dx, dy = x1 - x0, y1 - y0
        squared = dx * dx + dy * dy
        t = ((x - x0) * dx + (y - y0) * dy) / squared if squared else 0.0
        t = 0.0 if t < 0 else 1.0 if t > 1 else t
        ex, ey = x - x0 - dx * t, y - y0 - dy * t
        far = ex * ex + ey * ey
        if far < best:
            best, off_x, off_y, where, part = far, ex, ey, i, t
    return hypot(off_x, off_y), where, part


def _distance(polyline_sides: Iterable[Side], p: Point) -> float:
    return nearest(polyline_sides, p.x, p.y)[0]


def mirror_axis(polygon: Sequence[Point], slack: float = 0.05) -> float | None:
    """The x of the line down the page over which a polygon is its own mirror image, to `slack` mm."""
    left, _, right, _ = bounds(polygon)
    x = (left + right) / 2
    by_height = sorted((p.y, p.x) for p in polygon)
    all_sides: list[Side] = []
    for p in polygon:
        twin = 2 * x - p.x
        near = by_height[
            bisect_left(by_height, (p.y - slack,)) : bisect_left(by_height, (p.y + slack, inf))
        ]
        if any(abs(other - twin) <= slack for _, other in near):
            continue
        all_sides = all_sides or sides(polygon)
        if _distance(all_sides, Point(twin, p.y)) > slack:
            return None
    return x


def left_half(polygon: Sequence[Point], x: float) -> tuple[Point, ...] | None:
    """The part of a simple polygon left of the line at `x`; None when that is not one piece."""
    half: list[Point] = []
    crossings = 0
    for p, q in zip(polygon, (*polygon[1:], polygon[0]), strict=True):
        if p.x <= x:
            half.append(p)
        if (p.x <= x) != (q.x <= x):
            crossings += 1
            t = (x - p.x) / (q.x - p.x)
            if p.x < x or q.x < x:
                half.append(Point(x, p.y + t * (q.y - p.y)))
    return tuple(half) if crossings == 2 else None


def line_left_of(line: Sequence[Point], x: float) -> tuple[Point, ...]:
    """The part of an open polyline left of the line at `x`, as one polyline; () where all of it is right."""
    found: list[Point] = []
    for p, q in pairwise(line):
        parts = [p] if p.x <= x else []
        if (p.x <= x) != (q.x <= x):
            parts.append(p.towards(q, (x - p.x) / (q.x - p.x)))
        found += [part for part in parts if not found or part != found[-1]]
    return (*found, line[-1]) if line[-1].x <= x else tuple(found)


def simplified(points: Sequence[Point], tolerance: float = 0.12) -> tuple[Point, ...]:
    """The polyline less points that lie within `tolerance` of the lines between those kept.

    source: Douglas & Peucker 1973, The Canadian Cartographer 10:112.
    """
    if len(points) < 3:
        return tuple(points)
    first, last = points[0], points[-1]
    span = first.distance(last)
    far, where = 0.0, 0
    for i in range(1, len(points) - 1):
        off = points[i] - first
        distance = abs((last - first).cross(off)) / span if span > 1e-9 else hypot(off.x, off.y)
        if distance > far:
            far, where = distance, i
    if far <= tolerance:
        return first, last
    return (*simplified(points[: where + 1], tolerance)[:-1],
            *simplified(points[where:], tolerance))


def distance_to_line(p: Point, line: Sequence[Point]) -> float:
    """mm from `p` to the nearest point of an open polyline of two or more points."""
    return _distance([(a.x, a.y, b.x, b.y) for a, b in pairwise(line)], p)


def holds_polygon(outer: Sequence[Point], inner: Sequence[Point], slack: float = 1e-3) -> bool:
    """Whether `inner` lies within `outer`; they may share boundary, or cross by `slack` mm.

    Both must be simple. Corners are tested either way round, which is enough for two outlines of
    which one was set off from the other.
    """
    outer_sides, inner_sides = sides(outer), sides(inner)
    outer_bands, inner_bands = _Bands(outer_sides), _Bands(inner_sides)
    return all(
        outer_bands.inside(p) or _distance(outer_sides, p) <= slack for p in inner
    ) and all(not inner_bands.inside(p) or _distance(inner_sides, p) <= slack for p in outer)
