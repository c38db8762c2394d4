"""Lines and words on a page of a PDF, in mm from its top left corner, by reportlab."""

import re
from collections.abc import Callable
from typing import TYPE_CHECKING

from ..geometry import Path, Point
from ..geometry.pens import draw_line
from .drawing import STROKES
from .fonts import BOLD, REGULAR, font_path
from .text import clean

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas
    from reportlab.pdfgen.pathobject import PDFPathObject

MM = 72 / 25.4
"""Points in a millimetre. source: ISO 32000-1:2008, 8.3.2.3, one point is 1/72 in."""


_SPACE = re.compile(r"(?<!\d) +| +(?!(?:mm|cm|m|in)\b)")


def prepare_reportlab() -> None:
    """Makes the two embedded faces known to reportlab, once, and its streams plain bytes.

    Raises FileNotFoundError when the faces' files are not there.
    """
    from reportlab import rl_config
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    known = pdfmetrics.getRegisteredFontNames()
    for name in (REGULAR, BOLD):
        if name not in known:
            pdfmetrics.registerFont(TTFont(name, str(font_path(name))))
    # Base 85 would make every stream a quarter longer, and take as long again to write.
    rl_config.useA85 = 0


def not_printed(text: str) -> str:
    """Those letters of a text that the embedded faces have no shape for, each once."""
    from reportlab.pdfbase import pdfmetrics

    prepare_reportlab()
    shapes = pdfmetrics.getFont(REGULAR).face.charToGlyph
    return "".join(dict.fromkeys(c for c in clean(text) if c != " " and ord(c) not in shapes))


def printed_width(text: str, size: float, bold: bool = False) -> float:
    """mm that `text` takes, set `size` mm high."""
    from reportlab.pdfbase.pdfmetrics import stringWidth

    return float(stringWidth(text, BOLD if bold else REGULAR, size))


def wrapped(
    text: str, size: float, width: float, bold: bool = False,
    wide: Callable[[str, float, bool], float] = printed_width,
) -> list[str]:
    """The text in lines no wider than `width` mm; a longer word is cut, a unit stays by its number.

    `wide` measures a text of that size, bold or not.
    """
    lines: list[str] = []
    line = ""
    for word in _SPACE.split(text.strip()):
        longer = f"{line} {word}" if line else word
        if wide(longer, size, bold) <= width:
            line = longer
            continue
        if line:
            lines.append(line)
        while wide(word, size, bold) > width and len(word) > 1:
            fits = len(word) - 1
            while fits > 1 and wide(word[:fits], size, bold) > width:
                fits -= 1
            lines.append(word[:fits])
            word = word[fits:]
        line = word
    return [*lines, line] if line else lines


class Ink:
    """Draws on `canvas`, whose page (or form) is `height` mm tall."""

    def __init__(self, canvas: "Canvas", height: float) -> None:
        self.canvas = canvas
        self.height = height

    def text(
        self, text: str, x: float, y: float, size: float, *, bold: bool = False, gray: float = 0.0,
        angle: float = 0.0, middle: bool = False,
    ) -> None:
        """One line with its baseline at y, from x or with its `middle` there; angle clockwise."""
        canvas = self.canvas
        canvas.setFillGray(gray)
        canvas.setFont(BOLD if bold else REGULAR, size * MM)
        draw = canvas.drawCentredString if middle else canvas.drawString
        if not angle:
            draw(x * MM, (self.height - y) * MM, text)
            return
        canvas.saveState()
        canvas.translate(x * MM, (self.height - y) * MM)
        canvas.rotate(-angle)
        draw(0, 0, text)
        canvas.restoreState()

    def rect(
        self, x: float, y: float, width: float, height: float, line: float, gray: float = 0.0
    ) -> None:
        self._style(line, (), gray)
        self.canvas.rect(x * MM, (self.height - y - height) * MM, width * MM, height * MM)

    def pen(self, kind: str) -> "PathPen":
        """To draw lines of that kind; nothing appears before its `stroke`."""
        stroke = STROKES[kind]
        return self.plain_pen(stroke.width, stroke.dashes)

    def plain_pen(
        self, width: float, dashes: tuple[float, ...] = (), gray: float = 0.0
    ) -> "PathPen":
        self._style(width, dashes, gray)
        return PathPen(self.canvas, self.height)

    def draw(self, path: Path, kind: str) -> None:
        pen = self.pen(kind)
        path.draw(pen)
        pen.stroke()

    def _style(self, width: float, dashes: tuple[float, ...], gray: float) -> None:
        self.canvas.setStrokeGray(gray)
        self.canvas.setLineWidth(width * MM)
        self.canvas.setDash([d * MM for d in dashes])


class PathPen:
    """A pen (geometry.Pen) for a reportlab canvas, `scale` points to the millimetre; y turns over."""

    def __init__(self, canvas: "Canvas", height: float, scale: float = MM) -> None:
        self._canvas = canvas
        self._height = height
        self._scale = scale
        self._path: PDFPathObject = canvas.beginPath()

    def _at(self, p: Point) -> tuple[float, float]:
        return p.x * self._scale, (self._height - p.y) * self._scale

    def move_to(self, p: Point) -> None:
        self._path.moveTo(*self._at(p))

    def line_to(self, p: Point) -> None:
        self._path.lineTo(*self._at(p))

    def curve_to(self, c1: Point, c2: Point, p: Point) -> None:
        self._path.curveTo(*self._at(c1), *self._at(c2), *self._at(p))

    def close(self) -> None:
        self._path.close()

    def line(self, a: Point, b: Point) -> None:
        draw_line(self, (a, b))

    def polygon(self, points: tuple[Point, ...]) -> None:
        draw_line(self, points, closed=True)

    def stroke(self, *, fill: bool = False) -> None:
        """Draws the path, and fills it too with the canvas's fill colour."""
        self._canvas.drawPath(self._path, stroke=1, fill=int(fill))
