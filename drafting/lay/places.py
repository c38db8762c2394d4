"""Where on several boards a form still has a place, however often pieces are laid down and taken up again.

For each board and form a grid tells how many of the pieces that lie there bar each place; what is laid down
adds one to what it bars, and what is taken up takes it away.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .nofit import NoFits
from .penetration import barred, span
from .store import Store

Counts = NDArray[np.uint8]
"""Of more than 255 pieces in the way of one the count begins anew; whoever lays it looks again in the end."""

Bars = tuple[Counts, int, int, int, int]
"""1 where a moving form would overlap one at rest, and as of a depth map where that is."""

MOST_CELLS = 60_000_000
"""Of the grids, and of what bars, kept at a time, a byte each."""

WAYS = 8
"""A place is sought from any of the four corners, along the grain or across it."""


@dataclass(frozen=True)
class Seat:
    """Where a copy lies: the board, the form, and its middle in steps."""

    board: int
    form: int
    x: int
    y: int


@dataclass(frozen=True, eq=False)
class _Grid:
    """`first` is the place of its first element, along and across."""

    counts: Counts
    first: tuple[int, int]


class Places:
    """`closed` are for each board the form of what nothing may lie on, and its middle in steps; `sizes` its
    extent along and across, mm."""

    def __init__(
        self, nofits: NoFits, step: float, closed: Sequence[tuple[int, tuple[int, int]]],
        sizes: Sequence[tuple[float, float]],
    ) -> None:
        self._nofits, self._step, self._sizes = nofits, step, sizes
        self._lying = [[Seat(k, form, *middle)] for k, (form, middle) in enumerate(closed)]
        self._grids: list[dict[int, _Grid]] = [{} for _ in closed]
        self._bars: Store[tuple[int, int], Bars] = Store(MOST_CELLS)
        self._held = 0
        self._before: dict[int, tuple[list[Seat], dict[int, Counts]]] = {}

    def lay(self, spot: Seat) -> None:
        self._count(spot, 1)
        self._lying[spot.board].append(spot)

    def take_up(self, spot: Seat) -> None:
        self._count(spot, -1)
        self._lying[spot.board].remove(spot)

    def mark(self) -> None:
        """What is done from now on can be undone."""
        self._before = {}

    def undo(self) -> None:
        """All is again as it was marked."""
        for board, (lying, counts) in self._before.items():
            self._lying[board] = lying
            for form, grid in list(self._grids[board].items()):
                if form in counts:
                    grid.counts[:] = counts[form]
                else:
                    del self._grids[board][form]
        self._before = {}

    def free(self, board: int, forms: Sequence[int], way: int) -> Seat | None:
        """The free place, of all these forms', that is nearest the corner and the side that `way` says."""
        across, far_x, far_y = way & 4, way & 1, way & 2
        best: tuple[float, float, Seat] | None = None
        for form in forms:
            grid = self._grid(board, form)
            if not grid.counts.size:
                continue
            seen = grid.counts[:: -1 if far_x else 1, :: -1 if far_y else 1]
            seen = seen.T if across else seen
            at = int((seen != 0).argmin())
            k, m = divmod(at, seen.shape[1])
            if seen[k, m]:
                continue
            i, j = (m, k) if across else (k, m)
            columns, rows = grid.counts.shape
            long, high = self._nofits.forms[form].size
            reach = i * self._step + long, j * self._step + high
            x = grid.first[0] + (columns - 1 - i if far_x else i)
            y = grid.first[1] + (rows - 1 - j if far_y else j)
            candidate = (*(reach[::-1] if across else reach), Seat(board, form, x, y))
            if best is None or candidate[:2] < best[:2]:
                best = candidate
        return best[2] if best else None

    def _grid(self, board: int, form: int) -> _Grid:
        grid = self._grids[board].get(form)
        if grid is None:
            (long, high), (along, across) = self._nofits.forms[form].size, self._sizes[board]
            first_x, columns = span(long, along, self._step)
            first_y, rows = span(high, across, self._step)
            if self._held > MOST_CELLS:
                self._held = 0
                self._before = {k: (lying, {}) for k, (lying, _) in self._before.items()}
                for grids in self._grids:
                    grids.clear()
            grid = _Grid(np.zeros((columns, rows), dtype=np.uint8), (first_x, first_y))
            self._grids[board][form] = grid
            self._held += grid.counts.size
            for spot in self._lying[board]:
                self._add(grid, form, spot, 1)
        return grid

    def _count(self, spot: Seat, by: int) -> None:
        grids = self._grids[spot.board]
        if spot.board not in self._before:
            self._before[spot.board] = (
                list(self._lying[spot.board]), {form: grid.counts.copy() for form, grid in grids.items()})
        for form, grid in grids.items():
            self._add(grid, form, spot, by)

    def _add(self, grid: _Grid, form: int, spot: Seat, by: int) -> None:
        bars, ox, oy, wide, tall = self._bars_of(form, spot.form)
        columns, rows = grid.counts.shape
        left, low = spot.x - ox - grid.first[0], spot.y - oy - grid.first[1]
        a, b = left if left > 0 else 0, low if low > 0 else 0
        if left + wide <= 0 or low + tall <= 0 or a >= columns or b >= rows:
            return
        here = grid.counts[a : left + wide, b : low + tall]
        of_it = bars[a - left : columns - left, b - low : rows - low]
        if by > 0:
            here += of_it
        else:
            here -= of_it

    def _bars_of(self, moving: int, rest: int) -> Bars:
        bars = self._bars.get((moving, rest))
        if bars is None:
            sizes = np.array([self._nofits.forms[form].size for form in (moving, rest)])
            ox, oy = (sizes.sum(axis=0) / 2 / self._step).astype(int).tolist()
            shift = (sizes[1] - sizes[0]) / 2
            x, y = (np.arange(-o, o + 1) * self._step + by for o, by in zip((ox, oy), shift, strict=True))
            overlaps = barred(self._nofits.between(rest, moving), x, y, self._step)
            bars = overlaps.view(np.uint8), ox, oy, len(x), len(y)
            self._bars.keep((moving, rest), bars, overlaps.size)
        return bars
