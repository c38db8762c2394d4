"""The finished lay: where every copy goes, and how good that is."""

from dataclasses import dataclass
from typing import Any

from .orient import Along


@dataclass(frozen=True)
class Placement:
    """One copy as it lies on the cloth.

    The piece's own outline is mirrored across the grain if `mirrored`, turned by `rotation` degrees
    (from +x towards +y) about its own origin, then moved by (x, y) mm; `outline` is the result. At a
    fold it is half of what is cut.
    """

    piece: str
    copy: int
    x: float
    y: float
    rotation: float
    mirrored: bool
    outline: tuple[tuple[float, float], ...]
    group: str = ""
    at_fold: bool = False

    def to_json(self) -> dict[str, Any]:
        rotation = int(self.rotation) if self.rotation == int(self.rotation) else self.rotation
        placed: dict[str, Any] = {
            "piece": self.piece,
            "copy": self.copy,
            "x": self.x,
            "y": self.y,
            "rotation": rotation,
            "mirrored": self.mirrored,
            "outline": [list(corner) for corner in self.outline],
        }
        if self.at_fold:
            placed["on_fold"] = True
        return {**placed, "group": self.group} if self.group else placed


@dataclass(frozen=True)
class Layout:
    """A lay. Lengths in mm.

    width: usable width of the strip. length: cloth from the cut end to the farthest point.
    area_bound: the length below which no lay can go, the pieces' area over the width.
    along: the axis of the outlines that runs along the cloth; the other runs across from 0 to width.
    seconds: time spent. rounds: work done, in pieces moved and programs solved; the same kit, seed
    and rounds give the same lay.
    """

    width: float
    length: float
    area_bound: float
    utilisation: float
    seconds: float
    seed: int
    rounds: int
    along: Along
    placements: tuple[Placement, ...]

    def to_json(self, cloth_width: float | None = None) -> dict[str, Any]:
        """The content of lay.json. cloth_width: selvedges included; the usable width if None."""
        return {
            "cloth": {
                "width": self.width if cloth_width is None else cloth_width,
                "usable_width": self.width,
            },
            "length": self.length,
            "area_bound": self.area_bound,
            "utilisation": self.utilisation,
            "seconds": self.seconds,
            "seed": self.seed,
            "along": self.along,
            "placements": [placement.to_json() for placement in self.placements],
        }


@dataclass(frozen=True)
class LayProgress:
    """How far the lay has come: the best lay yet, and whether it is new since the last report."""

    seconds: float
    rounds: int
    length: float
    utilisation: float
    improved: bool
    layout: Layout
