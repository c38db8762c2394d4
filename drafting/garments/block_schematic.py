"""How the pieces of a garment on the body block go together, spread out."""

from ..pattern import Piece, SchematicPlace
from .body_block import Block
from .schematic import GAP, below


def schematic(block: Block, pieces: tuple[Piece, ...]) -> tuple[SchematicPlace, ...]:
    """The body spread over the shoulders, sleeves at its sides, gussets and gores where they go."""
    names = {piece.name for piece in pieces if piece.cloth == "main"}
    half, end = block.width / 2, block.length + block.tuck
    if block.folded:
        placed = [SchematicPlace("body", 1, 0.0, 0.0)]
    else:
        lap = 0.0 if block.overlap is None else block.overlap + GAP / 2
        placed = [SchematicPlace("back", 1, 0.0, -GAP / 2, turn=180.0),
                  SchematicPlace("front", 1, lap, GAP / 2)]
        if block.overlap is not None:
            placed.append(SchematicPlace("front", 2, -lap, GAP / 2, mirrored=True))
    lap = 0.0 if block.overlap is None else block.overlap + GAP / 2
    edge, top = half + lap + GAP, 0.0 if block.folded else GAP / 2
    for copy, way in ((1, 1), (2, -1)):
        over = copy == 2
        if block.sleeve:
            placed.append(SchematicPlace("sleeve", copy, way * edge, 0.0, turn=-90.0 * way, mirrored=over))
        if block.gusset:
            y = block.armhole + top + GAP
            placed.append(SchematicPlace("gusset", copy, way * (edge + block.gusset), y,
                                    turn=90.0 * way, mirrored=over))
        if block.side_panel:
            shape = block.side_panel
            lean = 57.29578 * shape.hem_lean
            x, y = edge + shape.top_width / 2, top + block.armhole + 2 * GAP
            if block.sleeve:
                y = max(y, block.sleeve.shape.top / 2 + 2 * GAP)
            placed.append(SchematicPlace("side panel", copy, way * x, y, turn=-lean * way, mirrored=over))
        if block.side_gore and "side gore" in names:
            y = top + max(block.gore_depth, block.gusset_foot + 2 * GAP) + GAP
            placed.append(SchematicPlace("side gore", copy, way * edge, y,
                                    turn=-way * block.side_gore.angle / 2, mirrored=over))
    if block.middle_gore and not block.halves:
        for gore in block.middles:
            up = gore == "back"
            away = top + end + GAP
            placed.append(SchematicPlace(f"{gore} gore", 1, 0.0, -away if up else away,
                                    turn=180.0 if up else 0.0))
    done = {(p.piece, p.copy) for p in placed}
    rest = [(piece.name, copy) for piece in pieces for copy in range(1, piece.cut + 1)
            if (piece.name, copy) not in done]
    return (*placed, *below(placed, pieces, rest))
