"""A kit too large to be searched as a whole, in portions laid one after another along the cloth.

Each portion gets its share of large and small pieces, and its own search. Where a kit holds the same
pieces several times over, one portion's lay serves for each of them. The portions are then pushed into each
other's ragged ends.

Source: common practice, no source: long orders are laid in lengths.
"""

from collections import defaultdict
from collections.abc import Generator, Iterator, Sequence
from dataclasses import replace
from typing import TypeVar

import numpy as np

from .compact import Packing
from .improve import Improver
from .nofit import NoFits, Numbers
from .orient import Copies, Pose
from .penetration import blocked_along

T = TypeVar("T")

MOST_TOGETHER = 80
"""Pieces up to which a kit is searched as a whole."""

TOGETHER = 45
"""Pieces of a portion, about."""

TURN = 60
"""Steps of one portion's search before it is the next one's turn."""


class Portions:
    """Ever shorter lays of a large kit, as `Improver` finds them for a small one."""

    def __init__(self, kit: Copies, width: float, nofits: NoFits, seed: int, slack: float) -> None:
        self.kit = kit
        self.nofits = nofits
        self.clearance = max(-slack, 0.0)
        self._portions = dealt_out(kit)
        self._searches = [
            Improver(replace(kit, copies=tuple(kit.copies[i] for i in alike[0])), width, nofits,
                     seed + n, slack)
            for n, alike in enumerate(self._portions)
        ]
        self._laid: dict[int, Packing] = {}
        self._best = self._in_a_row()

    @property
    def constructed(self) -> bool:
        """Whether every portion has a good lay."""
        return all(search.constructed for search in self._searches)

    @property
    def best(self) -> Packing:
        """The shortest lay yet, of all portions together."""
        for _ in self.settling():
            pass
        return self._best

    @property
    def known_length(self) -> float:
        """mm, of the shortest that is joined yet."""
        return self._best.length

    def settling(self) -> Iterator[None]:
        """Joins what the portions have found since it was joined last, one after another."""
        if any(self._laid.get(n) is not search.best for n, search in enumerate(self._searches)):
            joined = yield from self._joined()
            if joined.length < self._best.length:
                self._best = joined

    def run(self) -> Iterator[None]:
        """Search without end, or until no portion's lay can be shorter; a step is one of a portion's."""
        under_way = {n: search.run() for n, search in enumerate(self._searches)}
        for n, steps in under_way.items():
            while not self._searches[n].constructed:
                next(steps)
                yield
        yield from self.settling()
        ended = object()
        while under_way:
            for n in list(under_way):
                for _ in range(TURN):
                    if next(under_way[n], ended) is ended:
                        del under_way[n]
                        break
                    yield

    def _in_a_row(self) -> Packing:
        """The portions' first lays, each after the end of the one before it."""
        forms, corners = [0] * len(self.kit.copies), np.zeros((len(self.kit.copies), 2))
        end = 0.0
        for search, alike in zip(self._searches, self._portions, strict=True):
            for copies in alike:
                for i, form in zip(copies, search.best.forms, strict=True):
                    forms[i] = form
                corners[copies] = search.best.corners + (end, 0.0)
                end += search.best.length + self.nofits.gap + self.clearance
        length = (corners + self._sizes(forms))[:, 0].max()
        return Packing(tuple(forms), corners, float(length))

    def _joined(self) -> Generator[None, None, Packing]:
        """The portions' best lays, one after another, each as near to those before it as it goes."""
        count = len(self.kit.copies)
        forms = [0] * count
        corners = np.zeros((count, 2))
        placed: list[int] = []
        for n, (search, alike) in enumerate(zip(self._searches, self._portions, strict=True)):
            packing = self._laid[n] = search.best
            for copies in alike:
                for i, form in zip(copies, packing.forms, strict=True):
                    forms[i] = form
                corners[copies] = packing.corners
                corners[copies, 0] += self._clear_of(placed, copies, forms, corners)
                placed += copies
                yield
        length = (corners + self._sizes(forms))[:, 0].max()
        return Packing(tuple(forms), corners, float(length))

    def _clear_of(
        self, placed: Sequence[int], copies: Sequence[int], forms: Sequence[int], corners: Numbers
    ) -> float:
        """How far the copies must move along the cloth, together, to be clear of those placed before, mm."""
        sizes, gap = self._sizes(forms), self.nofits.gap
        ends = corners + sizes + gap
        farthest = ends[placed, 0][:, None] - corners[copies, 0][None, :]  # whatever their outlines
        beside = (ends[placed, 1][:, None] > corners[copies, 1][None, :]) & (
            ends[copies, 1][None, :] > corners[placed, 1][:, None]
        )
        farthest = np.where(beside, farthest, 0.0)
        needed = 0.0
        for at in np.argsort(-farthest, axis=None).tolist():
            j, i = placed[at // len(copies)], copies[at % len(copies)]
            if farthest.flat[at] <= needed:
                break
            barred = blocked_along(self.nofits.between(forms[j], forms[i]), corners[i, 1] - corners[j, 1])
            reach = max((end for _, end in barred), default=-np.inf)
            needed = max(needed, float(corners[j, 0] + reach - corners[i, 0]) + self.clearance)
        return needed

    def _sizes(self, forms: Sequence[int]) -> Numbers:
        return np.array([self.nofits.forms[form].size for form in forms])


def dealt_out(kit: Copies) -> list[tuple[list[int], ...]]:
    """Portions of the kit, each as often as it is laid: lists of copies, by their place in the kit. The lists
    of one portion hold the same pieces in the same order."""
    alike: dict[tuple[int, tuple[Pose, ...]], list[int]] = defaultdict(list)
    for i, copy in enumerate(kit.copies):
        alike[copy.shape, copy.poses].append(i)
    times = _times([len(copies) for copies in alike.values()])
    by_area = sorted(alike.values(), key=lambda copies: -kit.forms[kit.copies[copies[0]].poses[0].form].area)
    repeated: list[list[int]] = []  # for each piece of the part that comes again, its copy each time
    single: list[int] = []
    for copies in by_area:
        whole = len(copies) // times
        repeated += [copies[k * times : (k + 1) * times] for k in range(whole)]
        single += copies[whole * times :]
    portions = [tuple(map(list, zip(*dealt, strict=True))) for dealt in _dealt(repeated)]
    return portions + [(dealt,) for dealt in _dealt(single)]


def _times(counts: Sequence[int]) -> int:
    """How often the largest part of the kit is laid in the same way, so that fewest pieces are searched for
    a place; a part is no smaller than a portion."""
    def searched(times: int) -> int:
        return sum(count // times + count % times for count in counts)

    possible = [1] + [
        times for times in range(2, max(counts) + 1) if sum(count // times for count in counts) >= TOGETHER
    ]
    return min(possible, key=searched)


def _dealt(pieces: Sequence[T]) -> list[list[T]]:
    """The pieces, largest first, dealt to portions to and fro, so that each has its share of every size."""
    count = round(len(pieces) / TOGETHER) or min(len(pieces), 1)
    portions: list[list[T]] = [[] for _ in range(count)]
    for n, piece in enumerate(pieces):
        turn, place = divmod(n, count)
        portions[place if turn % 2 == 0 else count - 1 - place].append(piece)
    return portions
