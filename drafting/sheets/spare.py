"""What of a pattern must be printed, to print little: the rest is told in numbers.

Of pieces that are alike one is printed, of one that is its own mirror image the half left of its middle
line. A piece with straight sides and few corners is told in numbers, and one that a string draws; so is what
is straight of one that is a rectangle but for a corner or a neckline, of which only that patch is printed.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..cloth.chalk import Inside, Spot, ToChalk
from ..cloth.chalk_pieces import templates
from ..cloth.chalk_twins import Motion, motion_of_line
from ..geometry import Bounds, Point, bounds
from ..geometry.polygon import mirror_axis, simplified
from ..pattern import Piece, notch_point
from ..words.units import Unit
from .printed_parts import SAME, PrintedPart, half, other_half, patch, whole
from .swept import swept

FEW_CORNERS, MOST_CORNERS = 6, 8
"""A piece with straight sides is printed if it has more corners; the second for one with square corners."""

ROUND_A_PATCH = 15.0
"""mm of the piece that a patch shows beyond what is not straight."""

LARGEST_PATCH = 0.35
"""Of its rectangle's area that a patch may take up."""

ON_THE_MIDDLE = 0.3
"""mm within which what is inside a piece is as symmetrical as it."""


@dataclass(frozen=True)
class PrintedTwin:
    """A piece that is cut from the sheets of another, its `template`; `without` these of its marks."""

    piece: Piece
    template: Piece
    over: bool
    without: tuple[str, ...]


@dataclass(frozen=True)
class Told:
    """A piece that is told in numbers. `holes` says in which piece's sheets each of its holes is found, by
    name: its own, where a patch of it is printed."""

    piece: Piece
    patched: bool
    holes: Mapping[str, Piece]


@dataclass(frozen=True)
class Spare:
    """The pieces that are printed, told in numbers (or both, where a patch is printed), and cut from the
    sheets or the cloth of another; each in the pattern's order."""

    parts: tuple[PrintedPart, ...]
    told: tuple[Told, ...]
    twins: tuple[PrintedTwin, ...]


def spared(pieces: Sequence[Piece], unit: Unit) -> Spare:
    """As little of the pieces printed as may be."""
    by_name = {piece.name: piece for piece in pieces}
    alike = templates([_as_laid(piece) for piece in pieces])
    kept = [piece for piece in pieces if piece.name not in alike]
    straight = {piece.name for piece in kept if straight_all_round(piece) or swept(piece)}
    with_holes = [piece for piece in kept if piece.hole_cutting_lines and piece.name not in straight]
    parts: list[PrintedPart] = []
    told: list[Told] = []
    for piece in kept:
        if piece.name in straight:
            holes = {name: next((other for other in with_holes if _has_hole(other, ring)), piece)
                     for name, ring in piece.hole_cutting_lines.items()}
            box = _round_holes(piece, [name for name, other in holes.items() if other is piece])
        else:
            holes, box = {}, _patch(piece)
        if box:
            parts.append(patch(piece, box, unit))
        elif piece.name not in straight:
            parts.append(_on_paper(piece, unit))
        if box or piece.name in straight:
            told.append(Told(piece, bool(box), holes))
    twins = tuple(_twin(by_name[name], by_name[template.title], motion)
                  for name, (template, motion) in alike.items())
    return Spare(tuple(parts), tuple(told), tuple(sorted(twins, key=lambda t: pieces.index(t.piece))))


def straight_all_round(piece: Piece) -> bool:
    """Whether its outline is soon told: straight sides, and few corners."""
    corners = corners_of(piece)
    return len(corners) <= FEW_CORNERS or (len(corners) <= MOST_CORNERS and all(
        _square(p, q) for p, q in zip(corners, (*corners[1:], corners[0]), strict=True)))


def corners_of(piece: Piece) -> list[Point]:
    """The corners of its cutting line, less those in the middle of a straight side."""
    ring = piece.cutting_line
    first = min(range(len(ring)), key=lambda i: ring[i].x + ring[i].y)
    return list(simplified([*ring[first:], *ring[:first + 1]], SAME)[:-1])


def middle_of(piece: Piece) -> float | None:
    """The x at which it may be folded: that of its outline and of all that is cut inside it."""
    axis = mirror_axis(piece.cutting_line)
    return axis if axis is not None and _folds_at(piece, axis) else None


def _on_paper(piece: Piece, unit: Unit) -> PrintedPart:
    middle = middle_of(piece)
    if middle is not None:
        return half(piece, middle, unit)
    left, _, right, _ = bounds(piece.cutting_line)
    middle = (left + right) / 2
    other = other_half(piece.cutting_line, middle) if _folds_at(piece, middle) else None
    return half(piece, middle, unit, other) if other else whole(piece)


def _folds_at(piece: Piece, axis: float) -> bool:
    for ring in piece.hole_cutting_lines.values():
        own = mirror_axis(ring)
        if own is None or abs(own - axis) > ON_THE_MIDDLE:
            return False
    slits = [inner.path.points() for inner in piece.inner_lines if inner.kind == "slit"]
    return all(abs(p.x - axis) <= ON_THE_MIDDLE for line in slits for p in line)


def _twin(piece: Piece, template: Piece, motion: Motion) -> PrintedTwin:
    without = {notch.label for notch in template.notches} - {notch.label for notch in piece.notches}
    return PrintedTwin(piece, template, motion.over, tuple(sorted(without)))


def _as_laid(piece: Piece) -> ToChalk:
    holes = piece.hole_cutting_lines
    return ToChalk(
        piece.name, piece.cutting_line,
        tuple(Inside(i.name, i.kind, holes[i.name] if i.kind == "hole" else tuple(i.path.points()))
              for i in piece.marked_lines),
        tuple(Spot(notch.label, notch_point(piece, notch)) for notch in piece.notches),
    )


def _has_hole(piece: Piece, ring: Sequence[Point]) -> bool:
    return any(motion_of_line(other, ring) == Motion(False, False, *(ring[0] - other[0]))
               for other in piece.hole_cutting_lines.values() if len(other) == len(ring))


def _round_holes(piece: Piece, names: Sequence[str]) -> Bounds | None:
    if not names:
        return None
    left, top, right, bottom = bounds([p for name in names for p in piece.hole_cutting_lines[name]])
    middle, out = middle_of(piece), ROUND_A_PATCH
    return left - out, top - out, right + out if middle is None else middle, bottom + out


def _patch(piece: Piece) -> Bounds | None:
    """The part of a piece that is not straight, where the rest of it is its rectangle's; None where it is
    more than a corner of it, or has holes of its own."""
    ring = piece.cutting_line
    if piece.hole_cutting_lines:
        return None
    box = bounds(ring)
    ends = list(zip(ring, (*ring[1:], ring[0]), strict=True))
    odd = [p for pair in ends if not (all(_on_side(p, box) for p in pair) and _square(*pair)) for p in pair]
    left, top, right, bottom = bounds(odd)
    middle = middle_of(piece)
    right = right if middle is None else middle
    room = ((box[2] if middle is None else middle) - box[0]) * (box[3] - box[1])
    if (right - left) * (bottom - top) > LARGEST_PATCH * room:
        return None
    out = ROUND_A_PATCH
    return left - out, top - out, right + (out if middle is None else 0.0), bottom + out


def _on_side(p: Point, box: Bounds) -> bool:
    left, top, right, bottom = box
    return min(abs(p.x - left), abs(p.x - right), abs(p.y - top), abs(p.y - bottom)) <= SAME


def _square(p: Point, q: Point) -> bool:
    return min(abs(p.x - q.x), abs(p.y - q.y)) <= SAME
