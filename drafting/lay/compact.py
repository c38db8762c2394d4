"""Moving all pieces at once to the shortest strip that their present neighbourhood allows.

For each two convex parts that come near, one facet of their no-fit polygon keeps them apart: the
one with most room now. With these half-planes the least length is a linear program; its
solution shows better facets, and so on until nothing is gained.

Source: Li & Milenkovic 1995, "Compaction and separation algorithms for non-convex polygons and their
applications", EJOR 84:539; Gomes & Oliveira 2006, "Solving irregular strip packing problems by
hybridising simulated annealing and linear programming", EJOR 171:811.
"""

from collections.abc import Generator, Sequence
from dataclasses import dataclass

import numpy as np

from .nofit import MOST_FACETS, NoFits, Numbers
from .simplex import Indices, Rows, minimise
from .store import Store

HOPELESS = 1.01
"""Share of the wanted length beyond which pieces that still overlap are not pulled apart."""


@dataclass(frozen=True, eq=False)
class Packing:
    """Where the pieces lie: the form of each and its box's lower left corner, shape (n, 2), mm."""

    forms: tuple[int, ...]
    corners: Numbers
    length: float


class Compactor:
    """Compaction of lays on a strip of one width."""

    def __init__(
        self, nofits: NoFits, width: float, slack: float, folded: Sequence[bool]
    ) -> None:
        """slack: mm by which pieces may overlap, so little that rounding cannot keep pieces apart
        that fill the width exactly; where even that is too much, less than 0, a clearance. folded: which
        pieces stay at the far edge."""
        self.nofits = nofits
        self.width = width
        self.slack = slack
        self.folded = np.array(folded, dtype=bool)
        self.stuck: tuple[int, int] | None = None
        """The forms that were deepest in each other where a compaction gave up."""
        self._flat: Store[tuple[int, int], tuple[Numbers, int, int]] = Store(MOST_FACETS)

    def compacted(
        self,
        forms: tuple[int, ...],
        corners: Numbers,
        reach: float,
        goal: float = np.inf,
        rounds: int = 8,
    ) -> Generator[None, None, Packing | None]:
        """The pieces moved, each at most `reach` mm along each axis a round, clear of each other;
        yields after each round.

        `corners` may overlap a little. None when the overlap could not be undone. goal: a length
        above which the result is of no use, so that a hopeless case is given up early.
        """
        sizes = np.array([self.nofits.forms[form].size for form in forms])
        corners = self._inside(corners, sizes)
        found: Packing | None = None
        stuck = False
        self.stuck = None
        for _ in range(rounds):
            moved = self._solve(forms, corners, sizes, reach, lengthwise=stuck)
            yield
            if moved is None:
                return found
            corners = moved
            length = float((corners[:, 0] + sizes[:, 0]).max())
            depth, i, j = self._deepest(forms, corners, sizes)
            if depth > 0.5 * abs(self.slack):
                self.stuck = None if found else (forms[i], forms[j])
                if found or length > HOPELESS * goal:
                    return found
                stuck = True
                continue
            stuck, self.stuck = False, None
            gain = found.length - length if found else (HOPELESS - 1) * goal
            if found is None or gain > 0:
                found = Packing(forms, corners, length)
            if gain < 1e-6 * self.width or length - 5 * gain > goal:
                return found
        return found

    def _inside(self, corners: Numbers, sizes: Numbers) -> Numbers:
        top = np.maximum(self.width - sizes[:, 1], 0.0)
        lowest = np.where(self.folded, top, 0.0)
        return np.column_stack(
            (np.maximum(corners[:, 0], 0.0), np.clip(corners[:, 1], lowest, top))
        )

    def _deepest(
        self, forms: tuple[int, ...], corners: Numbers, sizes: Numbers
    ) -> tuple[float, int, int]:
        """The deepest any convex part lies in another's, beyond the slack, mm; and whose parts they are."""
        first, second, _, _, _, room = self._facets(forms, corners, sizes, 0.0)
        if not len(room):
            return 0.0, 0, 0
        k = int(room.argmin())
        return max(-float(room[k]), 0.0), int(first[k]), int(second[k])

    def _solve(
        self,
        forms: tuple[int, ...],
        corners: Numbers,
        sizes: Numbers,
        reach: float,
        lengthwise: bool = False,
    ) -> Numbers | None:
        n = len(forms)
        i, j, nx, ny, c, room = self._facets(forms, corners, sizes, 2 * reach, lengthwise)
        # Two pieces come closer by at most 2·reach along each axis.
        near = room < 2 * reach * (np.abs(nx) + np.abs(ny))
        i, j, nx, ny, c = i[near], j[near], nx[near], ny[near], c[near]
        index = np.concatenate(
            (
                np.column_stack((i, j, n + i, n + j)),
                np.column_stack((np.full(n, 2 * n), np.arange(n), np.arange(n), np.arange(n))),
            )
        )
        weight = np.concatenate(
            (
                np.column_stack((-nx, nx, -ny, ny)),
                np.tile([1.0, -1.0, 0.0, 0.0], (n, 1)),
            )
        )
        least = np.concatenate((c, sizes[:, 0]))
        elastic = np.arange(len(least)) < len(c)
        top = np.maximum(self.width - sizes[:, 1], 0.0)
        lowest = np.concatenate((np.zeros(n), np.where(self.folded, top, 0.0)))
        low = np.concatenate((np.maximum(corners.T.ravel() - reach, lowest), [0.0]))
        high = np.concatenate(
            (
                corners[:, 0] + reach,
                np.minimum(corners[:, 1] + reach, top),
                [float((corners[:, 0] + sizes[:, 0]).max()) + reach],
            )
        )
        # Small distinct costs break ties; all of them together stay far below the length's.
        ranks = (np.arange(2 * n) * 0.6180339887498949) % 1.0
        cost = np.concatenate(((1e-3 / n) * (0.5 + ranks), [1.0]))
        cost[n : 2 * n] *= np.where(np.arange(n) % 2, 1.0, -1.0) * 0.1
        solved = minimise(cost, low, high, Rows(index, weight, least, elastic),
                          tolerance=0.1 * abs(self.slack))
        if not solved.finished:
            return None
        return solved.z[: 2 * n].reshape(2, n).T.copy()

    def _facets(
        self,
        forms: tuple[int, ...],
        corners: Numbers,
        sizes: Numbers,
        reach: float,
        lengthwise: bool = False,
    ) -> tuple[Indices, Indices, Numbers, Numbers, Numbers, Numbers]:
        """For each two parts of pieces whose boxes come within `reach`: the pieces, the facet with
        most room (n·v >= c keeps them apart) and that room.

        lengthwise: parts that overlap get the facet that is reached soonest along the strip instead,
        since only that way there is always room to be had.
        """
        apart = np.maximum(
            corners[:, None, :] - (corners + sizes)[None, :, :],
            corners[None, :, :] - (corners + sizes)[:, None, :],
        ).max(axis=2)
        first, second = np.nonzero(np.triu(apart < reach + self.nofits.gap, k=1))
        if not len(first):
            none: Numbers = np.empty(0)
            return first, second, none, none, none, none
        flats = [
            self._flat_facets(forms[a], forms[b])
            for a, b in zip(first.tolist(), second.tolist(), strict=True)
        ]
        facets = np.concatenate([flat for flat, _, _ in flats], axis=1)
        parts = np.array([parts for _, parts, _ in flats])
        width = np.array([width for _, _, width in flats])
        v = corners[second] - corners[first]
        each = parts * width
        room = facets[0] * np.repeat(v[:, 0], each) + facets[1] * np.repeat(v[:, 1], each)
        room -= facets[2]
        lengths = np.repeat(width, parts)
        starts = np.concatenate(([0], np.cumsum(lengths)[:-1]))
        most = np.maximum.reduceat(room, starts)
        if lengthwise and (most < -0.5 * abs(self.slack)).any():
            steep = np.abs(facets[0])
            sideways = np.where(steep > 0.05, room / np.maximum(steep, 0.05), -np.inf)
            room = np.where(np.repeat(most < -0.5 * abs(self.slack), lengths), sideways, room)
            most = np.maximum.reduceat(room, starts)
        tied = np.flatnonzero(room == np.repeat(most, lengths))
        segment = np.repeat(np.arange(len(starts)), lengths)[tied]
        chosen = tied[np.concatenate(([True], segment[1:] != segment[:-1]))]
        pair = np.repeat(np.arange(len(first)), parts)
        nx, ny, c = facets[:, chosen]
        return first[pair], second[pair], nx, ny, c, most

    def _flat_facets(self, rest: int, moving: int) -> tuple[Numbers, int, int]:
        flat = self._flat.get((rest, moving))
        if flat is None:
            nofit = self.nofits.between(rest, moving)
            stacked = np.stack(
                (nofit.nx.ravel(), nofit.ny.ravel(), nofit.c.ravel() - self.slack)
            )
            flat = (stacked, *nofit.c.shape)
            self._flat.keep((rest, moving), flat, nofit.c.size)
        return flat
