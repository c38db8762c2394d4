"""Parts turned and moved on a grid of sheets, so that their cutting lines cross as few sheets as will do.

Everything lies on a fine lattice that divides a sheet into FINE × FINER cells. What cells a part covers, and
which its lines touch, are bits of one whole number: moved by shifting, told to overlap by one `and`.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import cos, degrees, floor, inf, radians, sin

from ..geometry import Point
from ..geometry.polygon import crossings, nearest, simplified
from .printed_parts import PrintedPart
from .tiles import Grid, Tile

FINE, FINER = 7, 10
"""Cells across and down a sheet: about 26 mm each on A4."""

CLEAR = 4.0
"""mm of paper beyond a part's lines that no other part may lie on: shears go along between."""

AREA_ROW, TILE_ROW = 2048, 256
"""Bits from one row of cells, or of sheets, to the next: more than any pattern is wide."""

COARSE = 0.5
"""mm that the lines reckoned with may stray from those drawn: a sheet shows more beyond its joins."""

LONG = 250.0
"""mm: a straight line from there on is worth laying along a sheet's side."""


NUDGES = 5
"""Steps within a cell, either way, by which all is moved in the end."""

MARGIN_TILES = 6
"""How many tiles before those printed a part may begin: as many as most are wide."""

WORSE = 2
"""How many more sheets than its fewest a part may take by itself, to share some with others."""


Extent = tuple[int, int, int, int]
"""First column and row, last column and row."""


@dataclass(frozen=True)
class PlacedPart:
    """A part as it lies on the sheet, and the tiles that its lines cross."""

    part: PrintedPart
    tiles: frozenset[Tile]


def placed_on_fewest(
    parts: Sequence[PrintedPart], wide: float, tall: float, overlap: float
) -> tuple[Grid, tuple[PlacedPart, ...]]:
    """Every part where its lines take the fewest sheets of `wide` × `tall` mm besides those before it, and
    the grid of these sheets; the part with the most sheets of its own comes first.

    Parts may be turned, and a half turned over, for paper has no grain and one half is as good as the other.
    The sheets of a part are joined side by side without a gap. No part lies on another.
    """
    cell = ((wide - overlap) / FINE, (tall - overlap) / FINER)
    ways = [_Ways(i, part, cell) for i, part in enumerate(parts)]
    desk = _Desk()
    for way in sorted(ways, key=lambda w: -w.fewest):
        desk.put(way)
    return desk.laid(parts, cell, overlap, wide, tall)


@dataclass(frozen=True, eq=False)
class _Lying:
    """A part in one of the ways in which it may lie: its lines, and the cells that these touch and that it
    covers; `x`, `y` is where its cells begin, in mm."""

    number: int
    over: bool
    turned: float
    x: float
    y: float
    lines: Sequence[Sequence[tuple[float, float]]]
    cover: int
    touched: frozenset[tuple[int, int]]

    def tiles(self) -> Iterator[tuple[int, tuple[int, int]]]:
        """The sheets that its lines cross where it begins in a cell (a, b) of one, for every such cell."""
        sheets = max(i for i, _ in self.touched) // FINE + 2
        rows = max(j for _, j in self.touched) // FINER + 2
        cells = sum(1 << (j * sheets * FINE + i) for i, j in self.touched)
        row = (1 << sheets) - 1
        for a in range(FINE):
            across = _every(_anywhere(cells << a, FINE), FINE) << (FINER - 1) * sheets
            down = _anywhere(across, FINER, sheets)
            for b in range(FINER):
                mask = 0
                for r in range(rows):
                    mask |= (down >> ((r * FINER - b + FINER - 1) * sheets) & row) << r * TILE_ROW
                yield mask, (a, b)


@dataclass(frozen=True, eq=False)
class _Mask:
    """Sheets that a part takes, how many and how far they reach, and the ways to lie that take just these:
    each the how-manieth to be tried, and the cells to begin in."""

    bits: int
    count: int
    extent: Extent
    ways: list[tuple[int, _Lying, list[tuple[int, int]]]]


class _Ways:
    """The ways in which a part may lie, each with the sheets it takes where it begins in a cell of one."""

    def __init__(self, number: int, part: PrintedPart, cell: tuple[float, float]) -> None:
        lines = [simplified(line, COARSE) for line in (*part.cut, *_links(part.cut))]
        ring = simplified((*part.drawn.cutting, part.drawn.cutting[0]), COARSE)
        masks: dict[tuple[int, _Lying], list[tuple[int, int]]] = {}
        for over in (False, True) if part.what == "half" else (False,):
            for turned in _turns(ring, over):
                lying = _lying(number, lines, ring, turned, over, cell)
                for mask, start in lying.tiles():
                    masks.setdefault((mask, lying), []).append(start)
        self.fewest = min(mask.bit_count() for mask, _ in masks)
        ways: dict[int, list[tuple[int, _Lying, list[tuple[int, int]]]]] = {}
        for number, ((mask, lying), starts) in enumerate(masks.items()):
            if mask.bit_count() <= self.fewest + WORSE:
                ways.setdefault(mask, []).append((number, lying, starts))
        self.masks = [_Mask(mask, mask.bit_count(), _extent(mask), of) for mask, of in ways.items()]


class _Desk:
    """What lies where so far: cells covered, sheets printed."""

    def __init__(self) -> None:
        self._taken = self._printed = 0
        self._at: list[tuple[_Lying, int, int]] = []

    def put(self, ways: _Ways) -> None:
        """Where it needs fewest new sheets; of such places the one that keeps all sheets closest together."""
        printed = self._printed
        far = _extent(printed) if printed else None
        by_cost: dict[tuple[int, tuple[int, int]], list[tuple[_Mask, int, int]]] = {}
        shifts: dict[Extent, list[tuple[int, int, int, tuple[int, int]]]] = {}
        for mask in ways.masks:
            bits, count, extent = mask.bits, mask.count, mask.extent
            if extent not in shifts:
                shifts[extent] = [(row * TILE_ROW + column, column, row, _size(extent, column, row, far))
                                  for column, row in _shifts(extent, far)]
            for by, column, row, size in shifts[extent]:
                cost = count - (bits << by & printed).bit_count(), size
                if cost in by_cost:
                    by_cost[cost].append((mask, column, row))
                else:
                    by_cost[cost] = [(mask, column, row)]
        for cost in sorted(by_cost):
            ways_there = [(mask.count, number, row, column, lying, starts, mask.bits)
                          for mask, column, row in by_cost[cost] for number, lying, starts in mask.ways]
            for _, _, row, column, lying, starts, bits in sorted(ways_there, key=lambda way: way[:4]):
                for a, b in starts:
                    x, y = column * FINE + a, row * FINER + b
                    if not (lying.cover << (y * AREA_ROW + x)) & self._taken:
                        self._taken |= lying.cover << (y * AREA_ROW + x)
                        self._printed |= bits << (row * TILE_ROW + column)
                        self._at.append((lying, x, y))
                        return
        raise AssertionError("beside everything there is room")

    def laid(self, parts: Sequence[PrintedPart], cell: tuple[float, float], overlap: float, wide: float,
             tall: float) -> tuple[Grid, tuple[PlacedPart, ...]]:
        """All of it moved a little, where that spares another sheet."""
        step = wide - overlap, tall - overlap
        at = [(lying, x * cell[0] - lying.x, y * cell[1] - lying.y) for lying, x, y in self._at]

        def tiles(lying: _Lying, dx: float, dy: float) -> set[tuple[int, int]]:
            return {c for line in lying.lines for c in _cells(line, -dx, -dy, step)}

        def count(shift: tuple[float, float]) -> int:
            return len(set().union(*(tiles(lying, x + shift[0], y + shift[1]) for lying, x, y in at)))

        nudges = [(i * cell[0] / NUDGES, j * cell[1] / NUDGES)
                  for i in range(-NUDGES, NUDGES + 1) for j in range(-NUDGES, NUDGES + 1)]
        dx, dy = min(sorted(nudges, key=lambda n: abs(n[0]) + abs(n[1])), key=count)
        crossed = [tiles(lying, x + dx, y + dy) for lying, x, y in at]
        columns, rows = zip(*set().union(*crossed), strict=True)
        left, top = min(columns), min(rows)
        grid = Grid(max(rows) - top + 1, max(columns) - left + 1, wide, tall, overlap)
        found: dict[int, PlacedPart] = {}
        for (lying, x, y), on in zip(at, crossed, strict=True):
            by = Point(x + dx - left * step[0] + overlap / 2, y + dy - top * step[1] + overlap / 2)
            found[lying.number] = PlacedPart(
                parts[lying.number].lying(lying.turned, lying.over, by),
                frozenset((row - top, column - left) for column, row in on),
            )
        return grid, tuple(found[i] for i in range(len(parts)))


def _anywhere(bits: int, window: int, step: int = 1) -> int:
    """Bit k says whether any of the `window` bits k, k + step, … is set."""
    found, reach = bits, 1
    while reach < window:
        further = min(reach, window - reach)
        found |= found >> further * step
        reach += further
    return found


def _every(bits: int, nth: int) -> int:
    """Bit k is bit nth · k."""
    return int(bin(bits)[:1:-nth][::-1], 2)


def _tiles(mask: int) -> Iterator[tuple[int, int]]:
    while mask:
        low = mask & -mask
        row, column = divmod(low.bit_length() - 1, TILE_ROW)
        yield column, row
        mask ^= low


def _extent(mask: int) -> Extent:
    tiles = list(_tiles(mask))
    columns, rows = [c for c, _ in tiles], [r for _, r in tiles]
    return min(columns), min(rows), max(columns), max(rows)


def _shifts(extent: Extent, far: Extent | None) -> list[tuple[int, int]]:
    """Columns and rows at which a part that reaches so far may begin: from beside all tiles printed on one
    side to beside them on the other."""
    if not far:
        return [(MARGIN_TILES, MARGIN_TILES)]
    left, top, right, bottom = far
    first_column, first_row = max(0, left - 1 - extent[2]), max(0, top - 1 - extent[3])
    return [(c, r) for r in range(first_row, bottom + 2) for c in range(first_column, right + 2)]


def _size(
    extent: Extent, column: int, row: int, far: Extent | None
) -> tuple[int, int]:
    """Of the grid about an extent moved so far and another one: how many tiles it has, and its width less
    one."""
    left, top, right, bottom = extent[0] + column, extent[1] + row, extent[2] + column, extent[3] + row
    if far:
        left, top = min(left, far[0]), min(top, far[1])
        right, bottom = max(right, far[2]), max(bottom, far[3])
    return (right - left + 1) * (bottom - top + 1), right - left


def _turns(ring: Sequence[Point], over: bool) -> list[float]:
    """Degrees: upright and by quarters, and so that a long straight side lies along the sheet's."""
    found = [0.0, 90.0, 180.0, 270.0]
    longest = sorted(((p.distance(q), p, q) for p, q in pairwise(ring)), key=lambda s: -s[0])
    for length, p, q in longest[:2]:
        if length < LONG:
            break
        angle = degrees((q - p).angle)
        if over:
            angle = 180 - angle
        for turn in (90 - angle, -angle, -90 - angle, 180 - angle):
            if all(abs((turn - other + 180) % 360 - 180) > 2 for other in found):
                found.append(turn % 360)
    return found


def _lying(number: int, lines: Sequence[Sequence[Point]], ring: Sequence[Point], turned: float, over: bool,
           cell: tuple[float, float]) -> _Lying:
    angle = radians(turned)
    cos_, sin_ = cos(angle), sin(angle)
    sign = -1.0 if over else 1.0

    def moved(line: Sequence[Point]) -> list[tuple[float, float]]:
        return [(sign * p.x * cos_ - p.y * sin_, sign * p.x * sin_ + p.y * cos_) for p in line]

    all_lines, all_round = [moved(line) for line in lines], moved(ring)
    every = [p for line in (*all_lines, all_round) for p in line]
    x, y = (min(p[k] for p in every) - CLEAR - COARSE for k in (0, 1))
    touched = {c for line in all_lines for c in _cells(line, x, y, cell)}
    cover = {c for dx, dy in ((CLEAR, 0), (-CLEAR, 0), (0, CLEAR), (0, -CLEAR))
             for line in (*all_lines, all_round) for c in _cells(line, x - dx, y - dy, cell)}
    cover |= set(_within(all_round, x, y, cell))
    bits = 0
    for i, j in cover:
        bits |= 1 << (j * AREA_ROW + i)
    return _Lying(number, over, turned, x, y, all_lines, bits, frozenset(touched))


def _cells(
    line: Sequence[tuple[float, float]], x: float, y: float, cell: tuple[float, float]
) -> list[tuple[int, int]]:
    """The cells that a line crosses, each beside the one before.

    source: Amanatides & Woo 1987, Eurographics.
    """
    wide, tall = cell
    ax, ay = (line[0][0] - x) / wide, (line[0][1] - y) / tall
    i, j = floor(ax), floor(ay)
    found = [(i, j)]
    for px, py in line[1:]:
        bx, by = (px - x) / wide, (py - y) / tall
        last_i, last_j = floor(bx), floor(by)
        if last_i != i or last_j != j:
            dx, dy = bx - ax, by - ay
            step_i, step_j = (1 if dx > 0 else -1), (1 if dy > 0 else -1)
            next_x = ((i + (dx > 0)) - ax) / dx if dx else inf
            next_y = ((j + (dy > 0)) - ay) / dy if dy else inf
            for _ in range(abs(last_i - i) + abs(last_j - j)):
                if next_x < next_y:
                    i += step_i
                    next_x += step_i / dx
                else:
                    j += step_j
                    next_y += step_j / dy
                found.append((i, j))
            i, j = last_i, last_j
        ax, ay = bx, by
    return found


def _within(
    ring: Sequence[tuple[float, float]], x: float, y: float, cell: tuple[float, float]
) -> Iterator[tuple[int, int]]:
    """The cells of whose middle line a part lies inside."""
    all_sides = [(ax, ay, bx, by) for (ax, ay), (bx, by) in pairwise(ring)]
    rows = int((max(p[1] for p in ring) - y) // cell[1]) + 1
    for j in range(rows):
        xs = sorted(crossings(all_sides, y + (j + 0.5) * cell[1]))
        for a, b in zip(xs[::2], xs[1::2], strict=False):
            for i in range(int((a - x) // cell[0]), int((b - x) // cell[0]) + 1):
                yield i, j


def _links(lines: Sequence[Sequence[Point]]) -> Iterator[tuple[Point, Point]]:
    """The shortest ways to lines from those before them with which they do not hang together."""
    joined = list(pairwise(lines[0]))
    for line in lines[1:]:
        drawn = [(a.x, a.y, b.x, b.y) for a, b in joined]
        ways = [(*nearest(drawn, p.x, p.y), p) for p in line]
        far, which, part, p = min(ways, key=lambda way: way[0])
        if far > 1.0:
            yield p, joined[which][0].towards(joined[which][1], part)
        joined += pairwise(line)
