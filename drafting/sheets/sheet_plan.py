"""One large sheet, and the tiles in which it is printed."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from ..geometry import Point
from .tiles import Tile, Tiling


@dataclass(frozen=True)
class SheetPlan:
    """A sheet of `width` × `height` mm in tiles on pages of `page` mm.

    `outlines` are what the map shows of it; `joining` says how the pages go together; `shown` names what is
    on a tile.
    """

    width: float
    height: float
    tiling: Tiling
    page: tuple[float, float]
    outlines: Sequence[Sequence[Point]]
    joining: str
    shown: Mapping[Tile, str] = field(default_factory=dict)

    @property
    def map_shape(self) -> float:
        """The grid's height over its width."""
        grid = self.tiling.grid
        _, _, right, bottom = grid.window((grid.rows - 1, grid.columns - 1))
        return bottom / right
