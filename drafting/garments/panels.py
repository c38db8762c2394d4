"""Flared panels: the shape that every hem of the wardrobe falls from.

A hem hangs level when every way down the cloth from the flare's start to the hem is equally long. So
the hem is the line that lies that far from the level line: straight under it, and round each end of
it an arc about the corner from which the slanted edge falls. The arc meets the slanted edge square,
so two panels of unlike flare join without a dip, and both slanted edges have the full length.
source: plane geometry (the parallel curve of a line segment).
"""

from dataclasses import dataclass
from math import asin, cos, pi, sin

from ..geometry import Arc, Cubic, Edge, Line, Outline, Path, Point

STEEPEST = 60 * pi / 180
"""How far a slanted edge may lean from the grain before a panel is no longer sensible to cut."""


@dataclass(frozen=True)
class PanelShape:
    """A panel with its level line at y = 0. All in mm; `top_length` is 0 for a flare from the top."""

    top_width: float
    level_width: float
    hem_width: float
    top_length: float
    hem_length: float

    @property
    def top_lean(self) -> float:
        """Radians; positive where the panel widens from the level line up."""
        if not self.top_length:
            return 0.0
        return asin((self.top_width - self.level_width) / 2 / self.top_length)

    @property
    def hem_lean(self) -> float:
        """Radians the slanted edge below the level line leans from the grain."""
        return asin((self.hem_width - self.level_width) / 2 / self.hem_length)

    @property
    def level(self) -> Path:
        return Path((Line(self._corner(-1), self._corner(1)),))

    def _corner(self, side: int) -> Point:
        return Point(side * self.level_width / 2, 0.0)

    def line_below(self, distance: float) -> Path:
        """All points `distance` mm of cloth below the level line, from right to left."""
        return _parallel(self._corner(1), self._corner(-1), distance, self.hem_lean, pi / 2)

    def top_edge(self, scoop: float = 0.0) -> Path:
        """From left to right, square to both slanted edges; `scoop` mm hollow at the middle."""
        lean, length = self.top_lean, self.top_length
        if scoop > 0:
            return self._scooped(scoop)
        if lean >= 0:
            return _parallel(self._corner(-1), self._corner(1), length, lean, -pi / 2)
        return self._hollow_top()

    def _top_corner(self, side: int) -> Point:
        lean = self.top_lean
        up = Point(side * sin(lean), -cos(lean))
        return self._corner(side) + up * self.top_length

    def _hollow_top(self) -> Path:
        # Narrower at the top, the square corners turn the edge upwards: two hollow arcs of a
        # quarter of the width ease it into the straight middle.
        lean = -self.top_lean
        radius = self.top_width / 4 / sin(lean)
        left, right = self._top_corner(-1), self._top_corner(1)
        lower = Point(left.x + self.top_width / 4, left.y + radius * (1 - cos(lean)))
        other = Point(-lower.x, lower.y)
        return Path(
            (
                Arc.between(left, lower, Point(lower.x, lower.y - radius), clockwise=False),
                Line(lower, other),
                Arc.between(other, right, Point(other.x, other.y - radius), clockwise=False),
            )
        )

    def _scooped(self, depth: float) -> Path:
        left, right = self._top_corner(-1), self._top_corner(1)
        away = Point(0, -1).turned(-self.top_lean).turned(pi / 2)
        low = Point(0.0, -self.top_length + depth)
        reach = self.top_width / 4
        back = Point(away.x, -away.y)
        return Path(
            (
                Cubic(left, left + away * reach, low - Point(reach, 0), low),
                Cubic(low, low + Point(reach, 0), right - back * reach, right),
            )
        )

    def outline(self, left: str, right: str, scoop: float = 0.0) -> Outline:
        """Edges `top`, `right`, `hem`, `left`, the two sides under the names given."""
        top, hem = self.top_edge(scoop), self.line_below(self.hem_length)
        down = Path.through(top.end, self._corner(1), hem.start)
        up = Path.through(hem.end, self._corner(-1), top.start)
        return Outline((Edge("top", top), Edge(right, down), Edge("hem", hem), Edge(left, up)))


def _parallel(first: Point, last: Point, distance: float, lean: float, square: float) -> Path:
    """The points `distance` from the segment first–last, on its side in the direction `square`.

    Walked clockwise from the slanted edge that leans by `lean` past `first` to the one past `last`.
    """
    shift = Point(0, distance if square > 0 else -distance)
    straight = Line(first + shift, last + shift)
    if lean <= 1e-9:
        return Path((straight,))
    return Path(
        (
            Arc(first, distance, square - lean, lean),
            *((straight,) if straight.length > 1e-9 else ()),
            Arc(last, distance, square, lean),
        )
    )
