"""Where caps, scarves and hoods lie on the head at the start: over the crown, and down from it."""

import numpy as np

from ..pattern import Piece
from .figure import Figure
from .mesh import CutPiece
from .sections import Floats

OFF = 8.0
"""mm between the head and the cloth at the start."""

BESIDE_FACE = 45.0
"""mm behind the forehead at which a long scarf's edge starts, to leave the face free."""

FACE_OPENS = 0.95
"""Radians from the middle of the face at which a hood's edge starts beside it."""


class HeadPlacing:
    """Points of pieces that lie on the head. Angles run from the front towards the wearer's left."""

    def __init__(self, figure: Figure) -> None:
        self.trunk, self.z = figure.stacks["trunk"], figure.heights
        head = int(np.argmax(np.where(self.trunk.at > self.z["chin"], self.trunk.girths, 0.0)))
        self.broad, self.deep = self.trunk.half[head] + OFF
        self.back, self.level = float(self.trunk.centre[head, 1]), float(self.trunk.at[head])
        self.top = self.z["crown"] + OFF

    def over(self, cut: CutPiece, piece: Piece) -> Floats:
        """Over the crown from jaw to jaw, its front edge over the forehead, its back hanging down behind."""
        aside, down = spread(cut, piece)
        part = np.minimum(np.abs(aside) / self.broad, np.pi / 2)
        low = self.broad * (1 - np.cos(part)) + np.maximum(np.abs(aside) - self.broad * np.pi / 2, 0.0)
        over = 2 * self.deep
        along = np.minimum(down, over)
        # Its ends hang before the chest, and come forward above the shoulders.
        past = np.clip((np.abs(aside) - self.way_under_the_chin() + 165.0) / 90.0, 0.0, 1.0)
        edge = self.back - self.deep + (BESIDE_FACE if front_edge(piece) == "left" else 2 * OFF)
        front = (1 - past) * (edge + along) + past * (0.2 * along - self._chest())
        return np.stack([np.sign(aside) * self.broad * np.sin(part), front,
                         self.top - low - (1 - past) * np.maximum(down - over, 0.0)], 1)

    def _chest(self) -> float:
        """mm that the trunk reaches forward, and a little more."""
        centre, half = self.trunk.section(np.linspace(self.z["waist"], self.z["shoulder"], 12))[:2]
        return float((half[:, 1] - centre[:, 1]).max()) + 5 * OFF

    def round(self, cut: CutPiece, piece: Piece) -> Floats:
        """Its long edge from the forehead over the ears to the nape, the rest over the crown and down
        behind."""
        aside, down = spread(cut, piece)
        half = self.half_way_round()
        past = np.maximum(np.abs(aside) - half, 0.0)
        start = self._ring(np.pi * np.clip(aside / half, -1.0, 1.0))
        middle = np.array([0.0, self.back, self.level])
        size = np.array([self.broad, self.deep, self.top - self.level])
        ray = (start - middle) / size
        ray /= np.linalg.norm(ray, axis=1)[:, None]
        behind = np.array([0.0, 0.99, -0.14])
        turn = np.arccos(np.clip(ray @ behind, -1.0, 1.0))
        length = turn * float(size.mean())
        part = np.minimum(down / np.maximum(length, 1.0), 1.0)
        even = np.maximum(np.sin(turn), 1e-6)
        from_start, from_end = np.sin((1 - part) * turn) / even, np.sin(part * turn) / even
        way = from_start[:, None] * ray + from_end[:, None] * behind
        found = np.where(turn[:, None] > 0.05, middle + size * way, start)
        falls = np.maximum(down - length, 0.0)
        found[:, 0] += np.sign(aside) * (0.4 * part * np.minimum(np.abs(aside), self.broad) + 0.5 * past)
        found[:, 1] += 0.3 * falls
        found[:, 2] -= 0.95 * falls + 0.85 * past
        return found

    def _ring(self, angle: Floats) -> Floats:
        """Round the head from the forehead down to the nape."""
        rise, fall = 0.35 * (self.top - self.level), 0.8 * (self.level - self.z["chin"])
        z = self.level + (rise - fall) / 2 + (rise + fall) / 2 * np.cos(angle)
        return np.stack([self.broad * np.sin(angle), self.back - self.deep * np.cos(angle), z], 1)

    def half_way_round(self) -> float:
        """mm from the forehead to the nape."""
        way = self._ring(np.linspace(0.0, np.pi, 40))
        return float(np.linalg.norm(np.diff(way, axis=0), axis=1).sum())

    def way_under_the_chin(self) -> float:
        """mm from the middle of the crown down to under the chin."""
        return (float(self.broad) * (np.pi / 2 - 1) + self.top - self.z["chin"]
                + self.trunk.girth(self.z["chin"]) / 4 + 2 * OFF)

    def hood(self, cut: CutPiece, piece: Piece) -> tuple[Floats, Floats, Floats]:
        """A side panel: where it is above the neck; and for what is below, its angle round the neck and mm
        from there."""
        sign = 1.0 if cut.copy[1] == 1 else -1.0
        x, y = sign * cut.points[:, 0], cut.points[:, 1]
        neck = piece.line("neck").start.y
        depth = float(x.max())
        face = max(p.y for p in (piece.line("face").start, piece.line("face").end))
        opened = FACE_OPENS * np.clip((face - y) / (0.4 * face), 0.0, 1.0)
        angle = opened + (np.pi - opened) * x / depth
        z = self.top + OFF - y * (self.top + OFF - self.z["neck"]) / neck
        centre, half = self.trunk.section(np.clip(z, self.z["chin"], self.level))[:2]
        half = half + 2 * OFF
        loose = np.maximum(1.0, 2 * depth / (np.pi * half.sum(1)))
        loose = 1 + (loose - 1) * np.clip(4 * (1 - y / neck), 0.0, 1.0)
        beside = np.stack([half[:, 0] * loose * np.sin(angle),
                           centre[:, 1] + half[:, 1] * (loose - 1 - loose * np.cos(angle)), z], 1)
        above = np.stack([np.minimum(self.broad, y + 3.0), self.back - 0.9 * self.deep + 0.9 * x, z], 1)
        low = np.clip(y / (0.35 * neck), 0.0, 1.0)[:, None]
        found = (1 - low) * above + low * beside
        found[:, 0] *= sign
        return found, sign * np.pi * x / depth, y - neck

    def tail(self, cut: CutPiece, depth: float) -> Floats:
        """A tube that hangs from the point of a hood so deep."""
        x, y = cut.points.T
        half = np.interp(y, *_half_widths(cut))
        turn, round_ = np.pi * x / half, half / np.pi
        at = self.back - 0.9 * self.deep + 0.9 * depth + 10.0
        return np.stack([round_ * np.sin(turn), at + round_ * (1 - np.cos(turn)), self.top - 30.0 - y], 1)


def _half_widths(cut: CutPiece) -> tuple[Floats, Floats]:
    """Of a strip that tapers evenly: where it is half how wide."""
    x, y = cut.points.T
    ends = np.array([y.min(), y.max()])
    return ends, np.array([x[y < ends[0] + 1].max(), x[y > ends[1] - 1].max()])


def spread(cut: CutPiece, piece: Piece) -> tuple[Floats, Floats]:
    """For each point of a cap or scarf spread out: mm from its middle to the wearer's left, and from its
    front edge back."""
    x, y = cut.points.T
    edges = {edge.name for edge in piece.outline.edges}
    if "long side" in edges:
        return (y.max() - x - y) / 2**0.5, (y - x) / 2**0.5
    if "front" in edges:
        return x, y.max() - y
    return y - (y.min() + y.max()) / 2, x - x.min()


def front_edge(piece: Piece) -> str:
    """Of a cap or scarf, the edge that lies over the forehead."""
    edges = {edge.name for edge in piece.outline.edges}
    return next(name for name in ("long side", "front", "left") if name in edges)
