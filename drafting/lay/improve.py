"""The search for a shorter lay: squeeze the strip, separate, compact, and again.

The strip is made a little shorter than the best lay; the pieces, which now overlap, are pulled
apart on the grid; once they hardly overlap, compaction makes the lay exact and tells its true
length. When that fails for long, two large pieces change places and the search goes on from there.

Sources: Egeblad et al. 2007; Elkeran 2013, "A new approach for sheet nesting problem using guided
cuckoo search and pairwise clustering", EJOR 231:757; Gardeyn & Wauters 2025, sections 7 and 8.
"""

from collections.abc import Generator, Iterator
from math import ceil
from random import Random

import numpy as np

from .compact import Compactor, Packing
from .construct import bottom_left, in_rows, pushed_apart
from .nofit import NoFits, Numbers
from .orient import Copies
from .penetration import DepthMaps
from .separate import MOST_POSES, Separator

FEWEST_PLACES, PLACES_EACH, MOST_PLACES = 10_000, 500, 50_000
FORGIVEN = 0.4
PATIENCE = 100
NEARLY_CLEAR = 0.15
STUBBORN = 2
"""Compactions in a row that may end with the same two forms in each other."""

MANY = 40


class Improver:
    """Ever shorter lays of a kit; `best` is the shortest yet."""

    def __init__(self, kit: Copies, width: float, nofits: NoFits, seed: int, slack: float) -> None:
        self.kit = kit
        self.width = width
        self.random = Random(seed)
        self.choices = [
            tuple(dict.fromkeys(pose.form for pose in copy.poses)) for copy in kit.copies
        ]
        self.folded = [copy.at_fold for copy in kit.copies]
        self.areas = [kit.forms[choice[0]].area for choice in self.choices]
        self.sizes = np.array([form.size for form in kit.forms])
        expected = max(sum(self.areas) / width / 0.8, float(self.sizes[:, 0].max()))
        places = min(max(FEWEST_PLACES, PLACES_EACH * len(self.choices)), MOST_PLACES)
        self.step = float(np.sqrt(width * expected / places))
        self.maps = DepthMaps(nofits, self.step, FORGIVEN)
        self.nofits = nofits
        self.compactor = Compactor(nofits, width, slack, self.folded)
        self.stuck: tuple[tuple[int, int] | None, int] = None, 0
        self.floor = max(
            sum(self.areas) / width,
            max(min(self.sizes[form, 0] for form in choice) for choice in self.choices),
        )
        self.best = self._packing(*in_rows(nofits, self.choices, width, self.folded))
        self.constructed = False

    @property
    def known_length(self) -> float:
        """mm"""
        return self.best.length

    def settling(self) -> Iterator[None]:
        """Nothing is left to be done for `best`."""
        return iter(())

    def run(self) -> Iterator[None]:
        """Search without end, or until no lay can be shorter; a step is one piece moved or one
        compaction."""
        yield from self._construct()
        separator = Separator(self.maps, self.choices, self.width, self.random, self.folded)
        squeeze = 0.01
        separator.place(self.best.forms, self.best.corners)
        failures = 0
        while self.best.length > self.floor * (1 + 1e-6):
            shorter = yield from self._separated(separator, self.best.length * (1 - squeeze))
            if shorter:
                failures = 0
                squeeze = 0.01
                separator.place(self.best.forms, self.best.corners)
            else:
                failures += 1
                squeeze = max(squeeze * 0.7, 0.002)
                if failures % 2 == 0:
                    separator.place(self.best.forms, self.best.corners)
                self._swap(separator)
            separator.forget()

    def _construct(self) -> Iterator[None]:
        """Bottom-left lays in a few orders, compacted; the first with each piece's first pose only,
        which is quickly done."""
        pieces = range(len(self.choices))
        by_area = sorted(pieces, key=lambda i: -self.areas[i])
        by_length = sorted(pieces, key=lambda i: -self.sizes[self.choices[i][0], 0])
        by_breadth = sorted(pieces, key=lambda i: -self.sizes[self.choices[i][0], 1])
        as_drawn = [choice[:1] for choice in self.choices]
        few = [choice[:: ceil(len(choice) / MOST_POSES)] for choice in self.choices]
        plans = [(by_area, as_drawn), (by_area, few)]
        if len(self.choices) <= MANY:
            plans += [(by_length, few), (by_breadth, few)]
        for order, choices in plans:
            forms, corners = yield from bottom_left(
                self.maps, choices, order, self.width, self.folded
            )
            if not (yield from self._compacted(forms, corners, reach=8 * self.step)):
                corners = pushed_apart(self.nofits, forms, corners)
                yield from self._compacted(forms, corners, reach=8 * self.step)
            self.constructed = True

    def _separated(self, separator: Separator, target: float) -> Generator[None, None, bool]:
        """Pull the pieces apart in a strip `target` mm long; whether that gave a new best lay.

        When the grid shows no overlap and yet the exact lay is too long, the grid was too kind, and
        the target shrinks by half a step.
        """
        separator.resize(target)
        least, idle = np.inf, 0
        close = NEARLY_CLEAR * len(self.choices)
        while idle < PATIENCE:
            total = separator.total()
            nearly = total < min(least, close) and separator.overlap.max() < 1.5
            if total == 0.0 or nearly:
                forms, corners = tuple(separator.form), separator.corners()
                if (yield from self._compacted(forms, corners, reach=4 * self.step)):
                    return True
            if total == 0.0:
                target -= 0.5 * self.step
                if target < self.floor - self.step:
                    return False
                separator.resize(target)
                least = np.inf
            elif total < 0.98 * least:
                least, idle = total, 0
            else:
                least = min(least, total)
                idle += 1
            separator.reweigh()
            for _ in separator.sweep():
                yield
        return False

    def _compacted(
        self, forms: tuple[int, ...], corners: Numbers, reach: float
    ) -> Generator[None, None, bool]:
        """Make a lay from the grid exact; whether it is the best yet."""
        goal = self.best.length * (1 - 1e-6)
        packing = yield from self.compactor.compacted(forms, corners, reach, goal)
        self._learn()
        if packing is None or packing.length >= goal:
            return False
        self.best = packing
        return True

    def _learn(self) -> None:
        """Two forms that keep on ending in each other fit the grid, and not the cloth."""
        pair, times = self.stuck
        times = times + 1 if self.compactor.stuck == pair else 1
        self.stuck = self.compactor.stuck, times
        if self.compactor.stuck and times >= STUBBORN:
            self.maps.keep_apart(*self.compactor.stuck)
            self.stuck = None, 0

    def _packing(self, forms: tuple[int, ...], corners: Numbers) -> Packing:
        return Packing(forms, corners, float((corners[:, 0] + self.sizes[list(forms), 0]).max()))

    def _swap(self, separator: Separator) -> None:
        ranked = sorted(range(len(self.areas)), key=lambda i: -self.areas[i])
        big = ranked[: max(2, len(ranked) // 2)]
        i, j = self.random.sample(big, 2) if len(big) > 1 else (0, 0)
        separator.x[i], separator.x[j] = separator.x[j], separator.x[i]
        separator.y[i], separator.y[j] = separator.y[j], separator.y[i]
