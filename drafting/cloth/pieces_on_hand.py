"""Pieces of cloth that someone has, each as it is measured: corner by corner, from two edges.

    brown rag | 0 0 | 90 6 | 130 0 | 125 50 | 80 42 | hole | 30 30 | 42 28 | 45 42 | stain | 70 12 | 80 12
    | 75 20
    in in | 24 × 36 1/2

The warp runs down; a corner is so far from the left edge and so far down from the top one. `×` makes a
rectangle of two lengths, so wide and so long. A first line that begins with no number is the name; “hole”
or “stain” begins one, and “in cm” sets the unit. Between two lengths stands a space, or `;` where they have
spaces themselves. A line's end does for `|`.
"""

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from ..geometry import Point, area
from ..geometry.polygon import holds_polygon, is_simple
from ..words.problems import BadInput, Problem
from ..words.units import LengthError, Unit, parse_length, quoted

MOST_PIECES = 60
"""What a table can be covered with; each is searched anew for every piece of a garment."""

LEAST_AREA = 400.0
"""mm²: a patch of 2 cm. common practice, no source."""

_UNITS: dict[str, Unit] = {"in cm": "cm", "in mm": "mm", "in m": "m", "in in": "in", "in inches": "in"}
_HOLES = ("hole", "stain")
_BY = re.compile(r"\s*(?:×|\bx\b|\bby\b)\s*", re.IGNORECASE)

Ring = tuple[Point, ...]


@dataclass(frozen=True)
class PieceOnHand:
    """x from its left edge, y from its top one, the warp along y; mm."""

    name: str
    outline: Ring
    holes: tuple[Ring, ...] = ()

    @property
    def area(self) -> float:
        """mm² that can be cut from."""
        return abs(area(self.outline)) - sum(abs(area(hole)) for hole in self.holes)


def read_piece_on_hand(text: str, number: int, unit: Unit, field: str) -> PieceOnHand:
    """The piece as typed; the `number`th, which is its name where it has none.

    Raises BadInput for the field, with a sentence that names the piece.
    """
    lines = [line for part in re.split(r"[|\n]", text) if (line := part.strip())]
    name = f"piece {number}"
    while lines and lines[0].lower() in _UNITS:
        unit = _UNITS[lines.pop(0).lower()]
    if lines and not any(map(str.isdigit, lines[0].split()[0])) and lines[0].lower() not in _HOLES:
        name = lines.pop(0)

    def bad(what: str) -> BadInput:
        return BadInput([Problem(field, f"{quoted(name)} {what}")])

    rings: list[list[Point]] = [[]]
    for line in lines:
        plain = line.lower()
        if plain in _UNITS:
            unit = _UNITS[plain]
        elif plain in _HOLES:
            rings.append([])
        else:
            try:
                rings[-1] += _corners(line, unit)
            except LengthError as error:
                raise bad(f"has a corner {quoted(line)} that does not read: {error}") from None
    outline, *holes = (tuple(_without_repeats(ring)) for ring in rings)
    _check(outline, "outline", bad)
    for hole in holes:
        _check(hole, "hole or stain", bad)
        if not holds_polygon(outline, hole):
            raise bad("has a hole or stain that is not wholly inside it: measure its corners from the same "
                      "two edges.")
    return PieceOnHand(name, outline, tuple(holes))


def _corners(line: str, unit: Unit) -> list[Point]:
    """The corner of a line, or the four of a rectangle. Raises LengthError."""
    by = _BY.split(line)
    if len(by) == 2:
        wide, long = (parse_length(part, unit) for part in by)
        return [Point(0, 0), Point(wide, 0), Point(wide, long), Point(0, long)]
    parts = [part for part in re.split(r";|, ", line) if part.strip()]
    parts = line.split() if len(parts) == 1 else parts
    if len(parts) != 2:
        raise LengthError("give two lengths, how far from the left edge and how far down from the top one.")
    return [Point(*(parse_length(part, unit) for part in parts))]


def _without_repeats(ring: Sequence[Point]) -> Iterator[Point]:
    for i, p in enumerate(ring):
        if p.distance(ring[i - 1]) > 0.01 or len(ring) == 1:
            yield p


def _check(ring: Ring, what: str, bad: Callable[[str], BadInput]) -> None:
    if len(ring) < 3:
        raise bad(f"has {_a(what)} of fewer than three corners: go round it, and give every corner.")
    if not is_simple(ring):
        raise bad(f"has {_a(what)} that crosses or touches itself: go round it once, corner by corner.")
    if abs(area(ring)) < LEAST_AREA:
        raise bad(f"has {_a(what)} of next to no area: measure its corners again.")


def _a(what: str) -> str:
    return f"an {what}" if what[0] in "aeiou" else f"a {what}"
