"""A limb or a trunk as superellipses stacked along an axis, straight from one to the next.

A superellipse is |x/a|ᵖ + |y/b|ᵖ = 1. source: Gardner 1965, "The superellipse", Scientific American 213(3)
(Piet Hein's curve, first Lamé 1818). Its perimeter has no closed form: here it is that of the polygon that
stands for it, so that what is drawn, measured and collided with is the same.
"""

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

SIDES = 64
"""Corners of the polygon that stands for a section."""

_TURN = 2 * np.pi * np.arange(SIDES) / SIDES
ROUNDED = 15.0
"""mm to either side of a section within which the surface turns from one slope to the next."""

LEAST_DEPTH, MOST_DEPTH = 0.45, 1.7
"""Of a section's depth over its breadth: beyond that the breadth gives way. common practice, no source."""


def unit_ring(power: Floats) -> tuple[Floats, Floats]:
    """The corners of superellipses of half-axes 1, each a row, counted from +x towards +y."""
    c, s = np.cos(_TURN), np.sin(_TURN)
    root = 2.0 / np.asarray(power, float)[:, None]
    return np.sign(c) * np.abs(c) ** root, np.sign(s) * np.abs(s) ** root


def perimeter(half: Floats, power: Floats) -> Floats:
    """mm round the polygons of half-axes `half` (n × 2)."""
    x, y = unit_ring(power)
    x, y = x * half[:, :1], y * half[:, 1:]
    return np.asarray(np.hypot(x - np.roll(x, 1, 1), y - np.roll(y, 1, 1)).sum(axis=1))


def with_girths(breadth: Floats, girth: Floats, power: Floats) -> Floats:
    """Half-axes (n × 2) of sections so broad whose perimeters are the girths exactly.

    Where that would make a section flatter or deeper than a body is, the breadth gives way.
    """
    a = breadth / 2
    low, high = LEAST_DEPTH * a, MOST_DEPTH * a
    for _ in range(40):
        middle = (low + high) / 2
        short = perimeter(np.stack([a, middle], 1), power) < girth
        low, high = np.where(short, middle, low), np.where(short, high, middle)
    half: Floats = np.stack([a, (low + high) / 2], 1)
    return np.asarray(half * (girth / perimeter(half, power))[:, None])


@dataclass(frozen=True, eq=False)
class SectionStack:
    """Sections at `at` mm (ascending) along an axis from `origin`; `axes` are unit rows: across, through,
    along. `centre` and `half` are n × 2 in across and through; `power` has n."""

    origin: Floats
    axes: Floats
    at: Floats
    centre: Floats
    half: Floats
    power: Floats

    @cached_property
    def rings(self) -> Floats:
        """Corners of every section's polygon, n × SIDES × 3, mm."""
        x, y = unit_ring(self.power)
        x = x * self.half[:, :1] + self.centre[:, :1]
        y = y * self.half[:, 1:] + self.centre[:, 1:]
        local = np.stack([x, y, np.broadcast_to(self.at[:, None], x.shape)], axis=2)
        return np.asarray(local @ self.axes + self.origin)

    @cached_property
    def girths(self) -> Floats:
        return perimeter(self.half, self.power)

    def girth(self, at: float) -> float:
        """Round it at a place along the axis; nothing past its ends."""
        if not self.at[0] <= at <= self.at[-1]:
            return 0.0
        _, half, power = self.section(np.array([at]))[:3]
        return float(perimeter(half, power)[0])

    def section(self, at: Floats) -> tuple[Floats, Floats, Floats, Floats, Floats]:
        """Centres, half-axes and powers at places along the axis, and how the first two change: about a
        section as they do on both its sides, so that no normal turns at once."""
        i = np.clip(np.searchsorted(self.at, at) - 1, 0, len(self.at) - 2)
        step = (self.at[i + 1] - self.at[i])[:, None]
        part = np.clip((at - self.at[i])[:, None] / step, 0.0, 1.0)
        d_centre, d_half = self.centre[i + 1] - self.centre[i], self.half[i + 1] - self.half[i]
        power = self.power[i] + part[:, 0] * (self.power[i + 1] - self.power[i])
        wide = np.minimum(ROUNDED, step / 2)
        past = 0.5 * np.clip(1 - (at - self.at[i])[:, None] / wide, 0.0, 1.0)
        to_come = 0.5 * np.clip(1 - (self.at[i + 1] - at)[:, None] / wide, 0.0, 1.0)
        steps = self._slopes
        here, before, after = steps[i], steps[np.maximum(i - 1, 0)], steps[np.minimum(i + 1, len(steps) - 1)]
        changes = here + past * (before - here) + to_come * (after - here)
        return (self.centre[i] + part * d_centre, self.half[i] + part * d_half, power, changes[:, :2],
                changes[:, 2:])

    @cached_property
    def _slopes(self) -> Floats:
        """How centre and half-axes change from each section to the next, (n - 1) × 4."""
        both = np.concatenate([self.centre, self.half], 1)
        return np.asarray(np.diff(both, axis=0) / np.diff(self.at)[:, None])

    @cached_property
    def _box(self) -> tuple[Floats, Floats]:
        return self.rings.min((0, 1)), self.rings.max((0, 1))

    def about(self, points: Floats, by: float) -> NDArray[np.bool_]:
        """Which points lie in the box round it, so much larger all round."""
        low, high = self._box
        return np.asarray(((points >= low - by) & (points <= high + by)).all(1))

    def distance(self, points: Floats) -> tuple[Floats, Floats]:
        """For each point the signed distance to the surface (below 0 inside), to first order, and the
        unit normal there."""
        local = (points - self.origin) @ self.axes.T
        centre, half, power, d_centre, d_half = self.section(local[:, 2])
        away = local[:, :2] - centre
        scaled = np.abs(away) / half
        scaled = np.maximum(scaled, 1e-6)
        each = scaled ** power[:, None]
        f = each.sum(1) ** (1 / power)
        # The gradient of f: by the point, and along the axis by the section's own change.
        outer = f ** (1 - power)
        by_scaled = outer[:, None] * each / scaled
        gradient = by_scaled * np.sign(away) / half
        along = (-(gradient * d_centre).sum(1)
                 - (by_scaled * scaled / half * d_half).sum(1))
        whole = np.concatenate([gradient, along[:, None]], 1)
        size = np.linalg.norm(whole, axis=1)
        round_ = (f - 1) / size
        normal = whole / size[:, None]
        # The ends are flat: a point is as far out as it is past the side or past an end, whichever is more.
        low, high = self.at[0] - local[:, 2], local[:, 2] - self.at[-1]
        end = np.maximum(low, high)
        past, both = end > round_, (end > 0) & (round_ > 0)
        out = np.where(both, np.hypot(end, round_), np.maximum(end, round_))
        # Past both it is an edge that is nearest.
        by_side = np.where(both, round_ / np.maximum(out, 1e-9), ~past)
        by_end = np.where(both, end / np.maximum(out, 1e-9), past) * np.where(low > high, -1.0, 1.0)
        normal *= by_side[:, None]
        normal[:, 2] += by_end
        normal /= np.maximum(np.linalg.norm(normal, axis=1), 1e-9)[:, None]
        return out, normal @ self.axes

    def surface(self, *, every_side: int = 1) -> tuple[Floats, Ints]:
        """The closed mesh: points, and triangles whose corners run anticlockwise seen from outside. Of the
        sections' corners every so many are taken."""
        rings = self.rings[:, ::every_side]
        n, sides = rings.shape[:2]
        points = np.concatenate([rings.reshape(-1, 3), rings[0].mean(0)[None], rings[-1].mean(0)[None]])
        j = np.arange(sides)
        k = (j + 1) % sides
        faces = []
        for i in range(n - 1):
            low, high = i * sides, (i + 1) * sides
            faces += [np.stack([low + j, low + k, high + k], 1), np.stack([low + j, high + k, high + j], 1)]
        bottom, top = n * sides, n * sides + 1
        faces.append(np.stack([k, j, np.full(sides, bottom)], 1))
        last = (n - 1) * sides
        faces.append(np.stack([last + j, last + k, np.full(sides, top)], 1))
        return points, np.concatenate(faces)

    @cached_property
    def volume(self) -> float:
        """mm³ of the closed mesh. source: the divergence theorem."""
        points, faces = self.surface()
        a, b, c = (points[faces[:, k]] for k in range(3))
        return float(np.einsum("ij,ij->", a, np.cross(b, c)) / 6)

    def grown(self, by: float) -> "SectionStack":
        """With layers of that thickness, mm, all round and on both ends."""
        at = self.at + np.array([-by, *[0.0] * (len(self.at) - 2), by])
        return SectionStack(self.origin, self.axes, at, self.centre, self.half + by, self.power)

    def finer(self, step: float) -> "SectionStack":
        """With sections at most so far from each other, mm."""
        between = [np.linspace(a, b, int((b - a) / step) + 1, endpoint=False) for a, b in pairwise(self.at)]
        at = np.concatenate([*between, self.at[-1:]])
        centre, half, power = self.section(at)[:3]
        return SectionStack(self.origin, self.axes, at, centre, half, power)
