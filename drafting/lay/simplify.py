"""Fewer corners for a curved outline, never giving up any of the piece.

A curve flattened into many short edges makes every later step slow. Here the polygon may only
grow, so whatever is laid without overlap for the simpler outline is so for the true one.

Source: Gardeyn & Wauters 2025, "An open-source heuristic to reboot 2D nesting research"
(polygon simplification as preprocessing), which removes corners the same two ways.
"""

import numpy as np
from numpy.typing import NDArray

from .polygon import Points, turns


def outer_simplified(points: Points, tolerance: float, directions: Points) -> Points:
    """A polygon that contains `points` (simple, counter-clockwise) and reaches at most about
    `tolerance` mm beyond it.

    Two steps are repeated, cheapest first: a reflex corner is cut off by the chord between its
    neighbours; an edge between two convex corners is dropped by prolonging its neighbours until they
    meet. The extent along each row of `directions` (unit vectors) does not grow, so a piece that fits
    a width still fits it.
    """
    points = points.copy()
    spent = np.zeros(len(points))
    extents = (points @ directions.T).max(axis=0) + 1e-9
    refused: set[tuple[float, float]] = set()
    while len(points) > 3:
        cost, corner = _cheapest_steps(points, spent)
        order = np.argsort(cost, kind="stable")
        done = False
        for k in order:
            if cost[k] > tolerance:
                break
            before, after = (k - 1) % len(points), (k + 1) % len(points)
            key = (points[k][0], points[k][1])
            if key in refused:
                continue
            chord = bool(np.isnan(corner[k, 0]))
            own = [before, k, after] if chord else [k, after]
            triangle = points[own] if chord else np.vstack((points[own], corner[k]))
            if (not chord and (corner[k] @ directions.T > extents).any()) or _touched_by_others(
                points, own, triangle
            ):
                refused.add(key)
                continue
            if chord:
                spent[before] = cost[k]
                gone = k
            else:
                points[k] = corner[k]
                spent[before] = max(spent[before], cost[k])
                spent[k] = max(spent[after], cost[k])
                gone = after
            points, spent = np.delete(points, gone, axis=0), np.delete(spent, gone)
            done = True
            break
        if not done:
            break
    return points


def _cheapest_steps(
    points: Points, spent: NDArray[np.float64]
) -> tuple[NDArray[np.float64], Points]:
    """For each corner k, how far the outline would grow by the step at k, and the new corner.

    The new corner is NaN where the step just cuts off the reflex corner k; else it replaces the
    corners k and k + 1. Infinite where neither step applies. `spent[k]` is the growth already in
    edge k → k + 1.
    """
    turn = turns(points)
    before, after, beyond = (np.roll(points, s, axis=0) for s in (1, -1, -2))
    chord = after - before
    length = np.hypot(chord[:, 0], chord[:, 1])
    cost = np.full(len(points), np.inf)
    corner = np.full_like(points, np.nan)

    reflex = turn <= 0
    with np.errstate(divide="ignore", invalid="ignore"):
        height = np.abs(turn) / length
        grown = height + np.maximum(np.roll(spent, 1), spent)
        cost[reflex] = np.where(length > 0, grown, np.inf)[reflex]

        incoming, edge, outgoing = points - before, after - points, beyond - after
        denominator = incoming[:, 0] * outgoing[:, 1] - incoming[:, 1] * outgoing[:, 0]
        convex = (turn > 0) & (np.roll(turn, -1) > 0) & (denominator > 0)
        along = (edge[:, 0] * outgoing[:, 1] - edge[:, 1] * outgoing[:, 0]) / denominator
        meeting = points + along[:, None] * incoming
        lift = np.abs(
            edge[:, 0] * (meeting - points)[:, 1] - edge[:, 1] * (meeting - points)[:, 0]
        ) / np.hypot(edge[:, 0], edge[:, 1])
    grown = lift + np.maximum(np.maximum(np.roll(spent, 1), spent), np.roll(spent, -1))
    cost[convex] = grown[convex]
    corner[convex] = meeting[convex]
    return np.where(np.isfinite(cost), cost, np.inf), corner


def _touched_by_others(points: Points, own: list[int], triangle: Points) -> bool:
    """Whether any part of the outline but the corners `own` and their edges meets the triangle."""
    n = len(points)
    a, b, c = triangle
    if (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]) < 0:
        b, c = c, b
    others = np.ones(n, dtype=bool)
    others[own] = False
    start, end = points, np.roll(points, -1, axis=0)
    inside = others.copy()
    low, high = triangle.min(axis=0), triangle.max(axis=0)
    clear = (np.maximum(start, end) < low).any(axis=1) | (np.minimum(start, end) > high).any(axis=1)
    for p, q in ((a, b), (b, c), (c, a)):
        outwards = np.array([q[1] - p[1], p[0] - q[0]])
        beyond_start, beyond_end = (start - p) @ outwards, (end - p) @ outwards
        clear |= (beyond_start > 0) & (beyond_end > 0)
        inside &= beyond_start <= 0
    across = np.column_stack((end[:, 1] - start[:, 1], start[:, 0] - end[:, 0]))
    sides = np.stack([((corner - start) * across).sum(axis=1) for corner in triangle])
    clear |= (sides > 0).all(axis=0) | (sides < 0).all(axis=0)
    edges = others & np.roll(others, -1)
    return bool(inside.any() or (edges & ~clear).any())
