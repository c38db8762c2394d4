"""The pages of a tiled print: covers with the map, and the tiles with the marks that join them."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ..geometry import Point
from ..geometry.pens import draw_line
from ..pattern import Pattern
from ..words.units import Unit
from .cover import Column, Cover, CoverWords, cover
from .ink import MM, Ink
from .paper import BLEED, FOOT, MARGIN, Paper
from .sheet_plan import SheetPlan
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
    plan: SheetPlan | None
    pages_before: int

    def draw(self, canvas: "Canvas", foot: str) -> None:
        ink = _page(canvas, self.size, foot)
        self.words.draw(ink, MARGIN, MARGIN)
        if self.plan and isinstance(self.words, Cover) and self.words.map_place:
            left, top, width, _ = self.words.map_place
            _draw_map(ink, self.plan, MARGIN + left, MARGIN + top, width, self.pages_before)
        canvas.showPage()


def cover_pages(
    pattern: Pattern, plan: SheetPlan | None, paper: Paper, pieces: Callable[[int], list[CoverWords]], *,
    unit: Unit, whose: str, key: Sequence[str],
) -> list[CoverPage]:
    """As many as the words need, upright whichever way the tiles lie, and without a map where no `plan` is.

    `pieces` says what is where, for tiles that begin on the page of that number.
    """
    blocks: list[Cover | Column] = []
    for count in range(1, 9):
        blocks = _blocks(pattern, plan, paper, pieces(count + 1), unit=unit, whose=whose, key=key)
        if len(blocks) == count:
            break
    return [CoverPage((paper.width, paper.height), words, plan, len(blocks)) for words in blocks]


def _blocks(
    pattern: Pattern, plan: SheetPlan | None, paper: Paper, pieces: Sequence[CoverWords], *,
    unit: Unit, whose: str, key: Sequence[str],
) -> list[Cover | Column]:
    width, height = paper.width - 2 * MARGIN, paper.height - 2 * MARGIN - FOOT
    first = cover(
        pattern, unit=unit, whose=whose, key=key, joining=plan.joining if plan else "", pieces=pieces,
        map_shape=plan.map_shape if plan else 0.0, width=width, height=height,
    )
    columns: list[Column] = []
    rest: list[CoverWords] = list(first.rest)
    while rest:
        columns.append(Column(0, 0, width, height))
        rest = columns[-1].fill(rest)
    return [first, *columns]


def write_tiles(
    canvas: "Canvas", form: str, plan: SheetPlan, heading: str, *, first: int, count: int
) -> None:
    """One page a tile, numbered from `first`, each a window on the form."""
    numbers = {tile: first + i for i, tile in enumerate(plan.tiling.tiles)}
    for tile, number in numbers.items():
        foot = f"{heading} · page {number} of {count}"
        if len(numbers) > 1:
            foot += f" · row {tile[0] + 1}, column {tile[1] + 1}"
        if shown := plan.shown.get(tile):
            foot += f" · {shown}"
        ink = _page(canvas, plan.page, foot)
        left, top, right, bottom = plan.tiling.grid.window(tile)
        canvas.saveState()
        window = canvas.beginPath()
        window.rect((MARGIN - BLEED) * MM, (ink.height - MARGIN - (bottom - top) - BLEED) * MM,
                    (right - left + 2 * BLEED) * MM, (bottom - top + 2 * BLEED) * MM)
        canvas.clipPath(window, stroke=0, fill=0)
        canvas.translate((MARGIN - left) * MM,
                         (ink.height - MARGIN - (plan.height - top)) * MM)
        canvas.doForm(form)
        canvas.restoreState()
        _draw_joins(ink, plan, tile, numbers)
        canvas.showPage()


def _page(canvas: "Canvas", size: tuple[float, float], foot: str) -> Ink:
    canvas.setPageSize((size[0] * MM, size[1] * MM))
    ink = Ink(canvas, size[1])
    ink.text(foot, MARGIN, size[1] - MARGIN - 1, FOOT_TEXT)
    return ink


def _draw_joins(ink: Ink, plan: SheetPlan, tile: Tile, numbers: dict[Tile, int]) -> None:
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


def _draw_map(ink: Ink, plan: SheetPlan, x: float, y: float, width: float, pages_before: int) -> None:
    """The sheet in small: the pieces, and over them the tiles with their page numbers."""
    grid = plan.tiling.grid
    scale = width / grid.window((0, grid.columns - 1))[2]
    pen = ink.plain_pen(0.3, gray=GRAY)
    for line in plan.outlines:
        draw_line(pen, [Point(x, y) + p * scale for p in line])
    pen.stroke()
    digits = len(str(pages_before + len(plan.tiling.tiles)))
    size = min(3.2, 0.6 * scale * grid.tall, scale * (grid.wide - grid.overlap) / (0.75 * digits))
    for number, tile in enumerate(plan.tiling.tiles, pages_before + 1):
        left, top, right, bottom = (v * scale for v in grid.cell(tile))
        ink.rect(x + left, y + top, right - left, bottom - top, HAIRLINE)
        ink.text(str(number), x + (left + right) / 2, y + (top + bottom) / 2 + size * 0.35, size,
                 middle=True)
