"""A picture for the page and for paper: lines, hatching and words, told apart without colour.

Units are those of a phone screen 360 wide; x to the right, y down. A picture is drawn through the pen
protocol of `geometry.pens`, so that a PDF can draw it too; `svg` writes it as text.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from html import escape
from math import ceil, cos, floor, pi, sin
from typing import Literal

from ..geometry import Pen, Point, bounds
from ..geometry.pens import SvgPen, draw_line, number
from ..geometry.polygon import crossings, sides
from ..words.units import Unit
from ..words.wording import spell

LineStyle = Literal["cloth", "outline", "seam", "stitch", "fold", "guide", "hatch", "arrow", "fill"]


@dataclass(frozen=True, slots=True)
class PictureStroke:
    """How a kind of line looks: width, dashes, and how dark (0 is the ink, 1 the paper)."""

    width: float
    dashes: tuple[float, ...] = ()
    gray: float = 0.0


STROKES: dict[LineStyle, PictureStroke] = {
    "cloth": PictureStroke(1.1),
    "outline": PictureStroke(2.2),
    "seam": PictureStroke(3.6),
    "stitch": PictureStroke(1.6, (4.0, 2.6)),
    "fold": PictureStroke(0.8, (7.0, 2.5, 1.2, 2.5)),
    "guide": PictureStroke(0.7, (2.0, 2.0), 0.35),
    "hatch": PictureStroke(0.6, (), 0.4),
    "arrow": PictureStroke(1.3),
    "fill": PictureStroke(0.5),
}

HATCH_STEP = 5.0
HATCH_ANGLE = pi / 4
TEXT = 12.0
"""Height of the words: read without glasses at 360 wide."""

HALO = 3.0

DECIMALS = 1
"""Of a coordinate: a tenth of a pixel at 360 wide."""


@dataclass(frozen=True, slots=True)
class PictureLine:
    """A polyline. A closed one of style `cloth` hides what lies beneath, one of `fill` is black."""

    points: tuple[Point, ...]
    style: LineStyle
    closed: bool = False

    def draw(self, pen: Pen) -> None:
        draw_line(pen, self.points, closed=self.closed)


@dataclass(frozen=True, slots=True)
class Caption:
    """One line of text; `at` is its baseline's start, middle or end, about which it is turned by
    `angle` degrees clockwise. Lengths in it are marks."""

    text: str
    at: Point
    size: float = TEXT
    anchor: Literal["start", "middle", "end"] = "middle"
    bold: bool = False
    angle: float = 0.0


Item = PictureLine | Caption


@dataclass(frozen=True)
class Picture:
    """Items in a space `width` by `height`; `title` says in words what is seen."""

    title: str
    width: float
    height: float
    items: tuple[Item, ...]

    def moved(self, dx: float, dy: float) -> tuple[Item, ...]:
        return tuple(_moved(item, dx, dy) for item in self.items)

    @property
    def is_empty(self) -> bool:
        return not self.items


def _moved(item: Item, dx: float, dy: float) -> Item:
    if isinstance(item, Caption):
        return replace(item, at=Point(item.at.x + dx, item.at.y + dy))
    return replace(item, points=tuple(Point(p.x + dx, p.y + dy) for p in item.points))


def beside(title: str, pictures: Sequence[Picture], gap: float = 14.0) -> Picture:
    """Pictures in a row, each in the middle of its height."""
    height = max(picture.height for picture in pictures)
    items: list[Item] = []
    x = 0.0
    for picture in pictures:
        items.extend(picture.moved(x, (height - picture.height) / 2))
        x += picture.width + gap
    return Picture(title, x - gap, height, tuple(items))


def below(title: str, pictures: Sequence[Picture], gap: float = 6.0) -> Picture:
    """Pictures one under another, from the left."""
    items: list[Item] = []
    y = 0.0
    for picture in pictures:
        items.extend(picture.moved(0.0, y))
        y += picture.height + gap
    return Picture(title, max(p.width for p in pictures), y - gap, tuple(items))


def hatched(
    polygon: Sequence[Point], step: float = HATCH_STEP, angle: float = HATCH_ANGLE
) -> list[PictureLine]:
    """Lines `step` apart that fill a closed polygon, rising to the right: the wrong side of cloth.

    source: scan-line filling by the even–odd rule.
    """
    along, across = Point(cos(angle), -sin(angle)), Point(sin(angle), cos(angle))
    levelled = [Point(p.dot(along), p.dot(across)) for p in polygon]
    _, top, _, bottom = bounds(levelled)
    around = sides(levelled)
    found = []
    for i in range(ceil(top / step), floor(bottom / step) + 1):
        level = i * step + 1e-6
        crossed = sorted(crossings(around, level))
        for a, b in zip(crossed[::2], crossed[1::2], strict=False):
            if b - a > 1.0:
                found.append(PictureLine((along * a + across * level, along * b + across * level), "hatch"))
    return found


def arrow(points: Sequence[Point], head: float = 6.0) -> list[PictureLine]:
    """A line with a barbed head at its last point."""
    tip, tail = points[-1], points[-2]
    if tip.distance(tail) < 1e-9:
        return []
    back = (tail - tip).unit() * head
    return [
        PictureLine(tuple(points), "arrow"),
        PictureLine((tip + back.turned(0.45), tip, tip + back.turned(-0.45)), "arrow"),
    ]


def bow(a: Point, b: Point, bulge: float, count: int = 8) -> list[Point]:
    """Points on a bow from a to b that stands `bulge` out to the left of the way. source: a parabola."""
    way = b - a
    if way.length < 1e-9:
        return [a, b]
    out = way.unit().outward * bulge
    return [a + way * (i / count) + out * (4 * (i / count) * (1 - i / count))
            for i in range(count + 1)]


def fitted(
    shapes: Iterable[Sequence[Point]], width: float, height: float, margin: float = 4.0
) -> tuple[Callable[[Point], Point], float, float, float]:
    """How to bring shapes in mm into a space: the mapping, its scale, and the size it really takes."""
    points = [p for shape in shapes for p in shape]
    left, top, right, bottom = bounds(points)
    wide, high = max(right - left, 1e-6), max(bottom - top, 1e-6)
    scale = min((width - 2 * margin) / wide, (height - 2 * margin) / high)

    def at(p: Point) -> Point:
        return Point(margin + (p.x - left) * scale, margin + (p.y - top) * scale)

    return at, scale, wide * scale + 2 * margin, high * scale + 2 * margin


def svg(picture: Picture, unit: Unit = "cm") -> str:
    """The picture as an SVG element in the current colour; lengths in `unit`.

    Classes: `words`, and the style of each line. Where cloth lies on cloth the upper one is filled
    with the variable --ground (white unless the page sets it).
    """
    body: list[str] = []
    run: list[PictureLine] = []
    for item in picture.items:
        if isinstance(item, PictureLine) and run and item.style == run[0].style and _may_run(item):
            run.append(item)
            continue
        body.extend(_svg_lines(run))
        run = []
        if isinstance(item, PictureLine):
            run = [item]
        else:
            body.append(_svg_words(item, unit))
    body.extend(_svg_lines(run))
    title = escape(spell(picture.title, unit))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="step-picture" role="img" '
        f'viewBox="0 0 {number(picture.width, DECIMALS)} {number(picture.height, DECIMALS)}" fill="none" '
        f'stroke="currentColor" stroke-linejoin="round"><title>{title}</title>{"".join(body)}</svg>'
    )


def _may_run(line: PictureLine) -> bool:
    """Whether lines of its kind may share one path: those that hide nothing."""
    return line.style not in ("cloth", "fill")


def _svg_lines(lines: Sequence[PictureLine]) -> Iterable[str]:
    if not lines:
        return
    style = lines[0].style
    pen = SvgPen(DECIMALS)
    for line in lines:
        line.draw(pen)
    stroke = STROKES[style]
    look = f' stroke-width="{stroke.width:g}"'
    if stroke.dashes:
        look += f' stroke-dasharray="{" ".join(f"{d:g}" for d in stroke.dashes)}"'
    if stroke.gray:
        look += f' stroke-opacity="{1 - stroke.gray:g}"'
    if style == "cloth" and lines[0].closed:
        look += ' fill="var(--ground, #fff)"'
    if style == "fill":
        look += ' fill="currentColor"'
    yield f'<path class="{style}"{look} d="{pen.shortest}"/>'


def _svg_words(words: Caption, unit: Unit) -> str:
    bold = ' font-weight="700"' if words.bold else ""
    if words.angle:
        x, y = number(words.at.x, DECIMALS), number(words.at.y, DECIMALS)
        bold += f' transform="rotate({number(words.angle, DECIMALS)} {x} {y})"'
    return (
        f'<text class="words" x="{number(words.at.x, DECIMALS)}" y="{number(words.at.y, DECIMALS)}" '
        f'font-size="{words.size:g}" text-anchor="{words.anchor}"{bold} fill="currentColor" '
        f'stroke="var(--ground, #fff)" stroke-width="{HALO:g}" paint-order="stroke">'
        f"{escape(spell(words.text, unit))}</text>"
    )
