"""Where the words go on a piece: lengths along its edges, names by its lines, a title.

Words stand upright or read from the left or right, never upside down; they never overlap one another.
A length goes inside the sewing line where there is room, else outside the cutting line.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import atan2, degrees
from typing import Literal

from ..geometry import Path, Point, bounds
from ..geometry.polygon import Side, nearest, sides
from ..words.units import Unit, format_length
from .boxes import Box, BoxGround
from .drawing import Drawn, Tick, cut_line
from .text import clean, text_width

Kind = Literal["title", "count", "dim", "mark"]

LINE_HEIGHT = 1.25
"""Height of a line of text over its size: what a browser's box round a text takes up."""

BASELINE = 0.35
"""How far below the middle of its box a text's baseline lies, over its size."""

COARSE = 1.0
"""mm that the outlines which keep words apart may stray from the true ones."""

ALONG = (0.5, 0.36, 0.64, 0.24, 0.76, 0.12, 0.88)
ENDS = (0.06, 0.94, 0.09, 0.91, 0.15, 0.85, 0.18, 0.82, 0.3, 0.7, 0.42, 0.58)
"""Parts of a line's length at which words on it are tried; the second where little of it is printed."""


@dataclass(frozen=True, slots=True)
class Label:
    """One line of text, its middle at x, y, turned by `angle` degrees clockwise; `size` in mm."""

    kind: Kind
    text: str
    x: float
    y: float
    angle: float
    size: float


Lines = tuple[tuple[Kind, str, float], ...]
"""Lines of text set under each other: kind, text, size."""


class Labels:
    """Collects the labels of one piece; each method adds what it finds room for."""

    def __init__(
        self, drawn: Drawn, unit: Unit, *, within: Sequence[Point] = (),
        said: Mapping[str, str] | None = None, shown: Callable[[Box], bool] = lambda box: True,
    ) -> None:
        """Words go `within` a polygon, that of the sewing lines where none is given, and only where they are
        `shown`; `said` is what to say of an edge instead of its name and length."""
        self.drawn = drawn
        self.unit = unit
        self.found: list[Label] = []
        self.outside: list[Box] = []
        self._said = said or {}
        self._parts = ALONG if not within else (*ALONG, *ENDS)
        sewing = within or [p for _, path in drawn.sewing for p in path.points(COARSE)[:-1]]
        lines = [_side(*drawn.grain)]
        for mark in drawn.marks:
            points = mark.path.points(COARSE)
            lines.extend(_side(a, b) for a, b in zip(points, points[1:], strict=False))
        lines.extend(_side(tick.start, tick.end) for tick in drawn.ticks)
        self._ground = BoxGround(sewing, drawn.cutting, lines, shown)

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Of the cutting line and every label: left, top, right, bottom."""
        left, top, right, bottom = bounds(self.drawn.cutting)
        for box in self._ground.boxes:
            x0, y0, x1, y1 = box.bounds
            left, top, right, bottom = min(left, x0), min(top, y0), max(right, x1), max(bottom, y1)
        return left, top, right, bottom

    def lengths(self, size: float, *, names: bool, once: bool = False) -> None:
        """The length of every edge, and its name too where `names`.

        With `once`, a length already on the piece is not said again outside it.
        """
        said = set()
        for name, path in self.drawn.sewing:
            length = format_length(path.length, self.unit)
            text = self._said.get(name) or (f"{name} · {length}" if names else length)
            spots = self._along(path, text, size)
            placed = self._place("dim", text, spots, size)
            if not placed and not (once and length in said):
                spots = self._beyond(name, path, text, size)
                placed = self._place("dim", text, spots, size, out=True)
            if placed:
                said.add(length)

    def marks(self, size: float, *, names: bool) -> None:
        """The lines inside the piece: name and length of a level, slit or hole; else the name.

        Without `names`, lengths alone, bare of their unit where that makes them fit. A level that
        is an edge has been labelled as one.
        """
        edges = {(path.start, path.end) for _, path in self.drawn.sewing}
        for mark in self.drawn.marks:
            if mark.kind == "cutting" or (mark.path.start, mark.path.end) in edges:
                continue
            length = format_length(mark.path.length, self.unit)
            texts: tuple[str, ...] = (mark.name,) if names else ()
            if mark.kind in ("level", "slit", "sewing"):
                bare = length.removesuffix(f" {self.unit}")
                texts = (f"{mark.name} · {length}",) if names else (length, bare)
            both = (mark.path, mark.path.reversed())
            for text in texts:
                spots = (spot for way in both for spot in self._along(way, text, size))
                if self._place("mark", text, spots, size):
                    break

    def notches(self, size: float) -> None:
        for tick in self.drawn.ticks:
            if tick.label:
                self._place("mark", tick.label, _inward(tick, tick.label, size), size)

    def room_for(self, box: Box) -> bool:
        """Whether the box lies within the sewing lines, off every line and every word."""
        return self._ground.inside(box)

    def name_again(self, middles: Iterable[Point], text: str, size: float) -> None:
        """The piece's name once more, upright at the first of the places where there is room."""
        width, height = _size((("count", text, size),))
        boxes = (Box(p.x, p.y, 1, 0, width / 2, height / 2) for p in middles)
        self._place("count", text, boxes, size)

    def title(self, lines: Lines, middles: "Callable[[float, float], Iterator[Box]] | None" = None) -> None:
        """A few lines in the middle of the piece, or all in one line, or beside it if need be.

        A single line may do without the last of the words. `middles` offers boxes of that width and height,
        for the middle and for beside.
        """
        small = min(size for *_, size in lines)
        words = [text for _, text, _ in lines]
        one: Lines = (("title", " · ".join(words), small),)
        less: Lines = (("title", " · ".join(words[:-1]), small),)
        tries = (lines, False), (one, False), (less, False), (lines, True), (one, True)
        for tried, over_lines in tries:
            width, height = _size(tried)
            for spot in (middles or self._middles)(width, height):
                if self._ground.inside(spot, over_lines=over_lines):
                    return self._set(spot, tried)
        width, height = _size(lines)
        beside = [box for box in middles(width, height) if self._ground.outside(box)] if middles else []
        if beside:
            edge = sides(self.drawn.cutting)
            self.outside.append(min(beside, key=lambda box: nearest(edge, box.x, box.y)[0]))
            return self._set(self.outside[-1], lines)
        _, top, right, bottom = self.bounds
        x = right + small / 2 + width / 2
        self.outside.append(Box(x, (top + bottom) / 2, 1, 0, width / 2, height / 2))
        return self._set(self.outside[-1], lines)

    def caption(self, lines: Lines) -> None:
        """A few lines under the piece."""
        width, height = _size(lines)
        left, _, right, _ = bounds(self.drawn.cutting)
        y = self.bounds[3] + 0.3 * lines[0][2] + height / 2
        self._set(Box((left + right) / 2, y, 1, 0, width / 2, height / 2), lines)

    def _set(self, box: Box, lines: Lines) -> None:
        self._ground.take(box)
        angle = degrees(atan2(box.uy, box.ux))
        down = -box.half_height
        for kind, text, size in lines:
            off = down + size * LINE_HEIGHT / 2
            self.found.append(
                Label(kind, text, box.x - box.uy * off, box.y + box.ux * off, angle, size)
            )
            down += size * LINE_HEIGHT

    def _place(
        self, kind: Kind, text: str, spots: Iterable[Box], size: float, *, out: bool = False
    ) -> bool:
        fits = self._ground.outside if out else self._ground.inside
        for box in spots:
            if fits(box):
                self._ground.take(box)
                if out:
                    self.outside.append(box)
                angle = degrees(atan2(box.uy, box.ux))
                self.found.append(Label(kind, text, box.x, box.y, angle, size))
                return True
        return False

    def _along(self, path: Path, text: str, size: float) -> Iterator[Box]:
        """Boxes that follow the path on its inner side, the right as one walks it."""
        half_width, half_height = text_width(text, size) / 2, size * LINE_HEIGHT / 2
        length = path.length
        for part in self._parts:
            if 2 * half_width > 2 * min(part, 1 - part) * length:
                continue
            p, way = path.along(part * length)
            u = _upright(way)
            for depth in (0.3, 1.0):
                middle = p - way.outward * (half_height + depth * size)
                yield Box(middle.x, middle.y, u.x, u.y, half_width, half_height)

    def _beyond(self, name: str, path: Path, text: str, size: float) -> Iterator[Box]:
        """Boxes outside the cutting line, along a long edge, upright beside a short one."""
        half_width, half_height = text_width(text, size) / 2, size * LINE_HEIGHT / 2
        length = path.length
        allowance = self.drawn.piece.allowance(name)
        for part in ALONG:
            p, way = path.along(part * length)
            out = way.outward
            u = _upright(way) if length >= 2 * half_width else Point(1, 0)
            reach = abs(out.dot(u)) * half_width + abs(out.cross(u)) * half_height
            for more in (0.3, 1.0, 2.0):
                middle = p + out * (allowance + reach + more * size)
                yield Box(middle.x, middle.y, u.x, u.y, half_width, half_height)

    def _middles(self, width: float, height: float) -> Iterator[Box]:
        """Boxes beside the grain, upright, then along it."""
        left, top, right, bottom = bounds(self.drawn.cutting)
        a, b = self.drawn.grain
        middle = a.towards(b, 0.5)
        pad = min(2.0, height * 0.15)
        for u, across in ((Point(1, 0), width), (Point(0, -1), height)):
            for part in (0.45, 0.58, 0.7, 0.82, 0.32, 0.2, 0.1, 0.92):
                y = top + part * (bottom - top)
                for x in (middle.x + pad + across / 2, middle.x - pad - across / 2, middle.x):
                    yield Box(x, y, u.x, u.y, width / 2, height / 2)


TITLE, TEXT = 9.0, 5.0
"""mm: sizes of letters to be read from a chair or a knee above paper on the floor."""


def printed_labels(drawn: Drawn, garment: str, unit: Unit) -> Labels:
    """The labels of a piece at true size; `garment` says what it is a piece of."""
    labels = Labels(drawn, unit)
    labels.lengths(TEXT, names=True)
    labels.title((
        ("title", clean(drawn.piece.title), TITLE),
        ("count", cut_line(drawn.piece), TEXT),
        ("count", garment, TEXT),
    ))
    labels.marks(TEXT, names=True)
    labels.notches(TEXT)
    return labels


def _size(lines: Lines) -> tuple[float, float]:
    width = max(text_width(text, size, bold=kind == "title") for kind, text, size in lines)
    return width, sum(size * LINE_HEIGHT for *_, size in lines)


def _inward(tick: Tick, text: str, size: float) -> Iterator[Box]:
    half_width, half_height = text_width(text, size) / 2, size * LINE_HEIGHT / 2
    u = _upright(tick.inward)
    aside = tick.inward.outward
    for shift in (0.0, 0.8, -0.8, 1.6, -1.6):
        middle = tick.start + tick.inward * (half_width + size * 0.5) + aside * (shift * size)
        yield Box(middle.x, middle.y, u.x, u.y, half_width, half_height)


def _upright(way: Point) -> Point:
    """The direction, turned half round where text along it would stand on its head."""
    return -way if way.x < -1e-6 or (abs(way.x) <= 1e-6 and way.y > 0) else way


def _side(a: Point, b: Point) -> Side:
    return a.x, a.y, b.x, b.y
