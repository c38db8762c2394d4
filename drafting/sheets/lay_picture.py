"""The lay as a picture: the cloth to scale, every piece on it, and the chalk marks if wanted.

Written as plain strings, as the preview is. Classes: `cloth`, `selvedge`, `piece` (with `turned`),
`label`, `dim`, `mark`.
"""

from collections.abc import Sequence

from ..cloth.chalk import ChalkPiece, ChalkPlan, Mark
from ..cloth.cloth import Cloth
from ..lay.layout import Layout, Placement
from ..words.units import Unit, format_length
from .text import clean, escaped, text_width

LETTERS = 1 / 30
"""Text size over the cloth's width."""


def lay_svg(
    layout: Layout, cloth: Cloth, *, unit: Unit = "cm", plan: ChalkPlan | None = None,
    standalone: bool = False,
) -> str:
    """The lay, x across the cloth from its left selvedge, y along it from the cut end.

    `plan` adds its marks with their letters, and its pieces' numbers. `standalone` gives the SVG its
    own colours and a size in mm, for a file; without, the page's style decides.
    """
    edge = cloth.selvedge
    width, length = cloth.laid_width, layout.length
    size = max(width, length / 3) * LETTERS
    margin, head = size * 0.6, size * 1.8
    parts = [
        _rect("cloth", margin, head, width, length),
        *(_rect("selvedge", x, head, edge, length) for x in _selvedges(cloth, margin)),
        *(_piece(p, margin + edge, head, size, title) for p, title in _titled(layout, plan)),
        _text("dim", margin + width / 2, head - size * 0.5,
              f"{format_length(width, unit)} {_wide(cloth)} × {format_length(length, unit)} long", size),
    ]
    if cloth.folded:
        x = margin + width
        parts.append(f'<path class="fold" d="M{x:.1f} {head:.1f}v{length:.1f}" '
                     f'stroke-width="{size / 5:.1f}"/>')
    if plan:
        parts += _marks(plan, margin, head, size)
    total_width, total_height = width + 2 * margin, length + head + margin
    title = f"Lay: {len(layout.placements)} pieces on {format_length(width, unit)} cloth"
    style = (
        f' width="{total_width:.1f}mm" height="{total_height:.1f}mm" fill="white" stroke="black"'
        if standalone else ' fill="none" stroke="currentColor"'
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="lay" role="img" viewBox="0 0 '
        f'{total_width:.0f} {total_height:.0f}"{style} stroke-width="{size / 14:.1f}" '
        f'font-size="{size:.1f}" font-family="sans-serif" text-anchor="middle">'
        f"<title>{escaped(title)}</title>{''.join(parts)}</svg>"
    )


def _wide(cloth: Cloth) -> str:
    return "to the fold, at the right," if cloth.folded else "wide"


def _selvedges(cloth: Cloth, left: float) -> list[float]:
    if not cloth.selvedge:
        return []
    return [left, *([] if cloth.folded else [left + cloth.laid_width - cloth.selvedge])]


def close_up_svg(piece: ChalkPiece, outline: Sequence[tuple[float, float]]) -> str:
    """One piece of the plan alone, large, with its marks' letters: what to look at while chalking it.

    `outline` is its cutting line in the plan's coordinates. Colours are the page's.
    """
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    across, along = max(xs) - min(xs), max(ys) - min(ys)
    size = max(across / 18, along / 24)
    left, top = 1.5 * size - min(xs), 1.5 * size - min(ys)
    path = "M" + "L".join(f"{left + x:.1f} {top + y:.1f}" for x, y in outline) + "Z"
    middle = _middle(outline)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="close-up" role="img" viewBox="0 0 '
        f'{across + 3 * size:.0f} {along + 3 * size:.0f}" fill="none" stroke="currentColor" '
        f'stroke-width="{size / 10:.1f}" font-family="sans-serif" text-anchor="middle">'
        f"<title>{escaped(clean(piece.title))} with its marks</title>"
        f'<path class="piece" d="{path}"/>'
        + "".join(_mark(m, middle, left, top, size, -0.85) for m in piece.marks) + "</svg>"
    )


def _titled(layout: Layout, plan: ChalkPlan | None) -> list[tuple[Placement, str]]:
    """Every placement with its name, or with its number and title in the plan, which goes down the
    cloth as chalk.chalk_plan does."""
    if not plan:
        return [(placement, placement.piece) for placement in layout.placements]
    down = sorted(layout.placements, key=lambda p: (min(y for _, y in p.outline),
                                                    min(x for x, _ in p.outline)))
    return [(placement, f"{number}. {piece.title}")
            for number, (placement, piece) in enumerate(zip(down, plan.pieces, strict=True), 1)]


def _rect(name: str, x: float, y: float, width: float, height: float) -> str:
    return (f'<rect class="{name}" x="{x:.1f}" y="{y:.1f}" width="{width:.1f}" '
            f'height="{height:.1f}"/>')


def _text(name: str, x: float, y: float, text: str, size: float, turn: bool = False) -> str:
    rotate = f' transform="rotate(90 {x:.1f} {y:.1f})"' if turn else ""
    return (f'<text class="{name}" x="{x:.1f}" y="{y:.1f}" font-size="{size:.1f}"{rotate} '
            f'fill="currentColor" stroke="none">{escaped(clean(text))}</text>')


def _piece(placement: Placement, left: float, top: float, size: float, text: str) -> str:
    points = [(left + x, top + y) for x, y in placement.outline]
    path = "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points) + "Z"
    turned = " turned" if placement.rotation % 360 else ""
    cx, cy = _middle(points)
    xs, ys = [x for x, _ in points], [y for _, y in points]
    across, along = max(xs) - min(xs), max(ys) - min(ys)
    upright = along > across
    room = 0.85 * (along if upright else across)
    if room / text_width(text, 1.0) < 0.6 * size:
        text = text.split(". ")[0]
    small = min(size, room / max(text_width(text, 1.0), 1e-6), 0.8 * min(across, along))
    letters = max(small, size * 0.3)
    down = (0.0, 0.35 * letters) if not upright else (-0.35 * letters, 0.0)
    return (f'<path class="piece{turned}" d="{path}"/>'
            + _text("label", cx + down[0], cy + down[1], text, letters, upright))


def _middle(points: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """The centroid. source: plane geometry (first moments of a polygon)."""
    area = x = y = 0.0
    for (x0, y0), (x1, y1) in zip(points, [*points[1:], points[0]], strict=True):
        cross = x0 * y1 - x1 * y0
        area += cross
        x += (x0 + x1) * cross
        y += (y0 + y1) * cross
    return x / (3 * area), y / (3 * area)


def _marks(plan: ChalkPlan, left: float, top: float, size: float) -> list[str]:
    found = []
    for piece in plan.pieces:
        middle = (sum(m.x for m in piece.marks) / len(piece.marks),
                  sum(m.y for m in piece.marks) / len(piece.marks))
        found += [_mark(mark, middle, left, top, size * 0.7, 1.4) for mark in piece.marks]
    return found


def _mark(
    mark: Mark, middle: tuple[float, float], left: float, top: float, size: float, inward: float
) -> str:
    """A ring and its letter, the letter `inward` sizes towards the middle (away from it if negative)."""
    x, y = left + mark.x, top + mark.y
    dx, dy = middle[0] - mark.x, middle[1] - mark.y
    step = inward * size / max((dx * dx + dy * dy) ** 0.5, 1e-6)
    return (f'<circle class="mark" cx="{x:.1f}" cy="{y:.1f}" r="{size / 4:.1f}"/>'
            + _text("mark", x + dx * step, y + dy * step + size * 0.35, mark.label, size))
