"""A mesh of half the side: each triangle in four, seams and curved edges followed.

Where the coarse garment has come to rest, the finer one starts.
"""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from ..pattern import Pattern
from .mesh import CutPiece, Mesh
from .sections import Floats, Ints
from .sewing_lines import turned

SIDES = ((0, 1), (1, 2), (2, 0))


@dataclass(frozen=True, eq=False)
class Halved:
    """`ends` are for each point that is new the two of the coarser mesh between which it lies."""

    mesh: Mesh
    ends: Ints

    def carried(self, x: Floats) -> Floats:
        """Where its points are when those of the coarser mesh are there."""
        return np.concatenate([x, x[self.ends].mean(1)])


def halved(coarse: Mesh, pattern: Pattern) -> Halved:
    """The points of the coarser mesh keep their numbers."""
    pieces, pairs, sewn = [], [], []
    for cut, joint in zip(coarse.pieces, coarse.joint, strict=True):
        piece, ends, in_seam = _halved_piece(cut, pattern)
        pieces.append(piece)
        pairs.append(np.sort(joint[ends], 1))
        sewn.append(in_seam)
    every, welded = np.concatenate(pairs), np.concatenate(sewn)
    # Only what a seam makes one is one: two edges of a narrow cuff may join the same two points.
    keys = np.where(welded, every[:, 0] * coarse.count + every[:, 1], -1 - np.arange(len(every)))
    _, first, number = np.unique(keys, return_index=True, return_inverse=True)
    start, joints = 0, []
    for joint, own in zip(coarse.joint, pairs, strict=True):
        joints.append(np.concatenate([joint, coarse.count + number[start:start + len(own)]]))
        start += len(own)
    return Halved(Mesh(tuple(pieces), tuple(joints), coarse.count + len(first)), every[first])


def _halved_piece(cut: CutPiece, pattern: Pattern) -> tuple[CutPiece, Ints, NDArray[np.bool_]]:
    """The finer piece, the two points each of its new ones lies between, and which of those lie on lines
    that are sewn."""
    count = len(cut.points)
    sides = np.sort(np.concatenate([cut.corners[:, side] for side in SIDES]), 1)
    keys, back = np.unique(sides[:, 0] * count + sides[:, 1], return_inverse=True)
    ends = np.stack([keys // count, keys % count], 1)
    middles = cut.points[ends].mean(1)
    ab, bc, ca = count + back.reshape(3, -1)
    a, b, c = cut.corners.T
    corners = np.concatenate([np.stack(three, 1) for three in (
        (a, ab, ca), (ab, b, bc), (ca, bc, c), (ab, bc, ca))])
    in_seam = np.zeros(len(keys), bool)
    piece = pattern.piece(cut.copy[0])
    flip = -1.0 if turned(piece, cut.copy[1]) else 1.0
    lines, places = {}, {}
    for line, own in cut.lines.items():
        at = cut.places[line]
        path = piece.line(line[0])
        points, finer = [int(own[0])], [float(at[0])]
        for (i, j), (p, q) in zip(pairwise(own), pairwise(at), strict=True):
            key = min(i, j) * count + max(i, j)
            k = int(np.searchsorted(keys, key))
            if k < len(keys) and keys[k] == key:
                middle = path.point_along((p + q) / 2)
                middles[k] = flip * middle.x, middle.y
                in_seam[k] = line in cut.sewn
                points.append(count + k)
                finer.append((p + q) / 2)
            points.append(int(j))
            finer.append(float(q))
        lines[line], places[line] = np.array(points), np.array(finer)
    return (CutPiece(cut.copy, np.concatenate([cut.points, middles]), corners, lines, cut.grain, places,
                     cut.sewn), ends, in_seam)
