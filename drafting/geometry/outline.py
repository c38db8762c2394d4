"""An outline: a closed chain of named edges, walked clockwise as seen on the page."""

from dataclasses import dataclass
from functools import cached_property

from .curves import Mapping2D
from .path import FLAT, JOIN_TOLERANCE, Path
from .pens import Pen
from .point import Point
from .polygon import Bounds, area, bounds


@dataclass(frozen=True, slots=True)
class Edge:
    name: str
    path: Path

    @property
    def length(self) -> float:
        return self.path.length


@dataclass(frozen=True)
class Outline:
    """Edges that close on themselves, the inside to the right of the way one walks (y down).

    Raises ValueError when two edges share a name, do not meet, or run the wrong way round.
    """

    edges: tuple[Edge, ...]

    def __post_init__(self) -> None:
        names = [edge.name for edge in self.edges]
        if len(set(names)) != len(names):
            raise ValueError(f"two edges share a name: {names}")
        for before, after in zip(self.edges, (*self.edges[1:], self.edges[0]), strict=True):
            if before.path.end.distance(after.path.start) > JOIN_TOLERANCE:
                raise ValueError(f"{before.name!r} does not meet {after.name!r}")
        if self.area <= 0:
            raise ValueError("an outline runs clockwise as seen on the page")

    def __getitem__(self, name: str) -> Edge:
        """The edge of that name. Raises KeyError when there is none."""
        for edge in self.edges:
            if edge.name == name:
                return edge
        raise KeyError(name)

    def neighbours(self, name: str) -> tuple[Edge, Edge]:
        """The edges before and after the one named."""
        i = [edge.name for edge in self.edges].index(name)
        return self.edges[i - 1], self.edges[(i + 1) % len(self.edges)]

    @cached_property
    def polygon(self) -> tuple[Point, ...]:
        """The outline as points, each once, within FLAT mm of the true curve."""
        found: list[Point] = []
        for edge in self.edges:
            found.extend(edge.path.points(FLAT)[:-1])
        return tuple(found)

    @cached_property
    def area(self) -> float:
        """mm², of the polygon."""
        return area(self.polygon)

    @cached_property
    def bounds(self) -> Bounds:
        return bounds(self.polygon)

    def moved(self, motion: Mapping2D) -> "Outline":
        """The outline after a rigid motion; turned over, its edges are walked the other way."""
        edges = [Edge(edge.name, edge.path.moved(motion)) for edge in self.edges]
        if area([p for edge in edges for p in edge.path.points(1.0)[:-1]]) < 0:
            edges = [Edge(edge.name, edge.path.reversed()) for edge in reversed(edges)]
        return Outline(tuple(edges))

    def draw(self, pen: Pen) -> None:
        for i, edge in enumerate(self.edges):
            edge.path.draw(pen, move=i == 0)
        pen.close()
