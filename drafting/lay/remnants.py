"""Pieces laid on cloth as one has it: several remnants at once, each of its own outline.

First each piece, the largest first, goes to the smallest remnant that has a place for it, as near its end as
may be; then what found none is pushed in where there is room enough, alone or for smaller pieces, and all of
that remnant pulled apart again on the grid. Where nothing overlaps on the grid nothing overlaps at all.

Sources: the first lay: Baker, Coffman & Rivest 1980 (as in `construct`); pulling apart: Egeblad, Nielsen &
Odgaard 2007 (as in `separate`); the exchange: common practice, no source.
"""

from collections.abc import Generator, Iterator, Sequence
from dataclasses import dataclass
from math import sqrt
from random import Random
from time import perf_counter

import numpy as np

from ..words.problems import BadInput, Problem
from .corners import signed_area
from .layout import Placement
from .nofit import NoFits, Numbers
from .orient import Copies, Form, placed_outline, prepared
from .penetration import DepthMaps
from .remnant import Remnant
from .separate import Separator
from .shape import Shape

MOST_REMNANTS = 60
"""What a table can be covered with; each is searched anew for every piece."""

FEWEST_PLACES, PLACES_EACH, MOST_PLACES = 10_000, 500, 50_000
SIMPLIFICATION = 0.5
"""mm that a simplified curve may lie outside the true one."""

PATIENCE = 25
"""Sweeps in which nothing gets better before a push is given up."""

FRUITLESS = 200
"""Pushes without any gain after which the search is at its end."""

CLEAR = 1e-3
"""mm by which pieces may seem to overlap."""


Pushing = Generator[None, None, bool]


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


@dataclass(frozen=True)
class _Spot:
    """Where a copy lies: the remnant, the form, and its middle in steps."""

    remnant: int
    form: int
    x: int
    y: int


class _Search:
    """`spots` tells where each copy lies, None where it has no place."""

    def __init__(self, shapes: tuple[Shape, ...], remnants: tuple[Remnant, ...], random: Random) -> None:
        _must_be_useful(shapes, remnants)
        self.remnants, self.random = remnants, random
        widest = max(remnant.size[1] for remnant in remnants)
        self.kit: Copies = prepared(shapes, widest, "x", SIMPLIFICATION)
        self.choices = [tuple(dict.fromkeys(p.form for p in copy.poses)) for copy in self.kit.copies]
        self.areas = [self.kit.shapes[copy.shape].area for copy in self.kit.copies]
        places = min(max(FEWEST_PLACES, PLACES_EACH * len(self.choices)), MOST_PLACES)
        self.step = sqrt(sum(r.size[0] * r.size[1] for r in remnants) / places)
        boards = [remnant.obstacle(self.step) for remnant in remnants]
        self.middles = [middle for _, middle in boards]
        self.boards = [len(self.kit.forms) + k for k in range(len(remnants))]
        self.forms: tuple[Form, ...] = (*self.kit.forms, *(form for form, _ in boards))
        self.maps = DepthMaps(NoFits(self.forms), self.step, 0.0)
        self.spots: list[_Spot | None] = [None] * len(self.choices)
        self.by_size = sorted(range(len(remnants)), key=lambda k: remnants[k].area)

    def run(self) -> Iterator[None]:
        """Yields after each piece tried and each sweep."""
        for i in sorted(range(len(self.choices)), key=lambda i: -self.areas[i]):
            self._lay_on_the_smallest(i)
            yield
        fruitless = 0
        while fruitless < FRUITLESS and any(spot is None for spot in self.spots):
            gained = yield from self._push_one_in()
            fruitless = 0 if gained else fruitless + 1

    def _lay_on_the_smallest(self, i: int) -> bool:
        for k in self.by_size:
            spot = self._spot(i, k)
            if spot:
                self.spots[i] = spot
                return True
        return False

    def _on(self, k: int) -> list[int]:
        return [i for i, spot in enumerate(self.spots) if spot and spot.remnant == k]

    def _room(self, form: int, k: int) -> tuple[int, int, int, int]:
        """The first places and how many there are, along and across."""
        (long, high), (along, across) = self.forms[form].size, self.remnants[k].size
        return (*self.maps.span(long, along), *self.maps.span(high, across))

    def _spot(self, i: int, k: int) -> _Spot | None:
        """The free place nearest the remnant's end."""
        best: tuple[float, float, _Spot] | None = None
        lying = [(self.boards[k], *self.middles[k])]
        lying += [(s.form, s.x, s.y) for s in self.spots if s and s.remnant == k]
        for form in self.choices[i]:
            first_x, columns, first_y, rows = self._room(form, k)
            if not columns or not rows:
                continue
            blocked = np.zeros((columns, rows), dtype=bool)
            for other, x, y in lying:
                depth, ox, oy, wide, tall = self.maps.of(form, other)
                left, low = x - ox - first_x, y - oy - first_y
                a, b, c, d = max(left, 0), max(low, 0), min(left + wide, columns), min(low + tall, rows)
                if a < c and b < d:
                    blocked[a:c, b:d] |= depth[a - left : c - left, b - low : d - low] > 0
            at = int(blocked.argmin())
            if blocked.flat[at]:
                continue
            x, y = first_x + at // rows, first_y + at % rows
            long, high = self.forms[form].size
            candidate = (x * self.step + long / 2, y * self.step + high / 2, _Spot(k, form, x, y))
            if best is None or candidate[:2] < best[:2]:
                best = candidate
        return best[2] if best else None

    def _push_one_in(self) -> Pushing:
        """A copy without a place into some remnant, for smaller ones where there is no room for all; whether
        more lies on the remnants than before."""
        waiting = [i for i, spot in enumerate(self.spots) if spot is None]
        i = self.random.choices(waiting, [self.areas[i] for i in waiting])[0]
        able = [k for k in range(len(self.remnants)) if any(
            self._room(form, k)[1] and self._room(form, k)[3] for form in self.choices[i])]
        if not able:
            return False
        k = self.random.choice(able)
        there, out = self._on(k), list[int]()
        free = self.remnants[k].area - sum(self.areas[j] for j in there)
        smaller = [j for j in there if self.areas[j] < self.areas[i]]
        self.random.shuffle(smaller)
        while smaller and (free < self.areas[i] or (not out and self.random.random() < 0.5)):
            out.append(smaller.pop())
            free += self.areas[out[-1]]
        if free < self.areas[i]:
            return False
        before, placed = list(self.spots), self._placed()
        for j in out:
            self.spots[j] = None
        if not (yield from self._pulled_apart(k, [j for j in there if j not in out], i)):
            self.spots = before
            return False
        waiting = [j for j, spot in enumerate(self.spots) if spot is None]
        for j in sorted(waiting, key=lambda j: -self.areas[j]):
            self._lay_on_the_smallest(j)
            yield
        if self._placed() <= placed:
            self.spots = before
            return False
        return True

    def _placed(self) -> float:
        return sum(area for area, spot in zip(self.areas, self.spots, strict=True) if spot)

    def _pulled_apart(self, k: int, there: list[int], new: int) -> Pushing:
        """Whether all of them find a place on the remnant."""
        separator = _OnBoard(self, k, there, new)
        least, idle = np.inf, 0
        while idle < PATIENCE:
            total = separator.total()
            if total == 0.0:
                for i, form, x, y in zip((*there, new), separator.form, separator.x, separator.y,
                                         strict=False):
                    self.spots[i] = _Spot(k, form, x, y)
                return True
            if total < 0.98 * least:
                least, idle = total, 0
            else:
                idle += 1
            separator.reweigh()
            for _ in separator.sweep():
                pass
            yield
        return False

    def filling(self, seconds: float, rounds: int) -> RemnantLay:
        found: list[list[tuple[Placement, tuple[tuple[float, float], ...]]]] = [[] for _ in self.remnants]
        left = []
        for i, copy in enumerate(self.kit.copies):
            spot, shape = self.spots[i], self.kit.shapes[copy.shape]
            if spot is None or not self._is_clear(i, spot):
                self.spots[i] = None
                left.append((shape, copy.number))
                continue
            found[spot.remnant].append(self._placement(i, spot))
        filled = tuple(
            Filled(remnant, tuple(p for p, _ in each), tuple(seen for _, seen in each))
            for remnant, each in zip(self.remnants, found, strict=True)
        )
        return RemnantLay(filled, tuple(left), seconds, rounds)

    def _corner(self, spot: _Spot) -> Numbers:
        size = np.array(self.forms[spot.form].size)
        most = np.maximum(np.array(self.remnants[spot.remnant].size) - size, 0.0)
        return np.clip(np.array((spot.x, spot.y)) * self.step - size / 2, 0.0, most)

    def _is_clear(self, i: int, spot: _Spot) -> bool:
        """Of the remnant's edges, and of what lies there of the copies before."""
        corner = self._corner(spot)
        others = [(self.boards[spot.remnant], np.zeros(2))]
        others += [(s.form, self._corner(s)) for s in self.spots[:i] if s and s.remnant == spot.remnant]
        for form, at in others:
            nofit, (vx, vy) = self.maps.nofits.between(form, spot.form), corner - at
            if ((nofit.nx * vx + nofit.ny * vy) < nofit.c - CLEAR).all(axis=1).any():
                return False
        return True

    def _placement(self, i: int, spot: _Spot) -> tuple[Placement, tuple[tuple[float, float], ...]]:
        copy, remnant = self.kit.copies[i], self.remnants[spot.remnant]
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


class _OnBoard(Separator):
    """The pieces of one remnant and a new one, with what is closed off as a piece that stays."""

    def __init__(self, search: _Search, k: int, there: list[int], new: int) -> None:
        along, across = search.remnants[k].size
        able = [[form for form in search.choices[i] if search._room(form, k)[1] and search._room(form, k)[3]]
                for i in (*there, new)]
        super().__init__(search.maps, [*map(tuple, able), (search.boards[k],)], across, search.random,
                         [False] * (len(able) + 1))
        for at, i in enumerate(there):
            spot = search.spots[i]
            assert spot is not None
            self.form[at], self.x[at], self.y[at] = spot.form, spot.x, spot.y
        self.resize(along)
        self.x[-1], self.y[-1] = search.middles[k]
        self.measure()
        self.relocate(len(there))

    def relocate(self, i: int) -> None:
        if i < self.count - 1:
            super().relocate(i)


def _must_be_useful(shapes: tuple[Shape, ...], remnants: tuple[Remnant, ...]) -> None:
    if len(remnants) > MOST_REMNANTS:
        raise BadInput([Problem(
            "cloths", f"{len(remnants)} cloths are given: at most {MOST_REMNANTS} are laid at once. Lay the "
            "largest first, and what is left on the others.")])
