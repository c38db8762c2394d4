"""Flared panels: the shapes that the hems of the wardrobe fall from.

A hem hangs level when every way down the cloth from the flare's start to the hem is equally long, so
the hem is a parallel of the level line: straight below it, and about each end of it an arc from which
the slanted edge falls. The arc meets the slanted edge square, so two panels of unlike flare join
without a dip or a corner, and both slanted edges have the full length.
Widths are taken along the level, as a tape goes round the finished garment; so a flare of `w` mm over
`l` mm of cloth turns the slanted edge by w / l radians.
source: plane geometry (parallel curves of a line segment and of an arc; arc = radius × angle).
"""

from abc import ABC, abstractmethod
from dataclasses import dataclass
from functools import cached_property
from math import cos, pi, sin

from ..geometry import Arc, Cubic, Edge, Line, Outline, Path, Point
from .bent_edge import BentEdge

STEEPEST = 60 * pi / 180
"""How far a slanted edge may lean from the grain before a panel is no longer sensible to cut."""


class Panel(ABC):
    """A panel symmetrical about x = 0, with edges `top`, `hem` and two sides."""

    hem_length: float

    @property
    @abstractmethod
    def level(self) -> Path:
        """The line that all ways down to the hem start from, left to right."""

    @property
    @abstractmethod
    def hem_lean(self) -> float:
        """Radians the slanted edge leans from the grain at the hem."""

    @abstractmethod
    def line_below(self, distance: float) -> Path:
        """All points `distance` mm of cloth below the level line, from right to left."""

    @abstractmethod
    def plain_top(self) -> Path:
        """The top edge from left to right, square to both slanted edges."""

    def side(self, top: Point, hem: Point) -> Path:
        """The slanted edge between a corner of the top and its corner of the hem."""
        return Path.through(top, hem)

    def top_edge(self, scoop: float = 0.0) -> Path:
        """The top edge, `scoop` mm hollow in the middle, still square to both slanted edges."""
        plain = self.plain_top()
        if scoop <= 0:
            return plain
        left, right = plain.start, plain.end
        leaving, arriving = plain.start_direction, plain.end_direction
        low = plain.point_along(plain.length / 2) + Point(0, scoop)
        reach = plain.length / 4
        return Path((
            Cubic(left, left + leaving * reach, low - Point(reach, 0), low),
            Cubic(low, low + Point(reach, 0), right - arriving * reach, right),
        ))

    def outline(self, left: str, right: str, scoop: float = 0.0) -> Outline:
        """Edges `top`, `hem`, and the two sides under the names given."""
        top, hem = self.top_edge(scoop), self.line_below(self.hem_length)
        down, up = self.side(top.end, hem.start), self.side(top.start, hem.end).reversed()
        return Outline((Edge("top", top), Edge(right, down), Edge("hem", hem), Edge(left, up)))


@dataclass(frozen=True)
class WaistedPanel(Panel):
    """A panel bent at a straight level line, y = 0: `top_length` of cloth above, `hem_length` below.

    mm. The hem is at least as wide as the level; the top may be wider or narrower. `level_width` is where the
    two straight parts of an edge would meet; a curve as long as `rounding` on either side of the level goes
    from the one to the other, outside that corner where the panel is drawn in.
    """

    top_width: float
    level_width: float
    hem_width: float
    top_length: float
    hem_length: float
    rounding: float = 0.0

    @cached_property
    def _edge(self) -> BentEdge:
        return BentEdge.between(self.top_width, self.level_width, self.hem_width, self.top_length,
                                self.hem_length, self.rounding)

    @property
    def top_lean(self) -> float:
        """Radians; positive where the panel widens from the level line up."""
        return self._edge.lean_above

    @property
    def hem_lean(self) -> float:
        return self._edge.lean_below

    @property
    def level(self) -> Path:
        return Path((Line(Point(-self._edge.half, 0.0), Point(self._edge.half, 0.0)),))

    def line_below(self, distance: float) -> Path:
        centre, radius = self._edge.fan_below
        radius += distance - self.hem_length
        return _parallel(centre, _opposite(centre), radius, self.hem_lean, pi / 2)

    def plain_top(self) -> Path:
        lean = self.top_lean
        if lean >= 0:
            centre, radius = self._edge.fan_above
            return _parallel(_opposite(centre), centre, radius, lean, -pi / 2)
        # Narrower at the top, the square corners turn the edge upwards: two hollow arcs of about a
        # quarter of the width each ease it into the straight middle.
        left = _opposite(self._edge.top)
        radius = self.top_width / 4 / -lean
        low = Point(left.x + radius * sin(-lean), left.y + radius * (1 - cos(lean)))
        other, right = Point(-low.x, low.y), Point(-left.x, left.y)
        return Path((
            Arc.between(left, low, Point(low.x, low.y - radius), clockwise=False),
            Line(low, other),
            Arc.between(other, right, Point(other.x, other.y - radius), clockwise=False),
        ))

    def side(self, top: Point, hem: Point) -> Path:
        return self._edge.path if hem.x > 0 else self._edge.path.moved(_opposite)


@dataclass(frozen=True)
class ConePanel(Panel):
    """A panel that flares evenly from its top edge: part of an unrolled frustum. mm.

    The top edge is the level line, at y = 0 at its ends. The hem is wider than the top.
    """

    top_width: float
    hem_width: float
    hem_length: float

    @property
    def hem_lean(self) -> float:
        return (self.hem_width - self.top_width) / 2 / self.hem_length

    @property
    def _radius(self) -> float:
        return self.top_width / 2 / self.hem_lean

    def _arc(self, radius: float) -> Path:
        """About the apex, from left to right."""
        apex = Point(0.0, -self._radius * cos(self.hem_lean))
        return Path((Arc(apex, radius, pi / 2 + self.hem_lean, -2 * self.hem_lean),))

    @property
    def level(self) -> Path:
        return self.plain_top()

    def line_below(self, distance: float) -> Path:
        return self._arc(self._radius + distance).reversed()

    def plain_top(self) -> Path:
        return self._arc(self._radius)


@dataclass(frozen=True)
class WidenedPanel(Panel):
    """Another panel cut apart down its middle, with a straight strip `extra` mm wide let in.

    Its slanted edges and the ways down it stay as they were.
    """

    panel: Panel
    extra: float
    hem_length: float

    @classmethod
    def of(cls, panel: Panel, extra: float) -> "WidenedPanel":
        return cls(panel, extra, panel.hem_length)

    @property
    def hem_lean(self) -> float:
        return self.panel.hem_lean

    @property
    def level(self) -> Path:
        return self._widened(self.panel.level)

    def line_below(self, distance: float) -> Path:
        return self._widened(self.panel.line_below(distance))

    def plain_top(self) -> Path:
        return self._widened(self.panel.plain_top())

    def side(self, top: Point, hem: Point) -> Path:
        shift = Point(self.extra / 2 if hem.x > 0 else -self.extra / 2, 0.0)
        return self.panel.side(top - shift, hem - shift).moved(lambda p: p + shift)

    def _widened(self, path: Path) -> Path:
        half = Point(self.extra / 2 if path.end.x > path.start.x else -self.extra / 2, 0.0)
        first, second = path.cut_at(path.length / 2)
        first, second = first.moved(lambda p: p - half), second.moved(lambda p: p + half)
        return Path((*first.segments, Line(first.end, second.start), *second.segments))


def _opposite(p: Point) -> Point:
    return Point(-p.x, p.y)


def _parallel(first: Point, last: Point, distance: float, lean: float, square: float) -> Path:
    """The points `distance` from the segment first–last, on its side in the direction `square`.

    Walked clockwise from the slanted edge that leans by `lean` past `first` to the one past `last`.
    """
    shift = Point(0, distance if square > 0 else -distance)
    straight = Line(first + shift, last + shift)
    if lean <= 1e-9:
        return Path((straight,))
    return Path((
        Arc(first, distance, square - lean, lean),
        *((straight,) if straight.length > 1e-9 else ()),
        Arc(last, distance, square, lean),
    ))
