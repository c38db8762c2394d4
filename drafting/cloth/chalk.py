"""The chalk plan: how a lay reaches the cloth with a tape, a string and a piece of chalk.

Every corner is two distances, from the left selvedge and from the cut end, so rounding one never
shifts another. A curved side is a string's length where its centre lies on the cloth, else heights
over the straight line between its two corners, at even stations along it.
"""

from collections.abc import Container, Iterator, Sequence
from dataclasses import dataclass, replace
from math import acos, ceil, degrees, hypot, radians
from typing import Literal

from ..words.units import MM_PER_INCH, Unit

CORNER_ANGLE = 12.0
"""Degrees of turn from which a cutter sees a corner and not a curve. common practice, no source."""

LONG_STRAIGHT = 60.0
"""mm: a straight part at least so long, and five times its neighbours, ends in marks of its own."""

MOST_TURN = 60.0
"""Degrees that one side may turn; a mark is set where a curve turns further."""

BULGE = 0.2
"""mm: a smaller turn is a corner too, if an arc through it would bulge by more than this between the
points, since curves arrive here as polylines that stay much closer to them than that."""

STEPS = {"cm": 5.0, "mm": 5.0, "m": 5.0, "in": MM_PER_INCH / 4}
HEIGHT_STEPS = {"cm": 1.0, "mm": 1.0, "m": 1.0, "in": MM_PER_INCH / 16}
"""mm to which marks, and heights over a chord, are rounded."""

SPACINGS = {
    "cm": (200.0, 150.0, 100.0, 50.0, 40.0, 30.0, 20.0, 10.0, 5.0),
    "in": tuple(MM_PER_INCH * n for n in (8, 6, 4, 2, 1.5, 1, 0.75, 0.5, 0.25)),
}
"""mm between the stations along a chord, widest first: whole centimetres, or easy parts of an inch."""

CURVE_TOLERANCE = 1.5
"""mm by which a line from station to station may miss a curve before more stations are given."""

CURVE_END_TOLERANCE = 2.8
"""mm by which the mark at a curve's end may miss it, along the curve as well."""

CIRCLE_TOLERANCE = 1.0
"""mm by which a side may stray from a circle and still be drawn with a string."""

AT_FOLD = 0.05
"""mm from the fold within which a corner lies on it."""

XY = tuple[float, float]


@dataclass(frozen=True)
class Mark:
    """A corner: rounded mm from the left selvedge (`x`) and from the cut end (`y`)."""

    label: str
    x: float
    y: float
    true: XY


@dataclass(frozen=True)
class Side:
    """What to draw from one mark to the next.

    `string`: a circle of `radius` about `centre`, the shorter way round. `curve`: `stations` are
    (distance along the straight line from the first mark, height over it), heights positive away
    from the piece. `fold`: it lies on the cloth's fold, and is not cut.
    """

    kind: Literal["straight", "string", "curve", "fold"]
    start: str
    end: str
    centre: XY | None = None
    radius: float = 0.0
    stations: tuple[XY, ...] = ()


@dataclass(frozen=True)
class ChalkPiece:
    """One piece's marks and sides, in the order to draw them, and a diagonal to check it by."""

    title: str
    marks: tuple[Mark, ...]
    sides: tuple[Side, ...]
    diagonal: tuple[str, str, float] | None


@dataclass(frozen=True)
class ChalkPlan:
    """Pieces in the order to cut them; `width` and `length` of the cloth in mm, as it lies: `folded`
    cloth has its fold at `width`."""

    pieces: tuple[ChalkPiece, ...]
    width: float
    length: float
    unit: Unit
    folded: bool = False


def chalk_plan(
    outlines: Sequence[tuple[str, Sequence[XY]]], width: float, length: float, unit: Unit = "cm",
    *, folded: bool = False, on_fold: Container[str] = (),
) -> ChalkPlan:
    """The plan for placed cutting lines, each a title and a simple polygon in cloth coordinates.

    x runs from the left selvedge to `width`, y from the cut end to `length`, mm. Pieces come out
    nearest the cut end first. `on_fold` names those that are half of what is cut and lie on the fold
    at `width`. Raises ValueError for an outline of fewer than three corners.
    """
    ordered = sorted(outlines, key=lambda item: (min(y for _, y in item[1]), min(x for x, _ in item[1])))
    pieces = tuple(
        _piece(title, [*outline], width, length, unit, title in on_fold) for title, outline in ordered
    )
    return ChalkPlan(pieces, width, length, unit, folded)


def _piece(
    title: str, outline: list[XY], width: float, length: float, unit: Unit, on_fold: bool
) -> ChalkPiece:
    if len(outline) < 3:
        raise ValueError(f"{title} has fewer than three corners")
    if _area(outline) < 0:
        outline = outline[::-1]
    runs = _runs(outline)
    labels = list(_labels(len(runs)))
    step = STEPS[unit]
    marks = []
    for label, run, before in zip(labels, runs, [runs[-1], *runs[:-1]], strict=True):
        curved = len(run) > 2 or len(before) > 2
        mark = _mark(label, run[0], step, _bends(run, before) if curved else ())
        if on_fold and run[0][0] >= width - AT_FOLD:
            mark = replace(mark, x=width)
        marks.append(mark)
    sides = tuple(
        Side("fold", marks[i].label, marks[(i + 1) % len(marks)].label)
        if on_fold and all(x >= width - AT_FOLD for x, _ in run)
        else _side(run, marks[i], marks[(i + 1) % len(marks)], width, length, unit)
        for i, run in enumerate(runs)
    )
    return ChalkPiece(title, tuple(marks), sides, _diagonal(marks))


def _area(outline: Sequence[XY]) -> float:
    return sum(
        a[0] * b[1] - b[0] * a[1] for a, b in zip(outline, [*outline[1:], outline[0]], strict=True)
    )


def _runs(outline: list[XY]) -> list[list[XY]]:
    """The outline cut at its corners: each run starts at one and ends at the next.

    A closed curve without corners is cut at its topmost, bottommost, leftmost and rightmost points.
    """
    count = len(outline)
    corners = [
        i for i in range(count)
        if _is_corner(outline[i - 1], outline[i], outline[(i + 1) % count])
    ]
    if len(corners) < 3:
        extremes = {
            pick(range(count), key=lambda i: outline[i][axis])
            for axis in (0, 1)
            for pick in (min, max)
        }
        corners = sorted(extremes | set(corners))
    found = []
    for start, end in zip(corners, [*corners[1:], corners[0] + count], strict=True):
        found += _no_more_than_a_bow([outline[i % count] for i in range(start, end + 1)])
    return found


def _no_more_than_a_bow(run: list[XY]) -> list[list[XY]]:
    """The run in parts that turn by no more than MOST_TURN each, so that a chord serves them all.

    A circle's arc stays whole: a string may serve it.
    """
    if len(run) < 4 or _circle(run):
        return [run]
    turns = [_turn(*three) for three in zip(run, run[1:], run[2:], strict=False)]
    parts = ceil(sum(turns) / MOST_TURN)
    if parts < 2:
        return [run]
    share, turned, cuts = sum(turns) / parts, 0.0, [0]
    for i, turn in enumerate(turns, 1):
        turned += turn
        if turned >= share * len(cuts) and len(cuts) < parts:
            cuts.append(i)
    cuts.append(len(run) - 1)
    return [run[a : b + 1] for a, b in zip(cuts, cuts[1:], strict=False) if b > a]


def _is_corner(before: XY, at: XY, after: XY) -> bool:
    turn = _turn(before, at, after)
    if turn > CORNER_ANGLE:
        return True
    shorter, longer = sorted((
        hypot(at[0] - before[0], at[1] - before[1]), hypot(after[0] - at[0], after[1] - at[1]),
    ))
    if longer > LONG_STRAIGHT and longer > 5 * shorter:
        return True
    # The sagitta of an arc whose chord is that long and that turns that far.
    return turn > 0.5 and shorter * radians(turn) / 8 > BULGE


def _turn(before: XY, at: XY, after: XY) -> float:
    ux, uy, vx, vy = at[0] - before[0], at[1] - before[1], after[0] - at[0], after[1] - at[1]
    size = hypot(ux, uy) * hypot(vx, vy)
    return degrees(acos(max(-1.0, min(1.0, (ux * vx + uy * vy) / size)))) if size else 0.0


def _labels(count: int) -> Iterator[str]:
    """A, B, … Z, A2, B2, …"""
    for i in range(count):
        yield chr(65 + i % 26) + (str(i // 26 + 1) if i >= 26 else "")


def _bends(run: list[XY], before: list[XY]) -> tuple[XY, ...]:
    """Unit normals of the curved sides that meet at the start of `run`."""
    ends = []
    if len(run) > 2:
        ends.append((run[0], run[1]))
    if len(before) > 2:
        ends.append((before[-2], before[-1]))
    return tuple(_normal(a, b) for a, b in ends if a != b)


def _normal(a: XY, b: XY) -> XY:
    size = hypot(b[0] - a[0], b[1] - a[1])
    return (b[1] - a[1]) / size, (a[0] - b[0]) / size


def _mark(label: str, at: XY, step: float, bends: tuple[XY, ...]) -> Mark:
    """The corner, rounded to `step`; to half of it, or a quarter, where a curve would suffer."""
    for part in (step, step / 2, step / 4):
        x, y = round(at[0] / part) * part, round(at[1] / part) * part
        dx, dy = x - at[0], y - at[1]
        off = max((abs(dx * nx + dy * ny) for nx, ny in bends), default=0.0)
        if not bends or (off <= CURVE_TOLERANCE and hypot(dx, dy) <= CURVE_END_TOLERANCE):
            break
    return Mark(label, max(x, 0.0), max(y, 0.0), at)


def _side(run: list[XY], a: Mark, b: Mark, width: float, length: float, unit: Unit) -> Side:
    if len(run) == 2:
        return Side("straight", a.label, b.label)
    circle = _circle(run)
    if circle:
        (cx, cy), radius = circle
        if 0 <= cx <= width and 0 <= cy <= length:
            step = HEIGHT_STEPS[unit]
            centre = (round(cx / step) * step, round(cy / step) * step)
            reach = sum(hypot(m.x - centre[0], m.y - centre[1]) for m in (a, b)) / 2
            if abs(reach - radius) <= CURVE_TOLERANCE:
                return Side("string", a.label, b.label, centre, round(radius / step) * step)
    return Side("curve", a.label, b.label, stations=_stations(run, a, b, HEIGHT_STEPS[unit]))


def _circle(run: list[XY]) -> tuple[XY, float] | None:
    """The circle that all points of a run lie on, if there is one; its arc under a half turn."""
    (ax, ay), (bx, by), (cx, cy) = run[0], run[len(run) // 2], run[-1]
    twice = 2 * ((bx - ax) * (cy - ay) - (by - ay) * (cx - ax))
    if abs(twice) < 1e-6:
        return None
    b2 = (bx - ax) ** 2 + (by - ay) ** 2
    c2 = (cx - ax) ** 2 + (cy - ay) ** 2
    ux = ((cy - ay) * b2 - (by - ay) * c2) / twice
    uy = ((bx - ax) * c2 - (cx - ax) * b2) / twice
    centre, radius = (ax + ux, ay + uy), hypot(ux, uy)
    # Over the middle of the chord an arc of less than a half turn stands less than a radius.
    mid = ((ax + cx) / 2, (ay + cy) / 2)
    if hypot(bx - mid[0], by - mid[1]) >= radius:
        return None
    on_it = all(
        abs(hypot(x - centre[0], y - centre[1]) - radius) <= CIRCLE_TOLERANCE for x, y in run
    )
    return (centre, radius) if on_it else None


def _stations(run: list[XY], a: Mark, b: Mark, step: float) -> tuple[XY, ...]:
    """Heights of the true curve over the line between the two *rounded* marks.

    As many stations as it takes for straight lines between them to stay close to the curve.
    """
    chord = hypot(b.x - a.x, b.y - a.y)
    along = ((b.x - a.x) / chord, (b.y - a.y) / chord)
    away = (along[1], -along[0])
    local = [
        ((x - a.x) * along[0] + (y - a.y) * along[1], (x - a.x) * away[0] + (y - a.y) * away[1])
        for x, y in run
    ]
    for spacing in SPACINGS["in" if step == HEIGHT_STEPS["in"] else "cm"]:
        stations = [
            (d, round(_height(local, d) / step) * step)
            for d in (spacing * i for i in range(1, ceil(chord / spacing)))
            if chord - d > spacing / 4
        ]
        line = [(0.0, 0.0), *stations, (chord, 0.0)]
        within = [(d, h) for d, h in local if 0 <= d <= chord]  # none where the marks took it all up
        worst = max((abs(_height(line, d) - h) for d, h in within), default=0.0)
        if worst <= CURVE_TOLERANCE + 0.5:
            break
    return tuple(stations)


def _height(line: Sequence[XY], distance: float) -> float:
    for (d0, h0), (d1, h1) in zip(line, line[1:], strict=False):
        if d0 <= distance <= d1 and d1 > d0:
            return h0 + (h1 - h0) * (distance - d0) / (d1 - d0)
    return line[0][1] if distance < line[0][0] else line[-1][1]


def _diagonal(marks: list[Mark]) -> tuple[str, str, float] | None:
    """The longest way between two marks that are not neighbours, as the tape will read it."""
    count = len(marks)
    pairs = [
        (hypot(a.x - b.x, a.y - b.y), a.label, b.label)
        for i, a in enumerate(marks)
        for j, b in enumerate(marks)
        if 1 < j - i < count - 1
    ]
    if not pairs:
        return None
    size, a_label, b_label = max(pairs)
    return a_label, b_label, size
