"""Pieces close together on paper, to print on as few sheets as will do.

A piece is known by how far it reaches to the left and right in each of many narrow bands. In a row
pieces are pushed together until they touch in some band, and one is turned head to tail where it
then reaches less far: beside a flared piece the next flared piece needs little over half its width.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil
from typing import Generic, TypeVar

from ..geometry import Point, bounds
from ..geometry.polygon import sides

BAND = 20.0
"""mm: height of a band."""

GAP = 10.0
"""mm of paper between two pieces, to take shears along."""

T = TypeVar("T")


@dataclass(frozen=True)
class Packable(Generic[T]):
    """One way to lay `item`, whose own left and top are `x`, `y`.

    `left` and `right` say how far from its left end it begins and ends in each band, top to bottom.
    """

    item: T
    x: float
    y: float
    width: float
    height: float
    left: tuple[float, ...]
    right: tuple[float, ...]


@dataclass(frozen=True)
class Packed(Generic[T]):
    """Each shape with the x, y of its left and top on the sheet; and the sheet's size. mm."""

    places: tuple[tuple[Packable[T], float, float], ...]
    width: float
    height: float


def shape(item: T, polygons: Sequence[Sequence[Point]]) -> Packable[T]:
    """From the polygons that together make it up."""
    x, y, far_x, far_y = bounds([p for polygon in polygons for p in polygon])
    width, height = far_x - x, far_y - y
    count = max(1, ceil(height / BAND))
    left, right = [width] * count, [0.0] * count
    for polygon in polygons:
        for ax, ay, bx, by in sides(polygon):
            for band, reach in _reaches(ax - x, ay - y, bx - x, by - y):
                band = min(band, count - 1)
                left[band] = min(left[band], reach)
                right[band] = max(right[band], reach)
    # A neighbouring band's reach counts too, so that no two corners come closer than a gap.
    wider_left = tuple(min(left[max(0, i - 1) : i + 2]) for i in range(count))
    wider_right = tuple(max(right[max(0, i - 1) : i + 2]) for i in range(count))
    return Packable(item, x, y, width, height, wider_left, wider_right)


def _reaches(ax: float, ay: float, bx: float, by: float) -> Iterator[tuple[int, float]]:
    """Band by band, how far the side from a to b reaches."""
    if ay > by:
        ax, ay, bx, by = bx, by, ax, ay
    first, last = int(ay // BAND), int(by // BAND)
    yield first, ax
    yield last, bx
    slope = (bx - ax) / (by - ay) if by > ay else 0.0
    for band in range(first, last):
        reach = ax + slope * ((band + 1) * BAND - ay)
        yield band, reach
        yield band + 1, reach


def pack(pieces: Sequence[Sequence[Packable[T]]], widest: float) -> Packed[T]:
    """Each piece, in one of its ways, in the first row that it leaves no wider than `widest`.

    Rows hang from their tops. A piece wider than `widest` has a row to itself.
    source: the first-fit shelf rule, Coffman, Garey, Johnson & Tarjan 1980, SIAM J. Comput. 9:808.
    """
    rows: list[_Row[T]] = []
    for ways in pieces:
        for row in rows:
            way, x = row.best(ways)
            if x + way.width <= widest + 1e-6:
                break
        else:
            row = _Row([], [])
            rows.append(row)
            way, x = row.best(ways)
        row.add(way, x)
    places: list[tuple[Packable[T], float, float]] = []
    y = 0.0
    for row in rows:
        places.extend((way, x, y) for way, x in row.places)
        y += max(way.height for way, _ in row.places) + GAP
    width = max(x + way.width for way, x, _ in places)
    return Packed(tuple(places), width, y - GAP)


@dataclass
class _Row(Generic[T]):
    places: list[tuple[Packable[T], float]]
    front: list[float]
    """How far right each band is taken."""

    def best(self, ways: Sequence[Packable[T]]) -> tuple[Packable[T], float]:
        """The way whose right end comes out furthest to the left, and its x."""
        found = [(way, self._x(way)) for way in ways]
        return min(found, key=lambda placed: placed[1] + placed[0].width)

    def _x(self, way: Packable[T]) -> float:
        clear = [front + GAP - left for front, left in zip(self.front, way.left, strict=False)]
        return max(0.0, *clear) if clear else 0.0

    def add(self, way: Packable[T], x: float) -> None:
        missing = len(way.right) - len(self.front)
        self.front.extend([-GAP] * missing)
        for band, right in enumerate(way.right):
            self.front[band] = max(self.front[band], x + right)
        self.places.append((way, x))
