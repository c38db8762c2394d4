"""The pattern to print: at true size on whatever paper there is, in pages that are taped together."""

from io import BytesIO
from math import radians
from typing import TYPE_CHECKING

from ..geometry import Point
from ..pattern import Pattern
from ..words.problems import BadInput, Problem
from ..words.units import Unit, format_length
from .cover import Cover, cover
from .drawing import ARROW, draw_grain, draw_piece, strokes_used
from .ink import MM, Ink, prepare_reportlab
from .labels import BASELINE, Labels, printed_labels
from .layout import sewing_order
from .packing import shape
from .pages import cover_pages, write_tiles
from .paper import BLEED, PAPERS, read_paper
from .printing import PrintPlan, Ways, WordBlock, plan, polygons
from .text import clean

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

__all__ = ["PAPERS", "tiled_pdf"]

LEAST_OVERLAP, MOST_OVERLAP = 5.0, 40.0
BLOCK = 190.0
"""mm: width of the block of words on a sheet that is printed in one."""

SHEET = "sheet"


def tiled_pdf(
    pattern: Pattern,
    *,
    paper: str = "A4",
    unit: Unit = "cm",
    overlap: float = 10.0,
    name: str | None = None,
) -> bytes:
    """A PDF of the pattern at true size; `paper` is one of PAPERS, `overlap` in mm.

    On cut sizes the first page holds test squares, a map and the words; then come the tiles that
    are not blank, each a window on one form XObject. On a roll or `full` the words are printed beside
    the pieces. The same input gives the same bytes. Raises BadInput for an unknown paper or an
    overlap outside 5 to 40 mm.
    """
    from reportlab.pdfgen.canvas import Canvas

    chosen = read_paper(paper)
    if not LEAST_OVERLAP <= overlap <= MOST_OVERLAP:
        raise BadInput([Problem(
            "overlap",
            f"Pages cannot overlap by {format_length(overlap, 'mm')}: give "
            f"{LEAST_OVERLAP:g} to {MOST_OVERLAP:g} mm.",
        )])
    prepare_reportlab()
    whose = clean(name or "")
    heading = f"{clean(pattern.title)} · {whose}" if whose else clean(pattern.title)
    ways = _ways(pattern, heading, unit)
    key = strokes_used(kinds[0].item.drawn for kinds in ways if isinstance(kinds[0].item, Labels))
    words = None
    if not chosen.height:
        words = cover(pattern, unit=unit, whose=whose, key=key, joining="", map_shape=0,
                      width=BLOCK, height=float("inf"))
        block = WordBlock(words.width, words.height)
        ways = [[shape(block, polygons(block))], *ways]
    planned = plan(ways, chosen, overlap)
    buffer = BytesIO()
    canvas = Canvas(buffer, invariant=1, pageCompression=1)
    canvas.setTitle(heading)
    canvas.setCreator("Ellwand")
    canvas.setViewerPreference("PrintScaling", "None")
    _draw_sheet(canvas, planned, words)
    front = []
    if chosen.height:
        front = cover_pages(pattern, planned, chosen, unit=unit, whose=whose, key=key)
    count = len(front) + len(planned.tiling.tiles)
    for number, page in enumerate(front, 1):
        page.draw(canvas, f"{heading} · page {number} of {count}")
    write_tiles(canvas, SHEET, planned, heading, first=len(front) + 1, count=count)
    canvas.save()
    return buffer.getvalue()


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


def _draw_sheet(canvas: "Canvas", planned: PrintPlan, words: Cover | None) -> None:
    width, height = planned.packed.width, planned.packed.height
    canvas.beginForm(
        SHEET, -BLEED * MM, -BLEED * MM, (width + BLEED) * MM, (height + BLEED) * MM
    )
    ink = Ink(canvas, height)
    for placed, x, y in planned.packed.places:
        if isinstance(placed.item, Labels):
            canvas.saveState()
            canvas.translate((x - placed.x) * MM, -(y - placed.y) * MM)
            _draw_piece(ink, placed.item)
            canvas.restoreState()
        elif words:
            words.draw(ink, x, y)
    canvas.endForm()


def _draw_piece(ink: Ink, labels: Labels) -> None:
    drawn = labels.drawn
    pen = ink.pen("cutting")
    pen.polygon(drawn.cutting)
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
