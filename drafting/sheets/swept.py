"""Outlines that a string draws: arcs about one point, and straight lines between them."""

from dataclasses import dataclass
from math import copysign, radians

from ..geometry import Arc, Point
from ..pattern import Piece

ON_THE_ARC = 0.05
"""mm by which a corner may lie off the circle it is on."""

LEAST_SWEEP = radians(85)
"""A string is worth its trouble from a quarter of a circle on: less is soon printed."""

MOST_STOPS = 8

LEAST_ON_AN_ARC = 4
"""Corners of a cutting line in a row, on one circle, that make an arc of it."""


@dataclass(frozen=True)
class Swept:
    """Round the outline from stop to stop: each with the radius of the arc about `centre` that leads to the
    next, less than nothing where that runs against the clock, 0 for a straight line. mm."""

    centre: Point
    stops: tuple[tuple[Point, float], ...]


def swept(piece: Piece) -> Swept | None:
    """The cutting line so, where all its arcs have one centre, its stops are few and it is no mere slice;
    None where not."""
    arcs = [s for edge in piece.outline.edges for s in edge.path.segments if isinstance(s, Arc)]
    if not arcs or max(abs(arc.sweep) for arc in arcs) < LEAST_SWEEP:
        return None
    if any(arc.centre.distance(arcs[0].centre) > ON_THE_ARC for arc in arcs):
        return None
    centre, ring = arcs[0].centre, piece.cutting_line
    away = [p.distance(centre) for p in ring]
    first = next((i for i in range(len(ring)) if abs(away[i] - away[i - 1]) > ON_THE_ARC), 0)
    order = [*range(first, len(ring)), *range(first)]
    stops: list[tuple[Point, float]] = []
    while order:
        run = 1
        while run < len(order) and abs(away[order[run]] - away[order[0]]) <= ON_THE_ARC:
            run += 1
        if run >= LEAST_ON_AN_ARC:
            p, q = ring[order[0]], ring[order[1]]
            stops.append((p, copysign(away[order[0]], (p - centre).cross(q - centre))))
            order = order[run - 1:]
        stops.append((ring[order.pop(0)], 0.0))
    return Swept(centre, tuple(stops)) if len(stops) <= MOST_STOPS else None
