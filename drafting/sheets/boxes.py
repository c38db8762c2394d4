"""Boxes round text, and where they may stand: clear of lines, of other boxes, inside or outside."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from ..geometry import Bounds, Point
from ..geometry.polygon import Side, inside, sides


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle about x, y: `half_width` along the unit vector ux, uy and `half_height` across."""

    x: float
    y: float
    ux: float
    uy: float
    half_width: float
    half_height: float

    @property
    def reach(self) -> tuple[float, float]:
        """Half the extents of the upright rectangle round it."""
        ax, ay = abs(self.ux), abs(self.uy)
        return (
            ax * self.half_width + ay * self.half_height,
            ay * self.half_width + ax * self.half_height,
        )

    @property
    def bounds(self) -> Bounds:
        rx, ry = self.reach
        return self.x - rx, self.y - ry, self.x + rx, self.y + ry

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        middle = Point(self.x, self.y)
        u = Point(self.ux, self.uy) * self.half_width
        v = Point(-self.uy, self.ux) * self.half_height
        return middle - u - v, middle + u - v, middle + u + v, middle - u + v

    def meets_side(self, side: Side) -> bool:
        """Whether the line touches the box. source: the separating axis theorem."""
        ux, uy, w, h = self.ux, self.uy, self.half_width, self.half_height
        ax, ay, bx, by = side[0] - self.x, side[1] - self.y, side[2] - self.x, side[3] - self.y
        a, c = ax * ux + ay * uy, bx * ux + by * uy
        if (a > w and c > w) or (a < -w and c < -w):
            return False
        b, d = ay * ux - ax * uy, by * ux - bx * uy
        if (b > h and d > h) or (b < -h and d < -h):
            return False
        return abs(a * d - b * c) <= w * abs(d - b) + h * abs(c - a)

    def meets_box(self, other: "Box") -> bool:
        """Whether the two overlap. source: the separating axis theorem."""
        dx, dy = other.x - self.x, other.y - self.y
        cos = abs(self.ux * other.ux + self.uy * other.uy)
        sin = abs(self.ux * other.uy - self.uy * other.ux)
        for one, two in ((self, other), (other, self)):
            along = abs(dx * one.ux + dy * one.uy)
            across = abs(dy * one.ux - dx * one.uy)
            if along > one.half_width + cos * two.half_width + sin * two.half_height:
                return False
            if across > one.half_height + sin * two.half_width + cos * two.half_height:
                return False
        return True


class BoxGround:
    """What a text box must respect on one piece: its two outlines, lines drawn, boxes placed."""

    def __init__(
        self, sewing: Sequence[Point], cutting: Sequence[Point], lines: Iterable[Side] = (),
        shown: Callable[[Box], bool] = lambda box: True,
    ) -> None:
        """`shown` says of a box whether what stands there is printed."""
        self._shown = shown
        self._sewing = sides(sewing)
        self._cutting = sides(cutting)
        self._lines = list(lines)
        self.boxes: list[Box] = []

    def inside(self, box: Box, *, over_lines: bool = False) -> bool:
        """Whether the box lies within the sewing lines, off every line and box."""
        return (
            inside(self._sewing, box.x, box.y)
            and self._shown(box)
            and _clear(box, self._sewing)
            and (over_lines or _clear(box, self._lines))
            and not any(box.meets_box(other) for other in self.boxes)
        )

    def outside(self, box: Box) -> bool:
        """Whether the box lies off the cutting line and every box."""
        return (
            not inside(self._cutting, box.x, box.y)
            and self._shown(box)
            and _clear(box, self._cutting)
            and not any(box.meets_box(other) for other in self.boxes)
        )

    def take(self, box: Box) -> None:
        self.boxes.append(box)


def _clear(box: Box, lines: Iterable[Side]) -> bool:
    left, top, right, bottom = box.bounds
    for side in lines:
        x0, y0, x1, y1 = side
        if (
            (x0 < left and x1 < left) or (x0 > right and x1 > right)
            or (y0 < top and y1 < top) or (y0 > bottom and y1 > bottom)
        ):
            continue
        if box.meets_side(side):
            return False
    return True
