"""The chalk plan as a PDF: the lay with its marks, then each piece's numbers, to follow with a tape."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from io import BytesIO
from itertools import pairwise
from typing import TYPE_CHECKING

from ..cloth.chalk import ChalkPiece, ChalkPlan
from ..cloth.cloth import Cloth
from ..cloth.pieces_on_hand import PieceOnHand
from ..geometry import Point, bounds
from ..geometry.polygon import centroid
from ..lay.layout import Layout
from ..words.units import format_length
from .chalk_words import PieceWords, before_you_start, piece_words
from .ink import MM, Ink, prepare_reportlab, printed_width, wrapped
from .laid_cloth import hands_end, laid_insides, shown_points
from .paper import MARGIN, Paper
from .text import clean

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

TITLE, HEAD, BODY, FOOT = 7.0, 4.6, 3.6, 2.8
"""Letter sizes, mm: readable at arm's length on a table."""

LEADING = 1.35
COLUMN_GAP = 8.0


def chalk_plan_pdf(
    lays: Sequence["LayDrawing"], *, paper: Paper, title: str, name: str | None = None
) -> bytes:
    """For each lay, itself on a page and the pieces' marks after it, in two columns."""
    from reportlab.pdfgen.canvas import Canvas

    prepare_reportlab()
    buffer = BytesIO()
    canvas = Canvas(buffer, pagesize=(paper.width * MM, paper.height * MM), invariant=1)
    whose = clean(name) if name else ""
    heading = f"Chalk plan · {clean(title)}" + (f" · {whose}" if whose else "")
    canvas.setTitle(heading)
    canvas.setCreator("Ellwand")
    pages = _Pages(canvas, paper, heading)
    for number, lay in enumerate(lays):
        if number:
            pages.next_page()
        _lay_page(pages, lay)
        pages.next_page()
        for words in piece_words(lay.plan):
            pages.put(_block(words, pages.column_width))
    canvas.showPage()
    canvas.save()
    return buffer.getvalue()


class _Pages:
    """Pages in two columns: blocks go in whole where they fit, else in the next column."""

    def __init__(self, canvas: "Canvas", paper: Paper, heading: str) -> None:
        self.canvas, self.paper, self.heading = canvas, paper, heading
        self.number = 0
        self.ink = Ink(canvas, paper.height)
        self.column_width = (paper.width - 2 * MARGIN - COLUMN_GAP) / 2
        self.bottom = paper.height - MARGIN - FOOT * 2
        self._start()

    def _start(self) -> None:
        self.number += 1
        self.column, self.y = 0, MARGIN
        self.ink.text(f"{self.heading} · page {self.number}", MARGIN,
                      self.paper.height - MARGIN, FOOT)

    def next_page(self) -> None:
        self.canvas.showPage()
        self._start()

    def put(self, block: Sequence["_Line"]) -> None:
        height = sum(line.height for line in block)
        if self.y + height > self.bottom and self.y > MARGIN:
            self._next_column()
        for line in block:
            if self.y + line.height > self.bottom:
                self._next_column()
            line.draw(self.ink, MARGIN + self.column * (self.column_width + COLUMN_GAP), self.y)
            self.y += line.height

    def _next_column(self) -> None:
        if self.column:
            self.next_page()
        else:
            self.column, self.y = 1, MARGIN


class _Line:
    """One line: cells at their own places across the column."""

    def __init__(self, cells: Sequence[tuple[float, str]], size: float = BODY, bold: bool = False,
                 after: float = 0.0) -> None:
        self.cells, self.size, self.bold = cells, size, bold
        self.height = size * LEADING + after

    def draw(self, ink: Ink, x: float, y: float) -> None:
        for at, text in self.cells:
            ink.text(text, x + at, y + self.size, self.size, bold=self.bold)


def _block(words: PieceWords, width: float) -> list[_Line]:
    first, second, third = width * 0.1, width * 0.4, width * 0.68
    lines = [_Line([(0, line)], HEAD, bold=True, after=0.6)
             for line in wrapped(clean(words.title), HEAD, width, True)]
    for sentence in words.before:
        lines += [_Line([(0, line)]) for line in wrapped(sentence, BODY, width)]
    lines.append(_Line([(first, words.columns[0]), (second, words.columns[1])], FOOT))
    for mark in words.marks:
        notes = wrapped(mark.note, FOOT, width - third)
        beside = [(third, note) for note in notes[:1]]
        lines.append(_Line([(0.0, mark.label), (first, mark.across), (second, mark.down), *beside]))
        lines += [_Line([(third, note)], FOOT) for note in notes[1:]]
    for sentence in (*words.joins, words.check):
        lines += [_Line([(0, line)]) for line in wrapped(sentence, BODY, width)]
    lines.append(_Line([], BODY))
    return lines


def _lay_page(pages: _Pages, lay: "LayDrawing") -> None:
    ink, width = pages.ink, pages.paper.width - 2 * MARGIN
    y = MARGIN + TITLE
    heading = pages.heading + (f" · {lay.part}" if lay.part != "main" else "")
    heading += f" · {clean(lay.piece.name)}" if lay.piece else ""
    for line in wrapped(heading, TITLE, width, True):
        ink.text(line, MARGIN, y, TITLE, bold=True)
        y += TITLE * LEADING
    for sentence in before_you_start(lay.plan):
        for line in wrapped(sentence, BODY, width):
            ink.text(line, MARGIN, y, BODY)
            y += BODY * LEADING
    room = width, pages.bottom - y - 4
    _draw_lay(ink, lay, (MARGIN, y + 2), *room)


@dataclass(frozen=True)
class LayDrawing:
    """The lay with its marks, as a drawing for other sheets; mm. `part` is which cloth's it is, `piece` that
    cloth where it is no bolt."""

    plan: ChalkPlan
    layout: Layout
    cloth: Cloth
    part: str = "main"
    piece: PieceOnHand | None = None
    width: float = 170.0
    height: float = 200.0

    @property
    def title(self) -> str:
        where = f" on {clean(self.piece.name)}" if self.piece else ""
        return f"The {'' if self.part == 'main' else f'{self.part} '}lay{where}, with every mark"

    def draw(self, ink: Ink) -> None:
        _draw_lay(ink, self, (0.0, 0.0), self.width, self.height - 5)


def _draw_lay(
    ink: Ink, lay: LayDrawing, corner: tuple[float, float], width: float, height: float
) -> None:
    """Fitted into `width` by `height` mm below the corner."""
    plan, layout, cloth = lay.plan, lay.layout, lay.cloth
    full, size = cloth.laid_width, 2.6
    hand = hands_end(layout, cloth, plan.unit)
    end = hand.at if hand else None
    shown = max(layout.length, end or 0.0)
    scale = min(width / full, (height - (1.4 * size if hand else 0.0)) / shown)
    left, top = corner[0] + (width - full * scale) / 2, corner[1]

    def at(x: float, y: float) -> Point:
        return Point(left + x * scale, top + y * scale)

    if lay.piece:
        for ring in (lay.piece.outline, *lay.piece.holes):
            pen = ink.plain_pen(0.6)
            pen.polygon(tuple(at(*p) for p in ring))
            pen.stroke()
    else:
        ink.rect(left, top, full * scale, shown * scale, 0.3)
    if cloth.folded:
        pen = ink.plain_pen(0.9)
        pen.line(at(full, 0), at(full, shown))
        pen.stroke()
    rims = [] if lay.piece else [cloth.selvedge, *(() if cloth.folded else (full - cloth.selvedge,))]
    for x in rims:
        pen = ink.plain_pen(0.15, (1.0, 1.0))
        pen.line(at(x, 0), at(x, shown))
        pen.stroke()
    if end is not None:
        pen = ink.plain_pen(0.9, (4.0, 1.5))
        pen.line(at(0, end), at(full, end))
        pen.stroke()
    for placement in layout.placements:
        pen = ink.plain_pen(0.35)
        pen.polygon(tuple(at(x + cloth.selvedge, y) for x, y in placement.outline))
        pen.stroke()
    for piece in plan.pieces:
        _draw_insides(ink, piece, full, at)
        corners = shown_points(piece, piece.true.outline, Point(0.0, 0.0), full)
        heart = centroid(corners)
        middle = at(*heart)
        x0, y0, x1, y1 = bounds([at(*p) for p in corners])
        upright = y1 - y0 > x1 - x0
        room = 0.8 * max(y1 - y0, x1 - x0)
        text = clean(piece.title)
        fits = min(3.4, room / max(printed_width(text, 1.0), 1e-6))
        ink.text(text, middle.x, middle.y, max(fits, 1.6), middle=True, angle=90 if upright else 0)
        for letter, mark in piece.rings:
            p = at(*mark)
            towards = p.towards(middle, min(0.4, 3.0 / max(p.distance(middle), 1e-6)))
            ink.text(letter, towards.x, towards.y + size / 3, size, middle=True)
    ink.text(
        f"{format_length(full, plan.unit)} {'to the fold, the heavy line' if cloth.folded else 'wide'}, "
        f"{format_length(layout.length, plan.unit)} long",
        left, top + shown * scale + size * 1.4, size,
    )
    if hand:
        ink.text(hand.words, left, top + shown * scale + size * 2.8, size)


def _draw_insides(ink: Ink, piece: ChalkPiece, full: float, at: Callable[[float, float], Point]) -> None:
    """Holes and slits as they are cut, other lines dashed."""
    for line in laid_insides(piece, Point(0.0, 0.0), full):
        points = tuple(at(*p) for p in line.points)
        pen = ink.plain_pen(0.35) if line.kind in ("hole", "slit") else ink.plain_pen(0.15, (1.5, 1.0))
        if line.kind == "hole":
            pen.polygon(points)
        else:
            for a, b in pairwise(points):
                pen.line(a, b)
        pen.stroke()
