"""Delaunay's triangles of points in the plane, one point after another.

source: Bowyer 1981 and Watson 1981, The Computer Journal 24(2): a new point does away with the triangles
whose circumcircles hold it, and is joined to the border of the hollow they leave.
"""

import numpy as np
from numpy.typing import NDArray

from .sections import Floats, Ints

JITTER = 1e-5
"""Of the points' extent: what keeps four points on one circle from being a tie."""

GOLDEN = 0.6180339887498949


def triangles(points: Floats) -> Ints:
    """Corners of each triangle, n × 3, turning from +x towards +y. Needs three points not in one line."""
    n = len(points)
    low, high = points.min(0), points.max(0)
    size = float((high - low).max())
    shaken = points + JITTER * size * _scattered(points.shape)
    middle, far = (low + high) / 2, 30 * size
    frame = middle + far * np.array([[-1.0, -1.0], [1.0, -1.0], [0.0, 1.2]])
    xy = np.concatenate([shaken, frame])
    corners = np.zeros((8 * n + 16, 3), np.int64)
    circles = np.zeros((8 * n + 16, 3))
    alive = np.zeros(8 * n + 16, bool)
    corners[0], alive[0] = (n, n + 1, n + 2), True
    circles[:1] = _circles(xy, corners[:1])
    used = 1
    for i in range(n):
        p = xy[i]
        near = np.square(circles[:used, :2] - p).sum(1) < circles[:used, 2]
        bad = np.flatnonzero(near & alive[:used])
        hollow = corners[bad]
        edges = np.concatenate([hollow[:, (0, 1)], hollow[:, (1, 2)], hollow[:, (2, 0)]])
        keys = edges[:, 0] * (n + 3) + edges[:, 1]
        border = edges[~np.isin(keys, edges[:, 1] * (n + 3) + edges[:, 0])]
        alive[bad] = False
        made = np.column_stack([border, np.full(len(border), i)])
        slots = np.concatenate([bad, np.arange(used, used + max(0, len(made) - len(bad)))])[:len(made)]
        corners[slots], alive[slots] = made, True
        circles[slots] = _circles(xy, made)
        used = max(used, int(slots.max()) + 1)
    found = corners[:used][alive[:used]]
    return np.asarray(found[(found < n).all(1)])


def _scattered(shape: tuple[int, ...]) -> Floats:
    """Numbers from -1 to 1, the same each time; the page has no numpy.random.

    source: Weyl 1916: the multiples of an irrational number, here the golden section's, less whole ones.
    """
    count = shape[0] * shape[1]
    found: Floats = (2 * np.modf(GOLDEN * np.arange(1, count + 1))[0] - 1).reshape(shape)
    return found


def _circles(xy: Floats, corners: Ints) -> Floats:
    """Centre and squared radius of the circles through each triangle's corners."""
    a, b, c = (xy[corners[:, k]] for k in range(3))
    u, v = b - a, c - a
    d = 2 * (u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0])
    d = np.where(np.abs(d) < 1e-12, 1e-12, d)
    uu, vv = (u * u).sum(1), (v * v).sum(1)
    off = np.stack([v[:, 1] * uu - u[:, 1] * vv, u[:, 0] * vv - v[:, 0] * uu], 1) / d[:, None]
    return np.concatenate([a + off, (off * off).sum(1)[:, None]], 1)


def inside(points: Floats, polygon: Floats) -> NDArray[np.bool_]:
    """Which points lie in the polygon: a ray from each crosses its border an odd number of times."""
    found = np.zeros(len(points), bool)
    a, b = polygon, np.roll(polygon, -1, 0)
    for (ax, ay), (bx, by) in zip(a, b, strict=True):
        if ay == by:
            continue
        over = (ay > points[:, 1]) != (by > points[:, 1])
        found ^= over & (points[:, 0] < ax + (points[:, 1] - ay) * (bx - ax) / (by - ay))
    return found
