"""The slanted edge of a panel that is drawn in at the waist: straight, curved past the level, straight.

A corner of 20° leaves an allowance of 25 mm nearly 9 mm short where it is turned over; along a curve of
100 mm the cloth gives that. The edge has its length however it bends, so that those of unlike panels, which
bend more or less, match from the top down. common practice, no source, but for the plane geometry.
"""

from dataclasses import dataclass
from functools import cached_property
from math import cos, sin

from ..geometry import Arc, Line, Path, Point

STEPS = 8
"""Of an iteration that begins within a millimetre and gains a place at least with each."""


@dataclass(frozen=True)
class BentEdge:
    """A panel's right edge, downwards, past (`half`, 0).

    Leans in radians from the grain, outwards; lengths in mm along the edge, `rounding` that of the curve on
    either side of the level.
    """

    half: float
    lean_above: float
    lean_below: float
    length_above: float
    length_below: float
    rounding: float

    @classmethod
    def between(cls, top: float, level: float, hem: float, above: float, below: float,
                rounding: float) -> "BentEdge":
        """The edge of a panel whose straight parts would meet at a width of `level`, and whose top and hem,
        drawn square to it, are `top` and `hem` long. All mm."""
        lean_above, lean_below = (top - level) / 2 / above, (hem - level) / 2 / below
        half = level / 2 + (lean_above + lean_below) * rounding / 4
        for _ in range(STEPS if rounding else 0):
            edge = cls(half, lean_above, lean_below, above, below, rounding)
            half += hem / 2 - edge._half_at_hem
            lean_above += (top / 2 - edge._half_at_top - hem / 2 + edge._half_at_hem) / above
        return cls(half, lean_above, lean_below, above, below, rounding)

    @property
    def path(self) -> Path:
        begins, ends = self._curve
        middle = (Arc(self._centre, begins.distance(self._centre), (begins - self._centre).angle, -self._turn)
                  if self._bends else Line(begins, ends))
        parts = (Line(self.top, begins), middle, Line(ends, self._hem))
        return Path(tuple(part for part in parts if part.length > 1e-9))

    @property
    def fan_above(self) -> tuple[Point, float]:
        """The centre and the radius, mm, of the arc in which the top edge meets this one square."""
        return self.top + _leaning(-self.lean_above) * self.length_above, self.length_above

    @cached_property
    def fan_below(self) -> tuple[Point, float]:
        """The same of the hem: an arc that begins `length_below` mm under the level, as far as its middle."""
        radius, rise = self.length_below, 1 - cos(self.lean_below)
        if self.rounding and rise * radius > self.length_below - self._hem.y:
            radius = (self.length_below - self._hem.y) / rise
        return self._hem - _leaning(self.lean_below) * radius, radius

    @property
    def _half_at_top(self) -> float:
        centre, radius = self.fan_above
        return centre.x + self.lean_above * radius

    @property
    def _half_at_hem(self) -> float:
        centre, radius = self.fan_below
        return centre.x + self.lean_below * radius

    @property
    def _turn(self) -> float:
        """Radians; negative where the panel bulges at the level."""
        return self.lean_above + self.lean_below

    @property
    def _bends(self) -> bool:
        return self.rounding > 0 and abs(self._turn) > 1e-9

    @cached_property
    def _centre(self) -> Point:
        across = _leaning((self.lean_below - self.lean_above) / 2).outward
        return Point(self.half, 0.0) + across * (2 * self.rounding / self._turn)

    @cached_property
    def _curve(self) -> tuple[Point, Point]:
        """Where the curve begins and where it ends."""
        level = Point(self.half, 0.0)
        if not self._bends:
            return (level - _leaning(-self.lean_above) * self.rounding,
                    level + _leaning(self.lean_below) * self.rounding)
        spoke = 2 * self.rounding / self._turn
        begins, ends = (self._centre - _leaning(lean).outward * spoke
                        for lean in (-self.lean_above, self.lean_below))
        return begins, ends

    @cached_property
    def top(self) -> Point:
        return self._curve[0] - _leaning(-self.lean_above) * (self.length_above - self.rounding)

    @cached_property
    def _hem(self) -> Point:
        return self._curve[1] + _leaning(self.lean_below) * (self.length_below - self.rounding)


def _leaning(lean: float) -> Point:
    """The direction down an edge that leans outwards by so many radians."""
    return Point(sin(lean), cos(lean))
