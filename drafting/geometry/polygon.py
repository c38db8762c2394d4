"""Questions about polygons: is it simple, does it hold a point or another polygon.

Every draft asks these of every piece, so the inner loops work on bare numbers.
"""

from bisect import bisect_left
from collections.abc import Sequence
from math import inf, sqrt

from .point import Point

_Side = tuple[float, float, float, float]


def is_simple(polygon: Sequence[Point]) -> bool:
    """Whether no two sides of the closed polygon touch, other than neighbours at their shared end.

    Sides are swept from left to right, so only those whose spans in x overlap are compared. A side
    that folds straight back on its neighbour counts as touching. Fewer than three points: False.
    """
    n = len(polygon)
    if n < 3:
        return False
    sides = _sides(polygon)
    swept = sorted((min(x0, x1), max(x0, x1), i) for i, (x0, _, x1, _) in enumerate(sides))
    active: list[tuple[float, int]] = []
    for left, right, i in swept:
        active = [entry for entry in active if entry[0] >= left]
        for _, j in active:
            apart = (i - j) % n
            if apart == 1:
                if _folds_back(sides[j], sides[i]):
                    return False
            elif apart == n - 1:
                if _folds_back(sides[i], sides[j]):
                    return False
            elif _touch(sides[i], sides[j]):
                return False
        active.append((right, i))
    return True


def _sides(polygon: Sequence[Point]) -> list[_Side]:
    points = [(p.x, p.y) for p in polygon]
    return [(*p, *q) for p, q in zip(points, points[1:] + points[:1], strict=True)]


def _folds_back(first: _Side, second: _Side) -> bool:
    ux, uy = first[2] - first[0], first[3] - first[1]
    vx, vy = second[2] - second[0], second[3] - second[1]
    along = ux * vx + uy * vy
    return along < 0 and abs(ux * vy - uy * vx) <= 1e-9 * -along


def _touch(a: _Side, b: _Side) -> bool:
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


def holds_point(polygon: Sequence[Point], p: Point, slack: float = 0.0) -> bool:
    """Whether `p` lies inside, or outside by no more than `slack` mm."""
    sides = _sides(polygon)
    return _inside(sides, p) or (slack > 0 and _nearest(sides, p) <= slack)


def _inside(sides: list[_Side], p: Point) -> bool:
    px, py = p.x, p.y
    inside = False
    for x0, y0, x1, y1 in sides:
        if (y0 > py) != (y1 > py) and px < x0 + (py - y0) * (x1 - x0) / (y1 - y0):
            inside = not inside
    return inside


class _Bands:
    """A polygon's sides by the height they cross, so that a point is tested against few of them."""

    def __init__(self, sides: list[_Side]) -> None:
        self._top = min(y for _, y, _, _ in sides)
        height = max(y for _, y, _, _ in sides) - self._top
        self._count = len(sides)
        self._per_mm = (self._count - 1) / height if height > 0 else 0.0
        self._bands: list[list[_Side]] = [[] for _ in range(self._count)]
        for side in sides:
            first, last = sorted((self._band(side[1]), self._band(side[3])))
            for band in range(first, last + 1):
                self._bands[band].append(side)

    def _band(self, y: float) -> int:
        return min(self._count - 1, max(0, int((y - self._top) * self._per_mm)))

    def inside(self, p: Point) -> bool:
        return _inside(self._bands[self._band(p.y)], p)


def _nearest(sides: list[_Side], p: Point) -> float:
    """mm from `p` to the nearest side."""
    px, py = p.x, p.y
    best = inf
    for x0, y0, x1, y1 in sides:
        dx, dy = x1 - x0, y1 - y0
        squared = dx * dx + dy * dy
        t = ((px - x0) * dx + (py - y0) * dy) / squared if squared else 0.0
        t = 0.0 if t < 0 else 1.0 if t > 1 else t
        ex, ey = px - x0 - dx * t, py - y0 - dy * t
        best = min(best, ex * ex + ey * ey)
    return sqrt(best)


def mirror_axis(polygon: Sequence[Point], slack: float = 0.05) -> float | None:
    """The x of the line down the page over which a polygon is its own mirror image, to `slack` mm."""
    x = (min(p.x for p in polygon) + max(p.x for p in polygon)) / 2
    by_height = sorted((p.y, p.x) for p in polygon)
    sides: list[_Side] = []
    for p in polygon:
        twin = 2 * x - p.x
        near = by_height[
            bisect_left(by_height, (p.y - slack,)) : bisect_left(by_height, (p.y + slack, inf))
        ]
        if any(abs(other - twin) <= slack for _, other in near):
            continue
        sides = sides or _sides(polygon)
        if _nearest(sides, Point(twin, p.y)) > slack:
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


def distance_to_line(p: Point, line: Sequence[Point]) -> float:
    """mm from `p` to the nearest point of an open polyline of two or more points."""
    return _nearest(
        [(a.x, a.y, b.x, b.y) for a, b in zip(line, line[1:], strict=False)], p
    )


def holds_polygon(outer: Sequence[Point], inner: Sequence[Point], slack: float = 1e-3) -> bool:
    """Whether `inner` lies within `outer`; they may share boundary, or cross by `slack` mm.

    Both must be simple. Corners are tested either way round, which is enough for two outlines of
    which one was set off from the other.
    """
    outer_sides, inner_sides = _sides(outer), _sides(inner)
    outer_bands, inner_bands = _Bands(outer_sides), _Bands(inner_sides)
    return all(
        outer_bands.inside(p) or _nearest(outer_sides, p) <= slack for p in inner
    ) and all(not inner_bands.inside(p) or _nearest(inner_sides, p) <= slack for p in outer)
