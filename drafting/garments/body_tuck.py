"""The growth tuck of a garment on the body block, on every piece that its rows cross."""

from dataclasses import replace

from ..pattern import Piece
from .body_block import Block
from .growth_band import check_tuck, clear_of_the_hem, with_growth_tuck

CLEAR = 20.0
"""mm that a row passes above the point of a gore, and below an armhole or a neck. common practice,
no source."""


def tucked(block: Block, pieces: list[Piece]) -> tuple[Piece, ...]:
    """The pieces with their growth tuck, where one is asked for.

    Raises BadInput for one that is too shallow or finds no room.
    """
    if not block.tuck:
        return tuple(pieces)
    row = row_depth(block)
    highest = max(block.gusset_foot, block.neck.lowest, block.lap_depth) + CLEAR
    check_tuck(block.tuck / 2, row - highest, block.length)
    return tuple(_with_tucks(piece, row, block.tuck / 2) for piece in pieces)


def row_depth(block: Block) -> float:
    """mm below the shoulder line to the tuck's upper row."""
    row = block.length - clear_of_the_hem(block.tuck / 2)
    starts = [block.gore_depth] * bool(block.side_gore) + [block.middle_depth] * bool(block.middle_gore)
    for start in sorted(starts, reverse=True):
        if abs(row - start) < CLEAR:
            row = start - CLEAR
    return row


def _with_tucks(piece: Piece, row: float, depth: float) -> Piece:
    for hang in piece.hangs:
        above = hang.below + hang.depth - row
        if above < hang.depth:
            piece = with_growth_tuck(piece, hang, above, depth, hang.hem.removesuffix("hem"))
        else:
            piece = replace(piece, hangs=(replace(hang, below=hang.below + 2 * depth),))
    return piece
