"""The cutting line: every edge of an outline set off by its own allowance, and the corners joined.

Two kinds of corner. Between plain allowances the two offset lines run on until they meet (a mitre).
Where one of the edges is folded, as a hem is, its allowance is the mirror image of the piece on the
other side of the fold, so that it lies flat when turned: a cuff that widens upwards gets an allowance
that widens downwards.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from .curves import Arc, Cubic, Segment
from .outline import Edge, Outline
from .path import FLAT
from .point import Point, meet

MITRE_LIMIT = 4.0
"""A mitre longer than this many allowances is cut off blunt, as one would with shears."""


@dataclass(frozen=True, slots=True)
class Allowance:
    """Cloth beyond the sewing line, in mm; `fold` when it is turned along the line itself.

    Turned twice, `under` mm of it go in first: half of it where that is None.
    """

    width: float
    fold: bool = False
    under: float | None = None

    @property
    def depth(self) -> float:
        """mm deep when it is turned twice."""
        return self.width - (self.width / 2 if self.under is None else self.under)


@dataclass
class _Run:
    """A segment's or an edge's offset, as points still to be trimmed, with what its joins need to know."""

    points: list[Point]
    corner_in: Point
    corner_out: Point
    direction_in: Point
    direction_out: Point
    allowance: Allowance


def cutting_line(outline: Outline, allowances: Mapping[str, Allowance]) -> tuple[Point, ...]:
    """A polygon, each point once, clockwise; edges not in `allowances` get none.

    A hollow arc tighter than its allowance shrinks to its centre. Where a hollow corner's offsets do
    not cross (edges shorter than the allowance), the line may cross itself; truing reports that.
    """
    return cutting_ring(outline.edges, allowances)


def cutting_ring(
    edges: Sequence[Edge], allowances: Mapping[str, Allowance]
) -> tuple[Point, ...]:
    """The same for any ring of edges, each set off to the left of the way one walks.

    A hole is walked anticlockwise, so that its allowance lies inside it.
    """
    runs = [_run(edge, allowances.get(edge.name) or Allowance(0.0)) for edge in edges]
    for before, after in zip(runs, (*runs[1:], runs[0]), strict=True):
        _join(before, after)
    return without_needless_points([p for run in runs for p in run.points])


def without_needless_points(polygon: list[Point]) -> tuple[Point, ...]:
    """The closed polygon less points that repeat, or lie straight between, their neighbours."""
    kept: list[Point] = []
    for p in polygon:
        if not kept or p.distance(kept[-1]) > 1e-6:
            kept.append(p)
    while len(kept) > 1 and kept[0].distance(kept[-1]) <= 1e-6:
        kept.pop()
    count = len(kept)
    return tuple(
        p for i, p in enumerate(kept) if not _straight(kept[i - 1], p, kept[(i + 1) % count])
    )


def _straight(before: Point, p: Point, after: Point) -> bool:
    u, v = p - before, after - p
    return abs(u.cross(v)) <= 1e-9 * u.length * v.length and u.dot(v) > 0


def _run(edge: Edge, allowance: Allowance) -> _Run:
    """An edge's offset, joined at its own corners."""
    runs = [_segment_run(segment, allowance) for segment in edge.path.segments]
    for before, after in zip(runs, runs[1:], strict=False):
        _join(before, after)
    points = [p for run in runs for p in run.points]
    if any(_turns_back(run, segment) for run, segment in zip(runs, edge.path.segments, strict=True)):
        points = _without_loops(points)
    first, last = runs[0], runs[-1]
    return _Run(points, first.corner_in, last.corner_out, first.direction_in, last.direction_out,
                allowance)


def _segment_run(segment: Segment, allowance: Allowance) -> _Run:
    points: list[Point] = []
    for part in segment.offset(allowance.width):
        points.extend(part.points(FLAT)[1 if points else 0:])
    if not points:
        assert isinstance(segment, Arc), "only a hollow arc can be swallowed"
        points = [segment.centre]
    return _Run(points, segment.start, segment.end, segment.direction_at(0), segment.direction_at(1),
                allowance)


def _turns_back(run: _Run, segment: Segment) -> bool:
    """Whether a curve is somewhere tighter than its allowance, so that the offset runs backwards."""
    if not isinstance(segment, Cubic):
        return False
    count = len(run.points)
    return any(
        (q - p).dot(segment.direction_at((i + 0.5) / count)) < 0
        for i, (p, q) in enumerate(zip(run.points, run.points[1:], strict=False))
    )


def _without_loops(points: list[Point]) -> list[Point]:
    """The line less every loop that it makes: at each crossing it goes straight on to its later way."""
    kept = points[:1]
    i = 0
    while i < len(points) - 1:
        for j in range(len(points) - 2, i + 1, -1):
            crossing = _crossing(kept[-1], points[i + 1], points[j], points[j + 1])
            if crossing is not None:
                kept.append(crossing)
                i = j
                break
        kept.append(points[i + 1])
        i += 1
    return kept


def _join(before: _Run, after: _Run) -> None:
    if before.points[-1].distance(after.points[0]) <= 1e-6:
        return
    if before.allowance.fold != after.allowance.fold:
        if after.allowance.fold:
            _join_fold(before.points, before.direction_out, after.points, after.direction_in,
                       after.corner_in)
        else:
            # The same corner walked backwards: the folded edge comes last again.
            plain, folded = after.points[::-1], before.points[::-1]
            _join_fold(plain, -after.direction_in, folded, -before.direction_out, after.corner_in,
                       outward=-1.0)
            after.points[:], before.points[:] = plain[::-1], folded[::-1]
    elif before.direction_out.cross(after.direction_in) > 1e-9:
        _mitre(before, after)
    else:
        _trim(before.points, after.points)


def _mitre(before: _Run, after: _Run) -> None:
    end, start = before.points[-1], after.points[0]
    u, v = before.direction_out, after.direction_in
    widest = max(before.allowance.width, after.allowance.width)
    point = meet(end, u, start, v)
    if point is None:
        return
    onward, backward = (point - end).dot(u), (start - point).dot(v)
    if min(onward, backward) < -widest:
        # Nearly straight with unequal allowances: a step keeps the full width of both.
        return
    if backward < 0:
        _run_into(before.points, u * (onward + widest), after.points)
    elif onward < 0:
        after.points.reverse()
        before.points.reverse()
        _run_into(after.points, v * -(backward + widest), before.points)
        after.points.reverse()
        before.points.reverse()
    elif point.distance(before.corner_out) <= MITRE_LIMIT * widest:
        before.points.append(point)
    else:
        before.points.append(end + u * widest)
        after.points.insert(0, start - v * widest)


def _run_into(narrow: list[Point], onward: Point, wide: list[Point]) -> None:
    """Runs the narrow allowance on into the wide one, whose end it cuts off; a step if it cannot."""
    longer = [*narrow, narrow[-1] + onward]
    if _trim(longer, wide):
        narrow[:] = longer


def _trim(before: list[Point], after: list[Point]) -> bool:
    """Cuts both offsets where they cross, nearest to the corner. False when they do not."""
    for i in range(len(before) - 1, 0, -1):
        for j in range(1, len(after)):
            crossing = _crossing(before[i - 1], before[i], after[j - 1], after[j])
            if crossing is not None:
                before[i:] = [crossing]
                after[:j] = [crossing]
                return True
    return False


def _crossing(p: Point, q: Point, a: Point, b: Point) -> Point | None:
    u, v = q - p, b - a
    across = u.cross(v)
    if across == 0:
        return None
    t, s = (a - p).cross(v) / across, (a - p).cross(u) / across
    return p + u * t if -1e-9 <= t <= 1 + 1e-9 and -1e-9 <= s <= 1 + 1e-9 else None


def _join_fold(
    plain: list[Point],
    u: Point,
    folded: list[Point],
    v: Point,
    corner: Point,
    outward: float = 1.0,
) -> None:
    """Ends `plain` on the fold, then mirrors it in the fold until it reaches `folded`.

    `u` and `v` are the ways along the two sewing lines, away from the plain edge and along the fold.
    """
    out = v.outward * outward

    def beyond(p: Point) -> bool:
        return (p - corner).dot(out) > 1e-9

    while len(plain) > 1 and beyond(plain[-1]) and beyond(plain[-2]):
        plain.pop()
    on_fold = meet(plain[-1], u if not beyond(plain[-1]) or len(plain) < 2
                   else plain[-1] - plain[-2], corner, v)
    mirrored = u - v * (2 * u.dot(v))
    end = on_fold and meet(on_fold, mirrored, folded[0], v)
    if on_fold is None or end is None or mirrored.dot(out) < 0.2:
        # A sliver of a corner: mirrored, it would run off along the hem. Cut it square instead.
        return
    if beyond(plain[-1]):
        plain.pop()
    plain.append(on_fold)
    while len(folded) > 1 and (folded[1] - end).dot(v) < 0:
        folded.pop(0)
    if (folded[0] - end).dot(v) < 0:
        folded.pop(0)
    folded.insert(0, end)
