"""A measure as a small drawing: a figure in outline with the tape as a line on it.

The figures are 170 units high, about a centimetre each, in the proportions of ANSUR II's mean adult
(source: Gordon et al. 2014, NATICK/TR-15/007); x to the viewer's right, y down, the crown at 5 and
the floor at 175. A drawing shows the part of the figure that the tape needs and is legible at 72
pixels; its strokes are `currentColor`.
"""

from collections.abc import Mapping, Sequence
from html import escape

from drafting.body.measures import Measure, View

Spot = tuple[float, float]

_SMALLEST_BOX = 62.0
_MARGIN = 14.0
_WHOLE = (-98.0, 0.0, 180.0)
_FEET = -14.0

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


def figure_svg(measure: Measure, size: int = 72) -> str:
    """The drawing of one measure as an SVG element, `size` pixels square unless styled."""
    view, tape = measure.tape.view, measure.tape
    spots = [LANDMARKS[view][name] for name in tape.through]
    if tape.shape == "upright":
        spots = _beside(view, spots)
    x, y, side = _WHOLE if tape.shape == "upright" and view != "head" else _box(spots)
    pen = side / 72
    figure = f'<path d="{_outline(view)}" stroke-width="{_n(1.1 * pen)}" stroke-opacity=".55"/>'
    drawn = "".join(
        f'<path d="{path}" stroke-width="{_n(width * pen)}"{dash}/>'
        for path, width, dash in _tape(tape.shape, view, tape.through, spots, pen)
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{_n(x)} {_n(y)} {_n(side)} {_n(side)}" '
        f'width="{size}" height="{size}" role="img" aria-label="{escape(measure.instruction)}" '
        'fill="none" stroke="currentColor" stroke-linecap="round" stroke-linejoin="round">'
        f"{figure}{drawn}</svg>"
    )


def _tape(
    shape: str, view: View, through: Sequence[str], spots: Sequence[Spot], pen: float
) -> list[tuple[str, float, str]]:
    """Path data, stroke width in pixels at 72, and further attributes of each line of the tape."""
    if shape == "along":
        return [(_smooth(spots, closed=False), 2.6, "")]
    if shape == "round":
        (x0, y0), (x1, y1) = spots
        rx, ry = abs(x1 - x0) / 2, max(abs(x1 - x0) * 0.11, 1.2 * pen)
        turn = f"{_n(rx)} {_n(ry)} {_n(_slope(spots))} 0"
        near = f"M{_n(x0)} {_n(y0)}A{turn} {int(x1 < x0)} {_n(x1)} {_n(y1)}"
        far = f"M{_n(x0)} {_n(y0)}A{turn} {int(x1 > x0)} {_n(x1)} {_n(y1)}"
        hidden = f' stroke-dasharray="{_n(1.5 * pen)} {_n(2.5 * pen)}" stroke-opacity=".7"'
        return [(far, 1.6, hidden), (near, 2.6, "")]
    (x, top), (_, bottom) = spots
    tick = 3 * pen
    leaders = "".join(
        f"M{_n(_FEET if name == 'floor' else LANDMARKS[view][name][0])} "
        f"{_n(LANDMARKS[view][name][1])}H{_n(x)}"
        for name in through
    )
    dotted = f' stroke-dasharray="{_n(0.1)} {_n(2.5 * pen)}"'
    ends = f"M{_n(x - tick)} {_n(top)}h{_n(2 * tick)}M{_n(x - tick)} {_n(bottom)}h{_n(2 * tick)}"
    return [(leaders, 1.2, dotted), (f"M{_n(x)} {_n(top)}V{_n(bottom)}", 2.2, ""), (ends, 1.8, "")]


def _beside(view: View, spots: Sequence[Spot]) -> list[Spot]:
    """The ends of an upright tape, moved out to where it can be seen."""
    x = -16.0 if view == "head" else -38.0
    return [(x, spots[0][1]), (x, spots[-1][1])]


def _slope(spots: Sequence[Spot]) -> float:
    from math import atan2, degrees

    (x0, y0), (x1, y1) = spots
    return degrees(atan2(y1 - y0, x1 - x0)) if x1 > x0 else degrees(atan2(y0 - y1, x0 - x1))


def _box(spots: Sequence[Spot]) -> tuple[float, float, float]:
    """Left, top and side of the square that shows the tape and enough of the figure about it."""
    xs, ys = [x for x, _ in spots], [y for _, y in spots]
    high = max(ys) - min(ys)
    side = max(_SMALLEST_BOX, max(xs) - min(xs) + 2 * _MARGIN, high + 2 * _MARGIN)
    middle = 0.0 if max(map(abs, xs)) < side / 2 - 4 else sum(xs) / len(xs)
    top = min(max((min(ys) + max(ys) - side) / 2, 0), 180 - side)
    return middle - side / 2, top, side


def _outline(view: View) -> str:
    if view == "hand":
        return _smooth(_HAND, closed=False)
    if view in ("side", "head"):
        return _smooth(_PROFILE, closed=True)
    right = _FRONT_HALF
    left = [(-x, y) for x, y in reversed(right)]
    face = "M-8 15A8 10.5 0 1 1 8 15A8 12.2 0 1 1 -8 15"
    blades = "M-9.5 42Q-4.5 47-6.5 54M9.5 42Q4.5 47 6.5 54" if view == "back" else ""
    return face + _smooth([*right, *left[1:]], closed=False) + blades


def _smooth(spots: Sequence[Spot], closed: bool) -> str:
    """A curve through the spots as SVG path data: Catmull and Rom's spline in Bézier form."""
    count = len(spots)

    def spot(i: int) -> Spot:
        return spots[i % count] if closed else spots[min(max(i, 0), count - 1)]

    path = f"M{_n(spots[0][0])} {_n(spots[0][1])}"
    for i in range(count if closed else count - 1):
        before, start, end, after = spot(i - 1), spot(i), spot(i + 1), spot(i + 2)
        path += "C" + " ".join(
            f"{_n(x)} {_n(y)}"
            for x, y in (
                (start[0] + (end[0] - before[0]) / 6, start[1] + (end[1] - before[1]) / 6),
                (end[0] - (after[0] - start[0]) / 6, end[1] - (after[1] - start[1]) / 6),
                end,
            )
        )
    return path + ("Z" if closed else "")


def _n(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")
