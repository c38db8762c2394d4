"""Where the lines that are sewn get their points, so that both sides of every seam have them alike."""

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field

from ..geometry import Path, Point
from ..pattern import Pattern, Piece, Seam, SeamEdge

NOT_HUNG = ("faced", "bound", "edged", "quilted", "layered", "ridge", "felled lining", "pleat")
"""Seams whose further layer adds nothing that is seen: facings, bindings, linings."""

MERGE, MERGED_AT_MOST = 0.22, 9.0
"""Of a triangle's side, and mm: points nearer to each other than either are one."""

ROUND_A_CUFF = 5.0
"""Triangles, at least: fewer would lie flat on each other, an arm between them."""

Copy = tuple[str, int]
Line = tuple[str, int, str]


def turned(piece: Piece, copy: int) -> bool:
    """Every second copy of a mirrored piece is turned over, left to right."""
    return piece.mirrored and copy % 2 == 0


@dataclass(frozen=True)
class Part:
    """A line as it takes part in a seam: from `start` to `end` mm of the seam, along its own path or
    against it. `lip` is the side of a slit, seen along its path: 1 for the right, −1 for the left, 0 for an
    edge."""

    line: Line
    start: float
    length: float
    backwards: bool
    lip: int = 0

    def along(self, at: float) -> float:
        """mm along the line's own path for a place `at` mm along the seam."""
        own = min(max(at - self.start, 0.0), self.length)
        return self.length - own if self.backwards else own


@dataclass(frozen=True)
class SeamSides:
    """Both sides of a seam, each from 0 to its own length."""

    seam: Seam
    a: tuple[Part, ...]
    b: tuple[Part, ...]

    @property
    def lengths(self) -> tuple[float, float]:
        return self.a[-1].start + self.a[-1].length, self.b[-1].start + self.b[-1].length


@dataclass
class SewingLines:
    """The points of every line of the copies that are hung, in mm along its path."""

    pattern: Pattern
    side: float
    copies: tuple[Copy, ...] = ()
    joined: tuple[SeamSides, ...] = ()
    points: dict[Line, list[float]] = field(default_factory=lambda: defaultdict(list))
    _of: dict[Line, list[tuple[SeamSides, int, Part]]] = field(default_factory=lambda: defaultdict(list))

    def __post_init__(self) -> None:
        self._merged = min(MERGE * self.side, MERGED_AT_MOST)
        hung = set(self.copies)
        self.joined = tuple(
            sides_of(self.pattern, seam) for seam in self.pattern.seams
            if seam.treatment not in NOT_HUNG
            and all((part.piece, part.copy) in hung for part in (*seam.a, *seam.b))
        )
        for one in self.joined:
            for which, parts in enumerate((one.a, one.b)):
                for part in parts:
                    self._of[part.line].append((one, which, part))
        lines = [line for copy in self.copies for line in self._lines(copy)]
        for line in lines:
            length = self.path(line).length
            self.add(line, 0.0)
            self.add(line, length)
            for at in self._touched(line):
                self.add(line, at)
        for one in self.joined:
            if one.seam.open_from_top:
                self._add_across(one, 0, one.seam.open_from_top)
        for line in lines:
            self._fill(line)

    def side_of(self, copy: Copy) -> float:
        """mm of its triangles' sides: as many of them round a cuff as keep it open."""
        piece = self.pattern.piece(copy[0])
        cuffs = [edge.path.length for edge in piece.outline.edges if piece.role(edge.name) == "cuff"]
        return min([self.side, *(cuff / ROUND_A_CUFF for cuff in cuffs)])

    def path(self, line: Line) -> Path:
        return self.pattern.piece(line[0]).line(line[2])

    def _lines(self, copy: Copy) -> Iterator[Line]:
        piece = self.pattern.piece(copy[0])
        for edge in piece.outline.edges:
            yield (*copy, edge.name)
        for inner in piece.inner_lines:
            if inner.kind in ("slit", "hole"):
                yield (*copy, inner.name)

    def _touched(self, line: Line) -> Iterator[float]:
        """Where slits of the same piece end on this line."""
        piece, path = self.pattern.piece(line[0]), self.path(line)
        for inner in piece.inner_lines:
            if inner.kind == "slit" and inner.name != line[2]:
                for p in (inner.path.start, inner.path.end):
                    at = path.distance_along_to(p)
                    if path.point_along(at).distance(p) < 0.5:
                        yield at

    def add(self, line: Line, at: float) -> None:
        """A point there, and where the line is sewn its partner's; nothing where there is one already."""
        known = self.points[line]
        i = bisect_left(known, at)
        if any(abs(other - at) < self._merged for other in known[max(0, i - 1):i + 1]):
            return
        known.insert(i, at)
        for one, which, part in self._of[line]:
            own = self.path(line).length - at if part.backwards else at
            self._add_across(one, which, part.start + own)

    def _add_across(self, one: SeamSides, which: int, at: float) -> None:
        lengths = one.lengths
        for side, parts in enumerate((one.a, one.b)):
            here = at * lengths[side] / lengths[which]
            for part in parts:
                if part.start - 0.6 <= here <= part.start + part.length + 0.6:
                    self.add(part.line, part.along(here))

    def _fill(self, line: Line) -> None:
        known, side = list(self.points[line]), self.side_of(line[:2])
        for a, b in zip(known, known[1:], strict=False):
            parts = max(1, round((b - a) / side))
            for k in range(1, parts):
                self.add(line, a + (b - a) * k / parts)


def is_vent(pattern: Pattern, seam: Seam) -> bool:
    """Whether what is left unsewn at its start is a vent at a hem."""
    piece = pattern.piece(seam.a[0].piece)
    start = piece.line(seam.a[0].edge).start
    ends = [p for edge in piece.outline.edges if piece.role(edge.name) in ("hem", "cuff")
            for p in (edge.path.start, edge.path.end)]
    return any(p.distance(start) < 0.5 for p in ends)


def sides_of(pattern: Pattern, seam: Seam) -> SeamSides:
    """The seam's sides as they run together: side a along its first line's path, side b against its
    neighbour, as two cloths lie edge to edge."""
    sense = _clockwise(pattern, seam.a[0])
    return SeamSides(seam, _side(pattern, seam.a, sense, seam.b), _side(pattern, seam.b, -sense, seam.a))


def _clockwise(pattern: Pattern, part: SeamEdge) -> int:
    """1 where the line's path runs clockwise round its copy as it is worn, right side out."""
    return -1 if turned(pattern.piece(part.piece), part.copy) else 1


def _side(pattern: Pattern, side: tuple[SeamEdge, ...], sense: int, other: tuple[SeamEdge, ...]
          ) -> tuple[Part, ...]:
    found, start = [], 0.0
    for edge in side:
        piece = pattern.piece(edge.piece)
        length = piece.line(edge.edge).length
        line = (edge.piece, edge.copy, edge.edge)
        backwards = _clockwise(pattern, edge) != sense
        lip = 0
        if edge.edge not in {own.name for own in piece.outline.edges}:
            backwards, lip = _lip(pattern, edge, sense, other[0])
        found.append(Part(line, start, length, backwards, lip))
        start += length
    return tuple(found)


def _lip(pattern: Pattern, slit: SeamEdge, sense: int, other: SeamEdge) -> tuple[bool, int]:
    """How a slit is walked beside the gore's edge `other`, whose walk has the sense −`sense`, and which
    of its lips that is: the one whose cloth lies to the right is walked clockwise along the path."""
    piece, gore = pattern.piece(slit.piece), pattern.piece(other.piece)
    path = piece.line(slit.edge)
    tip_first = not on_outline(piece, path.start)
    hem_ends = [p for edge in gore.outline.edges if gore.role(edge.name) == "hem"
                for p in (edge.path.start, edge.path.end)]
    edge = gore.line(other.edge)
    apex_first = min(edge.end.distance(p) for p in hem_ends) < 0.5 if hem_ends else True
    gore_backwards = _clockwise(pattern, other) != -sense
    starts_at_apex = apex_first != gore_backwards
    backwards = starts_at_apex != tip_first
    walked = -1 if backwards else 1
    return backwards, walked * sense * _clockwise(pattern, slit)


def on_outline(piece: Piece, p: Point, *, slits_but: str = "") -> bool:
    """Whether the point lies on the piece's edge or the edge of a hole in it; or where a slit is named, on
    any other slit."""
    paths = [edge.path for edge in piece.outline.edges]
    paths += [inner.path for inner in piece.inner_lines
              if inner.kind == "hole" or slits_but and inner.kind == "slit" and inner.name != slits_but]
    return any(path.point_along(path.distance_along_to(p)).distance(p) < 0.5 for path in paths)
