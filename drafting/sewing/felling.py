"""To which side a seam's allowances are laid: towards the back, or down.

common practice, no source. A piece whose sewn edge is its own upper end hangs from the seam, so down
is towards it. Else a seam leaves the front for whatever it is sewn to, and goes to the back before
anything else; failing that it lies towards the larger piece.
"""

from collections.abc import Sequence
from typing import Literal

from ..pattern import Pattern, Piece, Seam, SeamEdge

Side = Literal["a", "b"]

LEVEL = 0.7
"""An edge counts as a piece's upper end when its outward way rises at least so steeply (sine)."""


def laid_towards(pattern: Pattern, seam: Seam) -> Side:
    """The side of the seam that both allowances come to lie on."""
    hangs = [all(_hangs_from(pattern, part) for part in side) for side in (seam.a, seam.b)]
    if hangs[0] != hangs[1]:
        return "a" if hangs[0] else "b"
    for word, wanted in (("back", True), ("front", False)):
        named = [_named(pattern, side, word) for side in (seam.a, seam.b)]
        if named[0] != named[1]:
            return "a" if named[0] == wanted else "b"
    area = [sum(pattern.piece(part.piece).outline.area for part in side)
            for side in (seam.a, seam.b)]
    return "a" if area[0] > area[1] else "b"


def side_of(seam: Seam, side: Side) -> tuple[SeamEdge, ...]:
    return seam.a if side == "a" else seam.b


def other_side(side: Side) -> Side:
    return "b" if side == "a" else "a"


def _named(pattern: Pattern, side: Sequence[SeamEdge], word: str) -> bool:
    return any(word in pattern.piece(part.piece).title for part in side)


def _hangs_from(pattern: Pattern, part: SeamEdge) -> bool:
    piece = pattern.piece(part.piece)
    path = piece.line(part.edge)
    if _is_slit(piece, part.edge) or path.start.distance(path.end) < 1e-6:
        return False
    return -(path.end - path.start).unit().outward.y >= LEVEL


def _is_slit(piece: Piece, edge: str) -> bool:
    return any(line.name == edge for line in piece.inner_lines)
