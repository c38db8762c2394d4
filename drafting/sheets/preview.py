"""The pieces as the page shows them while one types: small, quick to make, and left to CSS to colour.

Written as plain strings, since the first pattern is drawn before any library is loaded.

Classes: `cut`, `sew`, `grain`, `notch`, `inner` (with `fold`, `slit`, `tuck` or `level`), `label` (a
piece's name; with `count`, how many to cut), `dim` (a length). Lines are drawn in the current colour
unless the page's style says otherwise; `vector-effect: non-scaling-stroke` there keeps them thin when
zoomed.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from ..geometry import Point, bounds
from ..geometry.pens import Pen, draw_line, path_data, polygon_data
from ..pattern import Pattern, Piece
from ..words.units import Unit
from .drawing import Drawn, cut_line, draw_grain, draw_piece, turn_of
from .labels import BASELINE, Label, Labels
from .layout import Cell, arranged, cell, row_widths, sewing_order, sewn_together, shelves
from .text import clean, escaped, text_width

PORTRAIT = 2 / 3
"""Width over height of the space that the rows are fitted to: a phone held upright, less its form."""

LETTERS = 1 / 34
"""Text size over the drawing's width: 10.6 px where it is 360 px wide."""

MOST_TRIES = 6
"""How often the text size is put right."""

TOWERING = 1.4
"""How many times as tall as all others a piece must be to stand beside their rows."""

BROKEN_CHAIN = 0.7
"""What a row break between two pieces sewn together counts against the larger scale it may give."""


@dataclass(frozen=True, slots=True)
class Preview:
    """What the preview shows: every piece's lines and labels with the shift to its place; words are
    `letters` high."""

    title: str
    width: float
    height: float
    letters: float
    pieces: tuple[tuple[Labels, float, float], ...]


def preview_svg(pattern: Pattern, *, unit: Unit = "cm") -> str:
    """The pattern as an SVG element; lengths in `unit`."""
    shown = preview(pattern, unit=unit)
    groups = [_group(labels, x, y, shown.letters) for labels, x, y in shown.pieces]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="pieces" role="img" viewBox="0 0 '
        f'{shown.width:.0f} {shown.height:.0f}" fill="none" '
        f'stroke="currentColor" stroke-width="{shown.letters / 14:.1f}" '
        f'font-size="{shown.letters:.1f}" text-anchor="middle">'
        f"<title>{escaped(shown.title)}</title>{''.join(groups)}</svg>"
    )


def preview(pattern: Pattern, *, unit: Unit = "cm") -> Preview:
    """The pieces arranged for a phone held upright; lengths in `unit`."""
    drawn = [_quiet(draw_piece(piece, turn_of(piece))) for piece in sewing_order(pattern)]
    rows, size = _rows(pattern, [_bare(d) for d in drawn])
    for tries in range(1, MOST_TRIES + 1):
        labelled = [_labelled(d, unit, size) for d in drawn]
        gap, margin = size * 0.6, size * 0.5
        arrangement = arranged([cell(labels) for labels in labelled], rows, gap, centred=True)
        wanted = LETTERS * (arrangement.width + 2 * margin)
        if size >= 0.9 * wanted or tries == MOST_TRIES:  # set larger, words would not be apart
            break
        # Words outside the pieces widened the drawing, which makes them smaller than they should be.
        size = wanted
    names = ", ".join(clean(d.piece.title) for d in drawn)
    return Preview(
        f"{clean(pattern.title, 80)}: {names}", arrangement.width + 2 * margin,
        arrangement.height + 2 * margin, size,
        tuple(
            (labels, margin + x - labels.bounds[0], margin + y - bounds(labels.drawn.cutting)[1])
            for labels, (x, y) in zip(labelled, arrangement.places, strict=True)
        ),
    )


def outlines_svg(pattern: Pattern) -> str:
    """The pieces' cutting lines alone as an SVG element, for a picture as small as a thumbnail."""
    shown = preview(pattern)
    lines = "".join(
        polygon_data([p + Point(x, y) for p in labels.drawn.cutting], 0) for labels, x, y in shown.pieces)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {shown.width:.0f} {shown.height:.0f}" '
        f'fill="none" stroke="currentColor" stroke-width="{shown.width / 60:.0f}" stroke-linejoin="round">'
        f'<path d="{lines}"/></svg>'
    )


def _quiet(drawn: Drawn) -> Drawn:
    """With a short grain line below the middle, which leaves room for lengths above."""
    a, b = drawn.grain
    if drawn.turn == 90:
        return drawn
    return replace(drawn, grain=(a.towards(b, 0.45), a.towards(b, 0.85)))


@dataclass(frozen=True, slots=True)
class _Bare:
    """A piece before any words are set: its name, its size in mm, and the lines of its caption."""

    name: str
    width: float
    height: float
    caption: tuple[str, ...]


def _bare(drawn: Drawn) -> _Bare:
    left, top, right, bottom = bounds(drawn.cutting)
    return _Bare(drawn.piece.name, right - left, bottom - top, _caption(drawn.piece))


def _rows(pattern: Pattern, pieces: list[_Bare]) -> tuple[list[list[int]], float]:
    """Which pieces share a row, and the text size: whatever gives the largest scale on a phone.

    A piece much taller than all others may stand in no row, but to the left of them all.
    """
    together = sewn_together(pattern)
    best: tuple[float, list[list[int]], float] | None = None
    for rows in _candidates(pieces):
        wide, tall, size = _extent(pieces, rows)
        worth = 1 / max(wide, tall * PORTRAIT)
        for above, below in zip(rows, rows[1:], strict=False):
            if (pieces[above[-1]].name, pieces[below[0]].name) in together:
                worth *= BROKEN_CHAIN
        if best is None or worth > best[0]:
            best = worth, rows, size
    assert best is not None, "a pattern has pieces"
    return best[1], best[2]


def _candidates(pieces: list[_Bare]) -> Iterator[list[list[int]]]:
    widths = [piece.width for piece in pieces]
    for most in row_widths(widths, 0.0):
        yield shelves(widths, most, 0.0)
    tallest = max(range(len(pieces)), key=lambda i: pieces[i].height)
    others = [i for i in range(len(pieces)) if i != tallest]
    next_tallest = max((pieces[i].height for i in others), default=float("inf"))
    if pieces[tallest].height > TOWERING * next_tallest:
        rest = [widths[i] for i in others]
        for most in row_widths(rest, 0.0):
            yield [[others[i] for i in row] for row in shelves(rest, most, 0.0)]


def _extent(pieces: list[_Bare], rows: list[list[int]]) -> tuple[float, float, float]:
    """About how wide and tall the rows become with their words, and the size of these."""
    size = LETTERS * arranged([Cell(p.width, 0.0, p.height) for p in pieces], rows, 0.0).width
    for _ in range(2):
        cells = [
            Cell(max(p.width, *(text_width(line, size, bold=True) for line in p.caption)) + size,
                 size, p.height + 1.3 * size * len(p.caption))
            for p in pieces
        ]
        found = arranged(cells, rows, 0.6 * size)
        size = found.width * LETTERS
    return found.width, found.height, size


def _caption(piece: Piece) -> tuple[str, ...]:
    several = piece.cut > 1 or piece.mirrored
    return (clean(piece.title), cut_line(piece)) if several else (clean(piece.title),)


def _labelled(drawn: Drawn, unit: Unit, size: float) -> Labels:
    labels = Labels(drawn, unit)
    labels.lengths(size, names=False, once=True)
    labels.marks(size, names=False)
    title, *count = _caption(drawn.piece)
    labels.caption((("title", title, size), *(("count", text, size) for text in count)))
    return labels


def _group(labels: Labels, x: float, y: float, size: float) -> str:
    drawn = labels.drawn
    parts = [
        *(f'<path class="{name}" d="{data}"/>' for name, data in lines_of(drawn, size)),
        *(_text(label) for label in labels.found),
    ]
    name = escaped(clean(drawn.piece.name))
    return f'<g data-piece="{name}" transform="translate({x:.1f} {y:.1f})">{"".join(parts)}</g>'


def lines_of(drawn: Drawn, size: float) -> Iterator[tuple[str, str]]:
    """Every line's class and path data; heads of the grain suit words `size` high."""

    def sewing(pen: Pen) -> None:
        for i, (_, path) in enumerate(drawn.sewing):
            path.draw(pen, move=i == 0)
        pen.close()

    def notches(pen: Pen) -> None:
        for tick in drawn.ticks:
            draw_line(pen, (tick.start, tick.end))

    yield "cut", polygon_data(drawn.cutting, 1)
    yield "sew", path_data(sewing, 1)
    for mark in drawn.marks:
        yield _LINES.get(mark.kind) or f"inner {mark.kind}", path_data(mark.path.draw, 1)
    yield "grain", path_data(lambda pen: draw_grain(pen, *drawn.grain, size * 0.4), 1)
    if drawn.ticks:
        yield "notch", path_data(notches, 1)


_LINES = {"cutting": "cut", "sewing": "sew"}
CLASSES = {"title": "label", "count": "label count", "dim": "dim", "mark": "dim"}
"""Of the kinds of label."""


def _text(label: Label) -> str:
    turned = f" rotate({label.angle:.1f})" if label.angle else ""
    return (
        f'<text class="{CLASSES[label.kind]}" fill="currentColor" stroke="none" '
        f'dy="{BASELINE}em" transform="translate({label.x:.1f} {label.y:.1f}){turned}">'
        f"{escaped(label.text)}</text>"
    )
