"""A lining: every piece of the garment once more, sewn together alike and then to the garment's edges."""

from collections.abc import Mapping
from dataclasses import replace

from ..geometry import Allowance
from ..pattern import Piece, Seam, SeamEdge

LINING = " lining"
TURNED = 10.0
"""mm turned in where the lining is felled to the garment. common practice, no source."""


def lining_for(
    pieces: tuple[Piece, ...], seams: tuple[Seam, ...]
) -> tuple[tuple[Piece, ...], tuple[Seam, ...]]:
    """The lining's pieces, the seams within it, and those that fell it to every edge left free."""
    taken = {(part.piece, part.edge) for seam in seams for part in (*seam.a, *seam.b)}
    lining = tuple(
        replace(
            piece,
            name=piece.name + LINING,
            title=piece.title + LINING,
            copies=tuple(copy + LINING for copy in piece.copies),
            allowances=_plain(piece.allowances),
            cloth="lining",
            notches=piece.notches,
        )
        for piece in pieces
    )
    inner = tuple(
        replace(seam, name=f"lining: {seam.name}", a=_of_lining(seam.a), b=_of_lining(seam.b))
        for seam in seams
    )
    felled = tuple(
        Seam(f"lining to {piece.copy_name(copy)}, {edge.name}",
             (SeamEdge(piece.name + LINING, edge.name, copy),),
             (SeamEdge(piece.name, edge.name, copy),),
             TURNED, stitch="fell", treatment="felled lining", order=90)
        for piece in pieces
        for edge in piece.outline.edges
        if (piece.name, edge.name) not in taken
        for copy in range(1, piece.cut + 1)
    )
    return lining, inner + felled


def _of_lining(side: tuple[SeamEdge, ...]) -> tuple[SeamEdge, ...]:
    return tuple(replace(part, piece=part.piece + LINING) for part in side)


def _plain(allowances: Mapping[str, Allowance]) -> dict[str, Allowance]:
    return {
        name: Allowance(min(a.width, TURNED)) if a.fold else a for name, a in allowances.items()
    }
