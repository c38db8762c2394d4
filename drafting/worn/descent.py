"""Down an energy's slope to rest: L-BFGS, its first guess by a matrix that is taken apart once.

source: Liu, Bouaziz & Kavan 2017, "Quasi-Newton methods for real-time simulation of hyperelastic materials",
ACM Transactions on Graphics 36(3): projective dynamics' matrix (Bouaziz, Martin, Liu, Kavan & Pauly 2014) as
the first guess of L-BFGS (Nocedal 1980), each step shortened until the energy falls (Armijo 1966).
"""

from collections import deque
from collections.abc import Callable

import numpy as np

from .sections import Floats

REMEMBERED = 8
"""Steps whose change of slope is remembered. common practice, no source."""

FALLS = 1e-4
"""Of what the slope promises, by which the energy has to fall. common practice, no source."""

SHORTEST = 1e-4
"""Of a step: below that there is no way down."""

ROUNDED = 1e-13
"""Of the energy: what its sum is uncertain by."""

Energy = Callable[[Floats], tuple[float, Floats]]


class Descent:
    """From `x` downwards. `guess` is the first guess of the way to where a slope is nothing."""

    def __init__(self, x: Floats, guess: Callable[[Floats], Floats], longest: float) -> None:
        self.x, self.guess, self.longest = x, guess, longest
        self.slope = np.zeros_like(x)
        self.energy = 0.0
        self._past: deque[tuple[Floats, Floats, float]] = deque(maxlen=REMEMBERED)

    def see(self, energy: Energy) -> None:
        """What it goes down from here on, which may be another energy than before."""
        self._energy = energy
        self.energy, self.slope = energy(self.x)

    def step(self) -> float:
        """One step down; the largest way a point went, mm, 0 where there is no way down."""
        way = self._way()
        falls = float(np.vdot(way, self.slope))
        if falls >= 0:
            self._past.clear()
            way = self._way()
            falls = float(np.vdot(way, self.slope))
        part = min(1.0, self.longest / max(float(np.sqrt((way * way).sum(1).max())), 1e-12))
        while part > SHORTEST:
            x = self.x + part * way
            energy, slope = self._energy(x)
            if energy <= self.energy + FALLS * part * falls + ROUNDED * abs(self.energy):
                return self._taken(x, energy, slope)
            part *= 0.5
        if self._past:
            self._past.clear()
            return self.step()
        return 0.0

    def _taken(self, x: Floats, energy: float, slope: Floats) -> float:
        moved, changed = x - self.x, slope - self.slope
        bent = float(np.vdot(moved, changed))
        if bent > 1e-10 * float(np.vdot(moved, moved)):
            self._past.append((moved, changed, bent))
        self.x, self.energy, self.slope = x, energy, slope
        return float(np.sqrt((moved * moved).sum(1).max()))

    def _way(self) -> Floats:
        q = self.slope.copy()
        shares = []
        for moved, changed, bent in reversed(self._past):
            share = float(np.vdot(moved, q)) / bent
            shares.append(share)
            q -= share * changed
        q = self.guess(q)
        for (moved, changed, bent), share in zip(self._past, reversed(shares), strict=True):
            q += (share - float(np.vdot(changed, q)) / bent) * moved
        return -q
