"""The gallery: every garment drafted for one body, on one sheet, to see the wardrobe at a glance."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from ..pattern import Pattern
from ..words.units import Unit
from .drawing import cut_line
from .labels import Labels
from .preview import CLASSES, Preview, lines_of, preview
from .svg_file import as_text, label_words, new_drawing, words
from .text import clean

if TYPE_CHECKING:
    from svgwrite import Drawing

CELL, GAP, HEAD = 360.0, 24.0, 34.0
"""Pixels: a cell's width and the height of its picture, the space between, and a title's height."""

INK, PAPER, CLOTH = "#2b2620", "#fffdf8", "#f3e9d6"

STYLE = (
    ".cut,.sew,.grain,.notch,.inner{vector-effect:non-scaling-stroke;stroke-width:1}"
    f".cut{{fill:{CLOTH}}}.sew{{stroke-dasharray:4 3;stroke-width:.7}}"
)


def gallery_svg(patterns: Sequence[Pattern], *, title: str, unit: Unit = "cm", columns: int = 3) -> str:
    """One SVG document of all patterns, each fitted into its own cell under its name."""
    rows = -(-len(patterns) // columns)
    width = columns * (CELL + GAP) + GAP
    height = HEAD + GAP + rows * (CELL + HEAD + GAP)
    heading = clean(title, 120)
    drawing = new_drawing(
        width, height, unit="px", title=heading, fill=INK, text_anchor="middle", font_family="sans-serif",
        about=f"The pieces of {len(patterns)} garments, each garment to a scale of its own.",
    )
    drawing.defs.add(drawing.style(STYLE))
    drawing.add(drawing.rect((0, 0), ("100%", "100%"), fill=PAPER))
    drawing.add(words(drawing, heading, width / 2, HEAD, 24, weight="bold", fill=INK))
    for i, pattern in enumerate(patterns):
        x = GAP + i % columns * (CELL + GAP)
        y = HEAD + GAP + i // columns * (CELL + HEAD + GAP)
        drawing.add(words(drawing, clean(pattern.title), x + CELL / 2, y + HEAD * 0.6, 18,
                          weight="bold", fill=INK))
        drawing.add(_cell(drawing, preview(pattern, unit=unit), x, y + HEAD))
    return as_text(drawing)


def _cell(drawing: "Drawing", shown: Preview, x: float, y: float) -> Any:
    cell = drawing.svg(
        insert=(f"{x:.0f}", f"{y:.0f}"), size=(f"{CELL:.0f}", f"{CELL:.0f}"), class_="pieces",
        viewBox=f"0 0 {shown.width:.0f} {shown.height:.0f}", fill="none", stroke=INK,
        stroke_width=f"{shown.letters / 14:.1f}",
    )
    cell.set_desc(title=shown.title)
    for labels, left, top in shown.pieces:
        cell.add(_piece(drawing, labels, left, top, shown.letters))
    return cell


def _piece(drawing: "Drawing", labels: Labels, left: float, top: float, letters: float) -> Any:
    drawn = labels.drawn
    group = drawing.g(transform=f"translate({left:.1f} {top:.1f})")
    group["data-piece"] = clean(drawn.piece.name)
    group.set_desc(title=clean(drawn.piece.title), desc=cut_line(drawn.piece))
    for name, data in lines_of(drawn, letters):
        group.add(drawing.path(d=data, class_=name))
    for label in labels.found:
        group.add(label_words(drawing, label, class_=CLASSES[label.kind], fill=INK))
    return group
