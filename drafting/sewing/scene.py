"""A scene: pieces laid out with what is done to them, in mm of cloth, made into a picture at the end.

Where little is done on large pieces, the picture shows only the part around it, in a dotted frame.
"""

from collections.abc import Iterable, Sequence
from math import cos, pi, sin

from ..geometry import Path, Point, bounds
from ..geometry.clipping import Rect, clipped_lines, clipped_polygon
from ..geometry.polygon import crossings, sides, simplified
from ..pattern import Seam, SeamEdge
from .graph import Copy, copy_of, opening_of, parts_of
from .picture import (
    TEXT,
    Caption,
    Item,
    LineStyle,
    Picture,
    PictureLine,
    arrow,
    below,
    beside,
    bow,
    fitted,
    hatched,
)
from .placing import COARSE, Shapes, Table

WIDTH, HEIGHT = 330.0, 150.0
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"

CLOSE_UP = 0.3
"""A picture closes in when what it is about takes less than this part of the pieces' extent."""

AROUND = 0.35
"""How much more than that is shown on each side."""

SMALL = 0.12
"""Pieces under this part of the largest one's area are shown whole in a close-up."""


class Scene:
    """Gathers lines, spots and bows over the copies laid out along their seams."""

    def __init__(
        self,
        shapes: Shapes,
        copies: Sequence[Copy],
        seams: Iterable[Seam] = (),
        *,
        wrong_side: bool = False,
        lying: bool = False,
    ) -> None:
        """`wrong_side` shows all from the inside; `lying` turns a long scene on its side."""
        chosen = set(copies)
        within = [s for s in seams if {copy_of(p) for p in parts_of(s)} <= chosen]
        self.shapes = shapes
        self.table = Table(shapes, copies, within)
        self.wrong_side = wrong_side
        self.hatched = set(copies) if wrong_side else set()
        self.lines: list[tuple[tuple[Point, ...], LineStyle]] = []
        self.spots: list[Point] = []
        self.bows: list[tuple[Point, Point]] = []
        left, top, right, bottom = bounds(
            [p for placed in self.table.placed.values() for p in placed.polygon])
        self._sideways = lying and bottom - top > right - left

    def mark(self, part: SeamEdge) -> None:
        """Draws an edge or a line inside a piece as what is sewn."""
        self.lines.append((self.table.line(part), "seam"))

    def guide(self, copy: Copy, path: Path) -> None:
        self.lines.append((self.table.inner(copy, path), "stitch"))

    def hatch(self, copy: Copy) -> None:
        """Shows the copy's wrong side."""
        self.hatched.add(copy)

    def spot(self, part: SeamEdge, distance: float) -> None:
        """A dot so many mm from the edge's start on the piece as drafted."""
        self.spots.append(Path.through(*self._as_drafted(part)).point_along(distance))

    def opened(self, seam: Seam) -> None:
        """Marks the part of a seam that stays open, from its start on side a, its end on side b."""
        for _, path in self._from_start(seam):
            if opening_of(seam) < path.length - COARSE:
                path = path.cut_at(opening_of(seam))[0]
            self.lines.append((tuple(path.points(COARSE)), "seam"))

    def sewn(self, seam: Seam, *, tied: bool = True) -> None:
        """Marks a seam's edges but what stays open; a bow ties those that lie apart."""
        opened = dict(self._from_start(seam)) if opening_of(seam) else {}
        for part in dict.fromkeys(parts_of(seam)):
            path = opened.get(part)
            if path is None:
                self.mark(part)
            elif opening_of(seam) < path.length - COARSE:
                closed = path.cut_at(opening_of(seam))[1]
                self.lines.append((tuple(closed.points(COARSE)), "seam"))
        if tied:
            ends = [_middle(self.table.line(side[0])) for side in (seam.b, seam.a)]
            self.bows.append((ends[0], ends[1]))

    def _as_drafted(self, part: SeamEdge) -> tuple[Point, ...]:
        """The edge where it lies, from the end where it starts on the piece as drafted."""
        line = self.table.line(part)
        turned = self.shapes.is_turned(copy_of(part)) and not self.shapes.graph.inner_kind(part)
        return line[::-1] if turned else line

    def _from_start(self, seam: Seam) -> Iterable[tuple[SeamEdge, Path]]:
        for part, turn in ((seam.a[0], False), (seam.b[0], True)):
            line = self._as_drafted(part)
            yield part, Path.through(*(line[::-1] if turn else line))

    def picture(self, title: str, *, inset: Picture | None = None, note: str = "") -> Picture:
        shown = _Shown(self, WIDTH - (inset.width + 14 if inset else 0))
        main = Picture(title, shown.width, shown.height, tuple(shown.items))
        both = beside(title, [main, inset]) if inset else main
        legend = shown.names + ["hatched: wrong side"] * bool(self.hatched) + [note] * bool(note)
        return below(title, [both, _legend(legend, max(both.width, WIDTH))])

    def seen(self, points: Iterable[Point]) -> list[Point]:
        """From the inside left and right change places; a lying scene is turned."""
        found = [Point(-p.x, p.y) for p in points] if self.wrong_side else list(points)
        return [Point(p.y, -p.x) for p in found] if self._sideways else found

    def window(self) -> Rect | None:
        """The part to close in on; None when all is shown."""
        polygons = [self.seen(placed.polygon) for placed in self.table.placed.values()]
        whole = bounds([p for polygon in polygons for p in polygon])
        areas = {copy: self.shapes.graph.area(copy) for copy in self.table.placed}
        focus = [p for line, _ in self.lines for p in self.seen(line)]
        focus += [p for copy, placed in self.table.placed.items()
                  if areas[copy] < SMALL * max(areas.values()) for p in self.seen(placed.polygon)]
        if not focus or self.spots:
            return None
        left, top, right, bottom = bounds(focus)
        size, full = max(right - left, bottom - top), max(whole[2] - whole[0], whole[3] - whole[1])
        if size >= CLOSE_UP * full * (1 + 2 * AROUND):
            return None
        more = AROUND * size
        return (max(left - more, whole[0]), max(top - more, whole[1]),
                min(right + more, whole[2]), min(bottom + more, whole[3]))


class _Shown:
    """A scene at its picture's scale."""

    def __init__(self, scene: Scene, room: float) -> None:
        self.scene = scene
        self.items: list[Item] = []
        self.names: list[str] = []
        polygons = {copy: scene.seen(placed.polygon) for copy, placed in scene.table.placed.items()}
        self.window = scene.window()
        shapes = [_corners(self.window)] if self.window else list(polygons.values())
        self.at, self.scale, self.width, self.height = fitted(shapes, room, HEIGHT)
        for copy, polygon in polygons.items():
            self._cloth(copy, polygon)
        for line, style in scene.lines:
            self._line(line, style)
        self._bows()
        for spot in scene.spots:
            middle = self.at(scene.seen([spot])[0])
            self.items.append(PictureLine(_ring(middle, 4.0), "fill", closed=True))
        if self.window:
            frame = tuple(self.at(p) for p in _corners(self.window))
            self.items.append(PictureLine(frame, "guide", closed=True))
        self._letters(polygons)

    def _cloth(self, copy: Copy, polygon: list[Point]) -> None:
        scene = self.scene
        inside = [self.at(p) for p in self._within(polygon)]
        if not inside:
            return
        if self.window:
            self._line((*scene.table.placed[copy].polygon, scene.table.placed[copy].polygon[0]), "cloth")
        else:
            self.items.append(PictureLine(simplified([*inside, inside[0]])[:-1], "cloth", closed=True))
        if copy in scene.hatched:
            self.items.extend(hatched(simplified([*inside, inside[0]])[:-1]))
        for inner in scene.shapes.pattern.piece(copy[0]).inner_lines:
            if inner.kind not in ("level", "tuck"):
                style: LineStyle = "fold" if inner.kind == "fold" else "cloth"
                self._line(scene.table.inner(copy, inner.path), style)

    def _within(self, polygon: Sequence[Point]) -> Sequence[Point]:
        return clipped_polygon(polygon, self.window) if self.window else polygon

    def _line(self, line: Sequence[Point], style: LineStyle) -> None:
        points = self.scene.seen(line)
        for part in clipped_lines(points, self.window) if self.window else [points]:
            shown = simplified([self.at(p) for p in part])
            if len(shown) > 1:
                self.items.append(PictureLine(shown, style))

    def _bows(self) -> None:
        gap = self.scene.table.gap * self.scale
        for a, b in self.scene.bows:
            start, end = (self.at(p) for p in self.scene.seen((a, b)))
            if start.distance(end) > 2.5 * gap + 2:
                self.items.extend(arrow(bow(start, end, min(24.0, start.distance(end) / 5))))

    def _letters(self, polygons: dict[Copy, list[Point]]) -> None:
        for letter, (copy, polygon) in zip(LETTERS, polygons.items(), strict=False):
            inside = self._within(polygon)
            if not inside:
                continue
            p = self.at(_well_within(inside))
            self.items.append(Caption(letter, Point(p.x, p.y + TEXT * 0.36), TEXT, bold=True))
            piece = self.scene.shapes.pattern.piece(copy[0])
            self.names.append(f"{letter} {piece.copy_name(copy[1])}")


def _corners(rect: Rect) -> list[Point]:
    left, top, right, bottom = rect
    return [Point(left, top), Point(right, top), Point(right, bottom), Point(left, bottom)]


def _middle(line: Sequence[Point]) -> Point:
    path = Path.through(*line)
    return path.point_along(path.length / 2)


def _ring(p: Point, radius: float) -> tuple[Point, ...]:
    return tuple(p + Point(radius * cos(i * pi / 4), radius * sin(i * pi / 4)) for i in range(8))


def _well_within(polygon: Sequence[Point]) -> Point:
    """The middle of the widest stretch of a level line across the polygon, near half its height."""
    left, top, right, bottom = bounds(polygon)
    best, where = -1.0, Point((left + right) / 2, (top + bottom) / 2)
    for part in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8):
        y = top + part * (bottom - top) + 1e-6
        crossed = sorted(crossings(sides(polygon), y))
        for x0, x1 in zip(crossed[::2], crossed[1::2], strict=False):
            width = (x1 - x0) * (1.0 if part == 0.5 else 0.8)
            if width > best:
                best, where = width, Point((x0 + x1) / 2, y)
    return where


def _legend(parts: Sequence[str], width: float, size: float = 11.0) -> Picture:
    """The parts in lines no wider than the picture; broken between parts only where it can be."""
    lines: list[str] = []
    most = int(width / (size * 0.56))
    for part in parts:
        if lines and len(lines[-1]) + 3 + len(part) <= most:
            lines[-1] += f" · {part}"
        else:
            lines.append(part)
    items = tuple(Caption(line, Point(2, (i + 0.8) * size * 1.3), size, "start")
                  for i, line in enumerate(lines))
    return Picture("", width, len(lines) * size * 1.3 + 3, items)


def right_sides_together(shapes: Shapes, large: SeamEdge, small: SeamEdge, seam: Seam) -> Picture | None:
    """The smaller piece turned over on to the larger, its seam line on the other's."""
    table = Table(shapes, (copy_of(large), copy_of(small)), (seam,))
    line, near = table.line(large), table.line(small)
    a, b = line[0], line[-1]
    if a.distance(b) < 1.0:
        return None
    along = (b - a).unit()
    shift = a.towards(b, 0.5) - near[0].towards(near[-1], 0.5)

    def turned_over(p: Point) -> Point:
        off = p + shift - a
        return a + along * (2 * off.dot(along)) - off

    ground = table.placed[copy_of(large)].polygon
    over = [turned_over(p) for p in table.placed[copy_of(small)].polygon]
    return _laid(ground, over, line)


def facing_on(shapes: Shapes, ground: SeamEdge, facing: SeamEdge, seam: Seam) -> Picture | None:
    """A facing laid on the hole or slit that it faces; None where that is no line inside a piece."""
    if not (shapes.graph.inner_kind(ground) and shapes.graph.inner_kind(facing)):
        return None
    under, over = shapes.path(ground), shapes.path(facing)
    shift = under.start - over.start
    polygon = [p + shift for p in shapes.polygon(copy_of(facing))]
    body = shapes.polygon(copy_of(ground))
    left, top, right, bottom = bounds(polygon)
    room = 0.3 * (bottom - top)
    window = (left - room, top - room, right + room, bottom + room)
    lines = [shapes.path(part).points(COARSE) for part in dict.fromkeys(seam.b + seam.a)
             if part.piece == ground.piece]
    return _laid(clipped_polygon(body, window), polygon, *lines)


def _laid(ground: Sequence[Point], over: Sequence[Point], *lines: Sequence[Point]) -> Picture:
    at, _, width, height = fitted([ground, over], 104.0, HEIGHT - 16)
    upper = simplified([at(p) for p in (*over, over[0])])[:-1]
    items: list[Item] = [
        PictureLine(simplified([at(p) for p in (*ground, ground[0])])[:-1], "cloth", closed=True),
        PictureLine(upper, "cloth", closed=True),
        *hatched(upper),
        *(PictureLine(simplified([at(p) for p in line]), "stitch") for line in lines),
        Caption("right sides together", Point(max(width, 96.0) / 2, height + 11), 9.0),
    ]
    return Picture("", max(width, 96.0), height + 16, tuple(items))
