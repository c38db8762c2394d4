"""What of a piece is printed where paper is spared: all of it, its half, or what is not straight."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import inf, radians
from typing import Literal

from ..geometry import Bounds, Path, Point
from ..geometry.clipping import ON_A_SIDE, along_a_side, clipped_lines, clipped_polygon, clipped_ring
from ..geometry.polygon import nearest, sides
from ..pattern import Piece
from ..words.units import Unit, format_length
from .drawing import Drawn, DrawnLine, Tick, draw_piece

EVERYWHERE: Bounds = (-inf, -inf, inf, inf)
What = Literal["whole", "half", "patch"]

SAME = 0.05
"""mm within which the two halves of a piece are one."""

Line = tuple[Point, ...]


@dataclass(frozen=True)
class PrintedPart:
    """A piece, or a part of it, as it is printed.

    `edge` are the lines along which its edge is cut, of which there are none along the fold or where a patch
    ends, with those of the other half where that differs; `drawn.cutting` goes all round, and so does `sewn`,
    within which words go. `said` is what an edge is called that is not printed whole.
    """

    drawn: Drawn
    what: What
    edge: tuple[Line, ...]
    sewn: Line
    said: Mapping[str, str]

    @property
    def piece(self) -> Piece:
        return self.drawn.piece

    @property
    def cut(self) -> tuple[Line, ...]:
        """All lines to cut, holes and slits too."""
        inner = (mark for mark in self.drawn.marks if mark.kind in ("cutting", "slit"))
        return (*self.edge, *(tuple(mark.path.points()) for mark in inner))

    def lying(self, turned: float, over: bool, by: Point) -> "PrintedPart":
        """Turned over left to right if `over`, then clockwise by `turned` degrees about its origin, and moved
        `by` so much."""
        angle = radians(turned)

        def motion(p: Point) -> Point:
            return (Point(-p.x, p.y) if over else p).turned(angle) + by

        def line(points: Sequence[Point]) -> Line:
            return tuple(map(motion, points))

        d = self.drawn
        cutting, sewn = line(d.cutting), line(self.sewn)
        drawn = Drawn(
            d.piece, d.turn, cutting[::-1] if over else cutting,
            tuple((name, _moved(path, motion, over)) for name, path in d.sewing),
            (motion(d.grain[0]), motion(d.grain[1])),
            tuple(Tick(motion(t.start), motion(t.end), motion(t.inward) - motion(Point(0, 0)), t.label)
                  for t in d.ticks),
            tuple(DrawnLine(m.name, m.kind, m.path.moved(motion)) for m in d.marks),
        )
        return replace(self, drawn=drawn, edge=tuple(map(line, self.edge)), sewn=sewn[::-1] if over else sewn)


def _moved(path: Path, motion: Callable[[Point], Point], over: bool) -> Path:
    """Edges run clockwise, and do so turned over too."""
    moved = path.moved(motion)
    return moved.reversed() if over else moved


def whole(piece: Piece) -> PrintedPart:
    drawn = draw_piece(piece)
    sewn = tuple(p for _, path in drawn.sewing for p in path.points()[:-1])
    return PrintedPart(drawn, "whole", ((*drawn.cutting, drawn.cutting[0]),), sewn, {})


def half(piece: Piece, middle: float, unit: Unit, other: Line = ()) -> PrintedPart:
    """What lies left of x = `middle`, to be laid there on a fold; with the stretch of the `other` half that
    is not the same, and the sewing line along it."""
    part = _in_box(piece, (-inf, -inf, middle, inf), "half", unit)
    if not other:
        return part
    sewn = other_half([p for edge in piece.outline.edges for p in edge.path.points()[:-1]], middle)
    marks = part.drawn.marks
    if sewn:
        length = format_length(_length(sewn), unit)
        marks = (*marks, DrawnLine(f"{other_side(piece, middle)} · {length}", "other", Path.through(*sewn)))
    return replace(part, edge=(*part.edge, other), drawn=replace(part.drawn, marks=marks))


def other_side(piece: Piece, middle: float) -> str:
    """What the half right of `middle` is called, by the longest edge that is wholly its own."""
    own = [edge for edge in piece.outline.edges if all(p.x > middle for p in edge.path.points())]
    return f"half with {max(own, key=lambda edge: edge.path.length).name}" if own else "other half"


def patch(piece: Piece, box: Bounds, unit: Unit) -> PrintedPart:
    """What lies in the box, the rest being straight."""
    return _in_box(piece, box, "patch", unit)


def _in_box(piece: Piece, box: Bounds, what: What, unit: Unit) -> PrintedPart:
    all_of_it = draw_piece(piece)
    cutting = tuple(clipped_polygon(all_of_it.cutting, box))
    sewn = tuple(clipped_polygon(
        [p for _, path in all_of_it.sewing for p in path.points()[:-1]], box))
    sewing, said = [], {}
    for name, path in all_of_it.sewing:
        lines = [line for line in clipped_lines(path.points(), box) if _length(line) > SAME]
        kept = [Path.through(*line) for line in lines]
        length = sum(map(_length, lines))
        if abs(length - path.length) <= SAME:
            kept = [path]
        elif kept:
            to_the_fold = f"{name}, to the fold · {format_length(length, unit)}"
            said[name] = to_the_fold if what == "half" else name
        sewing += [(name, line) for line in kept]
    marks = tuple(
        DrawnLine(_called(mark, line, what), mark.kind, Path.through(*line))
        for mark in all_of_it.marks for line in _mark_in_box(mark, box)
    )
    drawn = Drawn(piece, 0, cutting, tuple(sewing), all_of_it.grain, tuple(_ticks(all_of_it, box, what)),
                  (*marks, *_closing_lines(cutting, box, what, unit)))
    edge = tuple(map(tuple, clipped_ring(all_of_it.cutting, box)))
    return PrintedPart(drawn, what, edge, sewn, said)


def _called(mark: DrawnLine, line: Line, what: What) -> str:
    cut_short = abs(_length(line) - mark.path.length) > SAME
    return f"{mark.name}, to the fold" if what == "half" and cut_short else mark.name


def _mark_in_box(mark: DrawnLine, box: Bounds) -> tuple[Line, ...]:
    """A slit down the middle lies on the fold, and is in the half all the same."""
    points = mark.path.points()
    if mark.kind == "slit" and any(along_a_side(p, q, box) for p, q in pairwise(points)):
        return (tuple(points),)
    if mark.kind == "cutting":
        return tuple(map(tuple, clipped_ring(points[:-1], box)))
    return tuple(tuple(line) for line in clipped_lines(points, box) if _length(line) > SAME)


def _length(line: Sequence[Point]) -> float:
    return sum(p.distance(q) for p, q in pairwise(line))


def _closing_lines(cutting: Sequence[Point], box: Bounds, what: What, unit: Unit) -> Iterator[DrawnLine]:
    """Where the box's sides cut through the piece: the fold, and the ends of a patch."""
    for p, q in zip(cutting, (*cutting[1:], cutting[0]), strict=True):
        if p.distance(q) > 1.0 and along_a_side(p, q, box):
            fold = what == "half"
            yield DrawnLine(f"on the fold · {format_length(p.distance(q), unit)}" if fold else "straight on",
                            "middle" if fold else "end", Path.through(p, q))


def _ticks(drawn: Drawn, box: Bounds, what: What) -> Iterator[Tick]:
    """Those in the box. Of a half those beyond the fold too, where they have no mirror image here."""
    left, top, right, bottom = box
    here = [t for t in drawn.ticks if left <= t.start.x <= right + ON_A_SIDE and top <= t.start.y <= bottom]
    yield from here
    if what != "half":
        return
    for t in drawn.ticks:
        if t.start.x > right + ON_A_SIDE:
            inward = Point(-t.inward.x, t.inward.y)
            flipped = Tick(_flip(t.start, right), _flip(t.end, right), inward, t.label)
            if not any(flipped.start.distance(other.start) <= 1 and flipped.label == other.label
                       for other in here):
                yield flipped


def _flip(p: Point, x: float) -> Point:
    return Point(2 * x - p.x, p.y)


def other_half(ring: Sequence[Point], middle: float) -> Line | None:
    """The stretch in which the right half of a closed outline, turned over at `middle`, is not the left half.

    () for an outline that is its own mirror image; None where that is more than a third of it.
    """
    left = clipped_ring(ring, (-inf, -inf, middle, inf))
    right = clipped_ring(ring, (middle, -inf, inf, inf))
    if len(left) != 1 or len(right) != 1:
        return None
    over = [_flip(p, middle) for p in right[0]]
    one = sides(left[0])[:-1]
    off = [i for i, p in enumerate(over) if nearest(one, p.x, p.y)[0] > SAME]
    if not off:
        return ()
    stretch = over[max(0, off[0] - 1):off[-1] + 2]
    return tuple(stretch) if _length(stretch) <= _length(left[0]) / 3 else None
