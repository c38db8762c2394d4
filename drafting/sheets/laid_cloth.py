"""A lay as it is drawn: the cloth to scale, every piece on it, and the chalk marks if wanted.

Lengths in mm, from the left and top of the drawing. A writer draws these things in this order, in whatever
way; it knows nothing of lays.
"""

from dataclasses import dataclass

from ..cloth.chalk import ChalkKind, ChalkPiece, ChalkPlan
from ..cloth.cloth import Cloth
from ..cloth.pieces_on_hand import PieceOnHand
from ..geometry import Bounds, Point, bounds
from ..geometry.pens import draw_line, path_data, polygon_data
from ..geometry.polygon import centroid, left_half, line_left_of
from ..lay.layout import Layout, Placement
from ..words.units import Unit, format_length
from .text import clean, text_width

LETTERS = 1 / 30
"""Text size over the cloth's width."""

READABLE = 0.85
"""Of that size: what no words on a piece are smaller than. A phone's 340 px across give them 10."""

SHOWN_BEYOND = 0.25
"""Of the lay's length: how much cloth left over is drawn."""


@dataclass(frozen=True, slots=True)
class LaidWords:
    """A line of text with the middle of its baseline at a point; `upright` text reads downwards."""

    text: str
    at: Point
    size: float
    upright: bool = False


@dataclass(frozen=True, slots=True)
class LaidLine:
    """A line inside a piece: a hole's is closed, each point once."""

    name: str
    kind: ChalkKind
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class LaidPiece:
    """A piece's cutting line where it lies, and the lines inside it; `turned` when its top is not towards
    the cut end."""

    title: str
    outline: tuple[Point, ...]
    turned: bool
    mirrored: bool
    label: LaidWords
    insides: tuple[LaidLine, ...] = ()


@dataclass(frozen=True, slots=True)
class LaidMark:
    """A ring about a chalk mark, and its letter."""

    at: Point
    radius: float
    letter: LaidWords


@dataclass(frozen=True)
class HandsEnd:
    """The end of the cloth on hand: `at` mm from the cut end, None where that is too far off to draw; whether
    the lay goes on beyond it; and that said."""

    at: float | None
    short: bool
    words: str


def hands_end(layout: Layout, cloth: Cloth, unit: Unit) -> HandsEnd | None:
    """None where nobody said how much there is."""
    hand = cloth.cut_length_on_hand()
    if hand is None:
        return None
    over = hand - layout.length
    near = over <= SHOWN_BEYOND * layout.length
    return HandsEnd(hand if near else None, over < -0.05, _on_hand_in_words(over, near, unit))


@dataclass(frozen=True)
class LaidCloth:
    """`letters` is the size of the words; `marks` are those of each piece, with its title. Of cloth on hand
    `end` is its end, where that is near, `wanting` what the lay takes beyond it, and `on_hand` says so. Of
    a piece of cloth `rings` are its outline and its holes; `cloth` is the box of a bolt."""

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
    end: tuple[Point, Point] | None = None
    wanting: Bounds | None = None
    on_hand: LaidWords | None = None
    rings: tuple[tuple[Point, ...], ...] = ()


def laid_cloth(
    layout: Layout, cloth: Cloth, *, unit: Unit, plan: ChalkPlan | None = None,
    piece: PieceOnHand | None = None, before: int = 0,
) -> LaidCloth:
    """The lay, x across the cloth from its left selvedge, y along it from the cut end.

    `plan` adds its marks with their letters, and its pieces' numbers, which go on from `before`. `piece` is
    the cloth, where that is no bolt.
    """
    width, length, edge = cloth.laid_width, layout.length, cloth.selvedge
    size = max(width, length / 3) * LETTERS
    margin, head = size * 0.6, size * 1.8
    hand = hands_end(layout, cloth, unit)
    end = hand.at if hand else None
    right, bottom = margin + width, head + max(length, end or 0.0)
    rims = [] if not edge else [margin] if cloth.folded else [margin, right - edge]
    wide = "to the fold, at the right," if cloth.folded else "wide"
    heading = f"{format_length(width, unit)} {wide} × {format_length(length, unit)} long"
    on_what = f"{format_length(width, unit)} cloth"
    if piece:
        heading = on_what = clean(piece.name)
    rings = (piece.outline, *piece.holes) if piece else ()
    return LaidCloth(
        title=f"Lay: {len(layout.placements)} pieces on {on_what}",
        width=width + 2 * margin,
        height=bottom + margin + (size * 1.2 if hand else 0.0),
        letters=size,
        cloth=(margin, head, right, bottom),
        selvedges=tuple((x, head, x + edge, bottom) for x in rims),
        fold=(Point(right, head), Point(right, bottom)) if cloth.folded else None,
        heading=_line_of_words(
            heading, Point(margin + width / 2, head - size * 0.5), size, width + 2 * margin),
        pieces=tuple(
            _piece(placement, title, Point(margin + edge, head), size,
                   laid_insides(chalked, Point(margin, head), width) if chalked else ())
            for placement, title, chalked in _titled(layout, plan, before)
        ),
        marks=tuple(_marks(plan, Point(margin, head), size)) if plan else (),
        rings=tuple(tuple(p + Point(margin, head) for p in ring) for ring in rings),
        end=None if end is None else (Point(margin, head + end), Point(right, head + end)),
        wanting=(margin, head + end, right, bottom) if hand and hand.short and end is not None else None,
        on_hand=_line_of_words(hand.words, Point(margin + width / 2, bottom + size * 1.2), size,
                               width + 2 * margin) if hand else None,
    )


def _line_of_words(text: str, at: Point, size: float, room: float) -> LaidWords:
    return LaidWords(text, at, min(size, room / text_width(text, 1.0)))


def _on_hand_in_words(over: float, near: bool, unit: Unit) -> str:
    if over < -0.05:
        return f"The cloth on hand ends {format_length(-over, unit)} too soon"
    if not near:
        return f"The cloth on hand goes on for {format_length(over, unit)}"
    return f"The cloth on hand ends here, {format_length(over, unit)} left over"


def _titled(
    layout: Layout, plan: ChalkPlan | None, before: int
) -> list[tuple[Placement, str, ChalkPiece | None]]:
    """Every placement with its name, or with its number and title in the plan."""
    if not plan:
        return [(placement, placement.piece, None) for placement in layout.placements]
    return [(layout.placements[piece.true.whose], f"{number}. {piece.title}", piece)
            for number, piece in enumerate(plan.pieces, before + 1)]


def laid_insides(piece: ChalkPiece, origin: Point, width: float) -> tuple[LaidLine, ...]:
    """What is cut and drawn inside it; of a half on the fold what lies left of that."""
    shown = (
        LaidLine(line.name, line.kind,
                 shown_points(piece, line.points, origin, width, closed=line.kind == "hole"))
        for line in piece.true.insides
    )
    return tuple(line for line in shown if len(line.points) > 1)


def inside_data(line: LaidLine, decimals: int = 3) -> str:
    """The line as an SVG path's data."""
    if line.kind == "hole":
        return polygon_data(line.points, decimals)
    return path_data(lambda pen: draw_line(pen, line.points), decimals)


def shown_points(
    piece: ChalkPiece, points: tuple[Point, ...], origin: Point, width: float, *, closed: bool = True
) -> tuple[Point, ...]:
    """Points of a piece as they lie on cloth `width` wide, moved by `origin`; of a half, its own side's."""
    if not piece.on_fold:
        return tuple(origin + p for p in points)
    left = left_half(points, width) or () if closed else line_left_of(points, width)
    return tuple(origin + p for p in (left or (points if max(p.x for p in points) <= width else ())))


def _piece(
    placement: Placement, title: str, origin: Point, size: float, insides: tuple[LaidLine, ...]
) -> LaidPiece:
    outline = tuple(origin + Point(*corner) for corner in placement.outline)
    left, top, right, bottom = bounds(outline)
    across, along = right - left, bottom - top
    upright = along > across
    room = 0.85 * max(along, across)
    text = title
    if room / text_width(text, 1.0) < READABLE * size:
        text = text.split(". ")[0]
    small = min(size, room / max(text_width(text, 1.0), 1e-6), 0.8 * min(across, along))
    letters = max(small, size * READABLE)
    down = Point(-0.35 * letters, 0.0) if upright else Point(0.0, 0.35 * letters)
    return LaidPiece(
        clean(title), outline, bool(placement.rotation % 360), placement.mirrored,
        LaidWords(clean(text), centroid(outline) + down, letters, upright),
        insides,
    )


def _marks(plan: ChalkPlan, origin: Point, size: float) -> list[tuple[str, tuple[LaidMark, ...]]]:
    found = []
    for piece in plan.pieces:
        middle = centroid(piece.true.outline)
        marks = tuple(laid_mark(letter, at, middle, origin, size * 0.7, 1.4) for letter, at in piece.rings)
        found.append((clean(piece.title), marks))
    return found


def laid_mark(
    letter: str, own: Point, middle: Point, origin: Point, size: float, inward: float
) -> LaidMark:
    """The letter stands `inward` sizes towards the middle (away from it if negative)."""
    way = middle - own
    at = origin + own + way * (inward * size / max(way.length, 1e-6))
    return LaidMark(origin + own, size / 4, LaidWords(clean(letter), at + Point(0, size * 0.35), size))
