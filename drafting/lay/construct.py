"""First lays: in rows of boxes, and by putting pieces as near the cut end as they go; and a lay whose pieces
overlap made one in which they do not.

Sources: rows by falling length, first fit: Coffman, Garey, Johnson & Tarjan 1980, "Performance
bounds for level-oriented two-dimensional packing algorithms"; the bottom-left rule: Baker, Coffman &
Rivest 1980, "Orthogonal packings in two dimensions", on a grid of allowed places as in Dowsland,
Vaid & Dowsland 2002, "An algorithm for polygon placement using a bottom-left strategy", EJOR 141:371.
"""

from collections.abc import Generator, Sequence

import numpy as np
from numpy.typing import NDArray

from .nofit import NoFits
from .penetration import DepthMaps, blocked_along

MOST_PLACES = 30_000_000
"""Places kept for all forms together, a byte each."""


def in_rows(
    nofits: NoFits, choices: Sequence[tuple[int, ...]], width: float, folded: Sequence[bool]
) -> tuple[tuple[int, ...], NDArray[np.float64]]:
    """Forms and corners (n, 2), mm, with each piece's box in a row of its own or beside others.

    Each piece must fit the width; it is laid as it is shortest. Where `folded`, it lies at the far edge.
    """
    sizes, gap = nofits.forms, nofits.gap
    forms = tuple(min(choice, key=lambda form: sizes[form].size[0]) for choice in choices)
    corners = np.zeros((len(forms), 2))
    rows: list[tuple[float, float, float]] = []
    end = -gap
    for i in sorted(range(len(forms)), key=lambda i: -sizes[forms[i]].size[0]):
        long, high = sizes[forms[i]].size
        row = next((k for k, (_, used, room) in enumerate(rows) if used + gap + high <= room
                    and not (folded[i] and room < width)), None)
        if row is None:
            row = len(rows)
            rows.append((end + gap, -gap, width))
            end += gap + long
        start, used, room = rows[row]
        if folded[i]:
            corners[i] = start, max(width - high, 0.0)
            rows[row] = start, used, width - high - gap
        else:
            corners[i] = start, used + gap
            rows[row] = start, used + gap + high, room
    return forms, corners


class _Barred:
    """The grid places that each form cannot take beside what is placed already.

    What was worked out for a form is kept for the next piece of that form, so that many like pieces cost one
    look at each of those that are placed, and not one for each pair.
    """

    def __init__(self, maps: DepthMaps) -> None:
        self._maps = maps
        self._known: dict[tuple[int, int, int], tuple[NDArray[np.bool_], int]] = {}

    def places(
        self, form: int, first: tuple[int, int], count: tuple[int, int],
        placed: Sequence[tuple[int, int, int]],
    ) -> NDArray[np.bool_]:
        """For `count` places along and across the strip from the `first` on: whether one is barred. `placed`
        are (form, along, across), in the order in which they came."""
        (first_x, first_y), (columns, rows) = first, count
        key = form, first_y, rows
        barred, seen = self._known.pop(key, (np.zeros((0, rows), dtype=bool), 0))
        if len(barred) < columns:  # what reaches beyond its end was cut off
            barred, seen = np.zeros((columns + columns // 2, rows), dtype=bool), 0
        for other, x, y in placed[seen:]:
            depth, ox, oy, wide, tall = self._maps.of(form, other)
            left, low = x - ox - first_x, y - oy - first_y
            a, b = max(left, 0), max(low, 0)
            c, d = min(left + wide, len(barred)), min(low + tall, rows)
            if a < c and b < d:
                barred[a:c, b:d] |= depth[a - left : c - left, b - low : d - low] > 0
        self._known[key] = barred, len(placed)
        while sum(grid.size for grid, _ in self._known.values()) > MOST_PLACES:
            del self._known[next(iter(self._known))]  # the one that was used longest ago
        found: NDArray[np.bool_] = barred[:columns]
        return found


def bottom_left(
    maps: DepthMaps, choices: Sequence[tuple[int, ...]], order: Sequence[int], width: float,
    folded: Sequence[bool],
) -> Generator[None, None, tuple[tuple[int, ...], NDArray[np.float64]]]:
    """Forms and corners (n, 2), mm, of the lay made in this order of pieces; yields after each
    pose.

    Each piece takes the pose and the free grid place at which it reaches least far along the
    strip, then the lowest. Pieces may overlap by what the maps forgive.
    """
    step, sizes = maps.step, maps.nofits.forms
    barred = _Barred(maps)
    forms = [0] * len(choices)
    x, y = [0] * len(choices), [0] * len(choices)
    placed: list[tuple[int, int, int]] = []
    used = 0.0
    for i in order:
        best: tuple[float, float, int, int, int] | None = None
        for form in choices[i]:
            long, high = sizes[form].size
            first_y, rows = maps.at_far_edge(high, width) if folded[i] else maps.span(high, width)
            first_x, columns = maps.span(long, used + maps.nofits.gap + long + step)
            blocked = barred.places(form, (first_x, first_y), (columns, rows), placed)
            at = int(blocked.argmin())
            k, m = first_x + at // rows, first_y + at % rows
            candidate = (k * step + long / 2, m * step + high / 2, form, k, m)
            if best is None or candidate < best:
                best = candidate
            yield
        assert best is not None
        _, _, forms[i], x[i], y[i] = best
        used = max(used, best[0])
        placed.append((forms[i], x[i], y[i]))
    half_sizes = np.array([sizes[form].size for form in forms]) / 2
    return tuple(forms), np.column_stack((x, y)) * step - half_sizes


def pushed_apart(
    nofits: NoFits, forms: Sequence[int], corners: NDArray[np.float64]
) -> NDArray[np.float64]:
    """The corners (n, 2), mm, of the same pieces, each moved along the strip until it is clear of those that
    begin before it."""
    sizes = np.array([nofits.forms[form].size for form in forms])
    moved = corners.copy()
    placed: list[int] = []
    for i in np.argsort(corners[:, 0], kind="stable").tolist():
        beside = np.array(placed, dtype=int)
        low, high = moved[i, 1], moved[i, 1] + sizes[i, 1]
        near = beside[(moved[beside, 1] < high + nofits.gap) & (low < (moved + sizes)[beside, 1] + nofits.gap)
                      & ((moved + sizes)[beside, 0] + nofits.gap > moved[i, 0])]
        barred = sorted(
            (moved[j, 0] + start, moved[j, 0] + end)
            for j in near.tolist()
            for start, end in blocked_along(nofits.between(forms[j], forms[i]), moved[i, 1] - moved[j, 1])
        )
        for start, end in barred:
            if start < moved[i, 0] < end:
                moved[i, 0] = end
        placed.append(i)
    return moved
