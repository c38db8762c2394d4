"""Where everything goes when a pattern is printed: the pieces on a sheet, the sheet in tiles."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ..geometry import Point
from ..words.units import Unit, format_length
from .labels import Labels
from .packing import BAND, GAP, Packable, Packed, pack
from .paper import FOOT, LARGEST, MARGIN, Paper
from .sheet_plan import SheetPlan
from .tiles import Grid, Tiling, tiling

MOST_MORE_COLUMNS = 9
"""How many more columns of tiles than the widest piece needs are tried."""


@dataclass(frozen=True)
class WordBlock:
    """A rectangle of words, `width` × `height` mm, that is laid on the sheet like a piece."""

    width: float
    height: float


Item = Labels | WordBlock
Ways = Sequence[Sequence[Packable[Item]]]
"""For each piece, the ways in which it may lie."""


@dataclass(frozen=True)
class PrintPlan:
    """`page` is the width and height of every page; all in mm."""

    packed: Packed[Item]
    tiling: Tiling
    page: tuple[float, float]

    def sheet(self, unit: Unit) -> SheetPlan:
        """What is printed of it, page by page."""
        drawn = [
            [p + Point(x - placed.x, y - placed.y) for p in (*cutting, cutting[0])]
            for placed, x, y in self.packed.places if isinstance(placed.item, Labels)
            for cutting in [placed.item.drawn.cutting]
        ]
        return SheetPlan(self.packed.width, self.packed.height, self.tiling, self.page, drawn,
                         self._joining(unit))

    def _joining(self, unit: Unit) -> str:
        count, grid = len(self.tiling.tiles), self.tiling.grid
        if count == 1:
            return "All pieces are on one page: nothing to join."
        blank = grid.rows * grid.columns - count
        left_out = f", less {blank} blank" if blank else ""
        turned = any(
            isinstance(placed.item, Labels) and placed.item.drawn.turn for placed, _, _ in self.packed.places
        )
        head_to_tail = " Some pieces stand head to tail; all grain lines run the same way."
        return (
            f"{count} pages, in {grid.rows} rows of {grid.columns}{left_out}. Each overlaps the next by "
            f"{format_length(grid.overlap, unit)}. Cut a page along its thin grey line, lay it on its "
            "neighbour's so that the crosses meet, and tape it. Join the pages of a row, then the rows."
            f"{head_to_tail if turned else ''}"
        )

    def outlines(self) -> Iterator[tuple[Point, ...]]:
        """Everything on the sheet that must not be lost, where it lies there."""
        for shape, x, y in self.packed.places:
            for polygon in polygons(shape.item):
                yield tuple(p + Point(x - shape.x, y - shape.y) for p in polygon)


def polygons(item: Item) -> list[tuple[Point, ...]]:
    """The cutting line and the words outside it."""
    if isinstance(item, WordBlock):
        w, h = item.width, item.height
        return [(Point(0, 0), Point(w, 0), Point(w, h), Point(0, h))]
    return [item.drawn.cutting, *(box.corners for box in item.outside)]


def plan(ways: Ways, paper: Paper, overlap: float) -> PrintPlan:
    """The plan with the fewest tiles (the least paper, where its length is free).

    Upright and lying pages, several widths, and the pieces in their own order or the largest first
    are tried; the earliest of the best wins.
    """
    best: tuple[float, float, PrintPlan] | None = None
    pages = [(paper.width, paper.height)]
    if paper.width and paper.height:
        pages.append((paper.height, paper.width))
    by_size = sorted(ways, key=lambda kinds: -kinds[0].width * kinds[0].height)
    for width, height in pages:
        for order in (ways, by_size):
            for widest in _widths(ways, width, height, overlap):
                packed = pack(order, widest)
                found = _tiled(packed, width, height, overlap)
                tiles = _tiles_touched(packed, found.tiling.grid)
                grid = found.tiling.grid
                cost = tiles * grid.wide * grid.tall, packed.width + packed.height
                if best is None or cost < best[:2]:
                    best = (*cost, found)
    assert best is not None, "there is at least one way to lay the pieces"
    chosen = best[2]
    return PrintPlan(chosen.packed, tiling(chosen.tiling.grid, chosen.outlines()), chosen.page)


def _widths(ways: Ways, page_width: float, page_height: float, overlap: float) -> list[float]:
    """Sheet widths worth trying: whole numbers of tiles, or every row of bare pieces."""
    narrowest = max(min(way.width for way in kinds) for kinds in ways)
    longest = sum(kinds[0].width + GAP for kinds in ways)
    tile = (page_width or LARGEST) - 2 * MARGIN
    if page_width:
        # On a roll no piece is cut up that need not be.
        most = MOST_MORE_COLUMNS + 1 if page_height else 1
        widths = [tile + i * (tile - overlap) for i in range(int(longest // (tile - overlap)) + 2)]
        enough = [width for width in widths if width >= narrowest]
        return enough[:most]
    steps = [narrowest + (longest - narrowest) * i / 12 for i in range(13)]
    return [width for width in steps if width <= tile] or [tile]


def _tiled(packed: Packed[Item], width: float, height: float, overlap: float) -> PrintPlan:
    """Every tile of the grid; a page of free width or height is as large as the sheet needs."""
    wide = (width or min(packed.width + 2 * MARGIN, LARGEST)) - 2 * MARGIN
    tall = (height or min(packed.height + 2 * MARGIN + FOOT, LARGEST)) - 2 * MARGIN - FOOT
    grid = Grid.over(packed.width, packed.height, wide, tall, overlap)
    return PrintPlan(packed, Tiling(grid, ()), (wide + 2 * MARGIN, tall + 2 * MARGIN + FOOT))


def _tiles_touched(packed: Packed[Item], grid: Grid) -> int:
    """How many tiles the pieces' bands touch: quick, and at most a few more than there will be."""
    step_x, step_y, half = grid.wide - grid.overlap, grid.tall - grid.overlap, grid.overlap / 2
    bottom, end = grid.rows - 1, grid.columns - 1
    found = set()
    for shape, x, y in packed.places:
        middle, lowest = y - half + BAND / 2, y - half + shape.height
        for left, right in zip(shape.left, shape.right, strict=True):
            row = min(max(int(min(middle, lowest) // step_y), 0), bottom)
            first = max(int((x + left - half) // step_x), 0)
            last = min(int((x + right - half) // step_x), end)
            for column in range(min(first, end), last + 1):
                found.add(row * 1000 + column)
            middle += BAND
    return len(found)
