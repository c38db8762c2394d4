"""Pens: whatever draws, measures or writes a line that someone else walks along.

A path, an outline or a polygon is walked once, in one way, and told to a pen, which knows nothing of
pieces. `SvgPen` writes SVG path data; a pen for another format has the same four methods.
"""

import re
from collections.abc import Callable, Sequence
from typing import Protocol

from .point import Point


class Pen(Protocol):
    """Whatever wants to draw, measure or write an outline; arcs arrive as cubics."""

    def move_to(self, p: Point) -> None: ...
    def line_to(self, p: Point) -> None: ...
    def curve_to(self, c1: Point, c2: Point, p: Point) -> None: ...
    def close(self) -> None: ...


def draw_line(pen: Pen, points: Sequence[Point], *, closed: bool = False) -> None:
    """Straight from point to point, and back to the first when `closed`."""
    pen.move_to(points[0])
    for p in points[1:]:
        pen.line_to(p)
    if closed:
        pen.close()


class SvgPen:
    """Writes what it is told as the `d` of an SVG path, with so many decimals of each number."""

    def __init__(self, decimals: int = 3) -> None:
        self._decimals = decimals
        self._at = f"%.{decimals}f %.{decimals}f"
        self._parts: list[str] = []

    def move_to(self, p: Point) -> None:
        self._parts.append("M" + self._at % (p.x, p.y))

    def line_to(self, p: Point) -> None:
        self._parts.append("L" + self._at % (p.x, p.y))

    def curve_to(self, c1: Point, c2: Point, p: Point) -> None:
        at = self._at
        self._parts.append(f"C{at} {at} {at}" % (c1.x, c1.y, c2.x, c2.y, p.x, p.y))

    def half_ellipse_to(self, p: Point, half: Point, turned: float, *, clockwise: bool) -> None:
        """With the half axes `half`, turned by so many degrees; beyond what every pen can do."""
        turn, at = number(turned, self._decimals), self._at
        self._parts.append(f"A{at} {turn} 0 {int(clockwise)} {at}" % (half.x, half.y, p.x, p.y))

    def close(self) -> None:
        self._parts.append("Z")

    @property
    def d(self) -> str:
        return "".join(self._parts)

    @property
    def shortest(self) -> str:
        """`d` without the noughts that end decimals, for small drawings of which there are many."""
        return _NOUGHTS.sub(r"\1", self.d)


_NOUGHTS = re.compile(r"(?:(\.\d*[1-9])|\.)0+(?!\d)")


def path_data(draw: Callable[[Pen], None], decimals: int = 3) -> str:
    """What `draw` tells a pen, such as a path's own `draw`, as the `d` of an SVG path."""
    pen = SvgPen(decimals)
    draw(pen)
    return pen.d


def polygon_data(points: Sequence[Point], decimals: int = 3) -> str:
    return path_data(lambda pen: draw_line(pen, points, closed=True), decimals)


def number(value: float, decimals: int) -> str:
    """As short as may be, for an SVG's attributes."""
    text = f"{value:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if decimals else text
