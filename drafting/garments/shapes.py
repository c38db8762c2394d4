"""Plain shapes that many small pieces share: the rectangle and the sector of a ring."""

from math import pi

from ..geometry import Arc, Edge, Line, Outline, Path, Point, polar


def rectangle(
    width: float, length: float, names: tuple[str, str, str, str] = ("top", "right", "bottom", "left")
) -> Outline:
    """`width` across and `length` down from (0, 0); `names` of the edges clockwise from the top."""
    corners = (Point(0, 0), Point(width, 0), Point(width, length), Point(0, length))
    return Outline(tuple(
        Edge(name, Path.through(corners[i], corners[(i + 1) % 4])) for i, name in enumerate(names)
    ))


def ring_sector(
    inner: float,
    outer: float,
    angle: float,
    names: tuple[str, str, str, str] = ("hem", "last", "neck", "first"),
) -> Outline:
    """Of a ring about (0, 0): from straight up the page, clockwise through `angle` radians.

    `names`: the outer arc, the straight edge it ends at, the inner arc, the edge it began at.
    """
    up, end = -pi / 2, -pi / 2 + angle
    centre = Point(0, 0)
    hem, last, neck, first = names
    return Outline((
        Edge(hem, Path((Arc(centre, outer, up, angle),))),
        Edge(last, Path((Line(polar(outer, end), polar(inner, end)),))),
        Edge(neck, Path((Arc(centre, inner, end, -angle),))),
        Edge(first, Path((Line(polar(inner, up), polar(outer, up)),))),
    ))
