"""Where a strip wound round the leg lies: up a helix, each turn over the one before.

Wherever it lies, so much of the leg is covered as the strip shows, so it rises by what it shows over the
girth there (garments/leg_wraps_shape.py); it lies as a band of a cylinder as wide as the leg is at the
band's wider edge, for cloth hardly stretches.
"""

import numpy as np

from ..pattern import Pattern
from .figure import Figure
from .mesh import CutPiece, Mesh
from .sections import Floats, Ints, SectionStack, perimeter, unit_ring

BEGIN, END = "the turns begin", "under the knee"
"""How the marks along the strip are labelled."""

ON_THE_LEG, LOWER_EDGE_OUT = 2.0, 2.0
"""mm outside of what is beneath, and more than that at the lower edge, which lies on the turn before."""

STEPS = 400
HELD_PART = 0.3
"""Of half the width, about its middle: what is held by the winding."""


class Winding:
    """A pattern's strips, wound opposite ways round the two legs."""

    def __init__(self, pattern: Pattern, figure: Figure, mesh: Mesh, beneath: float) -> None:
        self.pattern, self.figure, self.beneath = pattern, figure, beneath
        names = dict.fromkeys(cut.copy[0] for cut in mesh.pieces)
        self.from_start: dict[str, float] = {}
        marks: dict[str, float] = {}
        along = 0.0
        for name in names:
            piece = pattern.piece(name)
            self.from_start[name] = along
            marks |= {notch.label: along + notch.distance for notch in piece.notches}
            along += piece.outline.bounds[3] - piece.outline.bounds[1]
        self.length = along
        self.begin, self.end = marks.get(BEGIN, 0.0), marks.get(END, along)

    def of(self, cut: CutPiece) -> Floats:
        left = cut.copy[1] == 1
        leg = self.figure.stacks["left leg" if left else "right leg"]
        way = 1.0 if left else -1.0
        x, y = cut.points.T
        along, up = self.from_start[cut.copy[0]] + y.max() - y, -way * x
        width = self.pattern.finished["strip_width"]
        at, middle, rise, turned = self._wound(leg, width)
        z, slope, part = (np.interp(along, at, of) for of in (middle, rise, turned))
        half, centre, power = self._ring(leg, z, width)
        out = ON_THE_LEG + LOWER_EDGE_OUT * np.clip(0.5 - up / width, 0.0, 1.0)
        half = half + out[:, None]
        part = part - up * slope / perimeter(half, power)
        height = z + up * np.sqrt(1 - slope * slope)
        return _on_ring(half, centre, power, way * part, height)

    def _wound(self, leg: SectionStack, width: float) -> tuple[Floats, Floats, Floats, Floats]:
        """At places along the strip the height of its middle, the sine of how steeply it rises, and the
        turns so far."""
        ankle = float(leg.at[3])
        low = ankle + width / 2
        high = max(low + 1.0, ankle + self.pattern.finished["leg_length"] - width / 2)
        heights = np.linspace(low, high, STEPS)
        half, _, power = self._ring(leg, heights, width)
        round_ = perimeter(half + ON_THE_LEG + LOWER_EDGE_OUT / 2, power)
        covered = np.concatenate([[0.0], np.cumsum((round_[1:] + round_[:-1]) / 2 * np.diff(heights))])
        at = np.linspace(0.0, self.length, 2 * STEPS)
        done = np.clip((at - self.begin) / max(self.end - self.begin, 1.0), 0.0, 1.0)
        z = np.interp(done * covered[-1], covered, heights)
        shows = covered[-1] / max(self.end - self.begin, 1.0)
        here = np.interp(z, heights, round_)
        rise = np.where((done > 0) & (done < 1), np.minimum(shows / here, 0.7), 0.0)
        each = np.sqrt(1 - rise * rise) / here
        turned = np.concatenate([[0.0], np.cumsum((each[1:] + each[:-1]) / 2 * np.diff(at))])
        return at, z, rise, turned

    def _ring(self, leg: SectionStack, z: Floats, width: float) -> tuple[Floats, Floats, Floats]:
        """Half-axes, centres and powers of the cylinder that the band lies on at heights."""
        lower, upper = (leg.section(z + side * width / 2) for side in (-1, 1))
        centre, _, power = leg.section(z)[:3]
        return np.maximum(lower[1], upper[1]) + self.beneath, centre, power


def _on_ring(half: Floats, centre: Floats, power: Floats, part: Floats, z: Floats) -> Floats:
    """Places so much of the way round sections, from the front towards +x."""
    x, y = unit_ring(power)
    ring = np.stack([x * half[:, :1] + centre[:, :1], y * half[:, 1:] + centre[:, 1:]], 2)
    ring = np.roll(ring, ring.shape[1] // 4, 1)
    ring = np.concatenate([ring, ring[:, :1]], 1)
    steps = np.linalg.norm(np.diff(ring, axis=1), axis=2)
    along = np.concatenate([np.zeros((len(z), 1)), np.cumsum(steps, 1)], 1)
    wanted = np.mod(part, 1.0) * along[:, -1]
    k = np.clip((along <= wanted[:, None]).sum(1) - 1, 0, steps.shape[1] - 1)
    every = np.arange(len(z))
    share = ((wanted - along[every, k]) / np.maximum(steps[every, k], 1e-9))[:, None]
    place = ring[every, k] * (1 - share) + ring[every, k + 1] * share
    return np.concatenate([place, z[:, None]], 1)


def held_by_winding(mesh: Mesh) -> Ints:
    """The points about the middle of each strip, which the next turn holds."""
    found = []
    for cut, joint in zip(mesh.pieces, mesh.joint, strict=True):
        x = np.abs(cut.points[:, 0])
        found.append(joint[x < HELD_PART * x.max()])
    return np.asarray(np.unique(np.concatenate(found)))
