"""The chalk plan: how a lay reaches the cloth with a tape, a string and a piece of chalk.

Every corner is two distances, from the left selvedge and from the cut end, so rounding one never
shifts another. A curved side is a string's length where its centre lies on the cloth, else heights
over the straight line between its two corners, at even stations along it.
"""

from collections.abc import Container, Iterator, Sequence
from dataclasses import dataclass, replace
from math import acos, ceil, degrees, hypot, radians
from typing import Literal

from ..geometry import Point, area
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

    @property
    def middle(self) -> Point:
        """The mean of its marks."""
        count = len(self.marks)
        return Point(sum(m.x for m in self.marks) / count, sum(m.y for m in self.marks) / count)


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
    ordered = sorted(outlines, key=lambda item: down_the_cloth(item[1]))
    pieces = tuple(
        _piece(title, [Point(*corner) for corner in outline], width, length, unit, title in on_fold)
        for title, outline in ordered
    )
    return ChalkPlan(pieces, width, length, unit, folded)


def down_the_cloth(outline: Sequence[XY]) -> XY:
    """To sort by: pieces nearest the cut end first, and of those the nearest to the left selvedge."""
    return min(y for _, y in outline), min(x for x, _ in outline)


def _piece(
    title: str, outline: list[Point], width: float, length: float, unit: Unit, on_fold: bool
) -> ChalkPiece:
    if len(outline) < 3:
        raise ValueError(f"{title} has fewer than three corners")
    if area(outline) < 0:
        outline = outline[::-1]
    runs = _runs(outline)
    labels = list(_labels(len(runs)))
    step = STEPS[unit]
    marks = []
    for label, run, before in zip(labels, runs, [runs[-1], *runs[:-1]], strict=True):
        curved = len(run) > 2 or len(before) > 2
        mark = _mark(label, run[0], step, _bends(run, before) if curved else ())
        if on_fold and run[0].x >= width - AT_FOLD:
            mark = replace(mark, x=width)
        marks.append(mark)
    sides = tuple(
        Side("fold", marks[i].label, marks[(i + 1) % len(marks)].label)
        if on_fold and all(p.x >= width - AT_FOLD for p in run)
        else _side(run, marks[i], marks[(i + 1) % len(marks)], width, length, unit)
        for i, run in enumerate(runs)
    )
    return ChalkPiece(title, tuple(marks), sides, _diagonal(marks))


def _runs(outline: list[Point]) -> list[list[Point]]:
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
            pick(range(count), key=key)
            for key in (lambda i: outline[i].x, lambda i: outline[i].y)
            for pick in (min, max)
        }
        corners = sorted(extremes | set(corners))
    found = []
    for start, end in zip(corners, [*corners[1:], corners[0] + count], strict=True):
        found += _no_more_than_a_bow([outline[i % count] for i in range(start, end + 1)])
    return found


def _no_more_than_a_bow(run: list[Point]) -> list[list[Point]]:
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


def _is_corner(before: Point, at: Point, after: Point) -> bool:
    turn = _turn(before, at, after)
    if turn > CORNER_ANGLE:
        return True
    shorter, longer = sorted((before.distance(at), at.distance(after)))
    if longer > LONG_STRAIGHT and longer > 5 * shorter:
        return True
    # The sagitta of an arc whose chord is that long and that turns that far.
    return turn > 0.5 and shorter * radians(turn) / 8 > BULGE


def _turn(before: Point, at: Point, after: Point) -> float:
    u, v = at - before, after - at
    size = u.length * v.length
    return degrees(acos(max(-1.0, min(1.0, u.dot(v) / size)))) if size else 0.0


def _labels(count: int) -> Iterator[str]:
    """A, B, … Z, A2, B2, …"""
    for i in range(count):
        yield chr(65 + i % 26) + (str(i // 26 + 1) if i >= 26 else "")


def _bends(run: list[Point], before: list[Point]) -> tuple[Point, ...]:
    """Unit normals of the curved sides that meet at the start of `run`."""
    ends = []
    if len(run) > 2:
        ends.append((run[0], run[1]))
    if len(before) > 2:
        ends.append((before[-2], before[-1]))
    return tuple((b - a).unit().outward for a, b in ends if a != b)


def _mark(label: str, at: Point, step: float, bends: tuple[Point, ...]) -> Mark:
    """The corner, rounded to `step`; to half of it, or a quarter, where a curve would suffer."""
    for part in (step, step / 2, step / 4):
        found = Point(round(at.x / part) * part, round(at.y / part) * part)
        miss = found - at
        off = max((abs(miss.dot(normal)) for normal in bends), default=0.0)
        if not bends or (off <= CURVE_TOLERANCE and miss.length <= CURVE_END_TOLERANCE):
            break
    return Mark(label, max(found.x, 0.0), max(found.y, 0.0), (at.x, at.y))


def _side(run: list[Point], a: Mark, b: Mark, width: float, length: float, unit: Unit) -> Side:
    if len(run) == 2:
        return Side("straight", a.label, b.label)
    circle = _circle(run)
    if circle:
        middle, radius = circle
        if 0 <= middle.x <= width and 0 <= middle.y <= length:
            step = HEIGHT_STEPS[unit]
            centre = (round(middle.x / step) * step, round(middle.y / step) * step)
            reach = sum(hypot(m.x - centre[0], m.y - centre[1]) for m in (a, b)) / 2
            if abs(reach - radius) <= CURVE_TOLERANCE:
                return Side("string", a.label, b.label, centre, round(radius / step) * step)
    return Side("curve", a.label, b.label, stations=_stations(run, a, b, HEIGHT_STEPS[unit]))


def _circle(run: list[Point]) -> tuple[Point, float] | None:
    """The circle that all points of a run lie on, if there is one; its arc under a half turn."""
    a, b, c = run[0], run[len(run) // 2], run[-1]
    u, v = b - a, c - a
    twice = 2 * u.cross(v)
    if abs(twice) < 1e-6:
        return None
    uu, vv = u.dot(u), v.dot(v)
    out = Point((v.y * uu - u.y * vv) / twice, (u.x * vv - v.x * uu) / twice)
    centre, radius = a + out, out.length
    # Over the middle of the chord an arc of less than a half turn stands less than a radius.
    if b.distance(a.towards(c, 0.5)) >= radius:
        return None
    on_it = all(abs(p.distance(centre) - radius) <= CIRCLE_TOLERANCE for p in run)
    return (centre, radius) if on_it else None


def _stations(run: list[Point], a: Mark, b: Mark, step: float) -> tuple[XY, ...]:
    """Heights of the true curve over the line between the two *rounded* marks.

    As many stations as it takes for straight lines between them to stay close to the curve.
    """
    start = Point(a.x, a.y)
    way = Point(b.x, b.y) - start
    chord, along = way.length, way.unit()
    local = [((p - start).dot(along), (p - start).dot(along.outward)) for p in run]
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
