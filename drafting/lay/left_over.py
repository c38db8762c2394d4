"""What is left of a cloth: its largest rectangles along the grain, for the next thing to cut.

Source: the largest rectangle under a histogram with a stack, from memory: Morgan 1990, "Programming from
Specifications", chapter 21; row by row over a grid of whole cells that nothing touches.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

import numpy as np
from numpy.typing import NDArray

from .convex import convex_parts
from .corners import Points, cleaned, counter_clockwise
from .layout import Layout
from .remnants import Filled

MOST_CELLS, LEAST_CELL = 40_000, 5.0
"""Of the grid, and mm that a cell is wide at least: how far a rectangle may be short of the largest."""

WORTH_KEEPING = 100.0
"""mm of its shorter side that a piece of cloth is worth folding away for. common practice, no source."""

AT_MOST = 5


@dataclass(frozen=True)
class Rectangle:
    """x and `length` run along the grain, y and `width` across it, mm."""

    x: float
    y: float
    length: float
    width: float


def left_of(filled: Filled) -> list[tuple[Rectangle, list[list[float]]]]:
    """What a remnant has left: the rectangles in its box, and their corners on the cloth."""
    taken = [*filled.remnant.closed_off, *(np.array(outline) for outline in filled.seen)]
    found = []
    for it in left_over(filled.remnant.size, taken):
        corners = np.array([(it.x, it.y), (it.x + it.length, it.y), (it.x + it.length, it.y + it.width),
                            (it.x, it.y + it.width)])
        found.append((it, np.round(filled.remnant.outwards(corners), 3).tolist()))
    return found


def left_of_strip(length: float, layout: Layout) -> tuple[Rectangle, ...]:
    """What a lay along y leaves of `length` mm of its strip."""
    taken = [np.array(placed.outline)[:, ::-1] for placed in layout.placements]
    return left_over((length, layout.width), taken)


def left_over(
    size: tuple[float, float], taken: Sequence[Points], least: float = WORTH_KEEPING
) -> tuple[Rectangle, ...]:
    """The largest rectangles of a box that the simple polygons `taken` leave, largest first; none meets
    another, and none is narrower than `least` mm."""
    cell = max(LEAST_CELL, float(np.sqrt(size[0] * size[1] / MOST_CELLS)))
    free = np.ones((int(size[0] / cell + 1e-6), int(size[1] / cell + 1e-6)), dtype=bool)
    for ring in taken:
        for part in convex_parts(counter_clockwise(cleaned(ring))):
            _close(free, part, cell)
    found: list[Rectangle] = []
    while len(found) < AT_MOST:
        a, b, c, d = _largest(free, ceil(least / cell - 1e-6))
        if a == c:
            break
        free[a:c, b:d] = False
        found.append(Rectangle(a * cell, b * cell, (c - a) * cell, (d - b) * cell))
    return tuple(found)


def _close(free: NDArray[np.bool_], part: Points, cell: float) -> None:
    """Every cell that a convex polygon enters, and some beside its slanting sides."""
    columns, rows = free.shape
    first = max(int(part[:, 0].min() / cell + 1e-9), 0)
    last = min(ceil(part[:, 0].max() / cell - 1e-9), columns)
    for k in range(first, last):
        low, high = _reach(part, k * cell, (k + 1) * cell)
        if low < high:
            free[k, max(int(low / cell + 1e-9), 0) : max(ceil(high / cell - 1e-9), 0)] = False


def _reach(part: Points, left: float, right: float) -> tuple[float, float]:
    """From where to where across a convex polygon reaches between two lines across."""
    within = part[(part[:, 0] >= left) & (part[:, 0] <= right), 1].tolist()
    for (ax, ay), (bx, by) in zip(part.tolist(), np.roll(part, -1, axis=0).tolist(), strict=True):
        within += [ay + (by - ay) * (x - ax) / (bx - ax) for x in (left, right)
                   if min(ax, bx) < x < max(ax, bx)]
    return (min(within), max(within)) if within else (0.0, 0.0)


def _largest(free: NDArray[np.bool_], least: int) -> tuple[int, int, int, int]:
    """First and end, along and across, of the largest free rectangle whose sides are at least so long."""
    columns, rows = free.shape
    deep = np.zeros(rows, dtype=int)
    best, found = 0, (0, 0, 0, 0)
    for k in range(columns):
        deep = np.where(free[k], deep + 1, 0)
        stack: list[tuple[int, int]] = []
        for m, height in enumerate([*deep.tolist(), 0]):
            start = m
            while stack and stack[-1][1] >= height:
                start, tall = stack.pop()
                if tall >= least and m - start >= least and tall * (m - start) > best:
                    best, found = tall * (m - start), (k + 1 - tall, start, k + 1, m)
            stack.append((start, height))
    return found
