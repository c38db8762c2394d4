"""Questions about polygons: is it simple, does it hold a point or another polygon."""

from collections.abc import Sequence

from .point import Point


def is_simple(polygon: Sequence[Point]) -> bool:
    """Whether no two sides of the closed polygon touch, other than neighbours at their shared end.

    Sides are swept from left to right, so only those whose spans in x overlap are compared. A side
    that folds straight back on its neighbour counts as touching. Fewer than three points: False.
    """
    n = len(polygon)
    if n < 3:
        return False
    sides = sorted((min(p.x, q.x), max(p.x, q.x), i) for i, (p, q) in enumerate(_sides(polygon)))
    active: list[tuple[float, int]] = []
    for left, right, i in sides:
        active = [(r, j) for r, j in active if r >= left]
        p, q = polygon[i], polygon[(i + 1) % n]
        for _, j in active:
            a, b = polygon[j], polygon[(j + 1) % n]
            if (i + 1) % n == j or (j + 1) % n == i:
                if _folds_back(polygon, min(i, j) if abs(i - j) == 1 else n - 1):
                    return False
            elif sides_touch(p, q, a, b):
                return False
        active.append((right, i))
    return True


def _sides(polygon: Sequence[Point]) -> list[tuple[Point, Point]]:
    return list(zip(polygon, (*polygon[1:], polygon[0]), strict=True))


def _folds_back(polygon: Sequence[Point], i: int) -> bool:
    n = len(polygon)
    u = polygon[(i + 1) % n] - polygon[i]
    v = polygon[(i + 2) % n] - polygon[(i + 1) % n]
    return abs(u.cross(v)) <= 1e-9 * u.length * v.length and u.dot(v) < 0


def sides_touch(p: Point, q: Point, a: Point, b: Point) -> bool:
    """Whether the closed line segments pq and ab share a point."""
    if max(a.y, b.y) < min(p.y, q.y) or min(a.y, b.y) > max(p.y, q.y):
        return False
    if max(a.x, b.x) < min(p.x, q.x) or min(a.x, b.x) > max(p.x, q.x):
        return False
    along, other = q - p, b - a
    d1, d2 = along.cross(a - p), along.cross(b - p)
    d3, d4 = other.cross(p - a), other.cross(q - a)
    return d1 * d2 <= 0 and d3 * d4 <= 0


def holds_point(polygon: Sequence[Point], p: Point, slack: float = 0.0) -> bool:
    """Whether `p` lies inside, or outside by no more than `slack` mm."""
    inside = False
    nearest = float("inf")
    for a, b in _sides(polygon):
        if (a.y > p.y) != (b.y > p.y):
            if p.x < a.x + (p.y - a.y) * (b.x - a.x) / (b.y - a.y):
                inside = not inside
        if slack:
            nearest = min(nearest, distance_to_side(p, a, b))
    return inside or (slack > 0 and nearest <= slack)


def distance_to_side(p: Point, a: Point, b: Point) -> float:
    """mm from `p` to the closed line segment ab; to the point when a and b are one."""
    along = b - a
    squared = along.dot(along)
    if squared == 0:
        return p.distance(a)
    t = max(0.0, min(1.0, (p - a).dot(along) / squared))
    return p.distance(a + along * t)


def holds_polygon(outer: Sequence[Point], inner: Sequence[Point], slack: float = 1e-3) -> bool:
    """Whether `inner` lies within `outer`; they may share boundary, or cross by `slack` mm."""
    if not all(holds_point(outer, p, slack) for p in inner):
        return False
    return all(
        distance_to_boundary(inner, p) <= slack or not holds_point(inner, p) for p in outer
    )


def distance_to_boundary(polygon: Sequence[Point], p: Point) -> float:
    """mm from `p` to the nearest side."""
    return min(distance_to_side(p, a, b) for a, b in _sides(polygon))
