"""What cloth does when it is pulled or bent: its energy, and that energy's slope at every point.

Pulled along its threads and across them, and sheared between them, each triangle by itself (source: Baraff &
Witkin 1998, "Large steps in cloth simulation", SIGGRAPH). Bent, each edge between two triangles (source:
Wardetzky, Bergou, Harmon, Zorin & Grinspun 2007, "Discrete quadratic curvature energies": for cloth that is
flat when it lies free the energy is quadratic). Newton, millimetre and their products throughout.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from .factored import Entries, joined
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
    return np.asarray(np.maximum(*(np.linalg.norm(way, axis=1) for way in threads)) - 1)


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
        # Of the machine's own width: others numpy copies each time, and the browser's is not 64.
        self._threads = np.ascontiguousarray(self.corners.T, np.intp)
        self._hinged = np.ascontiguousarray(self.hinges.points.T, np.intp)
        self._stencil = np.ascontiguousarray(self.hinges.stencil.T)[:, None]
        self._by = np.stack([self.along.T, self.across.T])[:, 1:, None]
        self._every = np.concatenate([self._threads.ravel(), self._hinged.ravel()])

    def energy_and_slope(self, x: Floats) -> tuple[float, Floats]:
        """N·mm, and minus the force on every point, N."""
        at = np.ascontiguousarray(x.T)
        a, b, c = (at[:, points] for points in self._threads)
        one, two = b - a, c - a
        (u_one, u_two), (v_one, v_two) = self._by
        u, v = u_one * one + u_two * two, v_one * one + v_two * two
        pulled_u, stress_u = self._pulled(u)
        pulled_v, stress_v = self._pulled(v)
        slant = (u * v).sum(0)
        sheared = self.areas * self.feel.shear * slant
        by_u = stress_u * u + sheared * v
        by_v = stress_v * v + sheared * u
        at_one, at_two = u_one * by_u + v_one * by_v, u_two * by_u + v_two * by_v
        bent = np.zeros((3, len(self.bend)))
        for points, counts in zip(self._hinged, self._stencil, strict=True):
            bent += counts * at[:, points]
        weighed = self.bend * bent
        values = np.concatenate([-(at_one + at_two), at_one, at_two,
                                 *(counts * weighed for counts in self._stencil)], 1)
        slope = scattered(self._every, values.T, self.count)
        slope[:, 2] += self.load
        energy = (pulled_u + pulled_v + 0.5 * (sheared @ slant + np.vdot(weighed, bent))
                  + self.load @ x[:, 2])
        return float(energy), slope

    def _pulled(self, way: Floats) -> tuple[float, Floats]:
        """Of cloth whose threads run `way` (3 × t): its energy, and each pull over its length."""
        length = np.maximum(np.sqrt((way * way).sum(0)), 1e-9)
        off = length - 1
        stiff = self.areas * self.feel.stretch * np.where(off < 0, PUSHED_TOGETHER, 1.0)
        return float(0.5 * (stiff @ (off * off))), stiff * off / length

    def entries(self) -> Entries:
        """How stiff it is, about, against moving each point, N/mm: a part of its pull as if threads drew
        together to nothing, and its bending as it is."""
        pull = self.areas * self.feel.stretch * GUESSED
        pulled = pull[:, None, None] * (self.along[:, :, None] * self.along[:, None]
                                        + self.across[:, :, None] * self.across[:, None])
        points, stencil, _ = self.hinges
        bent = self.bend[:, None, None] * stencil[:, :, None] * stencil[:, None]
        return joined([of_each(self.corners, pulled), of_each(points, bent)])


def of_each(points: Ints, values: Floats) -> Entries:
    """Small matrices (n × k × k) of so many points (n × k)."""
    k = points.shape[1]
    return Entries(np.repeat(points, k, axis=1).ravel(), np.tile(points, (1, k)).ravel(), values.ravel())


def scattered(points: Ints, values: Floats, count: int) -> Floats:
    """The sum of the values (n × 3) at each of so many points."""
    found = np.empty((count, 3))
    for k in range(3):
        found[:, k] = np.bincount(points, values[:, k], count)
    return found


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
