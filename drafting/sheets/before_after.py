"""A garment's pieces before and after an alteration: the cloth as cut, the old sewing line, the new one on
it."""

from collections.abc import Iterable, Sequence
from html import escape

from ..geometry import Point, bounds
from ..geometry.pens import number
from ..life.as_cut import AsCut, PieceAsCut
from ..pattern import Pattern

GAP = 60.0
"""mm between the pieces as drawn."""

ACROSS = 1100.0
"""mm of pieces beside each other before a new row begins."""

LETTERS = 46.0
"""mm high, which a phone shows as large as a label."""


def before_after_svg(cut: Pattern, as_cut: AsCut) -> str:
    """The pieces whose lines move, as plain SVG in mm; "" where none does."""
    moved = [piece for piece in as_cut.pieces if piece.moved]
    if not moved:
        return ""
    drawn, x, y, tall, wide = [], 0.0, 0.0, 0.0, 0.0
    for piece in moved:
        left, top, right, bottom = bounds(cut.piece(piece.name).cutting_line)
        if x and x + right - left > ACROSS:
            x, y, tall = 0.0, y + tall + GAP + 2 * LETTERS, 0.0
        drawn.append(_piece(cut, as_cut.pattern, piece, Point(x - left, y - top)))
        x, tall = x + right - left + GAP, max(tall, bottom - top)
        wide = max(wide, x)
    names = ", ".join(cut.piece(piece.name).title for piece in moved)
    height = y + tall + 2 * LETTERS
    return (f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{-GAP:g} {-GAP - LETTERS:g} {wide + GAP:.0f} '
            f'{height + 2 * GAP:.0f}" role="img" class="before-after">'
            f"<title>Before and after: {escape(names)}</title>{''.join(drawn)}</svg>")


def _piece(cut: Pattern, wanted: Pattern, laid: PieceAsCut, at: Point) -> str:
    old, new = cut.piece(laid.name), wanted.piece(laid.name)
    left, top, _, _ = bounds(old.cutting_line)
    return (
        f'<text x="{number(left + at.x, 1)}" y="{number(top + at.y - 12, 1)}" font-size="{LETTERS:g}">'
        f"{escape(old.title)}</text>"
        + _ring(old.cutting_line, at, 'fill="none" stroke="#999" stroke-width="3"')
        + _ring(old.outline.polygon, at,
                'fill="none" stroke="#666" stroke-width="3" stroke-dasharray="14 10"')
        + _ring(new.outline.polygon, at + laid.shift, 'fill="none" stroke="currentColor" stroke-width="6"')
    )


def _ring(points: Sequence[Point], at: Point, how: str) -> str:
    return f'<polygon points="{_pairs(p + at for p in points)}" {how}/>'


def _pairs(points: Iterable[Point]) -> str:
    return " ".join(f"{number(p.x, 1)},{number(p.y, 1)}" for p in points)
