"""Points and directions in the plane; x to the right, y down, millimetres."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import atan2, cos, hypot, sin


@dataclass(frozen=True, slots=True)
class Point:
    """A point, or a vector between two points."""

    x: float
    y: float

    def __iter__(self) -> Iterator[float]:
        yield self.x
        yield self.y

    def __add__(self, other: "Point") -> "Point":
        return Point(self.x + other.x, self.y + other.y)

    def __sub__(self, other: "Point") -> "Point":
        return Point(self.x - other.x, self.y - other.y)

    def __mul__(self, factor: float) -> "Point":
        return Point(self.x * factor, self.y * factor)

    def __neg__(self) -> "Point":
        return Point(-self.x, -self.y)

    def dot(self, other: "Point") -> float:
        return self.x * other.x + self.y * other.y

    def cross(self, other: "Point") -> float:
        """Positive when `other` lies clockwise (as seen on the page) of this vector."""
        return self.x * other.y - self.y * other.x

    @property
    def length(self) -> float:
        return hypot(self.x, self.y)

    @property
    def angle(self) -> float:
        """Radians clockwise (as seen on the page) from the direction of x."""
        return atan2(self.y, self.x)

    @property
    def outward(self) -> "Point":
        """The vector a quarter turn to the left: out of a piece that is walked clockwise."""
        return Point(self.y, -self.x)

    def unit(self) -> "Point":
        """The same direction with length one. Raises ZeroDivisionError for the null vector."""
        size = self.length
        return Point(self.x / size, self.y / size)

    def turned(self, angle: float, about: "Point | None" = None) -> "Point":
        """Turned clockwise (as seen on the page) by `angle` radians."""
        c, s = cos(angle), sin(angle)
        if about is None:
            return Point(self.x * c - self.y * s, self.x * s + self.y * c)
        dx, dy = self.x - about.x, self.y - about.y
        return Point(about.x + dx * c - dy * s, about.y + dx * s + dy * c)

    def distance(self, other: "Point") -> float:
        return hypot(self.x - other.x, self.y - other.y)

    def towards(self, other: "Point", part: float) -> "Point":
        """The point that lies `part` of the way to `other`."""
        return Point(self.x + (other.x - self.x) * part, self.y + (other.y - self.y) * part)


def polar(radius: float, angle: float) -> Point:
    """The vector of that length, `angle` radians clockwise from the direction of x."""
    return Point(radius * cos(angle), radius * sin(angle))


def meet(p: Point, u: Point, q: Point, v: Point) -> Point | None:
    """Where the line through `p` along `u` meets the line through `q` along `v`.

    None when the two are parallel to within about a ten-millionth of a radian.
    """
    across = u.cross(v)
    if abs(across) <= 1e-7 * u.length * v.length:
        return None
    return p + u * ((q - p).cross(v) / across)
