"""Where two pieces would overlap: the no-fit polygon of each pair, as convex parts.

For convex A (at rest) and B (held by its corner), the positions v = p_B - p_A at which they overlap
are the inside of the Minkowski sum A + (-B), whose edges carry the normals of A's edges and the
negated normals of B's. So the sum is the set where n·v < c for every such n, with
c = max n·a - min n·b. Pieces that are not convex overlap when any two of their parts do.

Source: Bennell & Oliveira 2008, "The geometry of nesting problems: a tutorial", section 4.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from .orient import Form, Twins, twins
from .store import Store

Numbers = NDArray[np.float64]

MOST_FACETS = 3_000_000
"""Facets kept at a time, 24 bytes each."""


@dataclass(frozen=True, eq=False)
class NoFit:
    """Facets of the convex parts of one no-fit polygon, shapes (parts, facets).

    Two pieces overlap at v when in some row every nx·vx + ny·vy < c. Rows are padded by repeating
    a facet.
    """

    nx: Numbers
    ny: Numbers
    c: Numbers

    def negated(self) -> "NoFit":
        """The same pair with the other piece at rest."""
        return NoFit(-self.nx, -self.ny, self.c)


@dataclass(frozen=True, eq=False)
class _Edges:
    """Corners, edge normals and their offsets of a form's parts, padded to (parts, corners, …)."""

    corners: Numbers
    normals: Numbers
    offsets: Numbers


class NoFits:
    """No-fit polygons of a kit's forms, made when first asked for."""

    def __init__(self, forms: tuple[Form, ...], gap: float = 0.0) -> None:
        """gap: mm to keep between any two pieces."""
        self.forms = forms
        self.gap = gap
        self._edges = [_edges(form) for form in forms]
        self._made: Store[tuple[int, int], NoFit] = Store(MOST_FACETS)

    @cached_property
    def twins(self) -> Twins:
        """What each form becomes when it is turned or reflected."""
        return twins(self.forms)

    def between(self, rest: int, moving: int) -> NoFit:
        """The no-fit polygon of form `moving` about form `rest`."""
        made = self._made.get((rest, moving))
        if made is None and rest > moving:
            return self.between(moving, rest).negated()
        if made is None:
            a, b = self._edges[rest], self._edges[moving]
            n_a = np.repeat(a.normals[:, None], len(b.normals), axis=1)
            n_b = np.repeat(-b.normals[None], len(a.normals), axis=0)
            reach_b = np.einsum("pex,qkx->pqek", a.normals, b.corners).min(axis=3)
            reach_a = np.einsum("qex,pkx->pqek", b.normals, a.corners).min(axis=3)
            c = np.concatenate(
                (a.offsets[:, None, :] - reach_b, b.offsets[None, :, :] - reach_a), axis=2
            )
            normals = np.concatenate((n_a, n_b), axis=2).reshape(-1, c.shape[2], 2)
            made = NoFit(
                np.ascontiguousarray(normals[..., 0]),
                np.ascontiguousarray(normals[..., 1]),
                c.reshape(-1, c.shape[2]) + self.gap,
            )
            self._made.keep((rest, moving), made, made.c.size)
        return made


def _edges(form: Form) -> _Edges:
    most = max(len(part) for part in form.parts)
    corners = np.stack(
        [np.vstack((part, np.repeat(part[-1:], most - len(part), axis=0))) for part in form.parts]
    )
    normals, offsets = [], []
    for part in form.parts:
        edge = np.roll(part, -1, axis=0) - part
        outward = np.column_stack((edge[:, 1], -edge[:, 0]))
        outward /= np.hypot(outward[:, 0], outward[:, 1])[:, None]
        padded = np.vstack((outward, np.repeat(outward[-1:], most - len(part), axis=0)))
        normals.append(padded)
        offsets.append((padded @ part.T).max(axis=1))
    return _Edges(corners, np.stack(normals), np.stack(offsets))
