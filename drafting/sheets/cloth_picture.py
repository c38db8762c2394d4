"""A piece of cloth as it was measured, so that one sees whether it was measured right."""

from ..cloth.pieces_on_hand import PieceOnHand
from ..geometry import bounds
from ..geometry.pens import polygon_data
from .text import clean, escaped


def cloth_svg(piece: PieceOnHand) -> str:
    """An SVG element: the cloth with its holes, from the two edges it was measured from. Class: `cloth`."""
    _, _, right, bottom = bounds(piece.outline)
    data = "".join(polygon_data(ring, 1) for ring in (piece.outline, *piece.holes))
    return (f'<svg xmlns="http://www.w3.org/2000/svg" class="on-hand" role="img" '
            f'viewBox="0 0 {right:.0f} {bottom:.0f}"><title>{escaped(clean(piece.name))}</title>'
            f'<path class="cloth" fill-rule="evenodd" d="{data}"/></svg>')
