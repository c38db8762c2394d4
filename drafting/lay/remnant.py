"""A piece of cloth as one has it: any outline, with holes and stains, its grain in any direction.

Inside the engine it is a board in a box of its own, its grain along x, and what lies outside its outline or
in a hole is an obstacle of convex parts: between the box and the convex hull, in the hull's pockets, and the
holes themselves.
"""

from dataclasses import dataclass
from functools import cached_property
from math import ceil

import numpy as np

from ..words.problems import BadInput, Problem
from .convex import convex_parts
from .corners import Points, cleaned, convex_hull, counter_clockwise, rotated, self_contact, signed_area
from .orient import Form

SLIVER = 1e-6
"""mm²: a pocket of less is none."""

OUT_OF_THE_WAY: Points = np.array([(-9.0, -9.0), (-8.0, -9.0), (-8.0, -8.0)])
"""For a cloth that nothing is closed off on: a form has at least one part."""

Ring = tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Remnant:
    """A piece of cloth, mm. `grain`: degrees from +x towards +y in which its warp runs.

    Raises BadInput, naming it, for an outline or a hole that is no simple polygon with an area, a hole that
    is not wholly inside, and holes that meet.
    """

    name: str
    outline: Ring
    holes: tuple[Ring, ...] = ()
    grain: float = 0.0

    def __post_init__(self) -> None:
        problem = self._problem()
        if problem:
            raise BadInput([Problem(self.name, f"Cloth “{self.name}” {problem}")])

    def _problem(self) -> str:
        for ring, what in ((self.outline, "an outline"), *((hole, "a hole") for hole in self.holes)):
            if len(ring) < 3 or len(np.unique(np.array(ring), axis=0)) < 3:
                return f"has {what} of fewer than three corners that differ."
            tidy = cleaned(np.array(ring, dtype=float))
            meeting = self_contact(tidy) if len(tidy) >= 3 else None
            if meeting:
                return (f"has {what} that crosses or touches itself near ({meeting[0]:.6g}, "
                        f"{meeting[1]:.6g}): go round it once, corner by corner.")
            if len(tidy) < 3 or abs(signed_area(tidy)) < 1.0:
                return f"has {what} without an area: measure its corners again."
        for number, hole in enumerate(self.holes, 1):
            if not _inside(np.array(hole, dtype=float), np.array(self.outline, dtype=float)):
                return f"has a hole or stain (number {number}) that is not wholly inside its outline."
        return ""

    @property
    def area(self) -> float:
        """mm² that can be cut from."""
        return abs(signed_area(np.array(self.outline, dtype=float))) - sum(
            abs(signed_area(np.array(hole, dtype=float))) for hole in self.holes)

    @cached_property
    def shift(self) -> Points:
        """What is taken from the turned outline so that its box begins at 0, mm."""
        return np.asarray(self._turned(self.outline).min(axis=0))

    @cached_property
    def size(self) -> tuple[float, float]:
        """Along and across the grain, mm."""
        along, across = np.ptp(self._turned(self.outline), axis=0).tolist()
        return along, across

    def _turned(self, ring: Ring) -> Points:
        return rotated(np.array(ring, dtype=float), -self.grain)

    def outwards(self, points: Points) -> Points:
        """Points of the box as they lie on the cloth."""
        return rotated(points + self.shift, self.grain)

    @cached_property
    def closed_off(self) -> tuple[Points, ...]:
        """Convex polygons in the box that no piece may touch."""
        ring = counter_clockwise(cleaned(self._turned(self.outline) - self.shift))
        found = [part for pocket in _outside(ring, self.size) for part in convex_parts(pocket)]
        for hole in self.holes:
            found += convex_parts(counter_clockwise(cleaned(self._turned(hole) - self.shift)))
        return tuple(found)

    def obstacle(self, step: float) -> tuple[Form, tuple[int, int]]:
        """What is closed off as one form, and how many steps its box's middle is from 0."""
        along, across = (max(ceil(size / 2 / step), 1) for size in self.size)
        box = np.array([(0.0, 0.0), (2 * along * step, 0.0), (2 * along * step, 2 * across * step),
                        (0.0, 2 * across * step)])
        parts = self.closed_off or (OUT_OF_THE_WAY,)
        size = (float(box[2, 0]), float(box[2, 1]))
        return Form(np.concatenate([box, *self.closed_off]), parts, size, 0.0), (along, across)


def _outside(ring: Points, size: tuple[float, float]) -> list[Points]:
    """Between a counter-clockwise ring and its box from 0 to `size`: beyond the sides of its hull, and in the
    hull's pockets."""
    hull = counter_clockwise(convex_hull(ring))
    box = np.array([(0.0, 0.0), (size[0], 0.0), size, (0.0, size[1])])
    beyond = [clipped(box, b, a) for a, b in zip(hull, np.roll(hull, -1, axis=0), strict=True)]
    at = [int(np.abs(ring - corner).sum(axis=1).argmin()) for corner in hull]
    pockets = []
    for first, last in zip(at, at[1:] + at[:1], strict=True):
        chain = ring[first : last + 1] if first < last else np.concatenate((ring[first:], ring[: last + 1]))
        if len(chain) > 2:
            pockets.append(chain[::-1])
    return [counter_clockwise(p) for p in (*beyond, *pockets) if len(p) > 2 and abs(signed_area(p)) > SLIVER]


def clipped(polygon: Points, a: Points, b: Points) -> Points:
    """The part of a convex polygon to the left of the line from a to b.

    Source: Sutherland & Hodgman 1974, "Reentrant polygon clipping"."""
    way = b - a
    side = way[0] * (polygon[:, 1] - a[1]) - way[1] * (polygon[:, 0] - a[0])
    kept = []
    for k in range(len(polygon)):
        here, there = side[k - 1], side[k]
        if (here > 0) != (there > 0):
            kept.append(polygon[k - 1] + (polygon[k] - polygon[k - 1]) * (here / (here - there)))
        if there > 0:
            kept.append(polygon[k])
    return np.array(kept).reshape(-1, 2)


def _inside(inner: Points, outer: Points) -> bool:
    """Whether all of a ring is inside another: its corners are, and no sides cross."""
    from ..geometry import Point
    from ..geometry.polygon import holds_polygon

    return holds_polygon([Point(*p) for p in outer.tolist()], [Point(*p) for p in inner.tolist()])
