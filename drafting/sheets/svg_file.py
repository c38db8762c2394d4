"""What every SVG file that is taken away has in common: svgwrite makes it, its numbers are millimetres."""

from typing import TYPE_CHECKING, Any

from .labels import BASELINE, Label

if TYPE_CHECKING:
    from svgwrite import Drawing

FONTS = "DejaVu Sans, Verdana, Arial, sans-serif"


def new_drawing(
    width: float, height: float, *, title: str, about: str, unit: str = "mm", **look: str
) -> "Drawing":
    """An empty sheet whose viewBox counts in `unit`, with its title and description."""
    from svgwrite import Drawing

    drawing = Drawing(
        size=(f"{width:.2f}{unit}", f"{height:.2f}{unit}"), viewBox=f"0 0 {width:.2f} {height:.2f}",
        debug=False, **look,
    )
    drawing.set_desc(title=title, desc=about)
    return drawing


def as_text(drawing: "Drawing") -> str:
    """The file's content."""
    return '<?xml version="1.0" encoding="utf-8"?>\n' + str(drawing.tostring())


def words(
    drawing: "Drawing", text: str, x: float, y: float, size: float, *, weight: str = "normal", **look: str
) -> Any:
    """One line with its baseline at y, in black."""
    return drawing.text(
        text, x=[f"{x:.2f}"], y=[f"{y:.2f}"], font_size=f"{size:g}", font_weight=weight,
        **{"fill": "black", "stroke": "none", **look},
    )


def label_words(drawing: "Drawing", label: Label, *, weight: str = "normal", **look: str) -> Any:
    """A label in its place, turned as it stands there."""
    text = words(drawing, label.text, 0, BASELINE * label.size, label.size, weight=weight,
                 text_anchor="middle", **look)
    turned = f" rotate({label.angle:.3f})" if label.angle else ""
    text["transform"] = f"translate({label.x:.3f} {label.y:.3f}){turned}"
    return text
