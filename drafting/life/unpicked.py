"""A garment unpicked is cloth again: every piece with what its felling left of the allowance, worn places
left out."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import degrees
from typing import TYPE_CHECKING

from ..geometry import Allowance, Point, area, bounds, cutting_line
from ..geometry.clipping import clipped_polygon
from ..geometry.polygon import centroid, holds_point, is_simple
from ..pattern import Pattern, Piece
from ..words.problems import BadInput, Problem
from ..words.wording import said

if TYPE_CHECKING:
    from ..lay.remnant import Remnant

TRIMMED = 0.5
"""Part of a seam's allowance that is sure to be left: a run and felled seam is trimmed to half on one side.
common practice, no source."""

SLIT_WIDTH = 2.0
"""mm beside a slit that nothing is cut across."""

INSIDE = 1.0
"""mm by which a hole stays clear of the edge, since cloth has no hole in its edge."""

LEAST_LEFT = 60.0
"""mm of its shorter side under which a piece is no cloth to cut from. common practice, no source."""


@dataclass(frozen=True)
class WornPlace:
    """A place that is worn through on one copy of a piece: mm from the left and the top of the piece, laid
    right side up, and its width and length."""

    piece: str
    across: float
    down: float
    width: float
    length: float


def unpicked(pattern: Pattern, worn: Sequence[WornPlace] = ()) -> "tuple[Remnant, ...]":
    """The cloth of the main pieces, each copy by its name. Raises BadInput for a worn place on no piece, or
    beyond its piece."""
    copies = [(piece, copy) for piece, copy in pattern.copies() if piece.cloth == "main"]
    names = [piece.copy_name(copy) for piece, copy in copies]
    problems = [Problem("worn", f"There is no piece “{place.piece[:40]}” to be worn: there is "
                        f"{', '.join(names)}.") for place in worn if place.piece not in names]
    found = []
    for (piece, copy), name in zip(copies, names, strict=True):
        outline = _outline(piece, turned=piece.mirrored and copy % 2 == 0)
        places = [place for place in worn if place.piece == name]
        problems += _too_far(places, outline, name)
        if not problems and _is_cloth(outline):
            found.append(_remnant(name, piece, outline, copy, places))
    if problems:
        raise BadInput(problems)
    return tuple(found)


def _outline(piece: Piece, *, turned: bool) -> tuple[Point, ...]:
    """Its cloth without what may have been trimmed off, as one sees it right side up."""
    left = {name: allowance if allowance.fold else replace(allowance, width=allowance.width * TRIMMED)
            for name, allowance in piece.allowances.items()}
    line = cutting_line(piece.outline, left)
    if not is_simple(line):
        line = cutting_line(piece.outline, {name: Allowance(0.0) for name in left})
    return tuple(Point(-p.x, p.y) for p in reversed(line)) if turned else line


def _is_cloth(outline: Sequence[Point]) -> bool:
    left, top, right, bottom = bounds(outline)
    return min(right - left, bottom - top) >= LEAST_LEFT


def _too_far(places: Iterable[WornPlace], outline: Sequence[Point], name: str) -> Iterator[Problem]:
    left, top, right, bottom = bounds(outline)
    for place in places:
        if place.across + place.width > right - left + INSIDE or place.down + place.length > (
                bottom - top + INSIDE):
            reach = said(place.across + place.width), said(place.down + place.length)
            yield Problem("worn", f"The worn place on {name} reaches {reach[0]} across and {reach[1]} down; "
                          f"the piece is {said(right - left)} by {said(bottom - top)}.")


def _remnant(
    name: str, piece: Piece, outline: tuple[Point, ...], copy: int, places: Sequence[WornPlace]
) -> "Remnant":
    from ..lay.remnant import Remnant

    turned = piece.mirrored and copy % 2 == 0
    holes = [*_cuts(piece, outline, turned), *(_worn_hole(place, outline) for place in places)]
    start, end = piece.grain_line
    way = end - start
    grain = degrees(Point(-way.x if turned else way.x, way.y).angle)
    kept = [ring for ring in holes if len(ring) > 2 and abs(area(ring)) > INSIDE]
    return Remnant(name, _pairs(outline), tuple(_pairs(ring) for ring in _apart(kept)), grain)


def _apart(rings: list[tuple[Point, ...]]) -> list[tuple[Point, ...]]:
    """Holes that meet as the box round them all: what lies between is worth no cut."""
    found: list[tuple[Point, ...]] = []
    for ring in rings:
        box = bounds(ring)
        met = [other for other in found if _meet(box, bounds(other))]
        if met:
            box = bounds([p for one in (ring, *met) for p in one])
            ring = _box(box)
        found = [*(other for other in found if other not in met), ring]
    return found


def _meet(a: tuple[float, ...], b: tuple[float, ...]) -> bool:
    return a[0] <= b[2] and b[0] <= a[2] and a[1] <= b[3] and b[1] <= a[3]


def _box(box: tuple[float, float, float, float]) -> tuple[Point, ...]:
    left, top, right, bottom = box
    return Point(left, top), Point(right, top), Point(right, bottom), Point(left, bottom)


def _cuts(piece: Piece, outline: Sequence[Point], turned: bool) -> Iterator[tuple[Point, ...]]:
    """Neck holes as they are cut, and slits as narrow holes."""
    for ring in piece.hole_cutting_lines.values():
        yield tuple(Point(-p.x, p.y) for p in ring) if turned else tuple(ring)
    for line in piece.inner_lines:
        if line.kind == "slit":
            ends = [Point(-p.x, p.y) if turned else p for p in (line.path.start, line.path.end)]
            yield _within(_box(_grown(bounds(ends), SLIT_WIDTH / 2)), outline)


def _grown(box: tuple[float, float, float, float], by: float) -> tuple[float, float, float, float]:
    return box[0] - by, box[1] - by, box[2] + by, box[3] + by


def _worn_hole(place: WornPlace, outline: Sequence[Point]) -> tuple[Point, ...]:
    left, top, _, _ = bounds(outline)
    x, y = left + place.across, top + place.down
    return _within(_box((x, y, x + place.width, y + place.length)), outline)


def _within(ring: tuple[Point, ...], outline: Sequence[Point]) -> tuple[Point, ...]:
    """The part of an upright box that lies within the outline, drawn in a little where it met its edge."""
    if all(holds_point(outline, p) for p in ring):
        return ring
    part = tuple(clipped_polygon(outline, bounds(ring)))
    if len(part) < 3 or abs(area(part)) < INSIDE:
        return ()
    middle = centroid(part)
    reach = max(p.distance(middle) for p in part)
    return tuple(middle + (p - middle) * max(1 - INSIDE / reach, 0.1) for p in part)


def _pairs(ring: Iterable[Point]) -> tuple[tuple[float, float], ...]:
    return tuple((p.x, p.y) for p in ring)
