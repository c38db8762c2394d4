"""Pulling overlapping pieces apart inside a strip of fixed length: guided local search on a grid.

One piece at a time goes to the grid place, in the pose, where its weighted overlap with the others
is least over the whole strip. Pairs that go on overlapping weigh more and more.

Sources: Egeblad, Nielsen & Odgaard 2007, "Fast neighborhood search for two- and three-dimensional
nesting problems", EJOR 183:1249; Umetani et al. 2009, ITOR 16:661; Sato et al. 2019, EJOR 279:657
(on a grid of penetration depths); the weights: Gardeyn & Wauters 2025, "An open-source heuristic to
reboot 2D nesting research", section 6.
"""

from collections.abc import Iterator, Sequence
from random import Random

import numpy as np
from numpy.typing import NDArray

from .penetration import DepthMaps

HEAVIER_LEAST, HEAVIER_MOST, LIGHTER = 1.2, 2.0, 0.95
HEAVIEST = 1e12

MOST_POSES = 8
"""Poses tried at a time for a piece that may lie in more."""


class Separator:
    """Pieces on a grid, each at a whole number of steps, and how much they overlap.

    forms: for each piece the forms it may take. folded: which pieces stay at the far edge. Depths and
    overlaps are in grid steps.
    """

    def __init__(
        self, maps: DepthMaps, forms: Sequence[tuple[int, ...]], width: float, random: Random,
        folded: Sequence[bool],
    ) -> None:
        self.maps = maps
        self.choices = [tuple(choice) for choice in forms]
        self.width = width
        self.random = random
        self.count = len(forms)
        self.form = [choice[0] for choice in forms]
        self.x = [0] * self.count
        self.y = [0] * self.count
        self.overlap: NDArray[np.float32] = np.zeros((self.count, self.count), dtype=np.float32)
        self._weights: NDArray[np.float64] = np.ones((self.count, self.count))
        self._weight_rows = self._weights.tolist()
        self._along: dict[int, tuple[int, int]] = {}
        self._across: tuple[dict[int, tuple[int, int]], dict[int, tuple[int, int]]] = {}, {}
        self._folded = [int(each) for each in folded]
        self._field = np.empty(0, dtype=np.float32)

    def resize(self, length: float) -> None:
        """Give the strip this length, mm; pieces that stick out are pushed in.

        Each piece must fit in some pose.
        """
        sizes = self.maps.nofits.forms
        for form in {form for choice in self.choices for form in choice}:
            long, high = sizes[form].size
            self._along[form] = self.maps.span(long, length)
            self._across[0][form] = self.maps.span(high, self.width)
            self._across[1][form] = self.maps.at_far_edge(high, self.width)
        most = max(self._along[form][1] * self._across[0][form][1] for form in self._along)
        if most > len(self._field):
            self._field = np.empty(most, dtype=np.float32)
        for i in range(self.count):
            if not self._along[self.form[i]][1]:
                self.form[i] = min(self.choices[i], key=lambda form: sizes[form].size[0])
            self.x[i] = _within(self.x[i], self._along[self.form[i]])
            self.y[i] = _within(self.y[i], self._across[self._folded[i]][self.form[i]])
        self.measure()

    def place(self, forms: Sequence[int], corners: NDArray[np.float64]) -> None:
        """Put every piece at the grid place nearest to where its corner is wanted, mm."""
        self.form = list(forms)
        near = np.rint((corners + self._half_sizes()) / self.maps.step).astype(int)
        self.x, self.y = near[:, 0].tolist(), near[:, 1].tolist()

    def corners(self) -> NDArray[np.float64]:
        """Where the pieces' corners lie, mm, shape (n, 2)."""
        return np.column_stack((self.x, self.y)) * self.maps.step - self._half_sizes()

    def _half_sizes(self) -> NDArray[np.float64]:
        return np.array([self.maps.nofits.forms[form].size for form in self.form]) / 2

    def measure(self) -> None:
        """Work out every pair's overlap anew."""
        for i in range(self.count):
            self._measure_row(i)

    def total(self) -> float:
        """Sum of the overlaps of all pairs, steps."""
        return float(self.overlap.sum()) / 2

    def forget(self) -> None:
        """Weigh all pairs alike again."""
        self._weights.fill(1.0)
        self._weight_rows = self._weights.tolist()

    def sweep(self) -> Iterator[int]:
        """Move each piece that overlaps another once, in random order; yields after each."""
        turn = np.flatnonzero(self.overlap.any(axis=1)).tolist()
        self.random.shuffle(turn)
        for i in turn:
            if self.overlap[i].any():
                self.relocate(i)
                yield i

    def reweigh(self) -> None:
        """Make the pairs that overlap heavier, by how much they do, and let the others fade."""
        worst = float(self.overlap.max())
        if worst > 0:
            span = HEAVIER_MOST - HEAVIER_LEAST
            factor = np.where(
                self.overlap > 0, HEAVIER_LEAST + span * (self.overlap / worst), LIGHTER
            )
            self._weights *= factor
            if self._weights.max() > HEAVIEST:
                self._weights *= 1.0 / HEAVIEST
            np.maximum(self._weights, 1.0, out=self._weights)
            self._weight_rows = self._weights.tolist()

    def relocate(self, i: int) -> None:
        """Move piece i to the place and pose of least weighted overlap."""
        best = np.inf
        x, y, form = self.x, self.y, self.form
        weight = self._weight_rows[i]
        found = form[i], x[i], y[i]
        others = [j for j in range(self.count) if j != i]
        poses, across = self.choices[i], self._across[self._folded[i]]
        if len(poses) > MOST_POSES:
            poses = (form[i], *self.random.sample(poses, MOST_POSES - 1))
        for mine in poses:
            (first_x, columns), (first_y, rows) = self._along[mine], across[mine]
            if not columns:
                continue
            field = self._field[: columns * rows].reshape(columns, rows)
            field.fill(0.0)
            near = self.maps.made[mine]
            for j in others:
                depth, ox, oy, wide, tall = near[form[j]] or self.maps.of(mine, form[j])
                left, low = x[j] - ox - first_x, y[j] - oy - first_y
                right, high = left + wide, low + tall
                if right <= 0 or high <= 0 or left >= columns or low >= rows:
                    continue
                a, b = max(left, 0), max(low, 0)
                part = depth[a - left : columns - left, b - low : rows - low]
                here = field[a:right, b:high]
                if weight[j] == 1.0:
                    here += part
                else:
                    here += part * weight[j]
            at = int(field.argmin())
            value = float(field.flat[at])
            if value < best:
                best = value
                found = mine, first_x + at // rows, first_y + at % rows
                if value == 0.0:
                    break
        form[i], x[i], y[i] = found
        self._measure_row(i)

    def _measure_row(self, i: int) -> None:
        near, x, y = self.maps.made[self.form[i]], self.x[i], self.y[i]
        row = [0.0] * self.count
        for j, (other, other_x, other_y) in enumerate(zip(self.form, self.x, self.y, strict=True)):
            depth, ox, oy, wide, tall = near[other] or self.maps.of(self.form[i], other)
            k, m = x - other_x + ox, y - other_y + oy
            if 0 <= k < wide and 0 <= m < tall:
                row[j] = depth.item(k, m)
        row[i] = 0.0
        self.overlap[i] = row
        self.overlap[:, i] = row


def _within(place: int, span: tuple[int, int]) -> int:
    first, count = span
    return min(max(place, first), first + max(count, 1) - 1)
