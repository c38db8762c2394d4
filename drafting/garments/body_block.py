"""The body block: what underdress, tunic and wrap coat have in common, in finished sizes.

Straight panels before and behind, folded or seamed at the shoulder; sleeves sewn flat to their sides
with a square gusset under the arm; gores in the side seams, and in slits in the middle if wanted. A
wide body is half the chest wide, so that its seam drops off the shoulder. A narrow body is as wide as
the shoulders and has a side panel under each arm, which does the gusset's work.
"""

from dataclasses import dataclass
from math import sqrt

from ..body import Body
from ..pattern import Half, Level, LevelKind
from .block_options import hip_depth, waist_depth
from .gore import SLIT_TURN, Gore
from .layers import Layers
from .neck import Neck
from .panels import ConePanel
from .sleeve import Sleeve


@dataclass(frozen=True)
class Block:
    """Finished sizes, mm; depths are below the shoulder line. What is absent is 0 or None.

    The gores' lengths are finished, and their widths those to cut, the turned edges of slits included; a
    growth tuck takes `tuck` more cloth. `overlap` is how far an open front laps beyond the middle, and
    `lap_depth` where it does so fully (0 for all the way up).
    """

    length: float
    tuck: float
    width: float
    armhole: float
    neck: Neck
    waist: float
    layers: Layers
    folded: bool
    sleeve: Sleeve | None = None
    gusset: float = 0.0
    gore_depth: float = 0.0
    side_gore: Gore | None = None
    side_panel: ConePanel | None = None
    middle_depth: float = 0.0
    middle_gore: Gore | None = None
    middles: tuple[Half, ...] = ()
    halves: bool = False
    overlap: float | None = None
    lap_depth: float = 0.0
    changes: tuple[str, ...] = ()

    @property
    def gusset_foot(self) -> float:
        """Depth at which the side seam begins."""
        return self.armhole + self.gusset

    def girth(self, depth: float) -> float:
        """All the way round, at or below the armhole; an open front closed edge to middle."""
        around = 2 * self.width + 2 * sqrt(2) * max(0.0, self.gusset_foot - max(depth, self.armhole))
        if self.side_panel:
            panel = self.side_panel
            part = max(0.0, depth - self.armhole) / panel.hem_length
            around += 2 * (panel.top_width + (panel.hem_width - panel.top_width) * part)
        if self.side_gore:
            around += 2 * self.side_gore.width_at(max(0.0, depth - self.gore_depth))
        if self.middle_gore:
            part = max(0.0, depth - self.middle_depth) / self.middle_gore.length
            net = self.middle_gore.width - 2 * SLIT_TURN
            around += len(self.middles) * net * part
        return around

    @property
    def hem_girth(self) -> float:
        return self.girth(self.length)

    @property
    def narrowest(self) -> float:
        """The least girth below the arm, which all that is above must pass."""
        return min(self.girth(self.gusset_foot), self.girth(self.armhole), self.hem_girth)

    def levels(self, body: Body) -> tuple[Level, ...]:
        """Girths down the garment, the growth tuck sewn in."""
        wanted: list[tuple[str, LevelKind, float, float | None]] = [
            ("under the arm", "between", self.armhole, body["bust_girth"]),
            ("waist", "waist", waist_depth(body), body["waist_girth"]),
            ("hips", "hips", hip_depth(body), body["hip_girth"]),
        ]
        if self.gusset:
            wanted.append(("foot of the gusset", "between", self.gusset_foot, body["bust_girth"]))
        if self.side_gore is not None and self.gore_depth > self.gusset_foot:
            wanted.append(("start of the gores", "between", self.gore_depth, None))
        if self.middle_gore is not None:
            wanted.append(("start of the middle gores", "between", self.middle_depth, None))
        found = [
            Level(name, depth, self.girth(depth), girth, kind=kind)
            for name, kind, depth, girth in wanted
            if self.armhole <= depth < self.length
        ]
        found.append(Level("hem", self.length, self.hem_girth, kind="hem"))
        return tuple(sorted(found, key=lambda level: level.depth))
