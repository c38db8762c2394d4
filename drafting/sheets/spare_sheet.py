"""The sheet on which a pattern is printed to spare paper: its parts, their words, what the cover tells."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from ..geometry import Point
from ..geometry.polygon import Side, inside, sides, simplified
from ..pattern import Pattern
from ..words.units import Unit, format_length
from .boxes import Box, BoxGround
from .cover import CoverWords, how_often
from .drawing import Drawn, cut_line
from .fewest import PlacedPart, placed_on_fewest
from .in_numbers import capital, in_numbers
from .labels import COARSE, TEXT, TITLE, Labels
from .paper import FOOT, MARGIN, Paper
from .sheet_plan import SheetPlan
from .spare import Spare, spared
from .text import clean
from .tiles import Grid, Tile, Tiling

GRAINS = (150.0, 100.0, 60.0, 30.0, 15.0)
"""mm: how long the grain line is drawn, where there is room."""

GRAIN_ROOM = 6.0
"""mm: width of the strip that it has to itself."""

STEP = 20.0
"""mm between places that are tried for words."""

OFF_THE_EDGE = 2.0
"""mm that words stay away from a tile's border."""


@dataclass(frozen=True)
class SpareSheet:
    """The parts of a pattern where they are printed on tiles of `grid`, and what is not printed."""

    spare: Spare
    placed: tuple[PlacedPart, ...]
    grid: Grid | None
    page: tuple[float, float]

    @cached_property
    def tiles(self) -> tuple[Tile, ...]:
        return tuple(sorted({tile for placed in self.placed for tile in placed.tiles}))

    def plan(self, unit: Unit) -> SheetPlan | None:
        """None where everything is told in numbers."""
        if self.grid is None:
            return None
        shown = {
            tile: ", ".join(clean(p.part.piece.title) for p in self.placed if tile in p.tiles)
            for tile in self.tiles
        }
        _, _, width, height = self.grid.window((self.grid.rows - 1, self.grid.columns - 1))
        return SheetPlan(
            width, height, Tiling(self.grid, self.tiles), self.page,
            [line for placed in self.placed for line in placed.part.cut], self._joining(unit), shown,
        )

    def _joining(self, unit: Unit) -> str:
        assert self.grid is not None, "there are tiles to join"
        if len(self.tiles) == 1:
            return "All that is printed is on one page: nothing to join."
        halves = any(placed.part.what == "half" for placed in self.placed)
        check = " Before you cut, measure each middle line from end to end: its length is printed there."
        return (
            f"{len(self.tiles)} pages. Each overlaps those beside it on the map by "
            f"{format_length(self.grid.overlap, unit)}. Cut a page along its thin grey line, lay it on its "
            "neighbour's so that the crosses meet, and tape it. Pages without a line to cut are not printed: "
            "what you join is the rim of each piece. Pieces are turned to save paper; each has its grain "
            f"line.{check if halves else ''}"
        )

    def pieces(self, first: int, unit: Unit) -> list[CoverWords]:
        """What is on paper and where, what is cut from the same sheets, and what is told in numbers; the
        tiles are pages from `first` on."""
        number = {tile: first + i for i, tile in enumerate(self.tiles)}
        pages = {
            placed.part.piece.name: _pages([number[tile] for tile in placed.tiles]) for placed in self.placed
        }
        found = [CoverWords("Pieces on paper", bold=True)] if self.placed else []
        for placed in self.placed:
            part = placed.part
            what = {"whole": "", "half": "half, ", "patch": "what is not straight, "}[part.what]
            if any(mark.kind == "other" for mark in part.drawn.marks):
                what = "half, with a line of its own for the other half, "
            often = "" if part.what == "patch" else f"; {how_often(part.piece)}"
            found.append(CoverWords(
                f"{capital(clean(part.piece.title))}: {what}{pages[part.piece.name]}{often}."))
        for twin in self.spare.twins:
            over = ", turned over" if twin.over else ""
            without = "".join(f", without its mark “{clean(label)}”" for label in twin.without)
            found.append(CoverWords(
                f"{capital(clean(twin.piece.title))}: as the {clean(twin.template.title)}{over}{without}; "
                f"{how_often(twin.piece)}."))
        if self.spare.told:
            found.append(CoverWords("Pieces in numbers", bold=True))
            found.append(CoverWords(
                "Draw them on the cloth, allowances and all: across from the left end, down from the top. "
                "The grain runs down."))
        for told in self.spare.told:
            found += [CoverWords(s) for s in in_numbers(told, pages.get(told.piece.name, ""), unit)]
        return found


def spare_sheet(pattern: Pattern, paper: Paper, overlap: float, unit: Unit) -> SpareSheet:
    """Raises nothing that a pattern which can be printed whole does not raise."""
    spare = spared(pattern.pieces, unit)
    page = paper.width, paper.height
    if not spare.parts:
        return SpareSheet(spare, (), None, page)
    wide, tall = paper.width - 2 * MARGIN, paper.height - 2 * MARGIN - FOOT
    grid, placed = placed_on_fewest(spare.parts, wide, tall, overlap)
    return SpareSheet(spare, placed, grid, page)


def _pages(numbers: Sequence[int]) -> str:
    """“pages 3–5, 9”."""
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    said = ", ".join(f"{run[0]}–{run[-1]}" if len(run) > 1 else str(run[0]) for run in runs)
    return f"page{'s' if len(numbers) > 1 else ''} {said}"


def part_labels(sheet: SpareSheet, heading: str, unit: Unit) -> Iterator[tuple[PlacedPart, Labels]]:
    """Each part with its words, which stand where there is paper."""
    words: list[Box] = []
    for placed in sheet.placed:
        rings = [other.part.drawn.cutting for other in sheet.placed if other is not placed]
        rings += [tuple(mark.path.points()) for mark in placed.part.drawn.marks if mark.kind == "cutting"]
        off = [sides(_rough(ring)) for ring in rings]
        labels = _labelled(placed, sheet, _shown(sheet, off, words), heading, unit)
        words += labels.outside
        yield placed, labels


def _rough(line: Sequence[Point]) -> tuple[Point, ...]:
    """Near enough to keep words off it."""
    return simplified(line, COARSE)


def _shown(sheet: SpareSheet, off: Sequence[list[Side]], words: Sequence[Box]) -> Callable[[Box], bool]:
    """Whether there is paper for a box, and nothing `off` which it must stay, nor other words."""
    assert sheet.grid is not None
    windows = [_inner(sheet.grid, tile) for tile in sheet.tiles]

    def shown(box: Box) -> bool:
        left, top, right, bottom = box.bounds
        return any(
            w[0] <= left and w[1] <= top and right <= w[2] and bottom <= w[3] for w in windows
        ) and not any(
            inside(other, box.x, box.y) or any(map(box.meets_side, other)) for other in off
        ) and not any(map(box.meets_box, words))

    return shown


def _inner(grid: Grid, tile: Tile) -> tuple[float, float, float, float]:
    left, top, right, bottom = grid.window(tile)
    off = OFF_THE_EDGE
    return left + off, top + off, right - off, bottom - off


def _labelled(placed: PlacedPart, sheet: SpareSheet, shown: Callable[[Box], bool], heading: str,
              unit: Unit) -> Labels:
    assert sheet.grid is not None
    part = placed.part
    places, sewn = list(_places(sheet.grid, placed.tiles)), _rough(part.sewn)
    drawn = replace(part.drawn, grain=_grain(part.drawn, sewn, places, shown))
    labels = Labels(drawn, unit, within=sewn, said=part.said, shown=shown)
    twins = [t for t in sheet.spare.twins if t.template is part.piece]
    what = {"whole": "", "half": "half, to the middle line", "patch": "what is not straight"}[part.what]

    def middles(width: float, height: float) -> Iterator[Box]:
        for upright in (True, False):
            for p in places:
                yield Box(p.x, p.y, *((1, 0) if upright else (0, -1)), width / 2, height / 2)

    labels.title((
        ("title", clean(part.piece.title), TITLE),
        ("count", cut_line(part.piece), TEXT),
        *(("count", f"{clean(t.piece.title)}: the same, {cut_line(t.piece)}", TEXT) for t in twins),
        *((("count", what, TEXT),) if what else ()),
        ("count", heading, TEXT),
    ), middles)
    labels.notches(TEXT)
    labels.marks(TEXT, names=True)
    labels.lengths(TEXT, names=True)
    title = next(label for label in labels.found if label.kind == "title")
    for tile in sorted(placed.tiles - {sheet.grid.tile_at(title.x, title.y)}):
        labels.name_again(_places(sheet.grid, [tile]), clean(part.piece.title), TEXT)
    return labels


def _places(grid: Grid, tiles: Iterable[Tile]) -> Iterator[Point]:
    """Places on the tiles of a part, those in the middle of each first."""
    for tile in sorted(tiles):
        left, top, right, bottom = grid.window(tile)
        middle = Point((left + right) / 2, (top + bottom) / 2)
        columns, rows = int((right - left) / 2 / STEP), int((bottom - top) / 2 / STEP)
        spots = [middle + Point(i * STEP, j * STEP)
                 for i in range(-columns, columns + 1) for j in range(-rows, rows + 1)]
        yield from sorted(spots, key=middle.distance)


def _grain(
    drawn: Drawn, sewn: Sequence[Point], places: Sequence[Point], shown: Callable[[Box], bool]
) -> tuple[Point, Point]:
    """As long as there is room for on paper; where there is none, as it is."""
    lines = [(a.x, a.y, b.x, b.y) for mark in drawn.marks for a, b in _pairs(mark.path.points(1.0))]
    lines += [(t.start.x, t.start.y, t.end.x, t.end.y) for t in drawn.ticks]
    ground = BoxGround(sewn, drawn.cutting, lines, shown)
    along = (drawn.grain[1] - drawn.grain[0]).unit()
    for length in GRAINS:
        for p in places:
            if ground.inside(Box(p.x, p.y, along.x, along.y, length / 2, GRAIN_ROOM / 2)):
                return p - along * (length / 2), p + along * (length / 2)
    return drawn.grain


def _pairs(points: Sequence[Point]) -> Iterator[tuple[Point, Point]]:
    return zip(points, points[1:], strict=False)
