"""Where the pieces lie next to each other, for the picture that shows how they go together."""

from collections.abc import Iterable, Sequence

from ..geometry import bounds
from ..pattern import Piece, SchematicPlace

GAP = 40.0
"""mm of daylight between pieces."""


def below(
    placed: Sequence[SchematicPlace], pieces: Sequence[Piece], rest: Iterable[tuple[str, int]]
) -> tuple[SchematicPlace, ...]:
    """The pieces of `rest` in a row under those already placed."""
    named = {piece.name: piece for piece in pieces}
    corners = [
        p.motion(corner)
        for p in placed
        for corner in named[p.piece].outline.polygon
    ]
    x, _, _, bottom = bounds(corners) if corners else (0.0, 0.0, 0.0, 0.0)
    found = []
    for name, copy in rest:
        left, top, right, _ = named[name].outline.bounds
        found.append(SchematicPlace(name, copy, x - left, bottom + GAP - top))
        x += right - left + GAP
    return tuple(found)
