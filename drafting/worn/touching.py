"""Where cloth touches the body or the floor: it is pushed out, and held back by friction.

Where the body is near a point it is looked at as a plane, right for the next few rounds; friction holds a
point at a place of its own on the body, which slides along where it would have to hold more than Coulomb's
law lets it (source: Coulomb's friction as return mapping: Simo & Hughes 1998, Computational Inelasticity).
"""

from collections.abc import Sequence

import numpy as np

from .cloth_forces import scattered
from .sections import Floats, Ints, SectionStack

PUSH = 1.5
"""N/mm with which a point is pushed out of the body."""

NEAR = 40.0
"""mm from the body within which a point is looked at."""

ABOVE_FLOOR = 1.0
"""mm of the cloth's middle above the floor on which it lies."""

FRICTION = 0.3
"""Of cloth on cloth. from memory: Morton & Hearle, Physical Properties of Textile Fibres: 0.2 to 0.5."""

STICKS = 0.3
"""N/mm with which friction holds a point at its place."""


class Touching:
    """The body's stacks, and the floor, to points of a count."""

    def __init__(self, body: Sequence[SectionStack], count: int, friction: float) -> None:
        self.body, self.count, self.friction = tuple(body), count, friction
        self._place = np.full((len(self.body) + 1, count, 3), np.nan)
        self.points: Ints = np.zeros(0, np.int64)

    def look(self, x: Floats) -> None:
        """Where the body is now near, and where friction has let go."""
        which, points, distances, normals = [], [], [], []
        for k, stack in enumerate(self.body):
            near = np.flatnonzero(stack.about(x, NEAR))
            distance, normal = stack.distance(x[near])
            close = distance < NEAR
            which.append(np.full(int(close.sum()), k))
            points.append(near[close])
            distances.append(distance[close])
            normals.append(normal[close])
        low = np.flatnonzero(x[:, 2] < NEAR)
        which.append(np.full(len(low), len(self.body)))
        points.append(low)
        distances.append(x[low, 2] - ABOVE_FLOOR)
        normals.append(np.tile([0.0, 0.0, 1.0], (len(low), 1)))
        self.points = np.concatenate(points).astype(np.intp)
        self.normal = np.concatenate(normals)
        at = x[self.points]
        distance = np.concatenate(distances)
        self.level = (at * self.normal).sum(1) - distance
        self._slide(np.concatenate(which), at, distance)

    def _slide(self, which: Ints, at: Floats, distance: Floats) -> None:
        """Friction's places, moved to where they just hold."""
        self.most = self.friction * PUSH * np.maximum(-distance, 0.0)
        place = self._place[which, self.points]
        place = np.where(np.isnan(place), at, place)
        off = self._sideways(at - place)
        pull = STICKS * np.sqrt((off * off).sum(1))
        over = np.maximum(0.0, 1 - self.most / np.maximum(pull, 1e-12))
        place = place + over[:, None] * off
        self._place[:] = np.nan
        touches = distance < 0
        self._place[which[touches], self.points[touches]] = place[touches]
        self.place = place

    def _sideways(self, off: Floats) -> Floats:
        return np.asarray(off - (off * self.normal).sum(1)[:, None] * self.normal)

    def energy_and_slope(self, x: Floats) -> tuple[float, Floats]:
        """N·mm, and minus the force on every point, N."""
        at = x[self.points]
        depth = np.minimum((at * self.normal).sum(1) - self.level, 0.0)
        off = self._sideways(at - self.place)
        far = np.sqrt((off * off).sum(1))
        slips = far * STICKS > self.most
        held = np.where(slips, self.most / np.maximum(far, 1e-12), STICKS)
        rubbed = np.where(slips, self.most * far - self.most ** 2 / (2 * STICKS), 0.5 * STICKS * far * far)
        each = PUSH * depth[:, None] * self.normal + held[:, None] * off
        slope = scattered(self.points, each, self.count)
        return float(0.5 * PUSH * (depth * depth).sum() + rubbed.sum()), slope
