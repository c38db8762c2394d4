"""Plain polygons as arrays of corners: area, cleaning, hull, and where an outline meets itself.

Arrays have shape (n, 2), millimetres, without a repeated last corner. Nothing in here knows of cloth.
What the engine does corner by corner it does on pairs of numbers, which is quicker than on rows.
"""

import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]
Corner = tuple[float, float]


def signed_area(points: Points) -> float:
    """Area in mm², positive when the corners run from +x towards +y (the shoelace formula)."""
    x, y = (points - points[0]).T
    return float(0.5 * (np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))))


def turns(points: Points) -> NDArray[np.float64]:
    """Cross product of the edges before and after each corner, mm²: positive at a convex corner
    of a polygon of positive area."""
    before = points - np.roll(points, 1, axis=0)
    after = np.roll(points, -1, axis=0) - points
    return before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]


def turn(a: Corner, b: Corner, c: Corner) -> float:
    """The same for one corner b, between a and c."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def cleaned(points: Points) -> Points:
    """The same outline without repeated corners, corners in the middle of a straight edge, and
    spikes of no width. May have fewer than three corners when there was no area to begin with.
    """
    size = float(np.ptp(points, axis=0).max()) if len(points) else 0.0
    near = 1e-9 * size
    while len(points) >= 3:
        step = points - np.roll(points, 1, axis=0)
        length = np.hypot(step[:, 0], step[:, 1])
        keep = length > near
        if keep.all():
            longer = np.maximum(length, np.roll(length, -1))
            keep = np.abs(turns(points)) > near * longer
            if keep.all():
                return points
            # Neighbours may be collinear only because of each other: drop every other one.
            dropped = np.flatnonzero(~keep)
            keep[dropped[1:][np.diff(dropped) == 1]] = True
        points = points[keep]
    return points


def counter_clockwise(points: Points) -> Points:
    """The corners in the order that makes the area positive."""
    return points if signed_area(points) >= 0 else points[::-1].copy()


def convex_hull(points: Points) -> Points:
    """Corners of the hull, counter-clockwise (Andrew 1979, the monotone chain)."""
    ordered = sorted(map(tuple, points.tolist()))
    chains = []
    for line in (ordered, ordered[::-1]):
        chain: list[Corner] = []
        for point in line:
            while len(chain) > 1 and turn(chain[-2], chain[-1], point) <= 0:
                chain.pop()
            chain.append(point)
        chains.append(chain[:-1])
    return np.array(chains[0] + chains[1])


def self_contact(points: Points) -> tuple[float, float] | None:
    """A point where two edges that are not neighbours meet, or None for a simple polygon.

    Touching counts as meeting: a ring that touches itself has no clear inside.
    """
    count = len(points)
    start, end = points, np.roll(points, -1, axis=0)
    low, high = np.minimum(start, end), np.maximum(start, end)
    for i in range(count - 2):
        others = np.arange(i + 2, count - 1 if i == 0 else count)
        near = (
            (low[others] <= high[i]).all(axis=1) & (high[others] >= low[i]).all(axis=1)
        )
        others = others[near]
        if not len(others):
            continue
        a, b = start[i], end[i]
        c, d = start[others], end[others]
        side_c, side_d = _side(a, b, c), _side(a, b, d)
        side_a, side_b = _side(c, d, a), _side(c, d, b)
        meets = (side_c * side_d <= 0) & (side_a * side_b <= 0)
        if meets.any():
            k = int(np.argmax(meets))
            span = side_c[k] - side_d[k]
            share = side_c[k] / span if span else 0.0
            where = c[k] + share * (d[k] - c[k])
            return float(where[0]), float(where[1])
    return None


def _side(a: Points, b: Points, p: Points) -> NDArray[np.float64]:
    """Sign of the turn a → b → p; broadcasts over rows."""
    return np.asarray(
        np.sign(
            (b[..., 0] - a[..., 0]) * (p[..., 1] - a[..., 1])
            - (b[..., 1] - a[..., 1]) * (p[..., 0] - a[..., 0])
        )
    )


def exact_cos_sin(degrees: float) -> tuple[float, float]:
    """Cosine and sine, without rounding at multiples of 90°."""
    quarter, rest = divmod(degrees % 360.0, 90.0)
    if rest == 0.0:
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarter)]
    angle = np.deg2rad(degrees % 360.0)
    return float(np.cos(angle)), float(np.sin(angle))


def rotated(points: Points, degrees: float) -> Points:
    """Turned about the origin, from +x towards +y."""
    cos, sin = exact_cos_sin(degrees)
    x, y = points.T
    return np.column_stack((cos * x - sin * y, sin * x + cos * y))
