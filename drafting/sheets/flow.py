"""What a booklet is set from: paragraphs, tables, pictures, in reportlab's page layout."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Protocol

from reportlab.lib.colors import Color, black
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, KeepTogether, Paragraph, Spacer, Table, TableStyle

from ..sewing.picture import STROKES, Caption, LineStyle, Picture, PictureLine
from ..words.units import Unit
from ..words.wording import spell
from .fonts import BOLD, REGULAR
from .ink import MM, Ink, PathPen
from .text import clean, escaped

LONGEST_SENTENCE = 1500
PICTURE_SCALE = 0.7
"""Points to a picture's unit: its words come out 8 points high."""

NARROW = 300.0
"""Points of width under which a table of many columns would break every word."""

GUTTER = 13.0
"""Points between two columns."""

_AMOUNT = re.compile(r"(?<=\d) (?=(?:mm|cm|m|in|g|h|min)\b|\d+/\d)")
"""The blank between a number and its fraction or unit, at which no line breaks."""

RULE = Color(0.55, 0.55, 0.55)


class Drawing(Protocol):
    """Anything that draws itself, `width` by `height` mm, on an Ink of that height."""

    @property
    def title(self) -> str: ...
    @property
    def width(self) -> float: ...
    @property
    def height(self) -> float: ...
    def draw(self, ink: Ink) -> None: ...


@dataclass(frozen=True)
class Styles:
    """Text styles for a page of a given width in points."""

    body: ParagraphStyle
    small: ParagraphStyle
    heading: ParagraphStyle
    step: ParagraphStyle
    title: ParagraphStyle
    whose: ParagraphStyle
    cell: ParagraphStyle
    head_cell: ParagraphStyle

    @classmethod
    def sized(cls, size: float) -> "Styles":
        body = ParagraphStyle("body", fontName=REGULAR, fontSize=size, leading=size * 1.35,
                              spaceAfter=size * 0.35, splitLongWords=1)
        return cls(
            body=body,
            small=ParagraphStyle("small", body, fontSize=size * 0.86, leading=size * 1.16,
                                 spaceAfter=size * 0.2),
            heading=ParagraphStyle("heading", body, fontName=BOLD, fontSize=size * 1.45,
                                   leading=size * 1.8, spaceBefore=size * 1.2, spaceAfter=size * 0.5,
                                   keepWithNext=1),
            step=ParagraphStyle("step", body, fontName=BOLD, fontSize=size * 1.1,
                                leading=size * 1.45, spaceAfter=size * 0.3, keepWithNext=1),
            title=ParagraphStyle("title", body, fontName=BOLD, fontSize=size * 2.5,
                                 leading=size * 3, spaceAfter=size * 0.3),
            whose=ParagraphStyle("whose", body, fontSize=size * 1.5, leading=size * 2,
                                 spaceAfter=size),
            cell=ParagraphStyle("cell", body, fontSize=size * 0.92, leading=size * 1.2, spaceAfter=0),
            head_cell=ParagraphStyle("head", body, fontName=BOLD, fontSize=size * 0.86,
                                     leading=size * 1.15, spaceAfter=0),
        )


class Setter:
    """Makes the flowables of one booklet: `width` points wide, lengths in `unit`."""

    def __init__(self, styles: Styles, width: float, unit: Unit) -> None:
        self.styles = styles
        self.width = width
        self.unit = unit

    def text(self, sentence: str, style: ParagraphStyle | None = None) -> Paragraph:
        """A sentence with its lengths spelled; nothing in it can act as markup."""
        plain = clean(spell(sentence, self.unit), LONGEST_SENTENCE)
        kept = _AMOUNT.sub("\u00a0", plain)
        return Paragraph(escaped(kept), style or self.styles.body)

    def heading(self, title: str) -> Flowable:
        return Heading(escaped(clean(title)), self.styles.heading)

    def bullets(self, sentences: Sequence[str]) -> list[Flowable]:
        return [self.text(f"– {sentence}") for sentence in sentences]

    def table(self, head: Sequence[str], rows: Sequence[Sequence[str]],
              shares: Sequence[float], width: float | None = None) -> Flowable:
        """Ruled under each row, the head repeated on every page; `shares` of the width in points.

        On a narrow page a row of more than two cells is set as a paragraph.
        """
        if self.width < NARROW and len(head) > 2:
            return self._told(head, rows)
        whole = sum(shares) * self.width / (width or self.width)
        cells = [[self.text(cell, self.styles.cell) for cell in row] for row in rows]
        top = [[self.text(cell, self.styles.head_cell) for cell in head]] if any(head) else []
        size = self.styles.cell.fontSize
        style: list[Any] = [
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("LEFTPADDING", (0, 0), (-1, -1), 2), ("RIGHTPADDING", (0, 0), (-1, -1), 4),
            ("TOPPADDING", (0, 0), (-1, -1), size * 0.18),
            ("BOTTOMPADDING", (0, 0), (-1, -1), size * 0.32),
            ("LINEBELOW", (0, 0), (-1, -1), 0.3, RULE),
        ]
        if top:
            style.append(("LINEBELOW", (0, 0), (-1, 0), 0.8, black))
            if not any(head[1:]):
                style.append(("SPAN", (0, 0), (-1, 0)))
        return Table(top + cells, [self.width * share / whole for share in shares],
                     repeatRows=len(top), style=TableStyle(style), hAlign="LEFT")

    def _told(self, head: Sequence[str], rows: Sequence[Sequence[str]]) -> Flowable:
        """One cell a row: the first in bold, then each with what it is."""
        cells = []
        for row in rows:
            named = [
                f"{name} {cell}" if name and i else cell
                for i, (name, cell) in enumerate(zip(head[1:], row[1:], strict=True)) if cell
            ]
            rest = "".join(
                part if not i else f". {part}" if part[0].isupper() else f"; {part}"
                for i, part in enumerate(named))
            cells.append([[self.text(row[0], self.styles.head_cell), self.text(rest, self.styles.cell)]])
        return Table(cells, [self.width], hAlign="LEFT", style=TableStyle([
            ("LEFTPADDING", (0, 0), (-1, -1), 0), ("RIGHTPADDING", (0, 0), (-1, -1), 0),
            ("TOPPADDING", (0, 0), (-1, -1), 2), ("BOTTOMPADDING", (0, 0), (-1, -1), 4),
            ("LINEBELOW", (0, 0), (-1, -1), 0.3, RULE),
        ]))

    def columns(self, parts: Sequence[Sequence[Flowable]], shares: Sequence[float]) -> Flowable:
        """Columns side by side, each with its share of the width."""
        widths = [self.width * share / sum(shares) for share in shares]
        return Table([[list(part) for part in parts]], widths, hAlign="LEFT", style=TableStyle([
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("LEFTPADDING", (0, 0), (-1, -1), 0), ("RIGHTPADDING", (0, 0), (-2, -1), GUTTER),
            ("RIGHTPADDING", (-1, 0), (-1, -1), 0),
            ("TOPPADDING", (0, 0), (-1, -1), 0), ("BOTTOMPADDING", (0, 0), (-1, -1), 0),
        ]))

    def picture(
        self, picture: Picture, most: float | None = None, scale: float = PICTURE_SCALE
    ) -> Flowable:
        """The picture at its scale, or smaller where it would be wider than `most` points."""
        room = self.width if most is None else most
        return PictureBox(picture, min(scale, room / picture.width), self.unit)

    def together(self, parts: Sequence[Flowable]) -> Flowable:
        return KeepTogether(list(parts))

    def space(self, lines: float) -> Flowable:
        return Spacer(1, lines * self.styles.body.leading)


class Heading(Paragraph):  # type: ignore[misc]
    """A paragraph that also stands in the outline."""

    def draw(self) -> None:
        note = getattr(self.canv, "note_heading", None)
        if note:
            note(self.getPlainText(identify=True))
        super().draw()


class PictureBox(Flowable):  # type: ignore[misc]
    """A Picture of the sewing plan, `scale` points to its unit."""

    def __init__(self, picture: Picture, scale: float, unit: Unit) -> None:
        super().__init__()
        self._picture = picture
        self._scale = scale
        self._unit = unit
        self.width = picture.width * scale
        self.height = picture.height * scale
        self.hAlign = "LEFT"

    def wrap(self, *_: float) -> tuple[float, float]:
        return self.width, self.height + 2

    def draw(self) -> None:
        canvas = self.canv
        canvas.setLineJoin(1)
        run: list[PictureLine] = []
        for item in self._picture.items:
            if isinstance(item, PictureLine) and run and item.style == run[0].style == "hatch":
                run.append(item)
                continue
            self._lines(run)
            run = [item] if isinstance(item, PictureLine) else []
            if isinstance(item, Caption):
                self._words(item)
        self._lines(run)

    def _lines(self, lines: Sequence[PictureLine]) -> None:
        if not lines:
            return
        canvas, style = self.canv, lines[0].style
        stroke = STROKES[style]
        canvas.setLineWidth(stroke.width * self._scale)
        canvas.setDash([d * self._scale for d in stroke.dashes])
        canvas.setStrokeGray(stroke.gray)
        pen = PathPen(canvas, self._picture.height, self._scale)
        for line in lines:
            line.draw(pen)
        filled = _fill(style, closed=lines[0].closed)
        if filled is not None:
            canvas.setFillGray(filled)
        pen.stroke(fill=filled is not None)

    def _words(self, words: Caption) -> None:
        canvas, size = self.canv, words.size * self._scale
        text = clean(spell(words.text, self._unit), LONGEST_SENTENCE)
        face = BOLD if words.bold else REGULAR
        width = canvas.stringWidth(text, face, size)
        shift = {"start": 0.0, "middle": -width / 2, "end": -width}[words.anchor]
        canvas.saveState()
        canvas.translate(words.at.x * self._scale, (self._picture.height - words.at.y) * self._scale)
        if words.angle:
            canvas.rotate(-words.angle)
        if words.anchor == "middle":
            canvas.setFillGray(1)
            canvas.rect(shift - 0.8, -0.12 * size, width + 1.6, 0.95 * size, stroke=0, fill=1)
        canvas.setFillGray(0)
        canvas.setFont(face, size)
        canvas.drawString(shift, 0, text)
        canvas.restoreState()


def _fill(style: LineStyle, *, closed: bool) -> float | None:
    if style == "fill":
        return 0.0
    return 1.0 if style == "cloth" and closed else None


class DrawingBox(Flowable):  # type: ignore[misc]
    """A drawing handed in from elsewhere, scaled down to fit."""

    def __init__(self, drawing: Drawing, width: float, height: float) -> None:
        super().__init__()
        self._drawing = drawing
        own = drawing.width * MM, drawing.height * MM
        self._scale = min(1.0, width / own[0], height / own[1])
        self.width, self.height = own[0] * self._scale, own[1] * self._scale

    def wrap(self, *_: float) -> tuple[float, float]:
        return self.width, self.height + 4

    def draw(self) -> None:
        self.canv.saveState()
        self.canv.scale(self._scale, self._scale)
        self._drawing.draw(Ink(self.canv, self._drawing.height))
        self.canv.restoreState()
