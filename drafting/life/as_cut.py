"""What can still be altered on the cloth as it is cut: the new sewing lines laid on the pieces that are
there.

A piece holds its new shape where the new sewing line, with the least allowance that its seams can do with,
lies within the cutting line. The whole allowance is taken to be there: nothing trimmed, as at a fitting.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from ..checks.growing import LEAST_ALLOWANCE, NARROW_HEM
from ..geometry import Allowance, Edge, Path, Point, cutting_line, cutting_ring
from ..geometry.polygon import distance_to_line, holds_point, holds_polygon, simplified
from ..pattern import Pattern, Piece
from .adjust import Fitted, Sized, fitted, sized
from .fits import Fit

MOVED = 0.5
"""mm by which a sewing line must move to be sewn anew: what truing allows a seam."""

SAMPLES = 16
"""Points along an edge at which its way is measured."""

BEYOND = 2000.0
"""mm that an edge is thought to run on, for what is now longer."""

PLAINER = 0.02
"""mm by which the polylines that are compared may stray from those of the pieces: fewer corners."""

STICKS_OUT = 0.05
"""mm by which a line may seem to lie beyond the cloth: twice what a polyline strays from its curve."""

REPLACED = 0.15
"""Part of the largest piece's area up to which a piece is cut anew from scraps. common practice, no
source."""

HALVINGS = 7
"""How finely the most that the cloth holds is looked for: to a hundredth of what was asked."""


@dataclass(frozen=True)
class MovedEdge:
    """An edge's new sewing line: mm outwards at its start, middle and end (below zero inwards), and the least
    cloth left beyond it."""

    piece: str
    edge: str
    out: tuple[float, float, float]
    left: float

    @property
    def most(self) -> float:
        return max(self.out, key=abs)


@dataclass(frozen=True)
class PieceAsCut:
    """A piece that is there: how its new shape lies on it, and by how many mm that reaches beyond the
    cloth."""

    name: str
    shift: Point
    lacks: float
    moved: tuple[MovedEdge, ...]

    @property
    def holds(self) -> bool:
        return self.lacks <= STICKS_OUT


@dataclass(frozen=True)
class AsCut:
    """The pattern that the altered garment then is, and each of its pieces on the cloth as cut.

    `new` are small pieces to cut anew, `missing` large ones that are not there at all, by their titles.
    `tuck_let_down` is the length, mm, that a growth tuck gives.
    """

    pattern: Pattern
    pieces: tuple[PieceAsCut, ...]
    new: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    tuck_let_down: float = 0.0

    @property
    def holds(self) -> bool:
        return not self.missing and all(piece.holds for piece in self.pieces)

    def moved(self) -> Iterator[MovedEdge]:
        for piece in self.pieces:
            yield from piece.moved


def on_the_cloth(made: Fitted) -> AsCut:
    """How far the fits can be made on the cloth that was cut for the garment before them."""
    plain = laid_on(made.before.pattern, made.after.pattern)
    tuck = made.after.options["growth_tuck"] if "growth_tuck" in made.after.options.declared else 0.0
    longer = made.after.pattern.finished.get("length", 0.0) - made.before.pattern.finished.get("length", 0.0)
    if plain.holds and longer <= 0 or not tuck or longer <= 0:
        return plain
    given = min(longer, 2 * tuck)
    after = made.after
    eased = sized(after.garment, after.body, after.options.changed("growth_tuck", tuck - given / 2))
    return replace(laid_on(made.before.pattern, eased.pattern), tuck_let_down=given)


def laid_on(cut: Pattern, wanted: Pattern) -> AsCut:
    """The wanted pieces on those that were cut, by name."""
    there = {piece.name: piece for piece in cut.pieces}
    small = REPLACED * max(piece.outline.area for piece in wanted.pieces)
    pieces: list[PieceAsCut] = []
    new: list[str] = []
    missing: list[str] = []
    for piece in wanted.pieces:
        laid = _on_piece(there[piece.name], piece) if piece.name in there else None
        if laid and (laid.holds or piece.outline.area > small):
            pieces.append(laid)
        else:
            (new if piece.outline.area <= small else missing).append(piece.title)
    return AsCut(wanted, tuple(pieces), tuple(new), tuple(missing))


def most_on_the_cloth(before: Sized, fit: Fit) -> float:
    """The part, 0 to 1, of a fit that the cloth as cut still holds."""
    if on_the_cloth(fitted(before, (fit,))).holds:
        return 1.0
    low, high = 0.0, 1.0
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        made = fitted(before, (replace(fit, change=fit.change * middle),))
        low, high = (middle, high) if on_the_cloth(made).holds else (low, middle)
    return low


def least_allowances(piece: Piece) -> Mapping[str, Allowance]:
    """What each edge cannot do with less than: a hem a narrow one, a seam what its felling takes."""
    return {name: _least(allowance) for name, allowance in piece.allowances.items()}


def _least(allowance: Allowance) -> Allowance:
    least = NARROW_HEM if allowance.fold else LEAST_ALLOWANCE
    return replace(allowance, width=min(allowance.width, least), under=None)


def _on_piece(cut: Piece, wanted: Piece) -> PieceAsCut:
    """Its shape where it lacks least, and of those where least is to be sewn anew."""
    if _alike(cut, wanted):
        return PieceAsCut(cut.name, Point(0.0, 0.0), 0.0, ())
    least = simplified(cutting_line(wanted.outline, least_allowances(wanted)), PLAINER)
    cloth = simplified(cut.cutting_line, PLAINER)
    tried = [(_lacks(cut, wanted, cloth, least, shift), shift) for shift in _shifts(cut, wanted)]
    fewest = min(lacks for lacks, _ in tried)
    as_good = [(lacks, shift) for lacks, shift in tried if lacks <= max(fewest, STICKS_OUT)]
    laid = [PieceAsCut(cut.name, shift, lacks, _moved_edges(cut, wanted, cloth, shift))
            for lacks, shift in as_good]
    return min(laid, key=lambda one: _resewn(wanted, one))


def _alike(a: Piece, b: Piece) -> bool:
    return a.outline == b.outline and a.inner_lines == b.inner_lines


def _resewn(piece: Piece, laid: PieceAsCut) -> float:
    return sum(piece.outline[moved.edge].length for moved in laid.moved)


def _shifts(cut: Piece, wanted: Piece) -> list[Point]:
    """Where the new shape might lie: as drawn, and side to side, end to end, middle to middle."""
    a, b = cut.outline.bounds, wanted.outline.bounds
    across = (0.0, a[0] - b[0], a[2] - b[2], (a[0] + a[2] - b[0] - b[2]) / 2)
    down = (0.0, a[1] - b[1], a[3] - b[3], (a[1] + a[3] - b[1] - b[3]) / 2)
    found: dict[tuple[float, float], Point] = {}
    for x in across:
        for y in down:
            found.setdefault((round(x, 3), round(y, 3)), Point(x, y))
    return list(found.values())


def _lacks(
    cut: Piece, wanted: Piece, cloth: Sequence[Point], least: Sequence[Point], shift: Point
) -> float:
    """mm by which the new shape reaches beyond the cloth, lying so."""
    needed = [p + shift for p in least]
    lacks = max(_beyond(cloth, needed), _holes_lack(cut, wanted, shift))
    if lacks <= STICKS_OUT and not holds_polygon(cloth, needed, 2 * STICKS_OUT):
        return 1.0
    return lacks


def _beyond(outer: Sequence[Point], inner: Sequence[Point]) -> float:
    """mm by which the inner line reaches out of the outer one."""
    closed = (*outer, outer[0])
    return max((distance_to_line(p, closed) for p in inner if not holds_point(outer, p)), default=0.0)


def _holes_lack(cut: Piece, wanted: Piece, shift: Point) -> float:
    """mm by which holes and slits that are cut reach beyond those that are wanted."""
    rings = [[p + shift for p in ring] for ring in _least_holes(wanted)]
    slits = [[p + shift for p in line.path.points()] for line in wanted.inner_lines if line.kind == "slit"]
    removed = [list(ring) for ring in cut.hole_cutting_lines.values()]
    removed += [list(line.path.points()) for line in cut.inner_lines if line.kind == "slit"]
    return max((_off(p, rings, slits) for line in removed for p in line), default=0.0)


def _least_holes(piece: Piece) -> Iterator[tuple[Point, ...]]:
    least = least_allowances(piece)
    for line in piece.inner_lines:
        if line.kind == "hole":
            yield cutting_ring([Edge(line.name, Path((part,))) for part in line.path.segments], least)


def _off(p: Point, rings: Sequence[Sequence[Point]], slits: Sequence[Sequence[Point]]) -> float:
    if any(holds_point(ring, p) for ring in rings):
        return 0.0
    lines = [*slits, *((*ring, ring[0]) for ring in rings)]
    return min((distance_to_line(p, line) for line in lines), default=BEYOND)


def _moved_edges(
    cut: Piece, wanted: Piece, cloth: Sequence[Point], shift: Point
) -> tuple[MovedEdge, ...]:
    known = {edge.name: edge for edge in cut.outline.edges}
    border, found = (*cloth, cloth[0]), []
    for edge in wanted.outline.edges:
        if edge.name in known:
            places = [p + shift for p in _along(edge.path)]
            before = _run_on(known[edge.name].path)
            out = [_signed(before, p) for p in places]
            left = min(distance_to_line(p, border) for p in places)
            found.append(MovedEdge(cut.name, edge.name, (out[0], out[len(out) // 2], out[-1]), left))
    return tuple(edge for edge in found if abs(edge.most) > MOVED)


def _along(path: Path) -> list[Point]:
    return [path.point_along(path.length * i / SAMPLES) for i in range(SAMPLES + 1)]


def _run_on(path: Path) -> list[Point]:
    """The path's points, its ends run on straight."""
    before, after = path.start_direction * BEYOND, path.end_direction * BEYOND
    return [path.start - before, *path.points(), path.end + after]


def _signed(line: Sequence[Point], p: Point) -> float:
    """mm to the left of the line as one walks it, which is outwards."""
    far = distance_to_line(p, line)
    nearest = min(pairwise(line), key=lambda side: distance_to_line(p, side))
    a, b = nearest
    return far if (b - a).cross(p - a) < 0 else -far
