"""The seam graph of a pattern: which copies of pieces are joined by which seams, and what is left free.

A copy of a piece is a node, a seam joins the copies whose edges it names.
"""

from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property

from ..geometry.polygon import distance_to_line
from ..pattern import Pattern, Seam, SeamEdge, SeamTreatment

Copy = tuple[str, int]
"""A piece's name and which copy of it, from 1."""

COVERING: tuple[SeamTreatment, ...] = ("felled lining",)
"""Treatments of seams that only lay a lining on an edge, which is hemmed all the same."""

LEAST_OPENING = 1.0
"""mm."""

AT_A_CORNER = 0.1
"""mm within which a line ends on another."""

GUSSET_PART = 0.2
"""A gusset is smaller than this part of the pattern's largest piece. common practice, no source."""


def copy_of(part: SeamEdge) -> Copy:
    return part.piece, part.copy


def parts_of(seam: Seam) -> tuple[SeamEdge, ...]:
    return seam.a + seam.b


def opening_of(seam: Seam) -> float:
    """mm at the seam's start that stay open; nought where that is less than can be seen."""
    return seam.open_from_top if seam.open_from_top >= LEAST_OPENING else 0.0


class SeamGraph:
    """Questions about a pattern's seams that the order of work asks."""

    def __init__(self, pattern: Pattern) -> None:
        self.pattern = pattern
        self.copies: tuple[Copy, ...] = tuple(
            (piece.name, copy) for piece, copy in pattern.copies()
        )
        self._sewn: dict[SeamEdge, list[Seam]] = {}
        self._touching: dict[tuple[str, str, str], bool] = {}
        for seam in pattern.seams:
            for part in parts_of(seam):
                self._sewn.setdefault(part, []).append(seam)

    def seams_at(self, part: SeamEdge) -> list[Seam]:
        return self._sewn.get(part, [])

    def inner_kind(self, part: SeamEdge) -> str:
        """What kind of line inside its piece it is; empty for an edge of the outline."""
        for inner in self.pattern.piece(part.piece).inner_lines:
            if inner.name == part.edge:
                return inner.kind
        return ""

    def neighbours(self, part: SeamEdge) -> tuple[SeamEdge, ...]:
        """The outline edges that meet it at its corners; none for a line inside the piece."""
        if self.inner_kind(part):
            return ()
        before, after = self.pattern.piece(part.piece).outline.neighbours(part.edge)
        return (SeamEdge(part.piece, before.name, part.copy),
                SeamEdge(part.piece, after.name, part.copy))

    def edges_of(self, copy: Copy) -> Iterator[SeamEdge]:
        for edge in self.pattern.piece(copy[0]).outline.edges:
            yield SeamEdge(copy[0], edge.name, copy[1])

    @cached_property
    def free_edges(self) -> tuple[SeamEdge, ...]:
        """Every outline edge that no seam joins to another, save that a lining may cover it."""
        return tuple(part for copy in self.copies for part in self.edges_of(copy)
                     if self._is_free(part))

    @cached_property
    def slits(self) -> tuple[SeamEdge, ...]:
        """Every line inside a piece that is cut open, whether something is sewn into it or not."""
        return tuple(part for part in self._cuts if self.inner_kind(part) == "slit")

    @cached_property
    def free_cuts(self) -> tuple[SeamEdge, ...]:
        """Slits and holes that nothing is sewn into or on to."""
        return tuple(part for part in self._cuts if self._is_free(part))

    @cached_property
    def _cuts(self) -> tuple[SeamEdge, ...]:
        return tuple(
            SeamEdge(piece.name, inner.name, copy)
            for piece, copy in self.pattern.copies()
            for inner in piece.inner_lines
            if inner.kind in ("slit", "hole")
        )

    def _is_free(self, part: SeamEdge) -> bool:
        return all(seam.treatment in COVERING for seam in self.seams_at(part))

    def meet(self, one: Iterable[SeamEdge], other: Iterable[SeamEdge]) -> bool:
        """Whether a line of the one ends on a line of the other, on the same copy of a piece.

        So do two edges at the corner they share: the later of two seams there crosses the earlier.
        """
        other = tuple(other)
        return any(self._touch(p.piece, *sorted((p.edge, q.edge)))
                   for p in one for q in other if copy_of(p) == copy_of(q))

    def _touch(self, piece: str, one: str, other: str) -> bool:
        key = piece, one, other
        if key not in self._touching:
            paths = [self.pattern.piece(piece).line(name) for name in (one, other)]
            self._touching[key] = one == other or any(
                distance_to_line(end, path.points()) < AT_A_CORNER
                for ending, path in (paths, reversed(paths)) for end in (ending.start, ending.end))
        return self._touching[key]

    def area(self, copy: Copy) -> float:
        """mm² within the sewing lines."""
        return self.pattern.piece(copy[0]).outline.area

    @cached_property
    def gussets(self) -> frozenset[Copy]:
        """Small straight-sided pieces sewn in all round between two others or more: at underarm and seat."""
        largest = max(self.area(copy) for copy in self.copies)
        free = {copy_of(part) for part in self.free_edges}
        return frozenset(
            copy for copy in self.copies
            if copy not in free
            and self.area(copy) <= GUSSET_PART * largest
            and len(self.partners(copy)) >= 2
            and not self._inner_layer(copy)
            and all(edge.path.is_straight for edge in self.pattern.piece(copy[0]).outline.edges)
        )

    def _inner_layer(self, copy: Copy) -> bool:
        return any(seam.treatment in ("faced", "bound", "edged") for part in self.edges_of(copy)
                   for seam in self.seams_at(part))

    def partners(self, copy: Copy) -> frozenset[Copy]:
        """The copies it is sewn to, itself left out."""
        return frozenset(
            copy_of(part)
            for edge in self.edges_of(copy)
            for seam in self.seams_at(edge)
            for part in self.across(seam, copy)
        ) - {copy}

    def across(self, seam: Seam, copy: Copy) -> tuple[SeamEdge, ...]:
        """The side of the seam that faces the copy's own."""
        if any(copy_of(part) == copy for part in seam.a):
            return seam.b
        return seam.a

    def joins_before(self, side: Sequence[SeamEdge]) -> set[str]:
        """Names of the seams that must be sewn so that the edges of `side` run on into one another.

        They are the seams that end where one edge of the side passes to the next, on another piece or across
        a seam of the same one.
        """
        found: set[str] = set()
        for one, other in zip(side, side[1:], strict=False):
            if copy_of(one) != copy_of(other) or other not in self.neighbours(one):
                found |= self._ending_at(one) & self._ending_at(other)
        return found

    def ending_at(self, parts: Iterable[SeamEdge]) -> set[str]:
        """Names of all the seams that end at a corner of any of the edges."""
        return {name for part in parts for name in self._ending_at(part)}

    def _ending_at(self, part: SeamEdge) -> set[str]:
        return {seam.name for near in self.neighbours(part) for seam in self.seams_at(near)}


class Joined:
    """Which copies hang together so far. source: union–find with path halving."""

    def __init__(self, copies: Iterable[Copy], graph: SeamGraph) -> None:
        self._pattern = graph.pattern
        self._above = {copy: copy for copy in copies}
        self._area = {copy: graph.area(copy) for copy in self._above}

    def root(self, copy: Copy) -> Copy:
        above = self._above
        while above[copy] != copy:
            above[copy] = above[above[copy]]
            copy = above[copy]
        return copy

    def are_one(self, parts: Iterable[SeamEdge]) -> bool:
        return len({self.root(copy_of(part)) for part in parts}) <= 1

    def areas(self, parts: Iterable[SeamEdge]) -> list[float]:
        """mm² of each assembly that the edges belong to, the smallest first."""
        return sorted(self._area[root] for root in {self.root(copy_of(p)) for p in parts})

    def is_inside(self, parts: Iterable[SeamEdge]) -> bool:
        """Whether none of the cloths is the garment's main one."""
        return all(self._pattern.piece(part.piece).cloth != "main" for part in parts)

    def join(self, parts: Iterable[SeamEdge]) -> None:
        roots = list(dict.fromkeys(self.root(copy_of(part)) for part in parts))
        for root in roots[1:]:
            self._area[roots[0]] += self._area[root]
            self._above[root] = roots[0]
