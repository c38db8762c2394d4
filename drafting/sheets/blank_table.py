"""A table to be filled in by hand: a measure a row with its drawing, a person a column."""

from collections.abc import Sequence

from reportlab.lib.colors import black
from reportlab.platypus import Flowable, Table, TableStyle

from ..body.figure import Sketch, sketch
from ..body.measures import Measure
from ..geometry import QUARTER, Point
from .flow import RULE, Setter
from .ink import MM, PathPen

DRAWING = 14.0
"""mm that a drawing is wide and high: a row has room for a number written by hand."""

COLUMN = 26.0
"""mm at most for a person's numbers."""


def blank_table(setter: Setter, measures: Sequence[Measure], people: int, about: Sequence[str]) -> Flowable:
    """`about` are rows over the measures, for what is to be known of each person; they head every page."""
    styles = setter.styles
    drawing = DRAWING * MM + 6
    column = min(COLUMN * MM, (setter.width - drawing) * 0.6 / people)
    widths = [drawing, setter.width - drawing - people * column, *([column] * people)]
    blank = [""] * people
    rows = [["", setter.text(label, styles.head_cell), *blank] for label in about]
    rows += [
        [SketchBox(sketch(measure), DRAWING * MM),
         [setter.text(measure.label, styles.head_cell),
          setter.text(measure.instruction, styles.small)], *blank]
        for measure in measures
    ]
    heights = [DRAWING * 0.6 * MM] * len(about) + [None] * len(measures)
    return Table(rows, widths, heights, repeatRows=len(about), hAlign="LEFT", style=TableStyle([
        ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
        ("LEFTPADDING", (0, 0), (-1, -1), 2), ("RIGHTPADDING", (0, 0), (-1, -1), 4),
        ("TOPPADDING", (0, 0), (-1, -1), 2), ("BOTTOMPADDING", (0, 0), (-1, -1), 2),
        ("LINEBELOW", (0, 0), (-1, -1), 0.3, RULE),
        ("INNERGRID", (2, 0), (-1, -1), 0.6, black), ("BOX", (2, 0), (-1, -1), 0.6, black),
    ]))


class SketchBox(Flowable):  # type: ignore[misc]
    """The drawing of a measure, `side` points square."""

    def __init__(self, sketch: Sketch, side: float) -> None:
        super().__init__()
        self._sketch = sketch
        self.width = self.height = side

    def wrap(self, *_: float) -> tuple[float, float]:
        return self.width, self.height

    def draw(self) -> None:
        canvas, shown = self.canv, self._sketch
        scale = self.width / shown.side
        canvas.saveState()
        shows = canvas.beginPath()
        shows.rect(0, 0, self.width, self.height)
        canvas.clipPath(shows, stroke=0)
        canvas.translate(-shown.left * scale, shown.top * scale)
        canvas.setLineCap(1)
        canvas.setLineJoin(1)
        for line in shown.lines:
            pen = _HalfEllipses(canvas, shown.side, scale)
            canvas.setLineWidth(line.width * shown.pixel * scale)
            canvas.setDash([dash * shown.pixel * scale for dash in line.dashes])
            canvas.setStrokeGray(1 - line.opacity)
            line.draw(pen)
            pen.stroke()
        canvas.restoreState()


class _HalfEllipses(PathPen):
    """Draws a half ellipse as two cubics."""

    _at_now = Point(0, 0)

    def move_to(self, p: Point) -> None:
        self._at_now = p
        super().move_to(p)

    def half_ellipse_to(self, p: Point, half: Point, turned: float, *, clockwise: bool) -> None:
        """With the half axes `half`, the first of them from here to `p`, whatever it is `turned`."""
        start, middle = self._at_now, (self._at_now + p) * 0.5
        along = (p - start) * 0.5
        length = (along.x**2 + along.y**2) ** 0.5
        side = 1 if clockwise else -1
        out = Point(along.y, -along.x) * (side * half.y / length)
        top = middle + out
        self.curve_to(start + out * QUARTER, top - along * QUARTER, top)
        self.curve_to(top + along * QUARTER, p + out * QUARTER, p)
        self._at_now = p
