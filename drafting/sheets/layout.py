"""Pieces side by side: in what order, and where one row ends and the next begins."""

from collections.abc import Sequence
from dataclasses import dataclass

from ..geometry import bounds
from ..pattern import Pattern, Piece
from .labels import Labels


@dataclass(frozen=True, slots=True)
class Cell:
    """Room for a piece and its words. The tops of the pieces in a row stand on one line; words may
    `rise` above it. mm."""

    width: float
    rise: float
    drop: float


@dataclass(frozen=True, slots=True)
class Arrangement:
    """For each cell, its left end and the height of its row's line; and the size of it all. mm."""

    places: tuple[tuple[float, float], ...]
    width: float
    height: float


def cell(labels: Labels) -> Cell:
    left, top, right, bottom = labels.bounds
    line = bounds(labels.drawn.cutting)[1]
    return Cell(right - left, line - top, bottom - line)


def sewing_order(pattern: Pattern) -> tuple[Piece, ...]:
    """The pieces so that those sewn to each other stand next to each other where they can."""
    partners = sewn_together(pattern)
    left = list(pattern.pieces)
    found: list[Piece] = []
    while left:
        sewn_on = [p for p in left if found and (found[-1].name, p.name) in partners]
        found.append(sewn_on[0] if sewn_on else left[0])
        left.remove(found[-1])
    return tuple(found)


def sewn_together(pattern: Pattern) -> set[tuple[str, str]]:
    """Every two pieces that share a seam, both ways round."""
    return {
        (a.piece, b.piece)
        for seam in pattern.seams
        for a in (*seam.a, *seam.b)
        for b in (*seam.a, *seam.b)
        if a.piece != b.piece
    }


def shelves(widths: Sequence[float], widest: float, gap: float) -> list[list[int]]:
    """Indices of the widths in rows no wider than `widest` (a wider one has a row to itself).

    source: the next-fit shelf rule, Coffman, Garey, Johnson & Tarjan 1980, SIAM J. Comput. 9:808.
    """
    rows: list[list[int]] = []
    used = 0.0
    for i, width in enumerate(widths):
        if rows and used + gap + width <= widest + 1e-6:
            rows[-1].append(i)
            used += gap + width
        else:
            rows.append([i])
            used = width
    return rows


def row_widths(widths: Sequence[float], gap: float) -> list[float]:
    """Every row width that could make a difference to `shelves`, narrowest first."""
    widest = max(widths)
    found = {widest}
    for i in range(len(widths)):
        total = -gap
        for width in widths[i:]:
            total += gap + width
            if total > widest:
                found.add(total)
    return sorted(found)


def arranged(
    cells: Sequence[Cell], rows: Sequence[Sequence[int]], gap: float, *, centred: bool = False
) -> Arrangement:
    """The rows beneath each other; each begins at the left, or is `centred`.

    Indices in no row stand to the left of all rows, side by side.
    """
    in_rows = {i for row in rows for i in row}
    places = [(0.0, 0.0)] * len(cells)
    left = deepest = 0.0
    for i, aside in enumerate(cells):
        if i not in in_rows:
            places[i] = (left, aside.rise)
            left += aside.width + gap
            deepest = max(deepest, aside.rise + aside.drop)
    wide = [sum(cells[i].width for i in row) + gap * (len(row) - 1) for row in rows]
    widest = max(wide, default=-gap)
    y = 0.0
    for row, width in zip(rows, wide, strict=True):
        x = left + ((widest - width) / 2 if centred else 0.0)
        line = y + max(cells[i].rise for i in row)
        for i in row:
            places[i] = (x, line)
            x += cells[i].width + gap
        y = line + max(cells[i].drop for i in row) + gap
    return Arrangement(tuple(places), left + widest, max(deepest, y - gap))
