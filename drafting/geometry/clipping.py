"""What of a drawing lies in an upright rectangle: left, top, right, bottom, which may be at infinity."""

from collections.abc import Callable, Sequence

from .point import Point

Rect = tuple[float, float, float, float]

ON_A_SIDE = 0.05
"""mm within which a line runs along a side."""


def clipped_polygon(polygon: Sequence[Point], rect: Rect) -> list[Point]:
    """The part of a closed polygon within the rectangle; empty where there is none.

    source: Sutherland & Hodgman 1974, Communications of the ACM 17:32.
    """
    left, top, right, bottom = rect
    found = list(polygon)
    sides: tuple[Callable[[Point], float], ...] = (
        lambda p: p.x - left, lambda p: right - p.x, lambda p: p.y - top, lambda p: bottom - p.y,
    )
    for within in sides:
        kept: list[Point] = []
        for before, p in zip((*found[-1:], *found[:-1]), found, strict=True):
            a, b = within(before), within(p)
            if (a < 0) != (b < 0):
                kept.append(before.towards(p, a / (a - b)))
            if b >= 0:
                kept.append(p)
        found = kept
    return found


def clipped_lines(points: Sequence[Point], rect: Rect) -> list[list[Point]]:
    """The parts of a polyline within the rectangle. source: Liang & Barsky 1984, ACM TOG 3:1."""
    found: list[list[Point]] = []
    for a, b in zip(points, points[1:], strict=False):
        part = _clipped_segment(a, b, rect)
        if part is None:
            continue
        if found and found[-1][-1].distance(part[0]) < 1e-9:
            found[-1].append(part[1])
        else:
            found.append(list(part))
    return found


def clipped_ring(ring: Sequence[Point], rect: Rect) -> list[list[Point]]:
    """The parts of a closed line (each point once) within the rectangle, less what runs along a side.

    One that lies wholly within ends where it began.
    """
    found: list[list[Point]] = []
    for a, b in zip(ring, (*ring[1:], *ring[:1]), strict=True):
        part = _clipped_segment(a, b, rect)
        if part is None or part[0] == part[1] or along_a_side(*part, rect):
            continue
        if found and found[-1][-1].distance(part[0]) < 1e-6:
            found[-1].append(part[1])
        else:
            found.append(list(part))
    if len(found) > 1 and found[0][0].distance(found[-1][-1]) < 1e-6:
        found[0] = [*found.pop(), *found[0][1:]]
    return found


def along_a_side(p: Point, q: Point, rect: Rect) -> bool:
    """Whether the line from p to q runs along a side of the rectangle."""
    left, top, right, bottom = rect
    return any(abs(p.x - x) <= ON_A_SIDE and abs(q.x - x) <= ON_A_SIDE for x in (left, right)) or any(
        abs(p.y - y) <= ON_A_SIDE and abs(q.y - y) <= ON_A_SIDE for y in (top, bottom))


def _clipped_segment(a: Point, b: Point, rect: Rect) -> tuple[Point, Point] | None:
    left, top, right, bottom = rect
    dx, dy = b.x - a.x, b.y - a.y
    start, end = 0.0, 1.0
    for way, room in ((-dx, a.x - left), (dx, right - a.x), (-dy, a.y - top), (dy, bottom - a.y)):
        if way == 0:
            if room < 0:
                return None
            continue
        at = room / way
        if way < 0:
            start = max(start, at)
        else:
            end = min(end, at)
    return None if start > end else (a.towards(b, start), a.towards(b, end))
