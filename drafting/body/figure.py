"""A measure as a small drawing: a figure in outline with the tape as a line on it.

The figures are 170 units high, about a centimetre each, in the proportions of ANSUR II's mean adult
(source: Gordon et al. 2014, NATICK/TR-15/007); x to the viewer's right, y down, the crown at 5 and
the floor at 175. A drawing shows the part of the figure that the tape needs and is legible at 72
pixels; its strokes are `currentColor`.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from html import escape
from math import atan2, degrees
from typing import Protocol

from drafting.body.measures import Measure, View
from drafting.geometry import Point, bounds
from drafting.geometry.pens import Pen, SvgPen, draw_line, number

Spot = tuple[float, float]

_SMALLEST_BOX = 62.0
_MARGIN = 14.0
_WHOLE = (-98.0, 0.0, 180.0)
_FEET = -14.0
_DECIMALS = 2

_FRONT_HALF: tuple[Spot, ...] = (
    (5, 26), (5.8, 31), (11, 33.5), (18.5, 36), (21.5, 42), (23.5, 55), (26, 70), (28.6, 92),
    (31, 100), (30, 110), (27, 108), (25.2, 93), (21.5, 70), (18.5, 56), (15.5, 47), (14.6, 58),
    (13, 72), (15.5, 81), (17.3, 89), (17.3, 100), (13, 127), (11.6, 132), (13, 141), (9.6, 165),
    (14, 173), (12, 175), (6, 175), (5.4, 165), (4.6, 141), (5, 132), (4.4, 127), (2, 105),
    (0, 93.5),
)  # fmt: skip
"""The front's right-hand edge, from the neck out over the arm and down to the crotch."""

_PROFILE: tuple[Spot, ...] = (
    (0, 5), (5.5, 7), (8.2, 12), (8.6, 15), (10.2, 18.5), (8.4, 20.5), (8.4, 25.5), (5.2, 27.5),
    (4.8, 31), (8, 38), (11.4, 48), (10.2, 60), (10.4, 73), (10, 86), (9.6, 100), (7, 122),
    (6.6, 128), (5, 140), (4.2, 163), (8, 168), (15, 172.5), (15, 175), (-5.5, 175), (-6.5, 171),
    (-4.2, 163), (-8, 141), (-5.4, 128), (-8.6, 108), (-12.4, 90), (-10, 80), (-7, 71), (-11, 50),
    (-9.5, 39), (-5.4, 31), (-6, 26), (-9.4, 19), (-9, 10), (-5.5, 6),
)  # fmt: skip
"""A figure seen from its right, facing right."""

_HAND: tuple[Spot, ...] = (
    (6, 78), (6, 62), (8.6, 46), (9, 34), (8, 17), (5.2, 14.5), (3.8, 30), (3.6, 8), (0.8, 6),
    (-0.8, 29), (-1.6, 7), (-4.4, 8), (-4.8, 30), (-6, 13), (-8.6, 14.5), (-9, 34), (-11, 40),
    (-16, 30), (-18.4, 32.5), (-14.5, 44), (-10.8, 52), (-6.4, 62), (-6, 78),
)  # fmt: skip
"""An open hand with its wrist down, the thumb to the left."""

_FRONT: Mapping[str, Spot] = {
    "crown": (0, 5),
    "floor": (0, 175),
    "neck base left": (-6.6, 31.4),
    "neck base right": (6.6, 31.4),
    "shoulder point left": (-18.5, 36),
    "shoulder point right": (18.5, 36),
    "arm outside left": (-23, 50),
    "arm outside right": (23, 50),
    "underarm left": (-15.5, 48),
    "underarm right": (15.5, 48),
    "bust left": (-14.8, 55),
    "bust right": (14.8, 55),
    "waist left": (-13, 72),
    "waist right": (13, 72),
    "flare right": (13.4, 75),
    "hip left": (-17.3, 90),
    "hip right": (17.3, 90),
    "upper arm inside": (17.6, 54),
    "upper arm outside": (23.4, 54),
    "crotch": (0, 93.5),
    "thigh inside": (1.4, 99),
    "thigh outside": (17.3, 99),
    "knee": (8.8, 127),
    "under knee inside": (5, 132),
    "under knee outside": (11.6, 132),
    "calf inside": (4.6, 141),
    "calf outside": (13, 141),
    "ankle inside": (5.3, 163),
    "ankle outside": (9.8, 163),
    "neck back": (0, 30),
    "waist back": (0, 72),
    "elbow right": (25, 70),
    "wrist right": (28, 92),
}
_SIDE: Mapping[str, Spot] = {
    "back edge": (-11, 48),
    "shoulder blade": (-9.8, 40),
    "strap top": (-1, 33.5),
    "brooch": (9.4, 41.5),
    "waist front": (10.4, 72),
    "groin": (7, 88),
    "crotch": (0, 94),
    "seat": (-9, 88),
    "waist back": (-7, 72),
    "heel": (-6.6, 172.5),
    "instep": (4.6, 164.5),
    "brow": (8, 11),
    "back of head": (-9.5, 15),
    "under chin": (5.2, 27.6),
    "cheek": (3, 20),
    "temple": (2.4, 12),
    "front of crown": (2.6, 5.4),
    "hairline": (6.6, 8),
    "crown": (0, 5),
    "nape": (-5.8, 27),
    "neck side": (-0.5, 32),
}
_HAND_SPOTS: Mapping[str, Spot] = {
    "wrist thumb side": (-6.3, 64),
    "wrist little side": (6, 64),
    "knuckle thumb side": (-9, 34.5),
    "knuckle little side": (9, 34.5),
    "thumb joint": (-11.6, 50),
    "palm little side": (8.4, 47),
}

LANDMARKS: Mapping[View, Mapping[str, Spot]] = {
    "front": _FRONT,
    "back": _FRONT,
    "side": _SIDE,
    "head": _SIDE,
    "hand": _HAND_SPOTS,
}
"""Where each landmark lies on the figure of a view."""


class SketchPen(Pen, Protocol):
    """A pen that knows half ellipses, as SvgPen does."""

    def half_ellipse_to(self, p: Point, half: Point, turned: float, *, clockwise: bool) -> None: ...


@dataclass(frozen=True)
class SketchLine:
    """One line of a sketch; `width` and `dashes` are in pixels where the figure is 72 of them square."""

    draw: Callable[[SketchPen], None]
    width: float
    opacity: float = 1.0
    dashes: tuple[float, ...] = ()


@dataclass(frozen=True)
class Sketch:
    """The square of the body that shows a measure, `side` units wide, and its lines, the body's first."""

    left: float
    top: float
    side: float
    lines: tuple[SketchLine, ...]

    @property
    def pixel(self) -> float:
        return self.side / 72


def sketch(measure: Measure) -> Sketch:
    """The drawing of one measure."""
    view, tape = measure.tape.view, measure.tape
    spots = [Point(*LANDMARKS[view][name]) for name in tape.through]
    if tape.shape == "upright":
        spots = _beside(view, spots)
    x, y, side = _WHOLE if tape.shape == "upright" and view != "head" else _box(spots)
    body = SketchLine(partial(_outline, view), 1.1, 0.55)
    return Sketch(x, y, side, (body, *_tape(tape.shape, view, tape.through, spots, side / 72)))


def figure_svg(measure: Measure, size: int = 72) -> str:
    """The drawing of one measure as an SVG element, `size` pixels square unless styled."""
    drawn = sketch(measure)
    lines = "".join(_line_svg(line, drawn.pixel) for line in drawn.lines)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{_n(drawn.left)} {_n(drawn.top)} '
        f'{_n(drawn.side)} {_n(drawn.side)}" '
        f'width="{size}" height="{size}" role="img" aria-label="{escape(measure.instruction)}" '
        'fill="none" stroke="currentColor" stroke-linecap="round" stroke-linejoin="round">'
        f"{lines}</svg>"
    )


def _line_svg(line: SketchLine, pixel: float) -> str:
    pen = SvgPen(_DECIMALS)
    line.draw(pen)
    dashes = " ".join(_n(dash * pixel) for dash in line.dashes)
    more = f' stroke-dasharray="{dashes}"' if dashes else ""
    if line.opacity < 1:
        more += f' stroke-opacity="{_n(line.opacity).lstrip("0")}"'
    return f'<path d="{pen.shortest}" stroke-width="{_n(line.width * pixel)}"{more}/>'


def _n(value: float) -> str:
    return number(value, _DECIMALS)


def _tape(
    shape: str, view: View, through: Sequence[str], spots: Sequence[Point], pixel: float
) -> tuple[SketchLine, ...]:
    if shape == "along":
        return (SketchLine(partial(_smooth, spots=spots, closed=False), 2.6),)
    if shape == "round":
        far = partial(_half_round, spots=spots, pixel=pixel, far=True)
        near = partial(_half_round, spots=spots, pixel=pixel, far=False)
        return SketchLine(far, 1.6, 0.7, (1.5, 2.5)), SketchLine(near, 2.6)
    leaders = partial(_leaders, places=[LANDMARKS[view][name] for name in through], through=through,
                      at=spots[0].x)
    return (SketchLine(leaders, 1.2, dashes=(0.1 / pixel, 2.5)),
            SketchLine(partial(draw_line, points=spots), 2.2),
            SketchLine(partial(_ends, spots=spots, tick=Point(3 * pixel, 0)), 1.8))


def _leaders(pen: Pen, places: Sequence[Spot], through: Sequence[str], at: float) -> None:
    """From each landmark across to the upright tape."""
    for (x, y), name in zip(places, through, strict=True):
        draw_line(pen, (Point(_FEET if name == "floor" else x, y), Point(at, y)))


def _ends(pen: Pen, spots: Sequence[Point], tick: Point) -> None:
    for end in spots:
        draw_line(pen, (end - tick, end + tick))


def _half_round(pen: SketchPen, spots: Sequence[Point], pixel: float, *, far: bool) -> None:
    """The half of a girth that is seen, or the far one behind the figure."""
    start, end = spots
    wide = abs(end.x - start.x)
    pen.move_to(start)
    pen.half_ellipse_to(end, Point(wide / 2, max(wide * 0.11, 1.2 * pixel)), _slope(spots),
                        clockwise=(end.x > start.x) == far)


def _beside(view: View, spots: Sequence[Point]) -> list[Point]:
    """The ends of an upright tape, moved out to where it can be seen."""
    x = -16.0 if view == "head" else -38.0
    return [Point(x, spots[0].y), Point(x, spots[-1].y)]


def _slope(spots: Sequence[Point]) -> float:
    """Degrees by which a girth is turned from the level, read from left to right."""
    left, right = sorted(spots, key=lambda p: p.x)
    return degrees(atan2(right.y - left.y, right.x - left.x))


def _box(spots: Sequence[Point]) -> tuple[float, float, float]:
    """Left, top and side of the square that shows the tape and enough of the figure about it."""
    left, high, right, low = bounds(spots)
    side = max(_SMALLEST_BOX, right - left + 2 * _MARGIN, low - high + 2 * _MARGIN)
    middle = 0.0 if max(right, -left) < side / 2 - 4 else sum(p.x for p in spots) / len(spots)
    top = min(max((high + low - side) / 2, 0), 180 - side)
    return middle - side / 2, top, side


def _outline(view: View, pen: SketchPen) -> None:
    if view == "hand":
        _smooth(pen, [Point(*spot) for spot in _HAND], closed=False)
        return
    if view in ("side", "head"):
        _smooth(pen, [Point(*spot) for spot in _PROFILE], closed=True)
        return
    pen.move_to(Point(-8, 15))
    pen.half_ellipse_to(Point(8, 15), Point(8, 10.5), 0, clockwise=True)
    pen.half_ellipse_to(Point(-8, 15), Point(8, 12.2), 0, clockwise=True)
    right = [Point(*spot) for spot in _FRONT_HALF]
    left = [Point(-p.x, p.y) for p in reversed(right)]
    _smooth(pen, [*right, *left[1:]], closed=False)
    for side in (-1, 1) if view == "back" else ():
        pen.move_to(Point(side * 9.5, 42))
        pen.curve_to(Point(side * 6.17, 45.33), Point(side * 5.17, 49.33), Point(side * 6.5, 54))


def _smooth(pen: Pen, spots: Sequence[Point], closed: bool) -> None:
    """A curve through the spots: Catmull and Rom's spline in Bézier form."""
    count = len(spots)

    def spot(i: int) -> Point:
        return spots[i % count] if closed else spots[min(max(i, 0), count - 1)]

    pen.move_to(spots[0])
    for i in range(count if closed else count - 1):
        before, start, end, after = spot(i - 1), spot(i), spot(i + 1), spot(i + 2)
        pen.curve_to(start + (end - before) * (1 / 6), end - (after - start) * (1 / 6), end)
    if closed:
        pen.close()
