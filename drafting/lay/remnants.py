"""Pieces laid on cloth as one has it: several remnants at once, each of its own outline.

First each piece, the largest first, goes to the smallest remnant that has a place for it, as near its end as
may be. Then, again and again, a few neighbours are taken up and all that has no place is tried in another
order and from another corner; what comes of it is gone on with while it is not much worse than the best.
Where nothing overlaps on the grid nothing overlaps at all.

Sources: the first lay: Baker, Coffman & Rivest 1980 (as in `construct`); taking up and laying again:
Schrimpf, Schneider, Stamm-Wilbrandt & Dueck 2000, "Record breaking optimization results using the ruin and
recreate principle", J. Comput. Phys. 159:139; what is gone on with: Dueck 1993, "New optimization heuristics:
the great deluge algorithm and the record-to-record travel", J. Comput. Phys. 104:86.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import hypot, sqrt
from random import Random
from time import perf_counter

import numpy as np

from ..words.problems import BadInput, Problem
from .corners import signed_area
from .layout import Placement
from .nofit import NoFits, Numbers
from .orient import Copies, Form, placed_outline, prepared
from .places import WAYS, Places, Seat
from .remnant import Remnant
from .shape import Shape

MOST_REMNANTS = 60
"""What a table can be covered with; each is searched anew for every piece."""

FEWEST_PLACES, PLACES_EACH, MOST_PLACES = 10_000, 500, 50_000
SIMPLIFICATION = 0.5
"""mm that a simplified curve may lie outside the true one."""

FRUITLESS = (400, 1000, 4000)
"""Exchanges without any gain after which the grid is made twice as fine, and at last the search is at its
end."""

MOST_TAKEN_UP, SHUFFLED = 4, (0.5, 1.5)
"""Pieces taken up in one exchange, and by how much each may seem smaller or larger than it is when all that
have no place are tried in order."""

WORSE = 0.02
"""Of a remnant's area, as large as they are on the average: what the search goes on with may be worse than
the best by so much."""

CLEAR = 1e-3
"""mm by which pieces may seem to overlap."""


@dataclass(frozen=True)
class Filled:
    """One remnant with what is cut from it. Placements lie as the remnant's outline does; `seen` are their
    outlines in its box, with the grain along x."""

    remnant: Remnant
    placements: tuple[Placement, ...]
    seen: tuple[tuple[tuple[float, float], ...], ...]

    @property
    def utilisation(self) -> float:
        """Part of its cloth."""
        used = sum(abs(signed_area(np.array(outline))) for outline in self.seen)
        return used / self.remnant.area


@dataclass(frozen=True)
class RemnantLay:
    """What is cut from which remnant. `left` are the copies, by shape and number from 1, without a place."""

    filled: tuple[Filled, ...]
    left: tuple[tuple[Shape, int], ...]
    seconds: float
    rounds: int


def fill(
    shapes: Sequence[Shape], remnants: Sequence[Remnant], *, seconds: float = 5.0, seed: int = 0,
    max_rounds: int | None = None,
) -> RemnantLay:
    """Lay as many of the pieces as found on the remnants, by area. The grain of the shapes runs along x.

    The search is one sequence of steps for the same shapes, remnants and seed. Raises BadInput when there
    are too many remnants, and where the smallest piece is larger than a remnant, naming it.
    """
    began = perf_counter()
    search = _Search(tuple(shapes), tuple(remnants), Random(seed))
    rounds = 0
    for _ in search.run():
        rounds += 1
        if perf_counter() - began >= seconds or rounds == max_rounds:
            break
    return search.filling(perf_counter() - began, rounds)


class _Search:
    """`spots` tells where each copy lies, None where it has no place; `best` is the most by area yet."""

    def __init__(self, shapes: tuple[Shape, ...], remnants: tuple[Remnant, ...], random: Random) -> None:
        _must_be_useful(shapes, remnants)
        self.remnants, self.random = remnants, random
        widest = max(remnant.size[1] for remnant in remnants)
        self.kit: Copies = prepared(shapes, widest, "x", SIMPLIFICATION)
        self.choices = [tuple(dict.fromkeys(p.form for p in copy.poses)) for copy in self.kit.copies]
        self.areas = [self.kit.shapes[copy.shape].area for copy in self.kit.copies]
        places = min(max(FEWEST_PLACES, PLACES_EACH * len(self.choices)), MOST_PLACES)
        self.by_size = sorted(range(len(remnants)), key=lambda k: remnants[k].area)
        self.boards = [len(self.kit.forms) + k for k in range(len(remnants))]
        self.spots: list[Seat | None] = [None] * len(self.choices)
        self.best = list(self.spots)
        self._set_out(sqrt(sum(r.size[0] * r.size[1] for r in remnants) / places))

    def _set_out(self, step: float) -> None:
        """A grid so fine, with what lies on it already."""
        self.step = step
        boards = [remnant.obstacle(step) for remnant in self.remnants]
        self.forms: tuple[Form, ...] = (*self.kit.forms, *(form for form, _ in boards))
        self.nofits = NoFits(self.forms)
        closed = [(form, middle) for form, (_, middle) in zip(self.boards, boards, strict=True)]
        self.places = Places(self.nofits, step, closed, [remnant.size for remnant in self.remnants])
        for spot in self.spots:
            if spot:
                self.places.lay(spot)

    def run(self) -> Iterator[None]:
        """Yields after each piece tried at first, and after each exchange."""
        for i in sorted(range(len(self.choices)), key=lambda i: -self.areas[i]):
            self._lay_on_the_smallest(i, 0)
            self.best[i] = self.spots[i]
            yield
        for finer in range(len(FRUITLESS)):
            if finer:
                self.best = [spot and replace(spot, x=2 * spot.x, y=2 * spot.y) for spot in self.best]
                self.spots = list(self.best)
                self._set_out(self.step / 2)
            yield from self._exchanges(FRUITLESS[finer])

    def _exchanges(self, patience: int) -> Iterator[None]:
        """Until so many of them in a row have gained nothing, or all lies somewhere."""
        most, fruitless = self._laid(), 0
        allowed = WORSE * sum(r.area for r in self.remnants) / len(self.remnants)
        while fruitless < patience and any(spot is None for spot in self.best):
            before = list(self.spots)
            self.places.mark()
            yield from self._exchange()
            laid = self._laid()
            if laid > most + 1e-6:
                self.best, most, fruitless = list(self.spots), laid, 0
            else:
                fruitless += 1
                if laid < most - allowed:
                    self.spots = before
                    self.places.undo()
            yield

    def _exchange(self) -> Iterator[None]:
        """Some neighbours taken up, and all that has no place tried again in another order; yields after each
        of them."""
        lying = [i for i, spot in enumerate(self.spots) if spot]
        if lying:
            first = self.spots[self.random.choice(lying)]
            assert first
            near = sorted((hypot(spot.x - first.x, spot.y - first.y), i) for i in lying
                          if (spot := self.spots[i]) and spot.board == first.board)
            for _, i in near[: self.random.randint(1, MOST_TAKEN_UP)]:
                self._take_up(i)
        way = self.random.randrange(WAYS)
        waiting = [i for i, spot in enumerate(self.spots) if spot is None]
        waiting.sort(key=lambda i: -self.areas[i] * self.random.uniform(*SHUFFLED))
        hopeless: set[tuple[int, ...]] = set()
        for i in waiting:
            if self.choices[i] in hopeless:
                continue
            if not self._lay_on_the_smallest(i, way):
                hopeless.add(self.choices[i])
            yield

    def _lay_on_the_smallest(self, i: int, way: int) -> bool:
        for k in self.by_size:
            spot = self.places.free(k, self.choices[i], way)
            if spot:
                self._lay(i, spot)
                return True
        return False

    def _lay(self, i: int, spot: Seat) -> None:
        self.spots[i] = spot
        self.places.lay(spot)

    def _take_up(self, i: int) -> None:
        spot = self.spots[i]
        assert spot
        self.spots[i] = None
        self.places.take_up(spot)

    def _laid(self) -> float:
        return sum(area for area, spot in zip(self.areas, self.spots, strict=True) if spot)

    def filling(self, seconds: float, rounds: int) -> RemnantLay:
        found: list[list[tuple[Placement, tuple[tuple[float, float], ...]]]] = [[] for _ in self.remnants]
        left = []
        for i, copy in enumerate(self.kit.copies):
            spot, shape = self.best[i], self.kit.shapes[copy.shape]
            if spot is None or not self._is_clear(i, spot):
                self.best[i] = None
                left.append((shape, copy.number))
                continue
            found[spot.board].append(self._placement(i, spot))
        filled = tuple(
            Filled(remnant, tuple(p for p, _ in each), tuple(seen for _, seen in each))
            for remnant, each in zip(self.remnants, found, strict=True)
        )
        return RemnantLay(filled, tuple(left), seconds, rounds)

    def _corner(self, spot: Seat) -> Numbers:
        size = np.array(self.forms[spot.form].size)
        most = np.maximum(np.array(self.remnants[spot.board].size) - size, 0.0)
        return np.clip(np.array((spot.x, spot.y)) * self.step - size / 2, 0.0, most)

    def _is_clear(self, i: int, spot: Seat) -> bool:
        """Of the remnant's edges, and of what lies there of the copies before."""
        corner = self._corner(spot)
        others = [(self.boards[spot.board], np.zeros(2))]
        others += [(s.form, self._corner(s)) for s in self.best[:i] if s and s.board == spot.board]
        for form, at in others:
            nofit, (vx, vy) = self.nofits.between(form, spot.form), corner - at
            if ((nofit.nx * vx + nofit.ny * vy) < nofit.c - CLEAR).all(axis=1).any():
                return False
        return True

    def _placement(self, i: int, spot: Seat) -> tuple[Placement, tuple[tuple[float, float], ...]]:
        copy, remnant = self.kit.copies[i], self.remnants[spot.board]
        shape = self.kit.shapes[copy.shape]
        pose = next(pose for pose in copy.poses if pose.form == spot.form)
        own = self._corner(spot) - np.array(pose.corner)
        seen = placed_outline(shape, pose.rotation, pose.mirrored, "x", *own.tolist())
        lying = np.round(remnant.outwards(seen), 6)
        at = np.round(remnant.outwards(own[None])[0], 6)
        placement = Placement(
            shape.name, copy.number, float(at[0]), float(at[1]), (pose.rotation + remnant.grain) % 360,
            pose.mirrored, tuple((float(x), float(y)) for x, y in lying), shape.group, shape.at_fold)
        return placement, tuple((float(x), float(y)) for x, y in seen)


def _must_be_useful(shapes: tuple[Shape, ...], remnants: tuple[Remnant, ...]) -> None:
    if len(remnants) > MOST_REMNANTS:
        raise BadInput([Problem(
            "cloths", f"{len(remnants)} cloths are given: at most {MOST_REMNANTS} are laid at once. Lay the "
            "largest first, and what is left on the others.")])
