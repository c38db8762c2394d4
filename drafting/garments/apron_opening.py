"""A dress's side opening: the edge left open above a seam, and the facings of both its edges."""

from dataclasses import replace

from ..geometry import Allowance, Edge, Outline
from ..pattern import Notch, Piece, Seam, SeamEdge
from .shapes import rectangle

FACING_WIDTH = 45.0
"""mm of a facing, wider than the allowance it covers. common practice, no source."""

TURNED_UNDER = 10.0
"""mm of a facing's outer edge and lower end, turned under and felled. common practice, no source."""

FACING = "opening facing"


def opened(edge: str) -> str:
    """The name of the part of an edge that stays open, at its top."""
    return f"{edge} opening"


def opened_at(piece: Piece, edge: str, opening: float) -> Piece:
    """The piece with so many mm at the top of a side edge parted from it, to stay open."""
    parted = parted_at(piece, edge, opening, opened(edge))
    downwards = parted.outline[edge].path.start.y < parted.outline[edge].path.end.y
    end = Notch(edge, 0.0, "end of the opening, left side only", from_end=not downwards)
    return replace(parted, notches=(*parted.notches, end))


def parted_at(piece: Piece, edge: str, down: float, upper: str) -> Piece:
    """The piece with a side edge parted `down` mm below its top, marks and all; the part above is `upper`."""
    path = piece.outline[edge].path
    downwards = path.start.y < path.end.y
    cut = down if downwards else path.length - down
    first, second = path.cut_at(cut)
    names = (upper, edge) if downwards else (edge, upper)
    parted = [Edge(name, part) for name, part in zip(names, (first, second), strict=True)]

    def moved(notch: Notch) -> Notch:
        if notch.edge != edge:
            return notch
        at = path.length - notch.distance if notch.from_end else notch.distance
        return replace(notch, edge=names[at > cut], distance=at - cut * (at > cut), from_end=False)

    edges = tuple(
        part for old in piece.outline.edges for part in (parted if old.name == edge else (old,)))
    return replace(
        piece,
        outline=Outline(edges),
        allowances={**piece.allowances, upper: piece.allowances[edge]},
        faces={**piece.faces, **({upper: piece.faces[edge]} if edge in piece.faces else {})},
        notches=tuple(map(moved, piece.notches)),
    )


def opening_facing(length: float, seam: Allowance, top: Allowance) -> Piece:
    """Two straight strips as long as the opening; their tops go into the hem of the dress's top."""
    return Piece(
        name=FACING,
        title=FACING,
        outline=rectangle(FACING_WIDTH, length, ("top", "outer edge", "end", "edge")),
        allowances={"top": top, "outer edge": Allowance(TURNED_UNDER), "end": Allowance(TURNED_UNDER),
                    "edge": seam},
        cut=2,
        mirrored=True,
        copies=("front opening facing", "side opening facing"),
    )


def facing_seams(allowance: float, front: SeamEdge, side: SeamEdge) -> tuple[Seam, ...]:
    return tuple(
        Seam(f"facing of the {name}'s opening", (SeamEdge(FACING, "edge", copy),), (edge,), allowance,
             treatment="faced")
        for copy, name, edge in ((1, "front", front), (2, "side", side))
    )
