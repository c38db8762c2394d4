"""What is cut from pieces of cloth that are there already, before a bolt is.

They lie as they were measured, their warp along y as the garment's pieces have it; the search on them is the
same for the same shapes, cloth and seed.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from ..cloth.pieces_on_hand import PieceOnHand
from ..geometry import bounds
from .corners import signed_area
from .layout import Layout, Placement
from .left_over import left_of
from .remnant import Remnant
from .remnants import fill
from .shape import Shape

ROUNDS = 1200
"""Steps of the search: about a second for a garment."""

WARP_DOWN = 90.0
"""Degrees from +x towards +y in which the warp of a piece on hand runs."""


@dataclass(frozen=True)
class OnHand:
    """One piece of cloth and what is cut from it. `layout` is as wide and long as the piece reaches from the
    two edges it was measured from; `left_over` are the corners of the largest rectangles along the grain that
    nothing is cut from, largest first."""

    piece: PieceOnHand
    layout: Layout
    left_over: tuple[tuple[tuple[float, float], ...], ...]


def cut_from_hand(
    shapes: Sequence[Shape], pieces: Sequence[PieceOnHand], seed: int
) -> tuple[tuple[OnHand, ...], tuple[Shape, ...]]:
    """What is cut from which piece, and what is left to cut from a bolt."""
    if not pieces:
        return (), tuple(shapes)
    cloths = [
        Remnant(piece.name, tuple((p.x, p.y) for p in piece.outline),
                tuple(tuple((p.x, p.y) for p in hole) for hole in piece.holes), WARP_DOWN)
        for piece in pieces
    ]
    turned = [replace(shape, outline=tuple((y, -x) for x, y in shape.outline)) for shape in shapes]
    filling = fill(turned, cloths, seconds=float("inf"), seed=seed, max_rounds=ROUNDS)
    known = dict(zip(turned, shapes, strict=True))
    left = [(known[shape], number) for shape, number in filling.left]
    dropped = _broken_pairs(shapes, left)
    found = tuple(
        OnHand(piece, _layout(piece, each.placements, dropped, each.remnant.area, seed),
               tuple(tuple((x, y) for x, y in corners) for _, corners in left_of(each)))
        for piece, each in zip(pieces, filling.filled, strict=True)
    )
    counts = {shape.name: sum(other is shape for other, _ in left) for shape in shapes}
    for name, _ in dropped:
        counts[name] += 1
    rest = tuple(replace(shape, quantity=counts[shape.name]) for shape in shapes if counts[shape.name])
    return found, rest


def _broken_pairs(shapes: Sequence[Shape], left: Sequence[tuple[Shape, int]]) -> set[tuple[str, int]]:
    """Copies to be cut from the bolt all the same, by name and number: of pieces that are cut in pairs the
    bolt gives one as drawn, one mirrored, and so on."""
    dropped: set[tuple[str, int]] = set()
    for shape in shapes:
        waiting = {number for other, number in left if other is shape}
        while shape.mirroring == "pairs" and (parity := _wanting(waiting)) is not None:
            number = next(n for n in range(shape.quantity, 0, -1) if n not in waiting and n % 2 == parity)
            waiting.add(number)
            dropped.add((shape.name, number))
    return dropped


def _wanting(numbers: set[int]) -> int | None:
    """Whether an odd one (1) or an even one (0) is wanting, so that they alternate from an odd one on."""
    odd = sum(number % 2 for number in numbers)
    even = len(numbers) - odd
    return 1 if odd < even else 0 if odd > even + 1 else None


def _layout(
    piece: PieceOnHand, placements: Sequence[Placement], dropped: set[tuple[str, int]], area: float, seed: int
) -> Layout:
    _, _, width, length = bounds(piece.outline)
    kept = tuple(
        replace(placed, rotation=(placed.rotation - WARP_DOWN) % 360)
        for placed in placements if (placed.piece, placed.copy) not in dropped
    )
    used = sum(abs(signed_area(np.array(placed.outline))) for placed in kept)
    return Layout(width, length, used / width, used / area, 0.0, seed, 0, "y", kept)
