"""How deep one piece lies in another, for every relative position on a grid at once.

A map holds, for each offset of the moving piece by whole grid steps, how far it must be moved to
be clear of the other: exactly for two convex pieces, else the shortest way along the four
directions 0°, 45°, 90°, 135° (exact along each, at most 8 % too long on a straight boundary).
It is 0 exactly where the pieces do not overlap, however coarse the grid.

Source: Sato, Martins, Gomes & Tsuzuki 2019, "Raster penetration map applied to the irregular
packing problem", EJOR 279:657; the directions: Umetani et al. 2009, "Solving the irregular strip
packing problem via guided local search for overlap minimization", ITOR 16:661.
"""

from math import ceil, floor

import numpy as np
from numpy.typing import NDArray

from .nofit import NoFit, NoFits, Numbers
from .orient import FIT

Depths = NDArray[np.float32]

FLAT = 1e-12
"""Slope below which a line counts as parallel to a facet."""

ROUNDING = 1e-6
"""Of a step, by which pieces that touch may seem to overlap."""


DepthMap = tuple[Depths, int, int, int, int]
"""Depth in grid steps, shape (nx, ny); ox; oy; nx; ny. Element (k, l) is for the moving piece's
centre being (k - ox, l - oy) steps from that of the piece at rest."""

MOST_CELLS = 60_000_000
"""Elements of maps kept at a time, 4 bytes each."""


class DepthMaps:
    """A grid of places for the centres of pieces' boxes, and the depth maps of a kit's forms on it,
    made when first asked for.

    step: the grid's spacing, mm. forgiven: depth in steps that counts as none, for a position
    rounded to the grid may overlap by that much where the true one does not; of the depth of a thin
    piece at most a quarter is forgiven.
    """

    def __init__(self, nofits: NoFits, step: float, forgiven: float) -> None:
        self.nofits = nofits
        self.step = step
        self.forgiven = forgiven
        forms = len(nofits.forms)
        self.made: list[list[DepthMap | None]] = [[None] * forms for _ in range(forms)]
        self._twins = nofits.twins
        self._apart: dict[tuple[int, int], float] = {}
        self._held = 0

    def span(self, size: float, extent: float) -> tuple[int, int]:
        """The first place and the number of places, in one direction, at which a piece of this size
        lies between 0 and `extent`, but for what is forgiven; none when it is larger."""
        return span(size, extent, self.step, self.forgiven)

    def at_far_edge(self, size: float, extent: float) -> tuple[int, int]:
        """As `span`, for a piece that must reach `extent`: the place nearest to that."""
        return round((extent - size / 2) / self.step), 1

    def keep_apart(self, one: int, other: int) -> None:
        """From now on these two forms, and those that are them turned, need a step more between them: where
        only what is forgiven lets them lie beside each other, they never can."""
        for _, twin in self._twins:
            a, b = twin[one], twin[other]
            if a is not None and b is not None:
                for pair in {(a, b), (b, a)}:
                    self._apart[pair] = self._apart.get(pair, 0.0) + 1.0
                    self.made[pair[0]][pair[1]] = None

    def of(self, moving: int, rest: int) -> DepthMap:
        made = self.made[moving][rest]
        if made is None:
            if self._held > MOST_CELLS:
                self._held = 0
                for row in self.made:
                    row[:] = [None] * len(row)
            depth = self._make(moving, rest)
            for (swap, flip_x, flip_y), twin in self._twins:
                one, other = twin[moving], twin[rest]
                if one is not None and other is not None and self.made[one][other] is None:
                    turned = depth.T if swap else depth
                    self._keep(one, other, turned[::flip_x, ::flip_y])
            if self.made[moving][rest] is None:  # its outline has a twin among the forms
                self._keep(moving, rest, depth)
            made = self.made[moving][rest]
            assert made is not None
        return made

    def _keep(self, moving: int, rest: int, depth: Depths) -> None:
        nx, ny = depth.shape
        for a, b, turned in ((moving, rest, depth), (rest, moving, depth[::-1, ::-1])):
            self.made[a][b] = np.ascontiguousarray(turned), nx // 2, ny // 2, nx, ny
        self._held += 2 * nx * ny

    def _make(self, moving: int, rest: int) -> Depths:
        forms, gap, step = self.nofits.forms, self.nofits.gap, self.step
        moving_size, rest_size = np.array(forms[moving].size), np.array(forms[rest].size)
        apart = self._apart.get((moving, rest), 0.0)
        ox, oy = (((moving_size + rest_size) / 2 + gap) / step + apart).astype(int).tolist()
        shift = (rest_size - moving_size) / 2
        x = np.arange(-ox, ox + 1) * step + shift[0]
        y = np.arange(-oy, oy + 1) * step + shift[1]
        nofit = self.nofits.between(rest, moving)
        depth = _convex_depth(nofit, x, y) if len(nofit.c) == 1 else _depth(nofit, x, y, step)
        depth /= step
        depth -= min(self.forgiven, max(0.25 * float(depth.max()), 0.0)) - apart
        return np.maximum(depth, 0.0).astype(np.float32)


def span(size: float, extent: float, step: float, forgiven: float = 0.0) -> tuple[int, int]:
    """As of a grid's depth maps, on one of places `step` mm apart."""
    half = size / 2
    first = ceil(half / step - forgiven - FIT)
    last = floor((extent - half) / step + forgiven + FIT)
    if first > last and size <= extent * (1 + FIT):
        return round(extent / 2 / step), 1
    return first, max(last - first + 1, 0)


def barred(nofit: NoFit, x: Numbers, y: Numbers, step: float) -> NDArray[np.bool_]:
    """Whether the moving piece overlaps the other with its corner at each of x and y from the other's, mm,
    shape (len(x), len(y)); all x are `step` apart."""
    starts, ends = _intervals(nofit.nx, nofit.ny, nofit.c, y)
    first = np.clip(np.floor((starts - x[0]) / step + ROUNDING) + 1, 0, len(x)).astype(int)
    end = np.clip(np.ceil((ends - x[0]) / step - ROUNDING), 0, len(x)).astype(int)
    some, (_, lines) = first < end, np.indices(first.shape)
    change = np.zeros((len(x) + 1, len(y)), dtype=np.int16)
    np.add.at(change, (first[some], lines[some]), 1)
    np.add.at(change, (end[some], lines[some]), -1)
    return np.cumsum(change, axis=0)[:-1] > 0


def blocked_along(nofit: NoFit, across: float) -> list[tuple[float, float]]:
    """Where along the strip the moving piece's corner may not be, from the other's, mm, when it lies
    `across` mm further across the strip."""
    starts, ends = _intervals(nofit.nx, nofit.ny, nofit.c, np.array([across]))
    pairs = zip(starts[:, 0].tolist(), ends[:, 0].tolist(), strict=True)
    return [(start, end) for start, end in pairs if start < end]


def _convex_depth(nofit: NoFit, x: Numbers, y: Numbers) -> Numbers:
    nx, ny, c = nofit.nx[0], nofit.ny[0], nofit.c[0]
    slack = (c - ny * y[:, None])[None, :, :] - (nx * x[:, None])[:, None, :]
    return np.asarray(slack.min(axis=2))


def _depth(nofit: NoFit, x: Numbers, y: Numbers, step: float) -> Numbers:
    along_x = _way_out(*_intervals(nofit.nx, nofit.ny, nofit.c, y), x[:, None])
    along_y = _way_out(*_intervals(nofit.ny, nofit.nx, nofit.c, x), y[None, :], rows=True)
    depth = np.minimum(along_x, along_y)
    k, l = np.arange(len(x))[:, None], np.arange(len(y))[None, :]
    half = np.sqrt(0.5)
    for sign in (1, -1):
        # Lines through the grid points along (1, sign)/√2, told apart by k - sign·l.
        first = -(len(y) - 1) if sign == 1 else 0
        count = len(x) + len(y) - 1
        offset = half * (x[0] - sign * y[0] + (np.arange(count) + first) * step)
        along = half * (nofit.nx + sign * nofit.ny)
        across = half * (nofit.nx - sign * nofit.ny)
        starts, ends = _intervals(along, across, nofit.c, offset)
        place = half * (x[:, None] + sign * y[None, :])
        line = k - sign * l - first
        np.minimum(depth, _way_out(starts[:, line], ends[:, line], place), out=depth)
    return depth


def _intervals(
    along: Numbers, across: Numbers, c: Numbers, offsets: Numbers
) -> tuple[Numbers, Numbers]:
    """Where lines run inside the union of convex parts.

    A point at s on the line with offset t is inside part p when along·s + across·t < c for all its
    facets. Returns starts and ends of the intervals of the union, shape (most intervals, lines), an
    empty place being start = inf, end = -inf.
    """
    high = _first_crossing(along, across, c, offsets)
    low = -_first_crossing(-along, across, c, offsets)
    missed = low >= high
    flat = np.abs(along) < FLAT
    if flat.any():
        part, facet = np.nonzero(flat)
        beside = c[part, facet][:, None] <= across[part, facet][:, None] * offsets
        np.logical_or.at(missed, part, beside)
    low[missed], high[missed] = np.inf, -np.inf

    order = np.argsort(low, axis=0, kind="stable")
    low = np.take_along_axis(low, order, axis=0)
    reach = np.maximum.accumulate(np.take_along_axis(high, order, axis=0), axis=0)
    opens = np.ones(low.shape, dtype=bool)
    opens[1:] = low[1:] > reach[:-1]
    opens &= low < np.inf
    closes = np.ones(low.shape, dtype=bool)
    closes[:-1] = opens[1:] | (low[1:] == np.inf)
    closes &= low < np.inf
    rank = np.cumsum(opens, axis=0) - 1
    most = max(int(rank.max()) + 1, 1)
    starts = np.full((most, low.shape[1]), np.inf)
    ends = np.full((most, low.shape[1]), -np.inf)
    lines = np.broadcast_to(np.arange(low.shape[1]), low.shape)
    starts[rank[opens], lines[opens]] = low[opens]
    ends[rank[closes], lines[closes]] = reach[closes]
    return starts, ends


def _first_crossing(along: Numbers, across: Numbers, c: Numbers, offsets: Numbers) -> Numbers:
    """Where each line, followed forwards, leaves the half-planes that it leaves at all."""
    leaving = along >= FLAT
    most = int(leaving.sum(axis=1).max())
    chosen = np.argsort(~leaving, axis=1, kind="stable")[:, :most]
    slope = np.take_along_axis(along, chosen, axis=1)
    left = slope >= FLAT
    slope = np.where(left, slope, 1.0)
    start = np.where(left, np.take_along_axis(c, chosen, axis=1) / slope, np.inf)
    drift = np.where(left, np.take_along_axis(across, chosen, axis=1) / slope, 0.0)
    crossing: Numbers = drift[:, :, None] * -offsets
    crossing += start[:, :, None]
    return np.asarray(crossing.min(axis=1))


def _way_out(starts: Numbers, ends: Numbers, place: Numbers, rows: bool = False) -> Numbers:
    """Distance along the line from each place to the nearer end of the interval it lies in,
    negative or 0 outside."""
    if starts.ndim == 2:
        starts = starts[:, :, None] if rows else starts[:, None, :]
        ends = ends[:, :, None] if rows else ends[:, None, :]
    return np.asarray(np.minimum(place - starts, ends - place).max(axis=0))
