"""A lay as it is drawn: the cloth to scale, every piece on it, and the chalk marks if wanted.

Lengths in mm, from the left and top of the drawing. A writer draws these things in this order, in whatever
way; it knows nothing of lays.
"""

from dataclasses import dataclass

from ..cloth.chalk import ChalkPlan, Mark, down_the_cloth
from ..cloth.cloth import Cloth
from ..geometry import Bounds, Point, bounds
from ..geometry.polygon import centroid
from ..lay.layout import Layout, Placement
from ..words.units import Unit, format_length
from .text import clean, text_width

LETTERS = 1 / 30
"""Text size over the cloth's width."""


@dataclass(frozen=True, slots=True)
class LaidWords:
    """A line of text with the middle of its baseline at a point; `upright` text reads downwards."""

    text: str
    at: Point
    size: float
    upright: bool = False


@dataclass(frozen=True, slots=True)
class LaidPiece:
    """A piece's cutting line where it lies; `turned` when its top is not towards the cut end."""

    title: str
    outline: tuple[Point, ...]
    turned: bool
    mirrored: bool
    label: LaidWords


@dataclass(frozen=True, slots=True)
class LaidMark:
    """A ring about a chalk mark, and its letter."""

    at: Point
    radius: float
    letter: LaidWords


@dataclass(frozen=True)
class LaidCloth:
    """`letters` is the size of the words; `marks` are those of each piece, with its title."""

    title: str
    width: float
    height: float
    letters: float
    cloth: Bounds
    selvedges: tuple[Bounds, ...]
    fold: tuple[Point, Point] | None
    heading: LaidWords
    pieces: tuple[LaidPiece, ...]
    marks: tuple[tuple[str, tuple[LaidMark, ...]], ...]


def laid_cloth(layout: Layout, cloth: Cloth, *, unit: Unit, plan: ChalkPlan | None = None) -> LaidCloth:
    """The lay, x across the cloth from its left selvedge, y along it from the cut end.

    `plan` adds its marks with their letters, and its pieces' numbers.
    """
    width, length, edge = cloth.laid_width, layout.length, cloth.selvedge
    size = max(width, length / 3) * LETTERS
    margin, head = size * 0.6, size * 1.8
    right, bottom = margin + width, head + length
    rims = [] if not edge else [margin] if cloth.folded else [margin, right - edge]
    wide = "to the fold, at the right," if cloth.folded else "wide"
    heading = f"{format_length(width, unit)} {wide} × {format_length(length, unit)} long"
    return LaidCloth(
        title=f"Lay: {len(layout.placements)} pieces on {format_length(width, unit)} cloth",
        width=width + 2 * margin,
        height=bottom + margin,
        letters=size,
        cloth=(margin, head, right, bottom),
        selvedges=tuple((x, head, x + edge, bottom) for x in rims),
        fold=(Point(right, head), Point(right, bottom)) if cloth.folded else None,
        heading=LaidWords(heading, Point(margin + width / 2, head - size * 0.5),
                          min(size, (width + 2 * margin) / text_width(heading, 1.0))),
        pieces=tuple(
            _piece(placement, title, Point(margin + edge, head), size)
            for placement, title in _titled(layout, plan)
        ),
        marks=tuple(_marks(plan, Point(margin, head), size)) if plan else (),
    )


def _titled(layout: Layout, plan: ChalkPlan | None) -> list[tuple[Placement, str]]:
    """Every placement with its name, or with its number and title in the plan."""
    if not plan:
        return [(placement, placement.piece) for placement in layout.placements]
    down = sorted(layout.placements, key=lambda placement: down_the_cloth(placement.outline))
    return [(placement, f"{number}. {piece.title}")
            for number, (placement, piece) in enumerate(zip(down, plan.pieces, strict=True), 1)]


def _piece(placement: Placement, title: str, origin: Point, size: float) -> LaidPiece:
    outline = tuple(origin + Point(*corner) for corner in placement.outline)
    left, top, right, bottom = bounds(outline)
    across, along = right - left, bottom - top
    upright = along > across
    room = 0.85 * max(along, across)
    text = title
    if room / text_width(text, 1.0) < 0.6 * size:
        text = text.split(". ")[0]
    small = min(size, room / max(text_width(text, 1.0), 1e-6), 0.8 * min(across, along))
    letters = max(small, size * 0.3)
    down = Point(-0.35 * letters, 0.0) if upright else Point(0.0, 0.35 * letters)
    return LaidPiece(
        clean(title), outline, bool(placement.rotation % 360), placement.mirrored,
        LaidWords(clean(text), centroid(outline) + down, letters, upright),
    )


def _marks(plan: ChalkPlan, origin: Point, size: float) -> list[tuple[str, tuple[LaidMark, ...]]]:
    found = []
    for piece in plan.pieces:
        marks = tuple(laid_mark(mark, piece.middle, origin, size * 0.7, 1.4) for mark in piece.marks)
        found.append((clean(piece.title), marks))
    return found


def laid_mark(mark: Mark, middle: Point, origin: Point, size: float, inward: float) -> LaidMark:
    """The letter stands `inward` sizes towards the middle (away from it if negative)."""
    own = Point(mark.x, mark.y)
    way = middle - own
    at = origin + own + way * (inward * size / max(way.length, 1e-6))
    letter = LaidWords(clean(mark.label), at + Point(0, size * 0.35), size)
    return LaidMark(origin + own, size / 4, letter)
