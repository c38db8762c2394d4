"""The pieces as one true-size SVG sheet, written by svgwrite: a millimetre is a millimetre."""

from functools import partial
from typing import TYPE_CHECKING, Any

from ..geometry import Point, bounds
from ..geometry.pens import path_data, polygon_data
from ..pattern import Pattern
from ..words.units import Unit
from .drawing import (
    ARROW,
    STROKES,
    Drawn,
    cut_line,
    draw_grain,
    draw_piece,
    draw_sample,
    strokes_used,
)
from .labels import BASELINE, TEXT, TITLE, Labels, printed_labels
from .layout import Arrangement, arranged, cell, row_widths, sewing_order, shelves
from .svg_file import FONTS, as_text, label_words, new_drawing, words
from .text import clean, text_width

if TYPE_CHECKING:
    from svgwrite import Drawing

MARGIN = 20.0
GAP = 30.0
TEST_SQUARE = 100.0
"""mm."""


def pieces_svg(pattern: Pattern, *, unit: Unit = "cm", name: str | None = None) -> str:
    """An SVG document at true size, viewBox in mm; lengths written in `unit`.

    Every edge is a path of its own, class `sewing`, with `data-piece` and `data-edge`; the cutting
    line has class `cutting`; lines inside the piece have class `inner` too. All are in the piece's
    own coordinates, moved by the group's transform.
    `name` (whose pattern it is) is printed as plain text whatever it holds.
    """
    whose = clean(name or "")
    heading = f"{clean(pattern.title)} · {whose}" if whose else clean(pattern.title)
    labelled = [printed_labels(draw_piece(p), heading, unit) for p in sewing_order(pattern)]
    arrangement = _squarest(labelled)
    legend = strokes_used(labels.drawn for labels in labelled)
    head_width = TEST_SQUARE + 12 + max(
        text_width(heading, TITLE * 1.5, bold=True),
        30 + max(text_width(text, TEXT) for text in _head_texts(legend)),
    )
    head_height = max(TEST_SQUARE, TITLE * 2 + (len(legend) + 1) * TEXT * 1.6)
    width = max(arrangement.width, head_width) + 2 * MARGIN
    height = head_height + GAP + arrangement.height + 2 * MARGIN
    drawing = new_drawing(
        width, height, title=heading, about=f"{len(labelled)} pieces at true size, in millimetres.",
        fill="none", stroke="black", font_family=FONTS,
    )
    drawing.add(drawing.rect((0, 0), ("100%", "100%"), fill="white", stroke="none"))
    drawing.add(_head(drawing, heading, legend))
    for labels, (x, y) in zip(labelled, arrangement.places, strict=True):
        line = bounds(labels.drawn.cutting)[1]
        drawing.add(_piece(drawing, labels, MARGIN + x - labels.bounds[0],
                           MARGIN + head_height + GAP + y - line))
    return as_text(drawing)


def _squarest(labelled: list[Labels]) -> Arrangement:
    """In rows, so that the sheet has the least way round."""
    cells = [cell(labels) for labels in labelled]
    widths = [c.width for c in cells]
    candidates = [
        arranged(cells, shelves(widths, widest, GAP), GAP) for widest in row_widths(widths, GAP)
    ]
    return min(candidates, key=lambda found: found.width + found.height)


def _head_texts(legend: list[str]) -> list[str]:
    return [STROKES[kind].meaning for kind in legend] + [_HOW_TO_PRINT]


_HOW_TO_PRINT = "Print at 100 % (actual size): the square must measure 100 mm each way."


def _head(drawing: "Drawing", heading: str, legend: list[str]) -> Any:
    group = drawing.g(id="sheet-head", transform=f"translate({MARGIN:g} {MARGIN:g})")
    group.add(drawing.rect((0, 0), (TEST_SQUARE, TEST_SQUARE), id="test-square", stroke_width=0.3))
    x, y = TEST_SQUARE + 12, TITLE * 1.2
    group.add(words(drawing, heading, x, y, TITLE * 1.5, weight="bold"))
    y += TITLE * 1.3
    group.add(words(drawing, _HOW_TO_PRINT, x, y, TEXT))
    for kind in legend:
        y += TEXT * 1.6
        sample = path_data(partial(draw_sample, kind=kind, start=Point(x, y - TEXT * BASELINE), length=24))
        group.add(_stroked(drawing.path(d=sample), kind, f"legend-{kind}"))
        group.add(words(drawing, STROKES[kind].meaning, x + 30, y, TEXT))
    return group


def _piece(drawing: "Drawing", labels: Labels, x: float, y: float) -> Any:
    drawn = labels.drawn
    piece = drawn.piece
    group = drawing.g(id=_slug(piece.name), class_="piece", transform=f"translate({x:.3f} {y:.3f})")
    group["data-piece"] = piece.name
    group.set_desc(title=clean(piece.title), desc=_description(drawn))
    group.add(_stroked(drawing.path(d=polygon_data(drawn.cutting)), "cutting", "cutting"))
    for name, path in drawn.sewing:
        edge = _stroked(drawing.path(d=path_data(path.draw), id=f"{_slug(piece.name)}--{_slug(name)}"),
                        "sewing", "sewing")
        edge["data-piece"], edge["data-edge"] = piece.name, name
        group.add(edge)
    for mark in drawn.marks:
        line = _stroked(drawing.path(d=path_data(mark.path.draw)), mark.kind, f"inner {mark.kind}")
        line["data-piece"], line["data-edge"] = piece.name, mark.name
        group.add(line)
    for tick in drawn.ticks:
        notch = drawing.line(_xy(tick.start.x, tick.start.y), _xy(tick.end.x, tick.end.y))
        group.add(_stroked(notch, "notch", "notch"))
    a, b = drawn.grain
    grain = path_data(partial(draw_grain, a=a, b=b, size=ARROW))
    group.add(_stroked(drawing.path(d=grain), "grain", "grain"))
    for label in labels.found:
        weight = "bold" if label.kind == "title" else "normal"
        group.add(label_words(drawing, label, weight=weight, class_=f"label {label.kind}"))
    return group


def _description(drawn: Drawn) -> str:
    piece = drawn.piece
    count = cut_line(piece)
    named = f" ({', '.join(clean(copy) for copy in piece.copies)})" if piece.copies else ""
    return f"{count[0].upper()}{count[1:]}{named}. Right side of the cloth up, grain along the arrow."


def _stroked(element: Any, kind: str, classes: str) -> Any:
    stroke = STROKES[kind]
    element["class"] = classes
    element["stroke-width"] = f"{stroke.width:g}"
    if stroke.dashes:
        element["stroke-dasharray"] = " ".join(f"{d:g}" for d in stroke.dashes)
    return element


def _xy(x: float, y: float) -> tuple[str, str]:
    return f"{x:.3f}", f"{y:.3f}"


def _slug(name: str) -> str:
    return "-".join(clean(name).split())
