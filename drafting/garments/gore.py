"""A gore: a wedge let into a slit or a side seam, so that the garment widens towards its hem.

Both its sides are as long as the edge they fill, and its hem is an arc about its apex, so that it
hangs level and meets the neighbouring hem square. It is cut whole, or as two halves of one hand that
lie head to tail in one rectangle; then each slanted edge is sewn to a straight one, which keeps the
bias from dropping.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import degrees, pi
from typing import Literal

from ..geometry import Allowance, Arc, Edge, Line, Outline, Path, Point
from ..pattern import Half, Hang, Piece, Seam, SeamEdge

WIDEST_ANGLE = 50.0
"""Degrees at the apex over which the bias drops: common practice, no source."""

SLIT_TURN = 8.0
"""mm that each side of a cut slit is turned in at the hem, nothing at its end. A slit has no cloth of
its own for a seam, so the gore is made that much wider. common practice, no source."""


@dataclass(frozen=True)
class Gore:
    """A wedge with sides of `length` and a hem arc of `width`, mm, its apex at (0, 0)."""

    length: float
    width: float

    @property
    def angle(self) -> float:
        """Degrees at the apex."""
        return degrees(self.width / self.length)

    def width_at(self, distance: float) -> float:
        """Along the arc `distance` mm below the apex; source: arc length, r × angle."""
        return self.width * distance / self.length

    def whole(self, sides: tuple[str, str]) -> Outline:
        """Edges: the right side under the second name, `hem`, the left side under the first."""
        half = self.width / self.length / 2
        return self._sector(sides, half, -half)

    def half(self) -> Outline:
        """Edges `slant`, `hem` and `straight`; the straight edge lies along the grain."""
        return self._sector(("straight", "slant"), 0.0, -self.width / self.length / 2)

    def _sector(self, sides: tuple[str, str], left: float, right: float) -> Outline:
        # Angles from straight down, clockwise, so that the left side is the larger.
        apex = Point(0.0, 0.0)
        hem = Arc(apex, self.length, pi / 2 + right, left - right)
        return Outline((
            Edge(sides[1], Path((Line(apex, hem.start),))),
            Edge("hem", Path((hem,))),
            Edge(sides[0], Path((Line(hem.end, apex),))),
        ))

    def line_below(self, distance: float, *, half: bool = False) -> Path:
        """The arc `distance` mm of cloth below the apex, from right to left."""
        spread = self.width / self.length / 2
        left, right = (0.0, -spread) if half else (spread, -spread)
        return Path((Arc(Point(0.0, 0.0), distance, pi / 2 + right, left - right),))


GoreSide = Literal["left", "right", "front", "back"]


@dataclass(frozen=True)
class Gores:
    """One or more gores alike: the piece they are cut from, and the seams that set them in.

    `sides` names the edges of a whole gore as drawn, left and right. `titles` names each gore.
    With `mirrored` every second gore is turned over, as those of a left and a right side are. `half` is
    the half of the body that they lie on, where they lie on one.
    """

    name: str
    gore: Gore
    sides: tuple[GoreSide, GoreSide]
    titles: tuple[str, ...]
    halves: bool = False
    mirrored: bool = False
    half: Half | None = None

    def piece(
        self, seam: Allowance, hem: Allowance, *, below: float = 0.0, cloth: str = "main"
    ) -> Piece:
        """`below` is how far under the garment's own level the apex lies."""
        apex = Point(0.0, 0.0)
        outline = self.gore.half() if self.halves else self.gore.whole(self.sides)
        sides = [edge.name for edge in outline.edges if edge.name != "hem"]
        # A half's grain runs along its straight edge, a whole gore's down its middle.
        reach, x = self.gore.length, self.gore.width / 8 if self.halves else 0.0
        return Piece(
            name=f"{self.name} half" if self.halves else self.name,
            title=f"half {self.name}" if self.halves else self.name,
            outline=outline,
            allowances={sides[0]: seam, sides[1]: seam, "hem": hem},
            cut=len(self.titles) * (2 if self.halves else 1),
            mirrored=self.mirrored,
            copies=self._copies(),
            grain=(Point(x, 0.5 * reach), Point(x, 0.9 * reach)),
            hangs=(Hang("hem", apex, self.gore.length, below),),
            cloth=cloth,
            roles={"hem": "hem"},
            half=self.half,
            faces={} if self.halves else {side: side for side in self.sides
                                          if side == "front" or side == "back"},
        )

    def _copies(self) -> tuple[str, ...]:
        if not self.halves:
            return self.titles
        names = {}
        for index, title in enumerate(self.titles):
            first, second = self._half_copies(index)
            names[first] = f"{title}, {self.sides[0]} half"
            names[second] = f"{title}, {self.sides[1]} half"
        return tuple(names[copy] for copy in sorted(names))

    def _half_copies(self, index: int) -> tuple[int, int]:
        """Copy numbers of the left and right half, as drawn, of gore `index` (from 0)."""
        if self.mirrored:
            return index + 1, index + 1 + len(self.titles)
        return 2 * index + 1, 2 * index + 2

    def edges(self, index: int) -> tuple[SeamEdge, SeamEdge]:
        """The two outer edges of gore `index` (from 0), in the order of `sides`."""
        if not self.halves:
            return (SeamEdge(self.name, self.sides[0], index + 1),
                    SeamEdge(self.name, self.sides[1], index + 1))
        first, second = self._half_copies(index)
        piece = f"{self.name} half"
        return SeamEdge(piece, "straight", first), SeamEdge(piece, "slant", second)

    def seams(
        self,
        index: int,
        first: Sequence[SeamEdge],
        second: Sequence[SeamEdge],
        allowance: float,
    ) -> tuple[Seam, ...]:
        """Sets gore `index` (from 0) between the edges that its two sides fill.

        Both may name the same slit. A gore in halves is first joined down its middle.
        """
        title = self.titles[index]
        middle: tuple[Seam, ...] = ()
        if self.halves:
            one, other = self._half_copies(index)
            piece = f"{self.name} half"
            middle = (Seam(f"{title}, middle", (SeamEdge(piece, "slant", one),),
                           (SeamEdge(piece, "straight", other),), allowance),)
        edges = self.edges(index)
        return middle + tuple(
            Seam(f"{title}, {side} edge", (edge,), tuple(filled), allowance)
            for side, edge, filled in zip(self.sides, edges, (first, second), strict=True)
        )
