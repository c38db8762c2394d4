"""What is cut and marked inside the pieces of a lay, where it lies: holes, slits, lines and marks."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import radians

from ..cloth.chalk import Inside, Spot
from ..geometry import Point, bounds
from ..geometry.polygon import left_half, line_left_of
from ..pattern import InnerLine, Piece, notch_point
from .bolt import BoltLay, pieces_of
from .layout import Placement

SAME = 0.5
"""mm within which two marks of pieces that are cut together are one."""

Way = Callable[[Point], Point]


@dataclass(frozen=True)
class MarkedPiece:
    """A placed piece with what is inside it. `outline` and all else of one at the fold is the whole piece,
    as it is when opened out: the half that lies there and its mirror image beyond the fold."""

    placement: Placement
    outline: tuple[Point, ...]
    lines: tuple[Inside, ...]
    spots: tuple[Spot, ...]

    @property
    def cut_open(self) -> tuple[Inside, ...]:
        """Its holes and slits."""
        return tuple(line for line in self.lines if line.kind in ("hole", "slit"))


def marked_pieces(bolt: BoltLay) -> tuple[MarkedPiece, ...]:
    """Every placed piece, in the lay's order."""
    pieces = pieces_of(bolt.orders, bolt.cloth, bolt.part)
    return tuple(_marked(placement, pieces[placement.piece], bolt) for placement in bolt.layout.placements)


def _marked(placement: Placement, pieces: tuple[Piece, ...], bolt: BoltLay) -> MarkedPiece:
    way = _way(placement, bolt.cloth.enlarge)
    outline = tuple(Point(x, y) for x, y in placement.outline)
    if placement.at_fold:
        outline = _opened(outline, bolt.layout.width)
    spots: list[Spot] = []
    lines: list[Inside] = []
    for piece in pieces:
        for line in _lines(piece, way):
            if not any(_same_line(line, other) for other in lines):
                lines.append(line)
        for notch in piece.notches:
            spot = Spot(notch.label or notch.edge, way(notch_point(piece, notch)))
            if not any(spot.label == s.label and spot.at.distance(s.at) <= SAME for s in spots):
                spots.append(spot)
    return MarkedPiece(placement, outline, tuple(lines), tuple(spots))


def _opened(half: tuple[Point, ...], fold: float) -> tuple[Point, ...]:
    """The whole of which that half lies left of the fold."""
    on_it = [p.x >= fold - SAME / 10 for p in half]
    start = next(i for i in range(len(half)) if on_it[i] and on_it[i - 1])
    line = (*half[start:], *half[:start])
    return (*line, *(Point(2 * fold - p.x, p.y) for p in line[-2:0:-1]))


def _way(placement: Placement, enlarge: tuple[float, float]) -> Way:
    """From the piece as it was drafted to where it lies."""
    across, along = enlarge
    flip = -1.0 if placement.mirrored else 1.0
    turn = radians(placement.rotation)
    to = Point(placement.x, placement.y)
    return lambda p: Point(flip * p.x * across, p.y * along).turned(turn) + to


def _lines(piece: Piece, way: Way) -> Iterator[Inside]:
    holes = piece.hole_cutting_lines
    for inner in piece.marked_lines:
        points = holes[inner.name] if inner.kind == "hole" else _plain(inner)
        yield Inside(inner.name, inner.kind, tuple(map(way, points)))


def _plain(inner: InnerLine) -> list[Point]:
    return list(inner.path.points())


def _same_line(one: Inside, other: Inside) -> bool:
    a, b = bounds(one.points), bounds(other.points)
    return one.kind == other.kind and all(abs(x - y) <= SAME for x, y in zip(a, b, strict=True))


def to_json(piece: MarkedPiece, fold: float) -> dict[str, list[object]]:
    """`holes`, `lines` and `marks` of a placement in lay.json; of one at the fold, what lies left of it."""
    holes, lines = [], []
    for line in piece.lines:
        points = _left_of(line, fold) if piece.placement.at_fold else line.points
        if points and line.kind == "hole":
            holes.append({"name": line.name, "outline": _numbers(points)})
        elif points:
            lines.append({"name": line.name, "kind": line.kind, "line": _numbers(points)})
    marks = [
        {"label": spot.label, "at": _numbers([spot.at])[0]} for spot in piece.spots
        if not piece.placement.at_fold or spot.at.x <= fold + SAME
    ]
    return {"holes": [*holes], "lines": [*lines], "marks": [*marks]}


def _left_of(line: Inside, fold: float) -> tuple[Point, ...]:
    left, _, right, _ = bounds(line.points)
    if right <= fold + SAME:
        return line.points
    if left >= fold:
        return ()
    if line.kind == "hole":
        return left_half(line.points, fold) or ()
    return line_left_of(line.points, fold)


def _numbers(points: tuple[Point, ...] | list[Point]) -> list[list[float]]:
    return [[round(p.x, 3), round(p.y, 3)] for p in points]
