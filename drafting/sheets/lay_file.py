"""The lay as a true-size SVG file, written by svgwrite, in colours of its own."""

from typing import TYPE_CHECKING, Any

from ..cloth.chalk import ChalkPlan
from ..cloth.cloth import Cloth
from ..geometry import Bounds, Point
from ..geometry.pens import draw_line, path_data, polygon_data
from ..lay.layout import Layout
from ..words.units import Unit
from .laid_cloth import LaidCloth, LaidMark, LaidPiece, LaidWords, inside_data, laid_cloth
from .svg_file import as_text, new_drawing, words

if TYPE_CHECKING:
    from svgwrite import Drawing


def lay_file_svg(layout: Layout, cloth: Cloth, *, unit: Unit = "cm", plan: ChalkPlan | None = None) -> str:
    """An SVG document at true size, viewBox in mm: the cloth, a group for each piece, one for its marks.

    Cutting lines have class `piece`, with `turned` where the piece lies head down.
    """
    laid = laid_cloth(layout, cloth, unit=unit, plan=plan)
    drawing = new_drawing(
        laid.width, laid.height, title=laid.title,
        about=f"At true size, in millimetres, the cut end at the top: {laid.heading.text}.",
        fill="white", stroke="black", stroke_width=f"{laid.letters / 14:.1f}",
        font_family="sans-serif", text_anchor="middle",
    )
    drawing.add(_cloth(drawing, laid))
    for piece in laid.pieces:
        drawing.add(_piece(drawing, piece))
    if laid.fold:
        drawing.add(_line(
            drawing, "fold", laid.fold, laid.letters / 5, "The fold", "Nothing is cut along it."))
    if laid.end and laid.on_hand:
        drawing.add(_line(drawing, "end", laid.end, laid.letters / 5, "The end of the cloth on hand",
                          laid.on_hand.text))
    for title, marks in laid.marks:
        drawing.add(_marks(drawing, title, marks))
    return as_text(drawing)


def _cloth(drawing: "Drawing", laid: LaidCloth) -> Any:
    group = drawing.g(id="the-cloth")
    group.set_desc(title="The cloth", desc=laid.heading.text)
    group.add(_rect(drawing, "cloth", laid.cloth))
    for rim in laid.selvedges:
        group.add(_rect(drawing, "selvedge", rim))
    group.add(_words(drawing, "dim", laid.heading))
    if laid.on_hand:
        group.add(_words(drawing, "dim", laid.on_hand))
    return group


def _line(
    drawing: "Drawing", name: str, ends: tuple[Point, Point], width: float, title: str, about: str
) -> Any:
    """Over the pieces that lie on it."""
    group = drawing.g()
    group.set_desc(title=title, desc=about)
    line = path_data(lambda pen: draw_line(pen, ends))
    group.add(drawing.path(d=line, class_=name, stroke_width=f"{width:.1f}"))
    return group


def _rect(drawing: "Drawing", name: str, box: Bounds) -> Any:
    left, top, right, bottom = box
    return drawing.rect((f"{left:.3f}", f"{top:.3f}"), (f"{right - left:.3f}", f"{bottom - top:.3f}"),
                        class_=name)


def _words(drawing: "Drawing", name: str, line: LaidWords) -> Any:
    x, y = line.at
    text = words(drawing, line.text, x, y, line.size, class_=name)
    if line.upright:
        text["transform"] = f"rotate(90 {x:.2f} {y:.2f})"
    return text


def _piece(drawing: "Drawing", piece: LaidPiece) -> Any:
    group = drawing.g()
    group["data-piece"] = piece.title
    ways = (("head down", piece.turned), ("wrong side up", piece.mirrored))
    group.set_desc(title=piece.title, desc=", ".join(["Its cutting line", *(way for way, so in ways if so)]))
    name = "piece turned" if piece.turned else "piece"
    group.add(drawing.path(d=polygon_data(piece.outline), class_=name))
    for line in piece.insides:
        group.add(drawing.path(d=inside_data(line), class_=line.kind))
    group.add(_words(drawing, "label", piece.label))
    return group


def _marks(drawing: "Drawing", title: str, marks: tuple[LaidMark, ...]) -> Any:
    group = drawing.g()
    group.set_desc(title=f"Marks of {title}", desc="A ring about each corner to chalk, with its letter.")
    for mark in marks:
        middle = f"{mark.at.x:.3f}", f"{mark.at.y:.3f}"
        group.add(drawing.circle(middle, f"{mark.radius:.2f}", class_="mark"))
        group.add(_words(drawing, "mark", mark.letter))
    return group
