"""A line on the cloth in runs from corner to corner, each drawn at one go: as few marks as will do.

A run is straight where it rises less than STRAIGHT over its ends, a curve by eye through a few marks
otherwise, or a string's where that takes fewer. Which corners to mark is found so that marks are fewest in
all. A line that is its own mirror image is planned in half, and a run that crosses the middle line is
marked by widths.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import acos, ceil, degrees, radians
from typing import Literal

from ..geometry import Point, area, meet
from .chalk_curve import along_circle, bent, by_eye, circle_through, near

How = Literal["straight", "curve", "loop", "string", "box", "bend"]

CORNER = 12.0
"""Degrees of turn from which a cutter sees a corner and not a curve. common practice, no source."""

SHARP = 32.0
"""Degrees of turn that no curve is drawn over by eye. common practice, no source."""

LONG_STRAIGHT = 60.0
"""mm: where a straight part at least so long, and five times its neighbour, ends a curve may begin."""

BULGE = 0.2
"""mm: a smaller turn is a corner too, if an arc through it would bulge by more than this between the
points, since curves arrive here as polylines that stay much closer to them than that."""

STRAIGHT = 1.9
"""mm of rise under which a line is straight. common practice, no source: a blunt chalk's stroke."""

CURVE = 1.4
"""mm by which a curve drawn by eye through true marks may miss."""

GAP, RISE = 450.0, 13.0
"""mm from mark to mark along a curve, and of rise between them, that an eye still joins. common practice,
no source."""

LONGEST_BEND = 80.0
"""mm before and after a corner that is rounded off by eye. common practice, no source."""

LEAST_RADIUS = 150.0
"""mm: a smaller circle is no string's. common practice, no source."""

MOST_SWEEP = 120.0
"""Degrees of a circle from mark to mark, so that the shorter way round is plainly meant."""

MOST_STOPS = 24

Reach = Callable[[Point], bool]
"""Whether a string can be held at a point."""


@dataclass(frozen=True)
class Run:
    """`points` of the true line from one mark to the next, and `stops`, the marks between on a curve, or on
    a circle so much of which is drawn that its ends do not tell which way round. A bend's one stop is the
    corner of its two straight lines, rounded off from `reach` mm before it to as much after.

    `crossing`: it crosses the middle line and is its own mirror image.
    """

    how: How
    points: tuple[Point, ...]
    stops: tuple[Point, ...] = ()
    centre: Point | None = None
    radius: float = 0.0
    crossing: bool = False
    reach: float = 0.0

    @property
    def marks(self) -> int:
        """How many marks it takes besides its ends; a pair to both sides of the middle line is one."""
        between = ceil(len(self.stops) / 2) if self.crossing else len(self.stops)
        return between + (self.how == "string")

    def mirrored(self, axis: float) -> "Run":
        """The same run on the other side of the middle line, walked the same way round."""
        flip = [mirrored(p, axis) for p in self.points[::-1]]
        stops = [mirrored(p, axis) for p in self.stops[::-1]]
        centre = self.centre and mirrored(self.centre, axis)
        return Run(self.how, tuple(flip), tuple(stops), centre, self.radius, self.crossing, self.reach)


def mirrored(p: Point, axis: float) -> Point:
    return Point(2 * axis - p.x, p.y)


def runs_round(
    ring: Sequence[Point], axis: float | None, reach: Reach, straight: float = STRAIGHT
) -> list[Run]:
    """A closed line's runs, clockwise; `axis` is the x over which it is its own mirror image."""
    corners = list(ring) if area(list(ring)) > 0 else list(ring)[::-1]
    half = right_half(corners, axis) if axis is not None else None
    if half is not None and axis is not None:
        return _mirrored_ring(half, axis, reach, straight)
    count = len(corners)
    nodes = [i % count for i in _corners([*corners, corners[0], corners[1]])]
    if not nodes:
        return [_loop(corners, None)]
    start = max(nodes, key=lambda i: _turn(corners[i - 1], corners[i], corners[(i + 1) % count]))
    line = [*corners[start:], *corners[: start + 1]]
    return _fewest(line, reach, straight)


def runs_along(line: Sequence[Point], reach: Reach, straight: float = STRAIGHT) -> list[Run]:
    """An open line's runs, from its start to its end."""
    return _fewest(list(line), reach, straight)


def right_half(ring: Sequence[Point], axis: float) -> list[Point] | None:
    """A clockwise ring's right half, from where it crosses the middle line at the top to the bottom.

    None where it crosses more than twice.
    """
    snapped = [Point(axis, p.y) if abs(p.x - axis) < 0.05 else p for p in ring]
    count = len(snapped)
    starts = [i for i in range(count) if snapped[i].x > axis >= snapped[i - 1].x]
    if len(starts) != 1:
        return None
    start, half = starts[0], list[Point]()
    while len(half) < count and snapped[(start + len(half)) % count].x > axis:
        half.append(snapped[(start + len(half)) % count])
    after = (start + len(half)) % count
    if sum(p.x > axis for p in snapped) != len(half):
        return None
    return [_crossing(snapped[start - 1], half[0], axis), *half, _crossing(half[-1], snapped[after], axis)]


def _crossing(p: Point, q: Point, axis: float) -> Point:
    return Point(axis, p.towards(q, (axis - p.x) / (q.x - p.x)).y)


def _mirrored_ring(half: list[Point], axis: float, reach: Reach, straight: float) -> list[Run]:
    last = len(half) - 1
    top, bottom = mirrored(half[1], axis), mirrored(half[-2], axis)
    ends = {i for i, beyond, inner in ((0, top, half[1]), (last, bottom, half[-2]))
            if _turn(beyond, half[i], inner) > CORNER}
    nodes = sorted({*_corners(half), *ends})
    whole = [*half, *(mirrored(p, axis) for p in half[-2:0:-1])]
    if not nodes:
        return [_loop(whole, axis)]

    def over_the_top(i: int) -> list[Point]:
        return [*(mirrored(p, axis) for p in half[i:0:-1]), *half[: i + 1]]

    def round_the_bottom(i: int) -> list[Point]:
        return [*half[i:], *(mirrored(p, axis) for p in half[last - 1 : i - 1 if i else None : -1])]

    first = {i: _best(over_the_top(i), reach, straight, axis) if i else None for i in nodes}
    final = {i: _best(round_the_bottom(i), reach, straight, axis) if i < last else None for i in nodes}
    found = _shortest(half, nodes, first, final, reach, straight)
    if not found:
        return [_loop(whole, axis)]
    begun, between, ended = found
    back = [run.mirrored(axis) for run in between[::-1]]
    return [run for run in (begun, *between, ended, *back) if run]


def _shortest(
    half: list[Point], nodes: list[int], first: dict[int, Run | None], final: dict[int, Run | None],
    reach: Reach, straight: float,
) -> tuple[Run | None, list[Run], Run | None] | None:
    """The way through the half with the fewest marks; a run that cannot be drawn has none."""
    last = len(half) - 1
    cost: dict[int, tuple[int, list[Run], int]] = {}
    for j in nodes:
        run = first[j]
        ways = [(1 + (run.marks if run else 0), list[Run](), j)] if j == 0 or run else []
        for i in nodes:
            if i < j and i in cost and (part := _best(half[i : j + 1], reach, straight, None)):
                ways.append((cost[i][0] + part.marks + 1, [*cost[i][1], part], cost[i][2]))
        if ways:
            cost[j] = min(ways, key=lambda way: way[0])
    ends = [(so_far + (run.marks if run else 0), begun, parts, run)
            for j, (so_far, parts, begun) in cost.items() if (run := final[j]) or j == last]
    if not ends:
        return None
    _, begun, parts, run = min(ends, key=lambda way: way[0])
    return first[begun], parts, run


def _fewest(line: list[Point], reach: Reach, straight: float) -> list[Run]:
    """An open line's runs with the fewest marks in all."""
    nodes = [0, *(i for i in _corners(line) if 0 < i < len(line) - 1), len(line) - 1]
    cost: dict[int, tuple[int, list[Run]]] = {0: (0, [])}
    for before, j in pairwise(nodes):
        shortest = _best(line[before : j + 1], reach, straight, None)
        found = (cost[before][0] + shortest.marks + 1, [*cost[before][1], shortest]) if shortest else None
        for i in nodes[: nodes.index(before)]:
            # A longer run is taken if it needs no more marks, and nothing is gained by trying with more.
            left = found[0] - 1 - cost[i][0] - (found[1][-1] is not shortest) if found else MOST_STOPS
            part = _best(line[i : j + 1], reach, straight, None, left) if left >= 0 else None
            if part and part.marks <= left:
                found = cost[i][0] + part.marks + 1, [*cost[i][1], part]
        assert found, "a way from corner to corner"
        cost[j] = found
    return cost[len(line) - 1][1]


def _best(
    points: list[Point], reach: Reach, straight: float, axis: float | None, most: int = MOST_STOPS
) -> Run | None:
    """The run with the fewest marks; None where a corner stands in the way, or it takes more than `most`."""
    line, crossing = tuple(points), axis is not None
    if points[0] != points[-1] and near(points, [points[0], points[-1]], straight):
        return Run("straight", line, crossing=crossing)
    if any(_turn(*three) > SHARP for three in zip(points, points[1:], points[2:], strict=False)):
        return None
    if not crossing and (bend := _bend(points)):
        return bend
    curve = _curve(points, crossing, min(MOST_STOPS, (2 if crossing else 1) * most + 1))
    string = _string(points, reach, crossing)
    if string and (curve is None or string.marks < curve.marks):
        return string
    return curve


def _bend(points: list[Point]) -> Run | None:
    """Two long straight lines whose corner is rounded off: the corner is the one mark it takes."""
    if len(points) < 4 or min(points[0].distance(points[1]), points[-2].distance(points[-1])) < LONG_STRAIGHT:
        return None
    corner = meet(points[0], points[1] - points[0], points[-1], points[-2] - points[-1])
    if corner is None:
        return None
    reach = (corner.distance(points[1]) + corner.distance(points[-2])) / 2
    if not 0 < reach <= LONGEST_BEND or not near(
            points, bent(points[0], corner, points[-1], reach), CURVE):
        return None
    return Run("bend", tuple(points), (corner,), reach=reach)


def _curve(points: list[Point], crossing: bool, too_many: int) -> Run | None:
    line = tuple(points)
    shares = _shares(points, closed=False)
    for count in range(1, too_many):
        for share in shares:
            stops = _places(points, share, count)
            if crossing:
                stops = _paired(stops, points)
            marks = [points[0], *stops, points[-1]]
            if _apart(marks):
                continue
            drawn = by_eye(marks)
            if _close(marks, drawn) and near(points, drawn, CURVE):
                return Run("curve", line, tuple(stops), crossing=crossing)
    return None


def _loop(ring: list[Point], axis: float | None) -> Run:
    """A closed curve without a corner: its marks from the top round, in pairs where it is mirrored."""
    start = 0 if axis is not None else min(range(len(ring)), key=lambda i: ring[i].y)
    line = [*ring[start:], *ring[: start + 1]]
    shares = _shares(line, closed=True)
    for count in range(4, MOST_STOPS):
        for share in shares:
            stops = _places(line, share, count - 1)
            if axis is not None:
                stops = _paired(stops, line, axis)
            marks = [line[0], *stops]
            round_again = [*marks, line[0]]
            if _apart(round_again) or not _close(round_again, by_eye(round_again)):
                continue
            if near(line, by_eye(marks, closed=True), CURVE):
                break
        else:
            continue
        break
    return Run("loop", tuple(line), tuple(marks), crossing=axis is not None)


def _paired(stops: list[Point], line: list[Point], axis: float | None = None) -> list[Point]:
    """The stops made mirror images of each other, as they are but for how a curve was cut up."""
    axis = (line[0].x + line[-1].x) / 2 if axis is None else axis
    count = len(stops)
    return [
        Point(axis, p.y) if 2 * i == count - 1 else p if 2 * i > count - 1 else mirrored(
            stops[count - 1 - i], axis)
        for i, p in enumerate(stops)
    ]


def _apart(marks: Sequence[Point]) -> bool:
    """Whether two marks in a row are too far from each other for an eye."""
    return any(p.distance(q) > GAP for p, q in pairwise(marks))


def _close(marks: Sequence[Point], drawn: Sequence[Point]) -> bool:
    """Whether an eye sees from mark to mark of the curve that it draws through them."""
    per = (len(drawn) - 1) // max(len(marks) - 1, 1)
    return len(marks) < 3 or all(
        drawn[i * per + per // 2].distance(p.towards(q, 0.5)) <= RISE
        for i, (p, q) in enumerate(pairwise(marks)) if per and i * per + per // 2 < len(drawn)
    )


def _shares(points: list[Point], *, closed: bool) -> list[list[float]]:
    """What part of the way each side of a line counts for: even, and more where it bends more."""
    lengths = [p.distance(q) for p, q in pairwise(points)]
    ring = [points[-2], *points, points[1]] if closed else [points[0], *points, points[-1]]
    turns = [_turn(*three) for three in zip(ring, ring[1:], ring[2:], strict=False)]
    whole, turned = sum(lengths), sum(turns)
    even = [size / whole for size in lengths]
    if turned <= 1:
        return [even]
    bent = [(a + b) / 2 / turned for a, b in pairwise(turns)]
    total = sum(bent)
    return [even, *(
        [e + (b / total - e) * part for e, b in zip(even, bent, strict=True)] for part in (1 / 2, 5 / 6))]


def _places(points: list[Point], shares: list[float], count: int) -> list[Point]:
    found, so_far, i = [], 0.0, 0
    for number in range(1, count + 1):
        wanted = number / (count + 1)
        while i < len(shares) - 1 and so_far + shares[i] < wanted:
            so_far += shares[i]
            i += 1
        part = min(1.0, (wanted - so_far) / shares[i]) if shares[i] else 0.0
        found.append(points[i].towards(points[i + 1], part))
    return found


def _string(points: list[Point], reach: Reach, crossing: bool) -> Run | None:
    if points[0] == points[-1] or len(points) < 3:
        return None
    circle = circle_through(points[0], points[len(points) // 2], points[-1])
    if circle is None or not circle[1] >= LEAST_RADIUS or not reach(circle[0]):
        return None
    centre, radius = circle
    if crossing:
        centre = Point((points[0].x + points[-1].x) / 2, centre.y)
    onwards = 1 if (points[1] - points[0]).cross(points[2] - points[1]) > 0 else -1
    drawn = along_circle(points[0], points[-1], centre, onwards, 48)
    if not near(points, [points[0], *drawn], CURVE):
        return None
    parts = ceil(_sweep(points, centre) / MOST_SWEEP)
    arc = along_circle(points[0], points[-1], centre, onwards, parts)[:-1]
    stops = _paired(arc, points) if crossing else arc
    return Run("string", tuple(points), tuple(stops), centre, radius, crossing)


def _sweep(points: list[Point], centre: Point) -> float:
    """Degrees that a line goes round a centre."""
    return sum(_turn(centre, p, p + (q - centre)) for p, q in pairwise(points))


def _corners(line: Sequence[Point]) -> list[int]:
    """The places in a line, its ends left out, where a cutter may see a corner, or a curve's beginning."""
    found = []
    for i in range(1, len(line) - 1):
        before, at, after = line[i - 1 : i + 2]
        turn = _turn(before, at, after)
        shorter, longer = sorted((before.distance(at), at.distance(after)))
        begins = longer > LONG_STRAIGHT and longer > 5 * shorter
        if turn > CORNER or begins or (turn > 0.5 and shorter * radians(turn) / 8 > BULGE):
            found.append(i)
    return found


def _turn(before: Point, at: Point, after: Point) -> float:
    u, v = at - before, after - at
    size = u.length * v.length
    return degrees(acos(max(-1.0, min(1.0, u.dot(v) / size)))) if size else 0.0


