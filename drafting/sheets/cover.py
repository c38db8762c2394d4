"""The words that make a printed pattern complete: how to check its scale, what was measured, what
it will measure, and what to mind. Laid out as one block, printed first or beside the pieces.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from ..body import label_of
from ..geometry import Point
from ..pattern import Pattern, Piece
from ..words.units import Unit, format_estimate, format_length
from ..words.wording import spell
from .drawing import STROKES, cut_line, draw_sample
from .ink import Ink, printed_width, wrapped
from .text import clean, set_width

SQUARE_MM = 100.0
SQUARE_INCHES = 4 * 25.4
TEXT = 3.0
HEADING = 3.6
LINE = 4.1
BETWEEN = 4.0
GUTTER = 6.0
"""mm."""

MAP_HEIGHT = 65.0
"""mm at most."""

CONTINUED = ", continued"


@dataclass(frozen=True)
class CoverWords:
    """A heading, a paragraph, a value set to the right of its name, or a line of the key."""

    text: str
    value: str = ""
    bold: bool = False
    sample: str = ""


@dataclass
class Column:
    """A space `width` mm wide that fills from `y` to `bottom`."""

    x: float
    y: float
    width: float
    bottom: float
    drawn: list[tuple[CoverWords, list[str], float, float]] = field(default_factory=list)

    def fill(self, items: Iterable[CoverWords]) -> list[CoverWords]:
        """Sets what there is room for, and gives back the rest, under its heading again.

        A heading stays with what follows it.
        """
        rest = list(items)
        heading = ""
        while rest:
            item = rest[0]
            lines = self._lines(item)
            above = 2.0 if item.bold and self.drawn else 0.0
            below = LINE if item.bold and len(rest) > 1 else 0.0
            height = above + len(lines) * LINE
            if self.y + height + below > self.bottom:
                break
            self.drawn.append((item, lines, self.y + above, self.x))
            self.y += height
            heading = item.text if item.bold else heading
            rest.pop(0)
        if rest and heading and not rest[0].bold:
            rest.insert(0, CoverWords(heading.removesuffix(CONTINUED) + CONTINUED, bold=True))
        return rest

    def has_room_for(self, items: Sequence[CoverWords]) -> bool:
        """Whether `fill` would set them all."""
        above = 2.0 * sum(item.bold for item in items)
        return self.y + above + LINE * sum(len(self._lines(item)) for item in items) <= self.bottom

    def _lines(self, item: CoverWords) -> list[str]:
        if item.value:
            room = self.width - set_width(item.value, TEXT) - 2
            if set_width(item.text, TEXT) <= room:
                return [item.text]
            return wrapped(f"{item.text}: {item.value}", TEXT, self.width, wide=set_width)
        width = self.width - (22 if item.sample else 0)
        return wrapped(item.text, HEADING if item.bold else TEXT, width, item.bold, set_width)

    def draw(self, ink: Ink, dx: float, dy: float) -> None:
        for item, lines, y, x in self.drawn:
            size = HEADING if item.bold else TEXT
            indent = 22 if item.sample else 0
            for i, line in enumerate(lines):
                ink.text(line, dx + x + indent, dy + y + (i + 0.75) * LINE, size, bold=item.bold)
            if item.value and lines == [item.text]:
                right = x + self.width - printed_width(item.value, TEXT)
                ink.text(item.value, dx + right, dy + y + 0.75 * LINE, TEXT)
            if item.sample:
                pen = ink.pen(item.sample)
                draw_sample(pen, item.sample, Point(dx + x, dy + y + 0.5 * LINE), 18)
                pen.stroke()


Filled = tuple[tuple[Column, ...], list[CoverWords]]
"""Columns, and the words that they do not hold."""


@dataclass(frozen=True)
class Cover:
    """`map_place` is left, top, width and height of the space kept for the map; None without one."""

    title: str
    whose: str
    columns: tuple[Column, ...]
    squares_top: float
    map_place: tuple[float, float, float, float] | None
    width: float
    height: float
    rest: tuple[CoverWords, ...]

    def draw(self, ink: Ink, x: float, y: float) -> None:
        """Everything but the map, with the block's left and top at x, y."""
        ink.text(self.title, x, y + 6, 7, bold=True)
        if self.whose:
            ink.text(self.whose, x, y + 12, 4)
        top = y + self.squares_top
        ink.rect(x, top, SQUARE_MM, SQUARE_MM, 0.2)
        ink.rect(x, top + SQUARE_MM + BETWEEN, SQUARE_INCHES, SQUARE_INCHES, 0.2)
        for column in self.columns:
            column.draw(ink, x, y)


def cover(
    pattern: Pattern,
    *,
    unit: Unit,
    whose: str,
    key: Sequence[str],
    joining: str,
    pieces: Sequence[CoverWords],
    map_shape: float,
    width: float,
    height: float,
) -> Cover:
    """A block `width` mm wide; `rest` is what its `height` mm does not hold.

    `key` lists the kinds of line used; `joining` says how the pages go together, if they must;
    `pieces` what is to be cut;
    `map_shape` is the map's height over its width, 0 for none.
    """
    top = 15.0
    squares = 2 * SQUARE_MM + BETWEEN + (SQUARE_INCHES - SQUARE_MM)
    second = top + SQUARE_MM + BETWEEN
    aside = SQUARE_INCHES + 5.0
    room = width - aside
    map_place = None
    y = top
    if map_shape:
        tall = min(MAP_HEIGHT, room * map_shape)
        map_place = (aside, top, min(room, tall / map_shape), tall)
        y += tall + 3
    below = top + squares + 3
    def filled(first: list[CoverWords], after: list[CoverWords]) -> Filled:
        """`first` in the first square, if there is room for all of it, `after` in the second."""
        in_mm = Column(4, top + 3, SQUARE_MM - 8, top + SQUARE_MM - 2)
        in_inches = Column(4, second + 3, SQUARE_INCHES - 8, second + SQUARE_INCHES - 2)
        beside = Column(aside, y, room, top + squares)
        rest = in_mm.fill(_finished(pattern, unit))
        rest += in_mm.fill(first) if in_mm.has_room_for(first) else first
        rest += in_inches.fill([*_measured(pattern, unit), *after])
        rest = beside.fill([*_joining(joining), *pieces, *rest])
        under, rest = _under([*_minding(pattern, unit), *rest], below, width, height)
        return (in_mm, in_inches, beside, *under), rest

    lines, seams = _key(key), _seams(pattern, unit)
    columns, rest = min(filled(lines, seams), filled(seams, lines), key=lambda tried: len(tried[1]))
    return Cover(
        title=clean(pattern.title),
        whose=whose,
        columns=columns,
        squares_top=top,
        map_place=map_place,
        width=width,
        height=max(*(column.y for column in columns[3:]), top + squares),
        rest=tuple(rest),
    )


def _under(
    words: Sequence[CoverWords], y: float, width: float, height: float
) -> Filled:
    """The space from `y` on filled, and what it does not hold: in one column if that holds all, else in two,
    where short lines take half the room."""
    whole = Column(0, y, width, height)
    rest = whole.fill(words)
    if not rest:
        return (whole,), []
    half = (width - GUTTER) / 2
    left, right = Column(0, y, half, height), Column(half + GUTTER, y, half, height)
    left_over = right.fill(left.fill(words))
    return ((left, right), left_over) if len(left_over) < len(rest) else ((whole,), rest)


def _finished(pattern: Pattern, unit: Unit) -> list[CoverWords]:
    return [
        CoverWords("Test square, 100 mm", bold=True),
        CoverWords("Measure this square before you cut. If a side is not 100 mm, print again at 100 % "
              "(“actual size”) with “fit to page” switched off; a pattern at a wrong scale makes a "
              "garment that does not fit."),
        CoverWords("The finished garment", bold=True),
        *(CoverWords(_name(name), format_length(mm, unit)) for name, mm in pattern.finished.items()),
    ]


def _measured(pattern: Pattern, unit: Unit) -> list[CoverWords]:
    found = [
        CoverWords("Test square, 4 inches", bold=True),
        CoverWords("For a ruler in inches: a side of this square must be 4 in."),
        CoverWords("Drafted for these measurements", bold=True),
    ]
    for name, mm in pattern.measurements.items():
        value = format_length(mm, unit)
        if name in pattern.estimated:
            off = format_length(pattern.estimated[name], unit)
            value = f"about {format_estimate(mm, unit)}, estimated ± {off}"
        found.append(CoverWords(_name(name), value))
    return found


def _joining(sentence: str) -> list[CoverWords]:
    return [CoverWords("Joining the pages", bold=True), CoverWords(sentence)] if sentence else []


def pieces_to_cut(pattern: Pattern) -> list[CoverWords]:
    """All of them, and how often."""
    found = [CoverWords("Pieces", bold=True)]
    for piece in pattern.pieces:
        found.append(CoverWords(f"{clean(piece.title)}: {how_often(piece)}"))
    return found


def how_often(piece: Piece) -> str:
    """How many to cut, and what they are called."""
    copies = f" ({', '.join(clean(copy) for copy in piece.copies)})" if piece.copies else ""
    return f"{cut_line(piece)}{copies}"


def _key(kinds: Sequence[str]) -> list[CoverWords]:
    lines = [CoverWords(STROKES[kind].meaning, sample=kind) for kind in kinds]
    return [CoverWords("Lines", bold=True), *lines]


def _seams(pattern: Pattern, unit: Unit) -> list[CoverWords]:
    """Each seam's length; two that differ only in left and right are one line."""
    lines: dict[tuple[str, str], list[str]] = {}
    for seam in pattern.seams:
        left_open = ""
        if seam.open_from_top:
            left_open = f", the first {format_length(seam.open_from_top, unit)} left open"
        length = format_length(pattern.side_length(seam.a), unit)
        name = clean(seam.name, 100) + left_open
        lines.setdefault((name.replace("right ", "left "), length), []).append(name)
    found = [CoverWords("Seams", bold=True)] if lines else []
    for (name, length), names in lines.items():
        both = len(names) == 2 and names[0] != names[1]
        found.extend(CoverWords(text, length) for text in (
            [f"{name.replace('left ', '')}, left and right"] if both else names
        ))
    return found


def _minding(pattern: Pattern, unit: Unit) -> list[CoverWords]:
    found = []
    for heading, sentences in (("Mind", pattern.cautions), ("Notes", pattern.notes)):
        if sentences:
            found.append(CoverWords(heading, bold=True))
            found.extend(CoverWords("– " + clean(spell(s, unit), 1000)) for s in sentences)
    return found


def _name(name: str) -> str:
    label = label_of(name)
    return label[:1].upper() + label[1:]
