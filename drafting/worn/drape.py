"""Letting the cloth down on the body until it rests."""

from collections.abc import Generator, Sequence
from dataclasses import dataclass, field
from math import inf

import numpy as np

from .cloth_forces import ClothFeel, ClothForces, of_each
from .descent import Descent
from .factored import Entries, Factored, joined
from .mesh import Mesh
from .sections import Floats, Ints, SectionStack
from .touching import FRICTION, PUSH, Touching

HELD = 2.0
"""N/mm with which a point is held where it is to be."""

LONGEST_STEP = 12.0
"""mm that a point may go in one round, so that none jumps through an arm."""

LOOK_AGAIN, LOOK_AFTER = 10, 4.0
"""Rounds, and mm of any point, after which it is looked anew where the body is."""

AT_REST, STILL = 0.004, 0.4
"""The largest force left on a point over the garment's weight, and mm a round, at which it rests."""

MOST_ROUNDS = 500


@dataclass(frozen=True, eq=False)
class Hold:
    """Points held at places, `at`, and pairs (m × 2) held together; `laid` are points on triangles (k × 4:
    the point, then the corners), each held where the `shares` (k × 3) of the corners are."""

    points: Ints
    at: Floats
    pairs: Ints
    laid: Ints = field(default_factory=lambda: np.zeros((0, 4), np.int64))
    shares: Floats = field(default_factory=lambda: np.zeros((0, 3)))

    @property
    def counts(self) -> Floats:
        """What each of the four points of `laid` counts in how far off it is, k × 4."""
        return np.concatenate([np.ones((len(self.laid), 1)), -self.shares], 1)


NOTHING_HELD = Hold(np.zeros(0, np.int64), np.zeros((0, 3)), np.zeros((0, 2), np.int64))


class Hanging:
    """Cloth on its way down. `x` is where its points are, mm."""

    def __init__(self, mesh: Mesh, x: Floats, feel: ClothFeel, body: Sequence[SectionStack], hold: Hold,
                 friction: float = FRICTION) -> None:
        self.mesh, self.hold = mesh, hold
        self.cloth = ClothForces(mesh, feel)
        self.touching = Touching(body, mesh.count, friction)
        self.touching.look(x)
        self.rounds, self.residual = 0, inf
        self._down = Descent(x, Factored(mesh.count, self._stiffness()).solve, LONGEST_STEP)

    @property
    def x(self) -> Floats:
        return self._down.x

    def _stiffness(self) -> Entries:
        count = self.mesh.count
        alone = np.full(count, 1e-3)
        alone[np.unique(self.touching.points)] += PUSH / 2
        held = np.concatenate([self.hold.points, self.hold.pairs.ravel()]).astype(np.intp)
        alone += HELD * np.bincount(held, minlength=count)
        every = np.arange(count)
        a, b = self.hold.pairs.T
        apart = np.full(2 * len(a), -HELD)
        laid, counts = self.hold.laid, self.hold.counts
        return joined([self.cloth.entries(), Entries(every, every, alone),
                       Entries(np.concatenate([a, b]), np.concatenate([b, a]), apart),
                       of_each(laid, HELD * counts[:, :, None] * counts[:, None])])

    def energy_and_slope(self, x: Floats) -> tuple[float, Floats]:
        """N·mm, and minus the force on every point, N."""
        cloth, slope = self.cloth.energy_and_slope(x)
        touch, by_touch = self.touching.energy_and_slope(x)
        slope += by_touch
        off = x[self.hold.points] - self.hold.at
        np.add.at(slope, self.hold.points, HELD * off)
        a, b = self.hold.pairs.T
        apart = x[a] - x[b]
        np.add.at(slope, a, HELD * apart)
        np.add.at(slope, b, -HELD * apart)
        counts = self.hold.counts
        above = np.einsum("kp,kpc->kc", counts, x[self.hold.laid])
        np.add.at(slope, self.hold.laid, HELD * counts[:, :, None] * above[:, None])
        held = 0.5 * HELD * float((off * off).sum() + (apart * apart).sum() + (above * above).sum())
        return cloth + touch + held, slope

    def come_to_rest(self, most_rounds: int = MOST_ROUNDS, at_rest: float = AT_REST
                     ) -> Generator[None, bool | None, None]:
        """Round by round, until it rests or whoever sends True has seen enough."""
        down = self._down
        looked, since, resting = down.x, LOOK_AGAIN, 0
        for _ in range(most_rounds):
            gone = float(np.abs(down.x - looked).max())
            if since >= LOOK_AGAIN or gone > LOOK_AFTER:
                self.touching.look(down.x)
                down.see(self.energy_and_slope)
                # Looked at anew, what it rests on must still be where it was.
                rests = since >= LOOK_AGAIN and gone < STILL * LOOK_AGAIN and self._left() < at_rest
                resting = resting + 1 if rests else 0
                if resting > 1:
                    return
                looked, since = down.x, 0
            moved = down.step()
            if not moved and not since:
                return
            since = since + 1 if moved else LOOK_AGAIN
            self.rounds += 1
            self._left()
            if (yield):
                return

    def _left(self) -> float:
        slope = self._down.slope
        self.residual = float(np.sqrt((slope * slope).sum(1).max())) / self.cloth.weight
        return self.residual
