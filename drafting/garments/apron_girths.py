"""The apron dress's girths from top to hem, and the curve in which it is drawn in at the waist."""

from dataclasses import dataclass, replace
from math import inf

from ..pattern import Level
from .panels import ConePanel, Panel, WaistedPanel

THIRD, SIXTH = 1 / 3, 1 / 6

CURVE_AT_WAIST, LEAST_RADIUS = 100.0, 75.0
"""mm of seam along which the waist's corner is rounded, and of the curve's radius under which an allowance
could not go round it. common practice, no source."""

LEVEL_REACH = 12.0
"""mm that a curve may reach below the waist, times the square of the turn in radians, so that the hem
hangs level to 1 mm: below it the ways down from the level come by so much to differ. source: plane geometry,
worked out by numbers."""

GIRTHS = 10
"""So many are known of either half of that curve."""

PAST_THE_WAIST = "past the waist"


@dataclass(frozen=True)
class Tube:
    """The garment's girths and lengths, mm; `waist_depth` is 0 when it flares from the top.

    `below_waist` is finished; a growth tuck takes `tucked` more cloth. `pleats` is what the front's pleats
    take up, all together, sewn down as far as `pleat_length`. At `waist` the seams' straight parts above
    and below would meet; a curve goes from one to the other, `rounding` long on either side, on which the
    dress is wider than that. A `gored` one flares by gores let in there.
    """

    top: float
    waist: float
    hem: float
    waist_depth: float
    below_waist: float
    tucked: float
    pleats: float = 0.0
    pleat_length: float = 0.0
    rounding: float = 0.0
    gored: bool = False

    @property
    def levels(self) -> tuple[Level, ...]:
        """Girths of the finished garment, the growth tuck sewn in; many along a curved waist."""
        top, hem = Level("top", 0.0, self.top, kind="top"), Level("hem", self.length, self.hem, kind="hem")
        if self.waist_depth:
            return top, *self._past_the_waist, hem
        if self.pleats:
            flared = (self.hem - self.pleats - self.top) * self.pleat_length / self.below_waist
            level = Level("end of the pleats", self.pleat_length, self.top + flared, kind="between")
            return top, level, hem
        return top, hem

    @property
    def length(self) -> float:
        """Finished, from top to hem."""
        return self.waist_depth + self.below_waist

    @property
    def _past_the_waist(self) -> tuple[Level, ...]:
        """The waist, and where its corner is a curve the girths along that: a parabola, as the lean of all
        edges changes evenly."""
        if not self.waist_depth:
            return ()
        if not self.rounding:
            return (Level("waist", self.waist_depth, self.waist, kind="waist"),)
        narrows, flares = self.slopes
        found = []
        for i in range(-GIRTHS, GIRTHS + 1):
            away = self.rounding * i / GIRTHS
            curved = self.bends * (away + self.rounding) ** 2 / (4 * self.rounding)
            let_in = flares * max(0.0, away) if self.gored else 0.0
            girth = self.waist - narrows * away + curved + let_in
            found.append(Level("waist" if i == 0 else PAST_THE_WAIST, self.waist_depth + away, girth,
                               kind="waist" if i == 0 else "between"))
        return tuple(found)

    @property
    def slopes(self) -> tuple[float, float]:
        """mm of girth for each mm from the waist up, and down."""
        return (self.top - self.waist) / self.waist_depth, (self.hem - self.waist) / self.below_waist

    @property
    def narrowest_at_the_waist(self) -> float:
        """The least girth about the waist, which a curve has a little above it."""
        return min((level.girth for level in self._past_the_waist), default=inf)

    @property
    def bends(self) -> float:
        """By how much the panels' girth changes its slope at the waist, mm for each mm; over 0 where it is
        drawn in there."""
        narrows, flares = self.slopes
        return narrows if self.gored else narrows + flares

    def panel(self, part: float, less_hem: float = 0.0) -> Panel:
        """A panel of that part of every girth, its hem `less_hem` mm narrower."""
        top, waist, hem = self.top * part, self.waist * part, self.hem * part - less_hem
        if self.waist_depth:
            return WaistedPanel(top, waist, hem, self.waist_depth, self.below_waist, self.rounding)
        return ConePanel(top, hem, self.below_waist)


def curved(tube: Tube) -> Tube:
    """The tube with its corner at the waist made a curve, outside the corner, so that no room is lost.

    Where it bulges there instead, as over a stout waist, the corner stays: an allowance has cloth to spare
    round it, and a curve would take room from the belly. So it does where the curve would be too sharp.
    """
    if not tube.waist_depth or tube.bends <= 0:
        return tube
    turn = tube.bends * THIRD / 2
    reach = min(CURVE_AT_WAIST / 2, tube.waist_depth / 3, tube.below_waist / 3, LEVEL_REACH / turn**2)
    sharp = turn * LEAST_RADIUS > 2 * reach
    return tube if sharp else replace(tube, rounding=reach)
