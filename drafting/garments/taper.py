"""A panel that narrows or widens evenly from a straight top to a square-cornered end: sleeve or leg."""

from dataclasses import dataclass
from math import cos, pi, sin, tan

from ..geometry import Arc, Line, Path, Point

_STRAIGHT = 1e-3
"""mm of difference in width under which the panel counts as a rectangle."""

STEEPEST = 0.6
"""Radians that a side may lean before the panel is no longer sensible to cut. common practice, no
source."""


@dataclass(frozen=True)
class Taper:
    """Symmetrical about x = 0, the straight top edge at y = 0. All in mm.

    The end is part of a circle about the point where the sides would meet, so that it runs on square
    across the seam when the sides are joined; `end` is its girth along that arc, and `length` is
    taken down the middle. source: plane geometry (an unrolled frustum of a cone).
    """

    top: float
    end: float
    length: float

    @property
    def can_be_cut(self) -> bool:
        """Whether the sides lean no more than STEEPEST.

        One that widens has no square end at all where (end − top) · top/3 exceeds length², since
        the end's arc then bulges faster than its sides grow.
        """
        if self.top >= self.end:
            return self.top - self.end <= 2 * STEEPEST * self.length
        bulge = (self.end - self.top) * self.top / 3
        return self.end - self.top <= self.length and bulge <= 0.6 * self.length**2

    @property
    def lean(self) -> float:
        """Radians that the sides lean from the grain, positive when it narrows.

        The sides of lean λ meet top/2 · cot λ below the top, and the end lies end/2λ short of that:
        solved by Newton's steps, which settle for any lean that can be cut.
        """
        if abs(self.top - self.end) < _STRAIGHT:
            return 0.0
        lean = (self.top - self.end) / 2 / self.length
        for _ in range(20):
            off = self.top / 2 / tan(lean) - self.end / 2 / lean - self.length
            step = off / (self.end / 2 / lean**2 - self.top / 2 / sin(lean) ** 2)
            lean -= step
            if abs(step) < 1e-13:
                break
        return lean

    @property
    def corner(self) -> Point:
        """Where the right side meets the end."""
        return self.end_edge.start

    @property
    def side_length(self) -> float:
        return self.corner.distance(Point(self.top / 2, 0.0))

    def width_at(self, distance: float) -> float:
        """Girth `distance` mm down the middle."""
        return self.top + (self.end - self.top) * distance / self.length

    @property
    def end_edge(self) -> Path:
        """From the right side to the left."""
        lean = self.lean
        if not lean:
            half = self.top / 2
            return Path((Line(Point(half, self.length), Point(-half, self.length)),))
        apex, radius = Point(0.0, self.top / 2 / tan(lean)), self.end / 2 / lean
        if lean > 0:
            return Path((Arc(apex, radius, lean - pi / 2, -2 * lean),))
        return Path((Arc(apex, -radius, pi / 2 + lean, -2 * lean),))

    def on_side(self, distance: float) -> Point:
        """The point of the right side `distance` mm along it from the top."""
        lean = self.lean
        return Point(self.top / 2 - sin(lean) * distance, cos(lean) * distance)
