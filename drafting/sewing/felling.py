"""To which side a seam's allowances are laid: towards the back, or down.

common practice, no source. A piece of the front is left for another, one of the back is sought. Where
the pieces do not tell, the edges do: a piece lies behind its own front edge, and before its back edge;
where both sides are front edges, the smaller piece lies further back (a gore, a gusset), and where a
piece is sewn to itself, its back edge. A piece whose sewn edge is its own upper end hangs from the seam,
so down is towards it. Failing all that, towards the larger piece.
"""

from collections.abc import Iterable
from typing import Literal

from ..pattern import Half, Pattern, Seam, SeamEdge

Side = Literal["a", "b"]

LEVEL = 0.7
"""An edge counts as a piece's upper end when its outward way rises at least so steeply (sine)."""


def laid_towards(pattern: Pattern, seam: Seam) -> Side:
    """The side of the seam that both allowances come to lie on."""
    area = [sum(pattern.piece(part.piece).outline.area for part in side)
            for side in (seam.a, seam.b)]
    larger: Side = "a" if area[0] > area[1] else "b"
    pieces = [_whereabouts(pattern.piece(part.piece).half for part in side) for side in (seam.a, seam.b)]
    edges = [_whereabouts(pattern.piece(part.piece).faces.get(part.edge) for part in side)
             for side in (seam.a, seam.b)]
    if pieces[0] != pieces[1]:
        return "a" if pieces[0] > pieces[1] else "b"
    if edges[0] == edges[1] != 0:
        return larger if edges[0] > 0 else other_side(larger)
    if edges[0] * edges[1] < 0:
        return "a" if edges[0] > edges[1] else "b"
    if edges[0] != edges[1]:
        return "a" if edges[0] < edges[1] else "b"
    hanging = [all(_hangs_from(pattern, part) for part in side) for side in (seam.a, seam.b)]
    if hanging[0] != hanging[1]:
        return "a" if hanging[0] else "b"
    return larger


def side_of(seam: Seam, side: Side) -> tuple[SeamEdge, ...]:
    return seam.a if side == "a" else seam.b


def other_side(side: Side) -> Side:
    return "b" if side == "a" else "a"


def _whereabouts(halves: Iterable[Half | None]) -> int:
    """1 at the back, −1 at the front, 0 for neither or both."""
    found = set(halves)
    return ("back" in found) - ("front" in found)


def _hangs_from(pattern: Pattern, part: SeamEdge) -> bool:
    piece = pattern.piece(part.piece)
    path = piece.line(part.edge)
    inner = any(line.name == part.edge for line in piece.inner_lines)
    if inner or path.start.distance(path.end) < 1e-6:
        return False
    return -(path.end - path.start).unit().outward.y >= LEVEL
