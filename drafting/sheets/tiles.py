"""A large sheet cut up into tiles that a small printer can print, and what joins them again."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

from ..geometry import Bounds, Point, bounds
from .boxes import Box, BoxGround

MARK = 4.0
"""mm from the middle of a register mark to the end of each arm, where the overlap is wide enough."""

Tile = tuple[int, int]
"""Row and column, both from 0."""


@dataclass(frozen=True)
class Grid:
    """Windows on the sheet, `wide` × `tall` mm, each overlapping the next by `overlap` mm.

    Down the middle of each overlap runs the line along which two tiles are joined. The cell of a tile
    is what lies between those lines.
    """

    rows: int
    columns: int
    wide: float
    tall: float
    overlap: float

    @classmethod
    def over(cls, width: float, height: float, wide: float, tall: float, overlap: float) -> "Grid":
        """As many windows as cover a sheet of `width` × `height` mm."""
        return cls(
            _count(height, tall, overlap), _count(width, wide, overlap), wide, tall, overlap
        )

    def window(self, tile: Tile) -> Bounds:
        """What the tile shows of the sheet."""
        left = tile[1] * (self.wide - self.overlap)
        top = tile[0] * (self.tall - self.overlap)
        return left, top, left + self.wide, top + self.tall

    def cell(self, tile: Tile) -> Bounds:
        left, top, right, bottom = self.window(tile)
        half = self.overlap / 2
        return (
            left + half if tile[1] > 0 else left,
            top + half if tile[0] > 0 else top,
            right - half if tile[1] < self.columns - 1 else right,
            bottom - half if tile[0] < self.rows - 1 else bottom,
        )

    def tile_at(self, x: float, y: float) -> Tile:
        """The tile in whose cell the point lies."""
        column = int((x - self.overlap / 2) // (self.wide - self.overlap))
        row = int((y - self.overlap / 2) // (self.tall - self.overlap))
        return (
            min(max(row, 0), self.rows - 1), min(max(column, 0), self.columns - 1)
        )


@dataclass(frozen=True)
class Tiling:
    """The tiles of a grid that hold something, in reading order."""

    grid: Grid
    tiles: tuple[Tile, ...]

    @cached_property
    def kept(self) -> frozenset[Tile]:
        return frozenset(self.tiles)

    def neighbour(self, tile: Tile, down: int, right: int) -> Tile | None:
        other = tile[0] + down, tile[1] + right
        return other if other in self.kept else None

    def joins(self, tile: Tile) -> list[tuple[Point, Point, Tile]]:
        """The lines along which a tile meets its neighbours, and which neighbour each is."""
        left, top, right, bottom = self.grid.cell(tile)
        corners = {
            (0, -1): (Point(left, top), Point(left, bottom)),
            (0, 1): (Point(right, top), Point(right, bottom)),
            (-1, 0): (Point(left, top), Point(right, top)),
            (1, 0): (Point(left, bottom), Point(right, bottom)),
        }
        return [
            (a, b, other)
            for (down, across), (a, b) in corners.items()
            if (other := self.neighbour(tile, down, across))
        ]

    def marks(self, tile: Tile) -> list[Point]:
        """Where register marks stand: at the ends and the middle of every join.

        An end at the sheet's border is drawn in by 1.5 arms. A corner that two tiles share only
        diagonally has its mark too.
        """
        left, top, right, bottom = self.grid.cell(tile)
        row, column = tile
        inset = 1.5 * self.arm
        ys = (top if row > 0 else top + inset,
              bottom if row < self.grid.rows - 1 else bottom - inset)
        xs = (left if column > 0 else left + inset,
              right if column < self.grid.columns - 1 else right - inset)
        found = {}
        for a, b, _ in self.joins(tile):
            for p in (a, a.towards(b, 0.5), b):
                x = min(max(p.x, xs[0]), xs[1])
                y = min(max(p.y, ys[0]), ys[1])
                found[round(x, 6), round(y, 6)] = Point(x, y)
        for down, y in ((-1, ys[0]), (1, ys[1])):
            for across, x in ((-1, xs[0]), (1, xs[1])):
                if self.neighbour(tile, down, across):
                    found[round(x, 6), round(y, 6)] = Point(x, y)
        return [found[key] for key in sorted(found)]

    @property
    def arm(self) -> float:
        """mm: half the span of a register mark, which stays within the overlap."""
        return min(MARK, 0.4 * self.grid.overlap)


def tiling(grid: Grid, outlines: Iterable[Sequence[Point]]) -> Tiling:
    """The grid without the tiles in whose cells no part of any outlined area lies."""
    kept = set()
    for outline in outlines:
        ground = BoxGround(outline, outline)
        left, top, right, bottom = bounds(outline)
        first, last = grid.tile_at(left, top), grid.tile_at(right, bottom)
        for row in range(first[0], last[0] + 1):
            for column in range(first[1], last[1] + 1):
                if (row, column) not in kept and not ground.outside(_box(grid.cell((row, column)))):
                    kept.add((row, column))
    return Tiling(grid, tuple(sorted(kept)))


def _box(rect: Bounds) -> Box:
    left, top, right, bottom = rect
    return Box((left + right) / 2, (top + bottom) / 2, 1, 0, (right - left) / 2, (bottom - top) / 2)


def _count(length: float, window: float, overlap: float) -> int:
    count = 1
    while window + (count - 1) * (window - overlap) < length - 1e-6:
        count += 1
    return count
