"""A symmetric matrix of a mesh, taken apart once and solved many times, block by block.

Points are put in levels by how many steps of the matrix's own neighbours they are from a point at its rim
(source: Cuthill & McKee 1969, "Reducing the bandwidth of sparse symmetric matrices"). A level touches only
itself and the levels next to it, so the matrix is block tridiagonal and is eliminated a block at a time
(source: Golub & Van Loan, Matrix Computations, "Block tridiagonal systems"): of 2,000 points in levels of 80
that is a hundredth of the work of an inverse.
"""

from collections.abc import Iterable
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from .sections import Floats, Ints

SMALLEST_BLOCK = 40
"""Points: smaller levels are put together, as each block costs three calls."""


class Entries(NamedTuple):
    """A matrix as values at rows and columns; those at the same place add up."""

    rows: Ints
    columns: Ints
    values: Floats


def joined(several: Iterable[Entries]) -> Entries:
    return Entries(*map(np.concatenate, zip(*several, strict=True)))


class Factored:
    """A symmetric positive definite matrix of `count` rows, ready to be solved."""

    def __init__(self, count: int, entries: Entries) -> None:
        block = _blocks(_levels(count, entries.rows, entries.columns))
        self._order = np.argsort(block, kind="stable")
        sizes = np.bincount(block)
        ends = np.cumsum(sizes)
        self._parts = [slice(int(a), int(b)) for a, b in zip(ends - sizes, ends, strict=True)]
        self._inverses, self._shares = _eliminated(entries, block, self._order, sizes)

    def solve(self, right: Floats) -> Floats:
        """What the matrix makes `right` (count × 3) of, to about seven digits."""
        y = right[self._order].astype(np.float32)
        parts, shares = self._parts, self._shares
        for k in range(1, len(parts)):
            y[parts[k]] -= shares[k] @ y[parts[k - 1]]
        for k in range(len(parts) - 1, -1, -1):
            y[parts[k]] = self._inverses[k] @ y[parts[k]]
            if k + 1 < len(parts):
                y[parts[k]] -= shares[k + 1].T @ y[parts[k + 1]]
        found = np.empty_like(right)
        found[self._order] = y
        return found


def _levels(count: int, rows: Ints, columns: Ints) -> Ints:
    """For each point how many steps it is from one at the rim; parts that are not joined come after each
    other."""
    level = np.full(count, -1)
    first = 0
    while (level < 0).any():
        rim = int(np.flatnonzero(level < 0)[0])
        for _ in range(2):
            steps = _steps_from(rim, count, rows, columns)
            rim = int(np.argmax(steps))
        reached = steps >= 0
        level[reached] = first + steps[reached]
        first = int(level.max()) + 1
    return level


def _steps_from(start: int, count: int, rows: Ints, columns: Ints) -> Ints:
    """−1 where there is no way from there."""
    found = np.full(count, -1)
    front = np.zeros(count, bool)
    front[start] = True
    step = 0
    while front.any():
        found[front] = step
        touched = np.zeros(count, bool)
        touched[columns[front[rows]]] = True
        front = touched & (found < 0)
        step += 1
    return found


def _blocks(level: Ints) -> Ints:
    """Levels put together until none but the last has too few points."""
    sizes = np.bincount(level)
    block, current, held = np.empty(len(sizes), np.intp), 0, 0
    for k, size in enumerate(sizes):
        if held >= SMALLEST_BLOCK:
            current, held = current + 1, 0
        block[k] = current
        held += int(size)
    return np.asarray(block[level])


def _eliminated(entries: Entries, block: Ints, order: Ints, sizes: Ints
                ) -> tuple[list[Floats], list[Floats]]:
    """For each block the inverse of what is left of it after those before, and what it takes of the one
    before."""
    place = np.empty(len(order), np.intp)
    place[order] = np.arange(len(order)) - np.repeat(np.cumsum(sizes) - sizes, sizes)
    rows, columns, values = entries
    of, to = block[rows], block[columns]
    own = _dense(of == to, of, place[rows] * sizes[of] + place[columns], values, sizes * sizes)
    before = np.concatenate([[0], sizes[:-1]])
    lower = _dense(of == to + 1, of, place[rows] * before[of] + place[columns], values, sizes * before)
    inverses: list[Floats] = []
    shares: list[Floats] = []
    for k, size in enumerate(sizes):
        left = own[k].reshape(size, size)
        share = lower[k].reshape(size, before[k])
        if k:
            taken = share @ inverses[-1]
            left = left - taken @ share.T
            share = taken
        inverses.append(np.linalg.inv(left))
        shares.append(share)
    return [one.astype(np.float32) for one in inverses], [one.astype(np.float32) for one in shares]


def _dense(which: NDArray[np.bool_], of: Ints, at: Ints, values: Floats, room: Ints) -> list[Floats]:
    """The values `at` places of the block they are `of`, each block with so much room."""
    ends = np.cumsum(room)
    places = ((ends - room)[of[which]] + at[which]).astype(np.intp)  # as wide as the machine counts by
    flat = np.bincount(places, values[which], int(ends[-1]))
    return np.split(flat, ends[:-1])
