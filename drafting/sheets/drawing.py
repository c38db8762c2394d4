"""A piece as lines to draw, the same for every kind of sheet.

A writer takes a `Drawn` and strokes its lines in whatever way sets the kinds apart; it knows
nothing of pieces. Lengths in mm, x to the right, y down.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from math import pi
from typing import Literal

from ..geometry import Path, Pen, Point
from ..geometry.pens import draw_line
from ..pattern import Piece

Turn = Literal[0, 90, 180]
"""Degrees clockwise by which a piece is turned on the sheet."""

SLENDER = 6.0
"""A piece this many times as long as wide lies on its side where it is shown small."""

NOTCH_IN = 6.0
"""mm a notch runs into the piece where there is no allowance to cross."""

ARROW = 12.0
"""mm: length of the grain line's arrow heads at true size."""


@dataclass(frozen=True, slots=True)
class Tick:
    """A notch: from the sewing line to the cutting line; `inward` is the way into the piece."""

    start: Point
    end: Point
    inward: Point
    label: str


@dataclass(frozen=True, slots=True)
class DrawnLine:
    """A line inside the piece."""

    name: str
    kind: Literal["fold", "slit", "tuck", "level", "row", "sewing", "cutting", "middle", "end", "other"]
    path: Path


@dataclass(frozen=True, slots=True)
class Drawn:
    """A piece's lines, turned as it lies on the sheet but not yet moved to its place."""

    piece: Piece
    turn: Turn
    cutting: tuple[Point, ...]
    sewing: tuple[tuple[str, Path], ...]
    grain: tuple[Point, Point]
    ticks: tuple[Tick, ...]
    marks: tuple[DrawnLine, ...]


def draw_piece(piece: Piece, turn: Turn = 0) -> Drawn:
    """The piece's lines, turned about its origin."""
    motion = _motion(turn)
    ticks = [_tick(piece, i) for i in range(len(piece.notches))]
    sewing = tuple((edge.name, edge.path) for edge in piece.outline.edges)
    marks = tuple(_marks(piece))
    if turn == 0:
        return Drawn(piece, 0, piece.cutting_line, sewing, piece.grain_line, tuple(ticks), marks)
    a, b = piece.grain_line
    return Drawn(
        piece,
        turn,
        tuple(motion(p) for p in piece.cutting_line),
        tuple((name, path.moved(motion)) for name, path in sewing),
        (motion(a), motion(b)),
        tuple(Tick(motion(t.start), motion(t.end), motion(t.inward), t.label) for t in ticks),
        tuple(DrawnLine(mark.name, mark.kind, mark.path.moved(motion)) for mark in marks),
    )


def turn_of(piece: Piece) -> Turn:
    """How a piece lies that is shown small: a slender one on its side, so that it takes no row's height."""
    left, top, right, bottom = piece.outline.bounds
    return 90 if bottom - top > SLENDER * (right - left) else 0


def _marks(piece: Piece) -> Iterator[DrawnLine]:
    for inner in piece.marked_lines:
        if inner.kind == "hole":
            polygon = piece.hole_cutting_lines[inner.name]
            yield DrawnLine(inner.name, "sewing", inner.path)
            yield DrawnLine(inner.name, "cutting", Path.through(*polygon, polygon[0]))
        else:
            yield DrawnLine(inner.name, inner.kind, inner.path)


def _motion(turn: Turn) -> Callable[[Point], Point]:
    angle = turn * pi / 180
    return lambda p: p.turned(angle)


def _tick(piece: Piece, index: int) -> Tick:
    """At a corner of the edge the tick halves the angle, so that it ends in the allowance's corner."""
    notch = piece.notches[index]
    path = piece.outline[notch.edge].path
    distance = path.length - notch.distance if notch.from_end else notch.distance
    start = path.point_along(distance)
    before = path.direction_along(distance - 1e-3).outward
    after = path.direction_along(distance + 1e-3).outward
    middle = (before + after).unit()
    across = piece.allowance(notch.edge) / max(0.5, middle.dot(before))
    return Tick(start, start + middle * (across or -NOTCH_IN), -middle, notch.label)


def cut_line(piece: Piece) -> str:
    """How many to cut, in words: `cut 2, mirrored`."""
    return f"cut {piece.cut}" + (", mirrored" if piece.mirrored else "")


@dataclass(frozen=True, slots=True)
class LineLook:
    """How a kind of line is drawn so that it needs no colour, and what it means to the cutter."""

    width: float
    dashes: tuple[float, ...]
    meaning: str


STROKES: dict[str, LineLook] = {
    "cutting": LineLook(0.7, (), "cut here"),
    "sewing": LineLook(0.4, (4, 2), "sew here"),
    "grain": LineLook(0.4, (), "grain: lay it along the warp"),
    "notch": LineLook(0.7, (), "match these marks"),
    "fold": LineLook(0.4, (10, 2, 1.5, 2), "fold here"),
    "tuck": LineLook(0.4, (6, 1.5, 1.2, 1.5, 1.2, 1.5), "stitch the tuck here"),
    "slit": LineLook(0.7, (16, 1.5), "slit: cut here, inside the piece"),
    "level": LineLook(0.4, (0.8, 2.4), "level to measure from"),
    "middle": LineLook(0.7, (14, 2, 2, 2, 2, 2), "middle: lay it on a fold, or turn the paper over here"),
    "other": LineLook(0.4, (4, 2), "sew here on the half that is named, and cut the line beside it"),
    "end": LineLook(0.2, (1, 1), "the paper ends, the piece goes on straight"),
}
"""Widths and dashes in mm of paper."""


def strokes_used(drawn: Iterable[Drawn]) -> list[str]:
    """The kinds of line that occur, in the order of STROKES."""
    kinds = {"cutting", "sewing", "grain"}
    for d in drawn:
        kinds.update(mark.kind for mark in d.marks)
        if d.ticks:
            kinds.add("notch")
    return [kind for kind in STROKES if kind in kinds]


def arrow_heads(a: Point, b: Point, size: float) -> list[tuple[Point, Point, Point]]:
    """The two heads of the grain line from a to b: barb, tip, barb. The grain runs both ways."""
    along = (b - a).unit()
    across = along.outward
    heads = []
    for tip, back in ((a, along), (b, -along)):
        foot = tip + back * size
        heads.append((foot + across * (size * 0.4), tip, foot - across * (size * 0.4)))
    return heads


def draw_grain(pen: Pen, a: Point, b: Point, size: float) -> None:
    """The grain line with its arrow heads, `size` long at most."""
    draw_line(pen, (a, b))
    for head in arrow_heads(a, b, min(size, a.distance(b) / 4)):
        draw_line(pen, head)


def draw_sample(pen: Pen, kind: str, start: Point, length: float) -> None:
    """A short line of that kind for the key, from `start` to the right."""
    end = start + Point(length, 0)
    if kind == "grain":
        draw_grain(pen, start, end, 4.0)
    elif kind == "notch":
        middle = Point(length / 2, 0)
        draw_line(pen, (start + middle - Point(0, 2.5), start + middle + Point(0, 2.5)))
    else:
        draw_line(pen, (start, end))
