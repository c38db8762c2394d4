"""Where every point of the sewn garment is at the start, and what holds it.

Pieces are set round the figure without touching it, each where the garment says that it lies
(garments/wearing.py); what lies between them is spread evenly between its seams (a harmonic map: Tutte 1963).
The physics then lets all of it down.
"""

from dataclasses import dataclass, replace

import numpy as np

from ..garments.garment import Garment
from ..garments.wearing import Wearing
from ..pattern import Pattern, Seam, SeamEdge
from ..words.problems import BadInput, Problem
from .drape import Hold
from .figure import Figure
from .halving import halved
from .holding import held, strap_ends
from .mesh import Mesh
from .placing import Placing
from .sections import Floats
from .sewing_lines import Copy

CLEAR_OF_BODY = 6.0
"""mm by which every point is outside the figure at the start."""


@dataclass(frozen=True, eq=False)
class Assembly:
    """`straps` are the points of the garment, in front and behind, that each strap joins."""

    mesh: Mesh
    start: Floats
    hold: Hold
    straps: tuple[tuple[int, int], ...] = ()


def hung_copies(garment: Garment, pattern: Pattern) -> tuple[Copy, ...]:
    """The copies that are hung. Raises BadInput where the garment cannot be shown worn."""
    worn = garment.worn
    if worn is None:
        raise BadInput([Problem("garment", f"{garment.title}: it cannot be shown worn yet.")])
    if worn.hangs_from == "straps" and not pattern.attachments:
        raise BadInput([Problem("strap_style", f"{garment.title}: without straps nothing holds it up: choose "
                                "loops or single straps to see it worn.")])
    return tuple((piece.name, copy) for piece, copy in pattern.copies()
                 if piece.name not in worn.aside and piece.cloth != "lining")


def fastened(garment: Garment, pattern: Pattern) -> Pattern:
    """The pattern with what is closed when it is worn as seams, where it has those edges."""
    worn = garment.worn
    assert worn is not None
    lines = {(piece.name, edge.name, copy)
             for piece, copy in pattern.copies() for edge in piece.outline.edges}
    closed = tuple(Seam(f"{one[0]} closed on {other[0]}", (SeamEdge(*one),), (SeamEdge(*other),), 0.0)
                   for one, other in worn.fastens if {one, other} <= lines)
    return replace(pattern, seams=(*pattern.seams, *closed))


def assembled(garment: Garment, pattern: Pattern, figure: Figure, mesh: Mesh) -> Assembly:
    """The mesh of the garment's hung copies, set round the figure."""
    worn = garment.worn
    assert worn is not None
    return _held(worn, pattern, figure, mesh, _set_round(worn, pattern, figure, mesh))


def _set_round(worn: Wearing, pattern: Pattern, figure: Figure, mesh: Mesh) -> Floats:
    placing = Placing(pattern, figure, mesh, worn.lies, worn.beneath)
    placed: list[Floats | None] = []
    for cut in mesh.pieces:
        lies = worn.lies.get(cut.copy[0])
        placed.append(placing.of(cut, lies) if lies else None)
    return outside(_spread(mesh, placed), figure)


def finer(coarse: Assembly, garment: Garment, pattern: Pattern, figure: Figure, x: Floats
          ) -> tuple[Assembly, Floats]:
    """In triangles of half the side, and where its points are when those of the coarser one are at `x`."""
    assert garment.worn is not None
    half = halved(coarse.mesh, pattern)
    if garment.worn.hangs_from == "winding":
        # Between two points of a turn lies the leg.
        start = _set_round(garment.worn, pattern, figure, half.mesh)
        return _held(garment.worn, pattern, figure, half.mesh, start), start
    return (_held(garment.worn, pattern, figure, half.mesh, half.carried(coarse.start)),
            outside(half.carried(x), figure, garment.worn.beneath))


def _held(worn: Wearing, pattern: Pattern, figure: Figure, mesh: Mesh, start: Floats) -> Assembly:
    hold = held(worn, pattern, figure, mesh, start)
    straps = strap_ends(figure, hold) if worn.hangs_from == "straps" else ()
    return Assembly(mesh, start, hold, straps)


def _spread(mesh: Mesh, placed: list[Floats | None]) -> Floats:
    """The mean of where each point's pieces have it; the rest spread between those."""
    total, times = np.zeros((mesh.count, 3)), np.zeros(mesh.count)
    for own, joint in zip(placed, mesh.joint, strict=True):
        if own is not None:
            for k in range(3):
                total[:, k] += np.bincount(joint, own[:, k], mesh.count)
            times += np.bincount(joint, minlength=mesh.count)
    start: Floats = total / np.maximum(times, 1)[:, None]
    free = np.flatnonzero(times == 0)
    if len(free):
        ends = mesh.edges[0]
        laplacian = np.zeros((mesh.count, mesh.count))
        np.add.at(laplacian, (ends[:, 0], ends[:, 1]), -1.0)
        laplacian += laplacian.T
        np.fill_diagonal(laplacian, -laplacian.sum(1) + 1e-9)
        known = np.flatnonzero(times > 0)
        right = -laplacian[np.ix_(free, known)] @ start[known]
        start[free] = np.linalg.solve(laplacian[np.ix_(free, free)], right)
        # Gores that lie folded flat between two panels open outwards.
        outwards = start[free, :2] / np.maximum(np.linalg.norm(start[free, :2], axis=1), 1.0)[:, None]
        start[free, :2] += 15.0 * outwards
    return start


def outside(points: Floats, figure: Figure, clear: float = CLEAR_OF_BODY) -> Floats:
    """The points, those less than so many mm outside of the figure moved away from it the nearest way."""
    found = points.copy()
    for _ in range(8):
        for stack in figure.stacks.values():
            distance, normal = stack.distance(found)
            found += np.maximum(clear - distance, 0.0)[:, None] * normal
    return found


def over_the_shoulder(figure: Figure, front: Floats, back: Floats) -> Floats:
    """Places along the body's surface from a point in front to one behind, mm."""
    part = np.linspace(0.0, 1.0, 25)[:, None]
    way = front + part * (back - front)
    way[:, 2] += np.sin(np.pi * part[:, 0]) * (figure.heights["neck"] + 20.0 - front[2])
    return outside(way, figure)
