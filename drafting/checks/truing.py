"""Truing: the checks a pattern cutter makes before cutting.

Every check has a value, a limit and advice. The geometry checks measure the pieces themselves and
know nothing of how they were drafted; the clearances are facts the garment states.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import acos, degrees, pi
from typing import Literal

from ..geometry import FLAT, Edge, Path
from ..geometry.polygon import distance_to_line, holds_point, holds_polygon, is_simple
from ..pattern import Clearance, Hang, Pattern, Piece, Remedy, Seam, SeamEdge
from ..words.units import Unit, format_finely, format_length
from ..words.wording import said, spell

SEAM_LIMIT = 0.5
SMOOTH_LIMIT = 2.0
LEVEL_LIMIT = 3.0
HEM_SAMPLES = 24
"""mm, degrees, mm, and points taken along each piece's hem. common practice, no source."""

SLIT_REACHES = 0.2
"""mm from an edge at which a slit has cut through it."""


@dataclass(frozen=True)
class Check:
    """One check's outcome. `sense` says on which side of `limit` the value passes."""

    name: str
    passed: bool
    value: float
    limit: float
    unit: str
    sense: Literal["at most", "at least"]
    advice: str
    remedies: tuple[Remedy, ...] = ()
    estimated: bool = False

    def in_words(self, unit: Unit) -> tuple[str, str]:
        """The value and the limit to read: a length in `unit`, as finely as tells them apart where the value
        falls short; a difference to be kept small in mm."""
        value, limit = self._amounts(lambda mm: format_length(mm, unit))
        if value == limit and not self.passed:
            value, limit = self._amounts(lambda mm: format_finely(mm, unit))
        return value, f"{self.sense} {limit}"

    def _amounts(self, length: Callable[[float], str]) -> tuple[str, str]:
        if self.unit == "mm" and self.sense == "at least":
            return length(self.value), length(self.limit)
        value, limit = (f"{amount:.1f}".removesuffix(".0") for amount in (self.value, self.limit))
        return f"{value} {self.unit}", f"{limit} {self.unit}"

    def as_json(self) -> dict[str, object]:
        return {
            "name": self.name,
            "passed": self.passed,
            "value": round(self.value, 3),
            "limit": round(self.limit, 3),
            "unit": self.unit,
            "sense": self.sense,
            "advice": spell(self.advice, "cm"),
            "estimated": self.estimated,
            "remedies": [
                {"label": spell(r.label, "cm"), "option": r.option, "value": r.value}
                for r in self.remedies
            ],
        }


def true_up(pattern: Pattern) -> tuple[Check, ...]:
    """Every check that applies to the pattern, in the order a cutter would make them."""
    checks = [_seam(pattern, seam) for seam in pattern.seams]
    for check in (_smooth_ends(pattern), _level_hem(pattern), _cutting_lines(pattern)):
        if check:
            checks.append(check)
    checks.extend(_clearance(clearance) for clearance in pattern.clearances)
    return tuple(checks)


def _seam(pattern: Pattern, seam: Seam) -> Check:
    a, b = pattern.side_length(seam.a), pattern.side_length(seam.b)
    gap = abs(a - b - seam.ease)
    return _at_most(
        f"{seam.name}: sides match", gap, SEAM_LIMIT, "mm",
        f"Ease {said(abs(seam.ease))} in over {said(b)}." if seam.ease else f"Both sides are {said(a)}.",
        f"One side is {said(gap)} longer: true both edges before cutting.",
    )


def _smooth_ends(pattern: Pattern) -> Check | None:
    """Where a seam runs out into a free edge (hem, top), the two free edges must run on straight.

    The inner angles of the two pieces at that corner add up to a half turn.
    """
    # What is laid on an edge, a lining or a strip, leaves it the edge it was.
    seams = [seam for seam in pattern.seams if seam.treatment not in ("felled lining", "edged")]
    sewn = {(part.piece, part.edge) for seam in seams for part in (*seam.a, *seam.b)}
    corners = [
        (abs(degrees(off)), f"{seam.name}, {edge}")
        for seam in seams
        if len(seam.a) == len(seam.b) == 1
        for off, edge in _corners(pattern, seam.a[0], seam.b[0], sewn)
    ]
    if not corners:
        return None
    worst, where = max(corners)
    return _at_most(
        "free edges run on across the seams", worst, SMOOTH_LIMIT, "°",
        "Hem and top edge meet every seam square.",
        f"There is a corner at {where}: true the curve where the seam ends.",
    )


def _corners(
    pattern: Pattern, a: SeamEdge, b: SeamEdge, sewn: set[tuple[str, str]]
) -> Iterator[tuple[float, str]]:
    """For each end of the seam that runs out between free edges: by how many radians they do not run
    on, and the name of one of them."""
    ends_a, ends_b = _ends(pattern, a), _ends(pattern, b)
    if ends_a and ends_b:
        # On a cloth surface with one right side, edges are joined head to tail, unless one of the
        # two copies is turned over.
        if _turned(pattern, a) == _turned(pattern, b):
            ends_b = ends_b[::-1]
        for (angle_a, free_a), (angle_b, free_b) in zip(ends_a, ends_b, strict=True):
            free = (a.piece, free_a) not in sewn and (b.piece, free_b) not in sewn
            if free and not (_lips(angle_a) and _lips(angle_b)):
                yield angle_a + angle_b - pi, free_a
    elif ends_a or ends_b:
        ends, filler, slit = (ends_a, a, b) if ends_a else (ends_b, b, a)
        foot = _slit_foot(pattern.piece(slit.piece), slit.edge)
        if foot is None or (slit.piece, foot[1]) in sewn:
            return
        for angle, free_edge in ends or ():
            if (filler.piece, free_edge) not in sewn:
                # A slit has two lips, whose angles with the edge it cuts make a half turn.
                yield min(angle + foot[0] - pi, angle - foot[0], key=abs), free_edge


def _slit_foot(piece: Piece, slit: str) -> tuple[float, str] | None:
    """Where a slit runs out into an edge: the angle on one side of it, and the edge's name."""
    path = piece.line(slit)
    for foot, inwards in ((path.start, path.start_direction), (path.end, -path.end_direction)):
        for edge in piece.outline.edges:
            if distance_to_line(foot, edge.path.points()) < SLIT_REACHES:
                along = edge.path.direction_along(edge.path.distance_along_to(foot))
                return acos(max(-1.0, min(1.0, along.dot(inwards)))), edge.name
    return None


def _lips(angle: float) -> bool:
    """Whether a free edge runs straight on along the seam, as the lips of an opening do."""
    return abs(degrees(angle - pi)) < 0.1


def _turned(pattern: Pattern, part: SeamEdge) -> bool:
    return pattern.piece(part.piece).mirrored and part.copy % 2 == 0


def _ends(pattern: Pattern, part: SeamEdge) -> list[tuple[float, str]] | None:
    """For the start and the end of an edge: the piece's inner angle there and the next edge's name."""
    outline = pattern.piece(part.piece).outline
    if all(edge.name != part.edge for edge in outline.edges):
        return None
    edge = outline[part.edge]
    before, after = outline.neighbours(part.edge)
    return [(_inner_angle(before, edge), before.name), (_inner_angle(edge, after), after.name)]


def _inner_angle(arriving: Edge, leaving: Edge) -> float:
    u, v = arriving.path.end_direction, leaving.path.start_direction
    turn = acos(max(-1.0, min(1.0, u.dot(v))))
    return pi - turn if u.cross(v) >= 0 else pi + turn


def _level_hem(pattern: Pattern) -> Check | None:
    """The way down the cloth from the level line to the hem, over all pieces that share a hem."""
    ways = [
        way
        for piece in pattern.pieces
        for hang in piece.hangs
        for way in _ways_down(piece, hang)
    ]
    if not ways:
        return None
    spread = max(ways) - min(ways)
    return _at_most(
        "hem hangs level", spread, LEVEL_LIMIT, "mm",
        "Every way down the cloth to the hem is equally long.",
        f"The hem is {said(spread)} deeper in one place than in another: true its curve.",
    )


def _ways_down(piece: Piece, hang: Hang) -> list[float]:
    path = piece.line(hang.hem)
    hem = [path.point_along(path.length * i / HEM_SAMPLES) for i in range(HEM_SAMPLES + 1)]
    if isinstance(hang.level, Path):
        level = hang.level.points()
        return [distance_to_line(p, level) + hang.below for p in hem]
    return [p.distance(hang.level) + hang.below for p in hem]


def _cutting_lines(pattern: Pattern) -> Check:
    bad = [piece.title for piece in pattern.pieces if not _sound(piece)]
    return _at_most(
        "cutting lines are sound", len(bad), 0, "pieces",
        "Every cutting line goes round its sewing line without crossing itself.",
        f"The cutting line crosses itself or its sewing line on: {', '.join(bad)}. "
        "Smaller allowances there would do.",
    )


def _sound(piece: Piece) -> bool:
    """Both lines are polylines that stray from their curves, so they may cross by that much."""
    cut, sewn = piece.cutting_line, piece.outline.polygon
    if not (is_simple(cut) and is_simple(sewn) and holds_polygon(cut, sewn, 2 * FLAT)):
        return False
    for inner in piece.inner_lines:
        if inner.kind == "slit" and not all(
            holds_point(sewn, p, SLIT_REACHES) for p in inner.path.points()
        ):
            return False
    for name, hole in piece.hole_cutting_lines.items():
        edge = piece.line(name).points()[:-1]
        if not (is_simple(hole) and holds_polygon(edge, hole) and holds_polygon(sewn, edge)):
            return False
    return True


def _at_most(name: str, value: float, limit: float, unit: str, well: str, wrong: str) -> Check:
    """The check of a difference to be kept small, saying which of the two it is."""
    passed = value <= limit
    return Check(name, passed, value, limit, unit, "at most", well if passed else wrong)


def _clearance(clearance: Clearance) -> Check:
    passed = clearance.clears
    advice = clearance.fits if passed else clearance.short
    if clearance.estimated:
        advice += " The body's size here is estimated: measure it to be sure."
    return Check(
        clearance.name, passed, clearance.value, clearance.limit, clearance.unit, "at least", advice,
        () if passed else clearance.remedies, clearance.estimated,
    )
