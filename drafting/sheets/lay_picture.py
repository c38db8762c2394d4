"""The lay as the page shows it, left to CSS to colour; and one piece large, to look at while chalking it.

Written as plain strings, as the preview is. Classes: `cloth`, `selvedge`, `fold`, `piece` (with `turned`),
`hole`, `slit`, `tuck`, `level`, `label`, `dim`, `mark`; `fold` is the cloth's, and a piece's; `end` is that
of the cloth on hand, `wanting` what the lay takes beyond it. A piece is a group whose `data-number` says
which it is of all that is chalked, from 0.
"""

from ..cloth.chalk import ChalkPiece, ChalkPlan
from ..cloth.cloth import Cloth
from ..cloth.pieces_on_hand import PieceOnHand
from ..geometry import Bounds, Point, bounds
from ..geometry.pens import draw_line, path_data, polygon_data
from ..geometry.polygon import centroid
from ..lay.layout import Layout
from ..words.units import Unit
from .laid_cloth import (
    LaidLine,
    LaidMark,
    LaidPiece,
    LaidWords,
    inside_data,
    laid_cloth,
    laid_mark,
    shown_points,
)
from .text import clean, escaped


def lay_svg(
    layout: Layout, cloth: Cloth, *, unit: Unit = "cm", plan: ChalkPlan | None = None,
    piece: PieceOnHand | None = None, before: int = 0,
) -> str:
    """The lay as an SVG element, with the marks and numbers of a `plan`, `before` which so many pieces are
    chalked; on a `piece` of cloth, or a bolt."""
    laid = laid_cloth(layout, cloth, unit=unit, plan=plan, piece=piece, before=before)
    parts = [
        _rings(laid.rings) if laid.rings else _rect("cloth", laid.cloth),
        *(_rect("selvedge", rim) for rim in laid.selvedges),
        *([_rect("wanting", laid.wanting)] if laid.wanting else []),
        *(_piece(piece, number if plan else None) for number, piece in enumerate(laid.pieces, before)),
        _words("dim", laid.heading),
        *([_words("dim", laid.on_hand)] if laid.on_hand else []),
    ]
    parts += [_across(name, line, laid.letters / 5) for name, line in (("fold", laid.fold), ("end", laid.end))
              if line]
    parts += [_mark(mark) for _, marks in laid.marks for mark in marks]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="lay" role="img" viewBox="0 0 '
        f'{laid.width:.0f} {laid.height:.0f}" fill="none" stroke="currentColor" '
        f'stroke-width="{laid.letters / 14:.1f}" '
        f'font-size="{laid.letters:.1f}" font-family="sans-serif" text-anchor="middle">'
        f"<title>{escaped(laid.title)}</title>{''.join(parts)}</svg>"
    )


def close_ups_svg(piece: ChalkPiece, width: float) -> str:
    """One piece of the plan alone, large, with its marks' letters, and again what of it is crowded with them,
    larger; `width` is the plan's."""
    outline = shown_points(piece, piece.true.outline, Point(0.0, 0.0), width)
    whole = bounds(outline)
    size = _letters(whole)
    crowds = _crowds(piece.rings, CROWDED * size)
    elsewhere = {letter for crowd in crowds for letter, _ in crowd}
    apart = tuple(ring for ring in piece.rings if ring[0] not in elsewhere)
    name = clean(piece.title)
    return _close_up(piece, width, whole, size, apart, centroid(outline), f"{name} with its marks") + "".join(
        _close_up(piece, width, box, _letters(box), crowd, _middle(box),
                  f"{name} about {crowd[0][0]}, where its marks are close together")
        for crowd in crowds for box in (bounds([at for _, at in crowd]),)
    )


CROWDED = 1.6
"""Letter sizes between two marks below which their letters run into each other."""
CROWD = 4
"""Marks that are worth a picture of their own."""
_Rings = tuple[tuple[str, Point], ...]


def _letters(box: Bounds) -> float:
    """The size of letters in a picture of what is in a box."""
    left, top, right, bottom = box
    return max((right - left) / 18, (bottom - top) / 24, 1.0)


def _middle(box: Bounds) -> Point:
    left, top, right, bottom = box
    return Point((left + right) / 2, (top + bottom) / 2)


def _crowds(rings: _Rings, near: float) -> list[_Rings]:
    """The marks that hang together by being `near` one another, where they are CROWD or more."""
    crowds: list[_Rings] = []
    for ring in rings:
        touching = [crowd for crowd in crowds if any((at - ring[1]).length < near for _, at in crowd)]
        crowds = [crowd for crowd in crowds if crowd not in touching]
        crowds.append((*(one for crowd in touching for one in crowd), ring))
    return [crowd for crowd in crowds if len(crowd) >= CROWD]


def _close_up(
    piece: ChalkPiece, width: float, box: Bounds, size: float, rings: _Rings, middle: Point, title: str
) -> str:
    """What lies in a box, with some of its marks, whose letters stand away from the `middle`."""
    left, top, right, bottom = box
    origin = Point(1.5 * size - left, 1.5 * size - top)
    corners = shown_points(piece, piece.true.outline, origin, width + origin.x)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="close-up" role="img" viewBox="0 0 '
        f'{right - left + 3 * size:.0f} {bottom - top + 3 * size:.0f}" fill="none" stroke="currentColor" '
        f'stroke-width="{size / 10:.1f}" font-family="sans-serif" text-anchor="middle">'
        f"<title>{escaped(title)}</title>"
        f'<path class="piece" d="{polygon_data(corners, 1)}"/>'
        + "".join(
            _inside(LaidLine(line.name, line.kind, points)) for line in piece.true.insides
            if len(points := shown_points(piece, line.points, origin, width + origin.x)) > 1)
        + "".join(_mark(laid_mark(letter, at, middle, origin, size, -0.85)) for letter, at in rings)
        + "</svg>"
    )


def _rect(name: str, box: Bounds) -> str:
    left, top, right, bottom = box
    return (f'<rect class="{name}" x="{left:.1f}" y="{top:.1f}" width="{right - left:.1f}" '
            f'height="{bottom - top:.1f}"/>')


def _rings(rings: tuple[tuple[Point, ...], ...]) -> str:
    """A piece of cloth with its holes."""
    data = "".join(polygon_data(ring, 1) for ring in rings)
    return f'<path class="cloth" fill-rule="evenodd" d="{data}"/>'


def _across(name: str, line: tuple[Point, Point], width: float) -> str:
    data = path_data(lambda pen: draw_line(pen, line), 1)
    return f'<path class="{name}" d="{data}" stroke-width="{width:.1f}"/>'


def _words(name: str, words: LaidWords) -> str:
    x, y = words.at
    rotate = f' transform="rotate(90 {x:.1f} {y:.1f})"' if words.upright else ""
    return (f'<text class="{name}" x="{x:.1f}" y="{y:.1f}" font-size="{words.size:.1f}"{rotate} '
            f'fill="currentColor" stroke="none">{escaped(words.text)}</text>')


def _piece(piece: LaidPiece, number: int | None) -> str:
    turned = " turned" if piece.turned else ""
    which = "" if number is None else f' data-number="{number}"'
    return (f'<g{which}><path class="piece{turned}" d="{polygon_data(piece.outline, 1)}"/>'
            + "".join(map(_inside, piece.insides)) + _words("label", piece.label) + "</g>")


def _inside(line: LaidLine) -> str:
    return f'<path class="{line.kind}" d="{inside_data(line, 1)}"/>'


def _mark(mark: LaidMark) -> str:
    return (f'<circle class="mark" cx="{mark.at.x:.1f}" cy="{mark.at.y:.1f}" r="{mark.radius:.1f}"/>'
            + _words("mark", mark.letter))
