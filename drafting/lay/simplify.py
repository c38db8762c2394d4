"""Fewer corners for a curved outline, never giving up any of the piece.

A curve flattened into many short edges makes every later step slow. Here the polygon may only
grow, so whatever is laid without overlap for the simpler outline is so for the true one.

Source: Gardeyn & Wauters 2025, "An open-source heuristic to reboot 2D nesting research"
(polygon simplification as preprocessing), which removes corners the same two ways.
"""

from heapq import heapify, heappop, heappush
from itertools import pairwise
from math import hypot, inf

import numpy as np

from ..geometry.polygon import nearest
from .corners import Corner, Points, convex_hull, turn


def outer_simplified(
    points: Points, tolerance: float, directions: Points, most_corners: int
) -> Points:
    """A polygon that contains `points` (simple, counter-clockwise) and reaches at most `tolerance`
    mm beyond it, or further only as far as needed to have no more than `most_corners`.

    Two steps are repeated, cheapest first: a reflex corner is cut off by the chord between its
    neighbours; an edge between two convex corners is dropped by prolonging its neighbours until they
    meet. The extent along each row of `directions` (unit vectors) does not grow, so a piece that fits
    a width still fits it. Steps that would make the outline touch itself are left out; when that
    leaves too many corners by far, the result is the convex hull.
    """
    ring = _Ring(points, directions)
    steps = [step for corner in range(len(points)) if (step := ring.step_at(corner))]
    heapify(steps)
    while steps and ring.count > 3:
        cost, corner, stamp = heappop(steps)
        if cost > tolerance and ring.count <= most_corners:
            break
        if stamp == ring.stamp[corner]:
            for changed in ring.take(corner):
                step = ring.step_at(changed)
                if step:
                    heappush(steps, step)
    return ring.points() if ring.count <= 2 * most_corners else convex_hull(points)


class _Ring:
    """The outline as a ring of corners, each edge with the original corners it stands for."""

    def __init__(self, points: Points, directions: Points) -> None:
        n = len(points)
        self.at: list[Corner] = [(float(x), float(y)) for x, y in points]
        self.before = [k - 1 if k else n - 1 for k in range(n)]
        self.after = [(k + 1) % n for k in range(n)]
        self.covers = [[self.at[k], self.at[(k + 1) % n]] for k in range(n)]
        self.stamp = [0] * n
        self.count = n
        self._alive = np.ones(n, dtype=bool)
        self._start, self._end = points.copy(), np.roll(points, -1, axis=0)
        self._directions = directions
        self._extents = (points @ directions.T).max(axis=0) + 1e-9

    def points(self) -> Points:
        return np.asarray(self._start[self._alive])

    def step_at(self, k: int) -> tuple[float, int, int] | None:
        """What simplifying at corner k costs, mm beyond the original, with k and its stamp."""
        a, b, c = self.at[self.before[k]], self.at[k], self.at[self.after[k]]
        if turn(a, b, c) <= 0:
            cost = max(
                _distance_to_line(p, a, c) for p in self.covers[self.before[k]] + self.covers[k]
            )
        else:
            meeting = self._meeting(k)
            if meeting is None:
                return None
            cost, _, _ = nearest(((*p, *q) for p, q in pairwise(self.covers[k])), *meeting)
        return (cost, k, self.stamp[k]) if cost < inf else None

    def take(self, k: int) -> list[int]:
        """Simplify at corner k unless something is in the way; the corners to look at anew."""
        before, after = self.before[k], self.after[k]
        a, b, c = self.at[before], self.at[k], self.at[after]
        if turn(a, b, c) <= 0:
            if self._touched([before, k, after], (a, b, c)):
                return []
            self.covers[before] = self.covers[before] + self.covers[k][1:]
            self._drop(k)
        else:
            meeting = self._meeting(k)
            if (
                meeting is None
                or (self._directions @ meeting > self._extents).any()
                or self._touched([k, after], (b, c, meeting))
            ):
                return []
            covered = self.covers[k]
            half = (len(covered) + 1) // 2
            self.covers[before] = self.covers[before] + covered[1:half]
            self.covers[after] = covered[half - 1 : -1] + self.covers[after]
            self.at[after] = meeting
            self._start[after] = meeting
            self._drop(k)
        near = [self.before[before], before, after, self.after[after]]
        near.insert(0, self.before[near[0]])
        for corner in near:
            self.stamp[corner] += 1
        return list(dict.fromkeys(near))

    def _drop(self, k: int) -> None:
        before, after = self.before[k], self.after[k]
        self.after[before], self.before[after] = after, before
        self._end[before] = self.at[after]
        self._alive[k] = False
        self.stamp[k] += 1
        self.count -= 1

    def _meeting(self, k: int) -> Corner | None:
        """Where the neighbours of the edge from k on meet beyond it, if they do."""
        a, b = self.at[self.before[k]], self.at[k]
        c, d = self.at[self.after[k]], self.at[self.after[self.after[k]]]
        if turn(a, b, c) <= 0 or turn(b, c, d) <= 0:
            return None
        ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]
        across = ux * vy - uy * vx
        if across <= 1e-9 * hypot(ux, uy) * hypot(vx, vy):
            return None
        along = ((c[0] - b[0]) * vy - (c[1] - b[1]) * vx) / across
        return b[0] + along * ux, b[1] + along * uy

    def _touched(self, own: list[int], triangle: tuple[Corner, Corner, Corner]) -> bool:
        """Whether any part of the outline but the corners `own` and their edges meets the
        triangle."""
        xs, ys = zip(*triangle, strict=True)
        low, high = (min(xs), min(ys)), (max(xs), max(ys))
        start, end = self._start, self._end
        near = (
            self._alive
            & (np.maximum(start[:, 0], end[:, 0]) >= low[0])
            & (np.minimum(start[:, 0], end[:, 0]) <= high[0])
            & (np.maximum(start[:, 1], end[:, 1]) >= low[1])
            & (np.minimum(start[:, 1], end[:, 1]) <= high[1])
        )
        a, b, c = triangle
        if turn(a, b, c) < 0:
            b, c = c, b
        for k in np.flatnonzero(near).tolist():
            p, q = self.at[k], self.at[self.after[k]]
            if k not in own and all(turn(s, e, p) >= 0 for s, e in ((a, b), (b, c), (c, a))):
                return True
            if k in own or self.after[k] in own:
                continue
            beyond = any(
                turn(s, e, p) < 0 and turn(s, e, q) < 0 for s, e in ((a, b), (b, c), (c, a))
            )
            sides = [turn(p, q, corner) for corner in (a, b, c)]
            if not (beyond or min(sides) > 0 or max(sides) < 0):
                return True
        return False


def _distance_to_line(p: Corner, a: Corner, b: Corner) -> float:
    length = hypot(b[0] - a[0], b[1] - a[1])
    return abs(turn(a, b, p)) / length if length else inf
