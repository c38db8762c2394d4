"""Cutting an outline in two along a line down the page."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import acos, pi

from .curves import Arc, Cubic, Line, Segment
from .outline import Edge, Outline
from .path import Path

NEAR = 1e-6


@dataclass(frozen=True, slots=True)
class Crossing:
    """Where an edge meets the line: `distance` mm from the edge's start."""

    edge: int
    distance: float


def crossings(outline: Outline, x: float) -> list[Crossing]:
    """Every place where the outline crosses from one side of the line at `x` to the other.

    A corner that lies on the line counts once; an edge that runs along the line does not count.
    """
    found = []
    for i, edge in enumerate(outline.edges):
        before = 0.0
        for segment in edge.path.segments:
            for t in _parameters(segment, x):
                found.append(Crossing(i, before + _way_to(segment, t)))
            before += segment.length
    return [c for c in found if _changes_side(outline, c, x)]


@dataclass(frozen=True)
class SplitPart:
    """One part of an outline that was cut: for each edge, the edge it is of and where on it it starts."""

    outline: Outline
    origins: Mapping[str, tuple[str, float]]


def chords(outline: Outline, x: float) -> list[tuple[Crossing, Crossing]]:
    """The stretches of the line at `x` that lie inside the outline, downwards; each told by its two
    ends in the order in which the outline is walked. A hollow outline may have several."""
    paths = [edge.path for edge in outline.edges]
    down = sorted(crossings(outline, x), key=lambda c: paths[c.edge].point_along(c.distance).y)
    pairs = zip(down[::2], down[1::2], strict=True)
    return [(a, b) if (a.edge, a.distance) < (b.edge, b.distance) else (b, a) for a, b in pairs]


def split_outline(
    outline: Outline, chord: tuple[Crossing, Crossing], edge: str
) -> tuple[SplitPart, SplitPart]:
    """The two parts on the left and on the right of a chord, each closed by a straight edge of the
    name given, which no edge may have yet.

    Edges that the chord cuts keep their name in both parts, where they can.
    """
    first, second = chord
    back, on = _part(outline, first, second, edge), _part(outline, second, first, edge)
    # The inside is on the right of the way one walks, so the part that is closed upwards is on the right.
    upwards = back.outline[edge].path.end.y < back.outline[edge].path.start.y
    return (on, back) if upwards else (back, on)


def _parameters(segment: Segment, x: float) -> list[float]:
    """Where on the segment its x is the one given; its start included, its end not."""
    if isinstance(segment, Line):
        width = segment.end.x - segment.start.x
        found = [(x - segment.start.x) / width] if abs(width) > NEAR else []
    elif isinstance(segment, Arc):
        cosine = (x - segment.centre.x) / segment.radius
        if abs(cosine) >= 1 or not segment.sweep:
            return []
        found = []
        for angle in (acos(cosine), -acos(cosine)):
            turn = (angle - segment.start_angle) % (2 * pi)
            if segment.sweep < 0:
                turn -= 2 * pi
            found.append(turn / segment.sweep)
    else:
        found = _cubic_parameters(segment, x)
    return sorted(t for t in found if -1e-12 <= t < 1 - 1e-12)


def _cubic_parameters(segment: Cubic, x: float) -> list[float]:
    samples = 64
    found = []
    for i in range(samples):
        low, high = i / samples, (i + 1) / samples
        a, b = segment.point_at(low).x - x, segment.point_at(high).x - x
        if a == 0:
            found.append(low)
        elif a * b < 0:
            for _ in range(60):
                middle = (low + high) / 2
                if (segment.point_at(middle).x - x) * a > 0:
                    low = middle
                else:
                    high = middle
            found.append((low + high) / 2)
    return found


def _way_to(segment: Segment, t: float) -> float:
    return segment.length_to(t) if isinstance(segment, Cubic) else segment.length * max(t, 0.0)


def _changes_side(outline: Outline, crossing: Crossing, x: float) -> bool:
    edges = outline.edges
    path = edges[crossing.edge].path
    step = min(0.01, path.length / 100)
    before, after = crossing.distance - step, crossing.distance + step
    left = (edges[crossing.edge - 1].path.point_along(edges[crossing.edge - 1].length + before)
            if before < 0 else path.point_along(before))
    right = (edges[(crossing.edge + 1) % len(edges)].path.point_along(after - path.length)
             if after > path.length else path.point_along(after))
    return (left.x - x) * (right.x - x) < 0


def _part(outline: Outline, start: Crossing, end: Crossing, name: str) -> SplitPart:
    """The outline from one crossing on to the other, then straight back."""
    count = len(outline.edges)
    edges: list[Edge] = []
    origins: dict[str, tuple[str, float]] = {}
    i, distance = start.edge, start.distance
    while True:
        edge = outline.edges[i]
        last = i == end.edge and (end.distance > distance or i != start.edge)
        path = _between(edge.path, distance, end.distance if last else edge.length)
        if path:
            # An edge cut out of the middle comes back in two parts: number the second.
            names = (edge.name, *(f"{edge.name} {n}" for n in range(2, 99)))
            others = {other.name for other in outline.edges} - {edge.name}
            own = next(n for n in names if n not in origins and n not in others)
            edges.append(Edge(own, path))
            origins[own] = (edge.name, distance)
        if last:
            break
        i, distance = (i + 1) % count, 0.0
    edges.append(Edge(name, Path.through(edges[-1].path.end, edges[0].path.start)))
    return SplitPart(Outline(tuple(edges)), origins)


def _between(path: Path, start: float, end: float) -> Path | None:
    if end - start <= NEAR:
        return None
    if start > NEAR:
        path = path.cut_at(start)[1]
    if end - start < path.length - NEAR:
        path = path.cut_at(end - start)[0]
    return path


def split_path(path: Path, x: float, top: float, bottom: float) -> tuple[Path, Path] | None:
    """The parts of an open path left and right of the line at `x`, which runs from `top` to `bottom`.

    None for a path that does not cross that stretch of the line exactly once.
    """
    cuts = []
    before = 0.0
    for segment in path.segments:
        cuts += [before + _way_to(segment, t) for t in _parameters(segment, x)]
        before += segment.length
    cuts = [c for c in cuts if NEAR < c < path.length - NEAR
            and top <= path.point_along(c).y <= bottom]
    if len(cuts) != 1:
        return None
    first, second = path.cut_at(cuts[0])
    return (first, second) if path.start.x < x else (second, first)
