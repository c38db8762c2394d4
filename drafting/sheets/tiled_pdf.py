"""The pattern to print: at true size on whatever paper there is, in pages that are taped together."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from io import BytesIO
from math import radians

from ..geometry import Point
from ..geometry.pens import draw_line
from ..pattern import Pattern
from ..words.problems import BadInput, Problem
from ..words.units import Unit, format_length
from .cover import cover, pieces_to_cut
from .drawing import ARROW, draw_grain, draw_piece, strokes_used
from .ink import MM, Ink, prepare_reportlab
from .labels import BASELINE, Labels, printed_labels
from .layout import sewing_order
from .packing import shape
from .pages import CoverPage, cover_pages, write_tiles
from .paper import BLEED, PAPERS, Paper, read_paper
from .printing import Ways, WordBlock, polygons
from .printing import plan as packed_plan
from .sheet_plan import SheetPlan
from .spare_sheet import part_labels, spare_sheet
from .text import clean

__all__ = ["PAPERS", "TiledSheets", "tiled_pdf", "tiled_sheets"]

LEAST_OVERLAP, MOST_OVERLAP = 5.0, 40.0
BLOCK = 190.0
"""mm: width of the block of words on a sheet that is printed in one."""

SHEET = "sheet"


@dataclass(frozen=True)
class TiledSheets:
    """A pattern laid out to print: covers in front, and a plan whose sheet `draw` draws; no plan where there
    is no tile. Neither reportlab nor a font is needed before the PDF is made."""

    heading: str
    front: tuple[CoverPage, ...]
    plan: SheetPlan | None
    draw: Callable[[Ink], None]

    @property
    def count(self) -> int:
        """How many pages there are."""
        return len(self.front) + (len(self.plan.tiling.tiles) if self.plan else 0)

    def pdf(self) -> bytes:
        """The same sheets give the same bytes."""
        from reportlab.pdfgen.canvas import Canvas

        prepare_reportlab()
        buffer = BytesIO()
        canvas = Canvas(buffer, invariant=1, pageCompression=1)
        canvas.setTitle(self.heading)
        canvas.setCreator("Ellwand")
        canvas.setViewerPreference("PrintScaling", "None")
        if self.plan:
            canvas.beginForm(SHEET, -BLEED * MM, -BLEED * MM, (self.plan.width + BLEED) * MM,
                             (self.plan.height + BLEED) * MM)
            self.draw(Ink(canvas, self.plan.height))
            canvas.endForm()
        for number, page in enumerate(self.front, 1):
            page.draw(canvas, f"{self.heading} · page {number} of {self.count}")
        if self.plan:
            write_tiles(canvas, SHEET, self.plan, self.heading, first=len(self.front) + 1, count=self.count)
        canvas.save()
        return buffer.getvalue()


def tiled_sheets(
    pattern: Pattern,
    *,
    paper: str = "A4",
    unit: Unit = "cm",
    overlap: float = 10.0,
    name: str | None = None,
    whole: bool = False,
) -> TiledSheets:
    """The pattern at true size on `paper`, one of PAPERS; `overlap` in mm.

    On cut sizes the first page holds test squares, a map and the words; then come the tiles, each a window
    on one form XObject. There paper is spared, unless all is to be printed `whole`: what is alike once,
    halves, and in numbers what a tape draws as well. On a roll or `full` everything is whole, the words
    beside the pieces. Raises BadInput for an unknown paper or an overlap outside 5 to 40 mm.
    """
    chosen = read_paper(paper)
    if not LEAST_OVERLAP <= overlap <= MOST_OVERLAP:
        raise BadInput([Problem(
            "overlap",
            f"Pages cannot overlap by {format_length(overlap, 'mm')}: give "
            f"{LEAST_OVERLAP:g} to {MOST_OVERLAP:g} mm.",
        )])
    whose = clean(name or "")
    heading = f"{clean(pattern.title)} · {whose}" if whose else clean(pattern.title)
    if chosen.height and not whole:
        return _spare(pattern, chosen, overlap, heading, whose, unit)
    return _whole(pattern, chosen, overlap, heading, whose, unit)


def tiled_pdf(
    pattern: Pattern,
    *,
    paper: str = "A4",
    unit: Unit = "cm",
    overlap: float = 10.0,
    name: str | None = None,
    whole: bool = False,
) -> bytes:
    """A PDF of `tiled_sheets`."""
    return tiled_sheets(pattern, paper=paper, unit=unit, overlap=overlap, name=name, whole=whole).pdf()


def _spare(
    pattern: Pattern, paper: Paper, overlap: float, heading: str, whose: str, unit: Unit
) -> TiledSheets:
    sheet = spare_sheet(pattern, paper, overlap, unit)
    plan = sheet.plan(unit)
    key = strokes_used(placed.part.drawn for placed in sheet.placed) if plan else []
    front = cover_pages(
        pattern, plan, paper, lambda first: sheet.pieces(first, unit), unit=unit, whose=whose, key=key)

    def draw(ink: Ink) -> None:
        for placed, labels in part_labels(sheet, heading, unit):
            _draw_piece(ink, labels, placed.part.edge)

    return TiledSheets(heading, tuple(front), plan, draw)


def _whole(
    pattern: Pattern, paper: Paper, overlap: float, heading: str, whose: str, unit: Unit
) -> TiledSheets:
    ways = _ways(pattern, heading, unit)
    key = strokes_used(kinds[0].item.drawn for kinds in ways if isinstance(kinds[0].item, Labels))
    words = None
    if not paper.height:
        words = cover(pattern, unit=unit, whose=whose, key=key, joining="", pieces=pieces_to_cut(pattern),
                      map_shape=0, width=BLOCK, height=float("inf"))
        block = WordBlock(words.width, words.height)
        ways = [[shape(block, polygons(block))], *ways]
    planned = packed_plan(ways, paper, overlap)
    plan = planned.sheet(unit)
    front = [] if words else cover_pages(
        pattern, plan, paper, lambda first: pieces_to_cut(pattern), unit=unit, whose=whose, key=key)

    def draw(ink: Ink) -> None:
        for placed, x, y in planned.packed.places:
            if isinstance(placed.item, Labels):
                ink.canvas.saveState()
                ink.canvas.translate((x - placed.x) * MM, -(y - placed.y) * MM)
                cutting = placed.item.drawn.cutting
                _draw_piece(ink, placed.item, [(*cutting, cutting[0])])
                ink.canvas.restoreState()
            elif words:
                words.draw(ink, x, y)

    return TiledSheets(heading, tuple(front), plan, draw)


def _ways(pattern: Pattern, heading: str, unit: Unit) -> Ways:
    return [
        [
            shape(labels, polygons(labels))
            for labels in (
                printed_labels(draw_piece(piece), heading, unit),
                printed_labels(draw_piece(piece, 180), heading, unit),
            )
        ]
        for piece in sewing_order(pattern)
    ]


def _draw_piece(ink: Ink, labels: Labels, edge: Sequence[Sequence[Point]]) -> None:
    """The piece, to be cut along its `edge`."""
    drawn = labels.drawn
    pen = ink.pen("cutting")
    for line in edge:
        closed = line[0] == line[-1]
        draw_line(pen, line[:-1] if closed else line, closed=closed)
    pen.stroke()
    for _, path in drawn.sewing:
        ink.draw(path, "sewing")
    for mark in drawn.marks:
        ink.draw(mark.path, mark.kind)
    pen = ink.pen("notch")
    for tick in drawn.ticks:
        pen.line(tick.start, tick.end)
    pen.stroke()
    pen = ink.pen("grain")
    draw_grain(pen, *drawn.grain, ARROW)
    pen.stroke()
    for label in labels.found:
        down = Point(0, BASELINE * label.size).turned(radians(label.angle))
        ink.text(label.text, label.x + down.x, label.y + down.y, label.size,
                 bold=label.kind == "title", angle=label.angle, middle=True)
