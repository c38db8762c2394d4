"""What cloth does when it is pulled or bent: its energy, and that energy's slope at every point.

Pulled along its threads and across them, and sheared between them, each triangle by itself (source: Baraff &
Witkin 1998, "Large steps in cloth simulation", SIGGRAPH). Bent, each edge between two triangles (source:
Wardetzky, Bergou, Harmon, Zorin & Grinspun 2007, "Discrete quadratic curvature energies": for cloth that is
flat when it lies free the energy is quadratic). Newton, millimetre and their products throughout.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from .mesh import Mesh
from .sections import Floats, Ints

GRAVITY = 9.81
STRETCH = 3.0
"""N/mm along the threads. from memory: Kawabata 1980: wool suitings at small loads 1 to 5 kN/m."""

SHEAR = 0.1
"""N/mm between them. from memory: Kawabata 1980: 0.5 to 1 gf/cm for a degree, which is 0.03 to 0.06, and
several times that from about 5° on, where the threads meet."""

PUSHED_TOGETHER = 0.15
"""Of STRETCH, where cloth is pushed together: it gives way in wrinkles finer than the triangles. Judged by
eye."""

GUESSED = 0.3
"""Of STRETCH, in the matrix of the descent's first guess: between the cloth along its threads and square to
them, where only its weight makes it stiff. Found by trying 1, 0.3 and 0.1: at 0.3 it rests soonest."""

BENDING_LENGTH = {"wool": 20.0, "linen": 26.0}
"""mm of bending length of soft wool and of linen. from memory: Peirce 1930, J. Text. Inst. 21: 15 to 35."""


@dataclass(frozen=True)
class ClothFeel:
    """`weight` in g/m², `bending_length` in mm (Peirce: its cube times the weight is the stiffness),
    `stretch` and `shear` in N/mm."""

    weight: float
    bending_length: float
    stretch: float = STRETCH
    shear: float = SHEAR

    @property
    def load(self) -> float:
        """N per mm²."""
        return self.weight * 1e-9 * GRAVITY

    @property
    def stiffness(self) -> float:
        """N·mm. source: Peirce 1930: flexural rigidity is weight times bending length cubed."""
        return self.load * self.bending_length ** 3


def pulled(mesh: Mesh, x: Floats) -> Floats:
    """How much longer each triangle is along its threads, or across them where that is more, than on the
    uncut cloth, as a part; below 0 where it is gathered."""
    threads = [np.einsum("tk,tkc->tc", by, x[mesh.corners]) for by in derivatives(mesh.on_threads)]
    return np.asarray(np.sqrt(np.maximum(*(_dot(way, way) for way in threads))) - 1)


class Hinges(NamedTuple):
    """For each edge between two triangles its ends and the two points across (m × 4), what each counts in how
    far the cloth is bent there (m × 4, 1/mm), and the weight of that bend's square, for a stiffness of 1."""

    points: Ints
    stencil: Floats
    weight: Floats


class ClothForces:
    """The cloth of a mesh, weighing and feeling so."""

    def __init__(self, mesh: Mesh, feel: ClothFeel) -> None:
        self.feel, self.count, self.corners = feel, mesh.count, mesh.corners
        self.areas = mesh.areas
        self.along, self.across = derivatives(mesh.on_threads)
        self.hinges = hinges(mesh)
        self.bend = self.hinges.weight * feel.stiffness
        self.load = np.bincount(mesh.corners.ravel(), np.repeat(mesh.areas / 3, 3), mesh.count) * feel.load
        self.weight = float(self.load.sum())
        self._every = np.concatenate([mesh.corners.ravel(), self.hinges.points.ravel()])

    def energy_and_slope(self, x: Floats) -> tuple[float, Floats]:
        """N·mm, and minus the force on every point, N."""
        threads = x[self.corners]
        u, v = (np.einsum("tk,tkc->tc", by, threads) for by in (self.along, self.across))
        pulled_u, stress_u = self._pulled(u)
        pulled_v, stress_v = self._pulled(v)
        slant = _dot(u, v)
        sheared = self.areas * self.feel.shear * slant
        by_u = stress_u[:, None] * u + sheared[:, None] * v
        by_v = stress_v[:, None] * v + sheared[:, None] * u
        corner = self.along[:, :, None] * by_u[:, None] + self.across[:, :, None] * by_v[:, None]
        bent = np.einsum("hk,hkc->hc", self.hinges.stencil, x[self.hinges.points])
        weighed = self.bend[:, None] * bent
        turned = self.hinges.stencil[:, :, None] * weighed[:, None]
        values = np.concatenate([corner.reshape(-1, 3), turned.reshape(-1, 3)])
        slope = scattered(self._every, values, self.count)
        slope[:, 2] += self.load
        energy = (pulled_u + pulled_v + 0.5 * (sheared @ slant + np.vdot(weighed, bent))
                  + self.load @ x[:, 2])
        return float(energy), slope

    def _pulled(self, way: Floats) -> tuple[float, Floats]:
        length = np.maximum(np.sqrt(_dot(way, way)), 1e-9)
        off = length - 1
        stiff = self.areas * self.feel.stretch * np.where(off < 0, PUSHED_TOGETHER, 1.0)
        return float(0.5 * (stiff @ (off * off))), stiff * off / length

    def matrix(self) -> Floats:
        """How stiff it is, about, against moving each point, count × count, N/mm: a part of its pull as if
        threads drew together to nothing, and its bending as it is."""
        found = np.zeros((self.count, self.count))
        pull = self.areas * self.feel.stretch * GUESSED
        for p in range(3):
            for q in range(3):
                each = pull * (self.along[:, p] * self.along[:, q] + self.across[:, p] * self.across[:, q])
                np.add.at(found, (self.corners[:, p], self.corners[:, q]), each)
        points, stencil, _ = self.hinges
        for p in range(4):
            for q in range(4):
                np.add.at(found, (points[:, p], points[:, q]), self.bend * stencil[:, p] * stencil[:, q])
        return found


def scattered(points: Ints, values: Floats, count: int) -> Floats:
    """The sum of the values (n × 3) at each of so many points."""
    found = np.empty((count, 3))
    for k in range(3):
        found[:, k] = np.bincount(points, values[:, k], count)
    return found


def _dot(a: Floats, b: Floats) -> Floats:
    return np.asarray(np.einsum("tc,tc->t", a, b))


def derivatives(flat: Floats) -> tuple[Floats, Floats]:
    """What each corner counts in the change of a place across the cloth and along it, t × 3 each, 1/mm."""
    one, two = flat[:, 1] - flat[:, 0], flat[:, 2] - flat[:, 0]
    doubled = one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]
    by_x = np.stack([two[:, 1], -one[:, 1]], 1) / doubled[:, None]
    by_y = np.stack([-two[:, 0], one[:, 0]], 1) / doubled[:, None]
    one, two = (np.concatenate([-by.sum(1, keepdims=True), by], 1) for by in (by_x, by_y))
    return one, two


def hinges(mesh: Mesh) -> Hinges:
    """Of all edges between two triangles.

    Weighed so that cloth bent one way, which is how cloth bends, is as stiff as it should be: on even
    triangles only one edge in three is folded then, and the paper's weight, three times this, is right for
    cloth bent both ways alike.
    """
    corners, flat, areas = mesh.corners, mesh.flat, mesh.areas
    low, high, far, at_low, at_high, area = [], [], [], [], [], []
    for a, b, c in ((0, 1, 2), (1, 2, 0), (2, 0, 1)):
        along, up = flat[:, b] - flat[:, a], flat[:, c] - flat[:, a]
        at_a = (along * up).sum(1) / (2 * areas)
        at_b = -(along * (flat[:, c] - flat[:, b])).sum(1) / (2 * areas)
        swap = corners[:, a] > corners[:, b]
        low.append(np.where(swap, corners[:, b], corners[:, a]))
        high.append(np.where(swap, corners[:, a], corners[:, b]))
        at_low.append(np.where(swap, at_b, at_a))
        at_high.append(np.where(swap, at_a, at_b))
        far.append(corners[:, c])
        area.append(areas)
    i, j, k, ai, aj, size = map(np.concatenate, (low, high, far, at_low, at_high, area))
    key = i * mesh.count + j
    order = np.argsort(key, kind="stable")
    pair = np.flatnonzero(key[order][1:] == key[order][:-1])
    one, two = order[pair], order[pair + 1]
    stencil = np.stack([aj[one] + aj[two], ai[one] + ai[two], -ai[one] - aj[one], -ai[two] - aj[two]], 1)
    weight = 1.0 / (size[one] + size[two])
    return Hinges(np.stack([i[one], j[one], k[one], k[two]], 1), stencil, weight)
