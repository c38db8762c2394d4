"""A first lay: pieces put down one after another, each as near the cut end as it goes.

Source: the bottom-left rule, Baker, Coffman & Rivest 1980, "Orthogonal packings in two dimensions",
on a grid of allowed places as in Dowsland, Vaid & Dowsland 2002, "An algorithm for polygon
placement using a bottom-left strategy", EJOR 141:371.
"""

from collections.abc import Generator, Sequence

import numpy as np
from numpy.typing import NDArray

from .penetration import DepthMaps


def bottom_left(
    maps: DepthMaps, choices: Sequence[tuple[int, ...]], order: Sequence[int], width: float
) -> Generator[None, None, tuple[tuple[int, ...], NDArray[np.float64]]]:
    """Forms and corners (n, 2), mm, of the lay made in this order of pieces; yields after each.

    Each piece takes the pose and the free grid place at which it reaches least far along the
    strip, then the lowest. Pieces may overlap by what the maps forgive.
    """
    step, sizes = maps.step, maps.nofits.forms
    forms = [0] * len(choices)
    x, y = [0] * len(choices), [0] * len(choices)
    placed: list[int] = []
    used = 0.0
    for i in order:
        best: tuple[float, float, int, int, int] | None = None
        for form in choices[i]:
            long, high = sizes[form].size
            rows = max(maps.rows(form, width), 1)
            columns = int(np.ceil((used + maps.nofits.gap) / step)) + 1
            blocked = np.zeros((columns, rows), dtype=bool)
            for j in placed:
                depth, ox, oy, wide, tall = maps.of(form, forms[j])
                left, low = x[j] - ox, y[j] - oy
                a, b = max(left, 0), max(low, 0)
                c, d = min(left + wide, columns), min(low + tall, rows)
                if a < c and b < d:
                    blocked[a:c, b:d] |= depth[a - left : c - left, b - low : d - low] > 0
            at = int(blocked.argmin())
            k, m = divmod(at, rows)
            candidate = (k * step + long, m * step + high, form, k, m)
            if best is None or candidate < best:
                best = candidate
        assert best is not None
        _, _, forms[i], x[i], y[i] = best
        used = max(used, best[0])
        placed.append(i)
        yield
    return tuple(forms), np.column_stack((x, y)) * step


def one_after_another(
    maps: DepthMaps, choices: Sequence[tuple[int, ...]]
) -> tuple[tuple[int, ...], NDArray[np.float64]]:
    """The lay that always exists: every piece beyond the one before."""
    forms = tuple(
        min(choice, key=lambda form: maps.nofits.forms[form].size[0]) for choice in choices
    )
    gap, step = maps.nofits.gap, maps.step
    steps = [np.ceil((maps.nofits.forms[form].size[0] + gap) / step) for form in forms]
    starts = step * np.concatenate(([0.0], np.cumsum(steps)[:-1]))
    return forms, np.column_stack((starts, np.zeros(len(forms))))
