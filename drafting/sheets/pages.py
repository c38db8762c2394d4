"""The pages of a tiled print: covers with the map, and the tiles with the marks that join them."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ..geometry import Point
from ..pattern import Pattern
from ..words.units import Unit, format_length
from .cover import Column, Cover, CoverWords, cover
from .ink import MM, Ink
from .labels import Labels
from .paper import BLEED, FOOT, MARGIN, Paper
from .printing import PrintPlan
from .tiles import Tile

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

GRAY = 0.55
HAIRLINE = 0.15
FOOT_TEXT = 2.8
JOIN_TEXT = 2.4
"""mm, but for GRAY: nought is black, one white."""


@dataclass(frozen=True)
class CoverPage:
    """One page of words: the first with squares and map, or one that takes what did not fit."""

    size: tuple[float, float]
    words: Cover | Column
    plan: PrintPlan
    pages_before: int

    def draw(self, canvas: "Canvas", foot: str) -> None:
        ink = _page(canvas, self.size, foot)
        self.words.draw(ink, MARGIN, MARGIN)
        if isinstance(self.words, Cover) and self.words.map_place:
            left, top, width, _ = self.words.map_place
            _draw_map(ink, self.plan, MARGIN + left, MARGIN + top, width, self.pages_before)
        canvas.showPage()


def cover_pages(
    pattern: Pattern, plan: PrintPlan, paper: Paper, *, unit: Unit, whose: str, key: Sequence[str]
) -> list[CoverPage]:
    """As many as the words need, upright whichever way the tiles lie."""
    width, height = paper.width - 2 * MARGIN, paper.height - 2 * MARGIN - FOOT
    sheet = plan.tiling.grid.window((plan.tiling.grid.rows - 1, plan.tiling.grid.columns - 1))
    first = cover(
        pattern, unit=unit, whose=whose, key=key, joining=_joining(plan, unit),
        map_shape=sheet[3] / sheet[2], width=width, height=height,
    )
    columns: list[Column] = []
    rest: list[CoverWords] = list(first.rest)
    while rest:
        columns.append(Column(0, 0, width, height))
        rest = columns[-1].fill(rest)
    size, before = (paper.width, paper.height), 1 + len(columns)
    blocks: list[Cover | Column] = [first, *columns]
    return [CoverPage(size, words, plan, before) for words in blocks]


def _joining(plan: PrintPlan, unit: Unit) -> str:
    count, grid = len(plan.tiling.tiles), plan.tiling.grid
    if count == 1:
        return "All pieces are on one page: nothing to join."
    blank = grid.rows * grid.columns - count
    left_out = f", less {blank} blank" if blank else ""
    turned = any(
        isinstance(placed.item, Labels) and placed.item.drawn.turn
        for placed, _, _ in plan.packed.places
    )
    head_to_tail = " Some pieces stand head to tail; all grain lines run the same way."
    return (
        f"{count} pages, in {grid.rows} rows of {grid.columns}{left_out}. Each overlaps the next by "
        f"{format_length(grid.overlap, unit)}. Cut a page along its thin grey line, lay it on its "
        "neighbour's so that the crosses meet, and tape it. Join the pages of a row, then the rows."
        f"{head_to_tail if turned else ''}"
    )


def write_tiles(
    canvas: "Canvas", form: str, plan: PrintPlan, heading: str, *, first: int, count: int
) -> None:
    """One page a tile, numbered from `first`, each a window on the form."""
    numbers = {tile: first + i for i, tile in enumerate(plan.tiling.tiles)}
    for tile, number in numbers.items():
        foot = f"{heading} · page {number} of {count}"
        if len(numbers) > 1:
            foot += f" · row {tile[0] + 1}, column {tile[1] + 1}"
        ink = _page(canvas, plan.page, foot)
        left, top, right, bottom = plan.tiling.grid.window(tile)
        canvas.saveState()
        window = canvas.beginPath()
        window.rect((MARGIN - BLEED) * MM, (ink.height - MARGIN - (bottom - top) - BLEED) * MM,
                    (right - left + 2 * BLEED) * MM, (bottom - top + 2 * BLEED) * MM)
        canvas.clipPath(window, stroke=0, fill=0)
        canvas.translate((MARGIN - left) * MM,
                         (ink.height - MARGIN - (plan.packed.height - top)) * MM)
        canvas.doForm(form)
        canvas.restoreState()
        _draw_joins(ink, plan, tile, numbers)
        canvas.showPage()


def _page(canvas: "Canvas", size: tuple[float, float], foot: str) -> Ink:
    canvas.setPageSize((size[0] * MM, size[1] * MM))
    ink = Ink(canvas, size[1])
    ink.text(foot, MARGIN, size[1] - MARGIN - 1, FOOT_TEXT)
    return ink


def _draw_joins(ink: Ink, plan: PrintPlan, tile: Tile, numbers: dict[Tile, int]) -> None:
    tiling = plan.tiling
    left, top, _, _ = tiling.grid.window(tile)
    shift = Point(MARGIN - left, MARGIN - top)
    middle = Point(left + tiling.grid.wide / 2, top + tiling.grid.tall / 2)
    joins = [(a + shift, b + shift, other) for a, b, other in tiling.joins(tile)]
    pen = ink.plain_pen(HAIRLINE, gray=GRAY)
    for a, b, _ in joins:
        pen.line(a, b)
    pen.stroke()
    right, down = Point(tiling.arm, 0), Point(0, tiling.arm)
    pen = ink.plain_pen(0.2)
    for mark in tiling.marks(tile):
        p = mark + shift
        pen.line(p - right, p + right)
        pen.line(p - down, p + down)
    pen.stroke()
    if tiling.grid.overlap >= 2.5 * JOIN_TEXT:
        for a, b, other in joins:
            _name_neighbour(ink, a, b, middle + shift, f"page {numbers[other]}")


def _name_neighbour(ink: Ink, a: Point, b: Point, middle: Point, text: str) -> None:
    """In the strip beyond the join, which ends up under or over the neighbour."""
    at = a.towards(b, 0.25)
    if abs(a.x - b.x) < abs(a.y - b.y):
        turned, off = (90.0, Point(0.9, 0)) if at.x > middle.x else (-90.0, Point(-0.9, 0))
    else:
        turned, off = 0.0, Point(0, 0.9 + JOIN_TEXT * 0.75) if at.y > middle.y else Point(0, -0.9)
    ink.text(text, at.x + off.x, at.y + off.y, JOIN_TEXT, gray=GRAY, angle=turned, middle=True)


def _draw_map(ink: Ink, plan: PrintPlan, x: float, y: float, width: float, pages_before: int) -> None:
    """The sheet in small: the pieces, and over them the tiles with their page numbers."""
    grid = plan.tiling.grid
    scale = width / grid.window((0, grid.columns - 1))[2]
    pen = ink.plain_pen(0.3, gray=GRAY)
    for placed, px, py in plan.packed.places:
        if isinstance(placed.item, Labels):
            shift = Point(px - placed.x, py - placed.y)
            pen.polygon(tuple(
                Point(x, y) + (p + shift) * scale for p in placed.item.drawn.cutting
            ))
    pen.stroke()
    digits = len(str(pages_before + len(plan.tiling.tiles)))
    size = min(3.2, 0.6 * scale * grid.tall, scale * (grid.wide - grid.overlap) / (0.75 * digits))
    for number, tile in enumerate(plan.tiling.tiles, pages_before + 1):
        left, top, right, bottom = (v * scale for v in grid.cell(tile))
        ink.rect(x + left, y + top, right - left, bottom - top, HAIRLINE)
        ink.text(str(number), x + (left + right) / 2, y + (top + bottom) / 2 + size * 0.35, size,
                 middle=True)
