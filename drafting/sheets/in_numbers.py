"""A piece with straight sides told in numbers, so that whoever has a tape needs no paper for it.

Everything is measured on the cloth as it is cut, with allowances: across from the piece's left end, down from
its top. What is cut is told as exactly as it is drawn: as a tape reads it, and to a tenth of a millimetre
where that says more.
"""

from collections.abc import Iterator

from ..geometry import Bounds, Point, bounds
from ..pattern import InnerLine, Piece, notch_point
from ..words.units import Unit, format_finely
from .cover import how_often
from .printed_parts import SAME
from .spare import Told, corners_of, middle_of
from .swept import Swept, swept
from .text import clean


def in_numbers(told: Told, on_paper: str, unit: Unit) -> Iterator[str]:
    """Sentences: the piece, then what is cut and marked in it. `on_paper` says where its patch is found."""
    piece = told.piece
    box = bounds(piece.cutting_line)
    yield f"{capital(clean(piece.title))}: {how_often(piece)}. {_shape(piece, told, box, on_paper, unit)}"
    for name, other in told.holes.items():
        yield f"– {_hole(piece, name, other, box, on_paper, unit)}"
    for mark in (*_notches(piece, box, unit), *_lines(piece, box, unit)):
        yield f"– {capital(mark)}."


def capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def exact(mm: float, unit: Unit) -> str:
    """A length as the tape has it, and to a tenth of a millimetre where that is not the same."""
    text = format_finely(mm, unit)
    as_said = unit in ("cm", "mm", "m") and abs(mm - round(mm)) < SAME
    return text if as_said else f"{text} ({mm:.1f} mm)"


def _shape(piece: Piece, told: Told, box: Bounds, on_paper: str, unit: Unit) -> str:
    left, top, right, bottom = box
    size = f"{exact(right - left, unit)} across by {exact(bottom - top, unit)} down"
    if told.patched and not told.holes:
        return f"Draw a rectangle, {size}; what of it is not straight is printed on {on_paper}."
    if by_string := swept(piece):
        return f"{size}, drawn with a string. {_by_string(by_string, box, unit)}"
    corners = corners_of(piece)
    if all(_at_corner(p, box) for p in corners):
        return f"A {'square' if abs(right - left - bottom + top) < SAME else 'rectangle'}, {size}."
    places = "; ".join(_exactly_at(p, box, unit) for p in corners)
    return f"{size}, straight from corner to corner: {places}."


def _by_string(drawn: Swept, box: Bounds, unit: Unit) -> str:
    """From stop to stop, beginning at the first of them."""
    ways = []
    for k, (_, radius) in enumerate(drawn.stops):
        to, _ = drawn.stops[(k + 1) % len(drawn.stops)]
        clock = "clockwise" if radius > 0 else "against the clock"
        how = f"the string, {exact(abs(radius), unit)} long, {clock} to" if radius else "straight to"
        ways.append(f"{how} {_exactly_at(to, box, unit)}")
    start = _exactly_at(drawn.stops[0][0], box, unit)
    return f"Hold it {_exactly_at(drawn.centre, box, unit)}. Begin {start}; {'; '.join(ways)}."


def _exactly_at(p: Point, box: Bounds, unit: Unit) -> str:
    return f"{exact(p.x - box[0], unit)} across, {exact(p.y - box[1], unit)} down"


def _at_corner(p: Point, box: Bounds) -> bool:
    left, top, right, bottom = box
    return min(abs(p.x - left), abs(p.x - right)) <= SAME and min(abs(p.y - top), abs(p.y - bottom)) <= SAME


def _hole(piece: Piece, name: str, other: Piece, box: Bounds, on_paper: str, unit: Unit) -> str:
    ring = piece.hole_cutting_lines[name]
    left, top, _, _ = bounds(ring)
    where = f"its pattern on {on_paper}" if other is piece else f"as in the {clean(other.title)}"
    across = "on the middle line" if middle_of(piece) is not None else (
        f"its left end {exact(left - box[0], unit)} across")
    return f"Cut out “{clean(name)}”, {where}: {across}, its top {exact(top - box[1], unit)} down."


def _notches(piece: Piece, box: Bounds, unit: Unit) -> Iterator[str]:
    """Notches on the same side in one, and two sides that have the same in one."""
    left, top, right, bottom = box
    by_side: dict[str, list[tuple[float, str]]] = {}
    for notch in piece.notches:
        p = notch_point(piece, notch)
        across, down = p.x - left, p.y - top
        off = {"left": across, "right": right - p.x, "top": down, "bottom": bottom - p.y}
        side = min(off, key=lambda name: off[name])
        label = clean(notch.label or notch.edge)
        if off[side] > piece.allowance(notch.edge) + SAME:
            side, place = "", f"{label} {_at(p, box, unit)}"
        elif side in ("left", "right"):
            place = f"{label} {format_finely(down, unit)} down"
        else:
            place = f"{label} {format_finely(across, unit)} across"
        by_side.setdefault(side, []).append((down + across, place))
    same: dict[tuple[str, ...], list[str]] = {}
    for side, places in by_side.items():
        same.setdefault(tuple(place for _, place in sorted(places)), []).append(side)
    for said, at in same.items():
        where = f"at the {' and '.join(at)}: " if all(at) else ""
        yield f"{where}{', '.join(said)}"


def _lines(piece: Piece, box: Bounds, unit: Unit) -> Iterator[str]:
    said: dict[tuple[str, str], list[str]] = {}
    for inner in piece.marked_lines:
        if inner.kind != "hole":
            said.setdefault((inner.kind, _place(inner, box, unit)), []).append(f"“{clean(inner.name)}”")
    for (kind, place), names in said.items():
        yield f"{kind} {' and '.join(names)} {place}"


def _place(inner: InnerLine, box: Bounds, unit: Unit) -> str:
    left, top, right, _ = box
    a, b = inner.path.start, inner.path.end
    if inner.kind != "slit" and abs(a.y - b.y) <= SAME:
        return f"straight across, {format_finely(a.y - top, unit)} down"
    if inner.kind != "slit" and abs(a.x - b.x) <= SAME:
        return f"straight down, {format_finely(a.x - left, unit)} across"
    if abs(a.x - b.x) <= SAME and abs(a.x - (left + right) / 2) <= SAME:
        ends = f"{format_finely(a.y - top, unit)} to {format_finely(b.y - top, unit)} down"
        return f"on the middle line, from {ends}"
    return f"from {_at(a, box, unit)} to {_at(b, box, unit)}"


def _at(p: Point, box: Bounds, unit: Unit) -> str:
    return f"{format_finely(p.x - box[0], unit)} across, {format_finely(p.y - box[1], unit)} down"
