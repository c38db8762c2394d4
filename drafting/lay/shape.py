"""What is laid: an outline, how many of it, and the ways it may lie on the cloth."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from ..words.problems import BadInput, Problem
from .corners import cleaned, self_contact, signed_area

MOST_CORNERS = 5000
"""Corners that one outline may have; a drawn curve within 0.1 mm has a few hundred."""

FARTHEST = 1e5
"""Largest coordinate taken, mm: a hundred metres of cloth."""

Mirroring = Literal["none", "pairs", "free"]


@dataclass(frozen=True)
class Shape:
    """One pattern piece to cut from a cloth.

    name: what a problem or a placement calls it.
    outline: the cutting line, a simple polygon, mm, without a repeated last corner.
    quantity: copies to cut, at least 1.
    rotations: degrees from +x towards +y that are allowed: (0, 180), or (0,) with a nap.
    mirroring: "none"; "pairs" when every second copy is the mirror image, as left and right;
        "free" when the cloth has no right side, so that each copy may lie either way up.
    group: whose piece it is when several garments share a bolt.
    at_fold: the piece is one half of what is cut: its straight right side (greatest x, where y runs
        along the cloth) lies on the strip's far edge, where folded cloth has its fold.

    Raises BadInput, naming the piece, for an outline that is no simple polygon with an area, a
    number that is not finite or beyond 100 m, a quantity below 1 and an empty `rotations`.
    """

    name: str
    outline: tuple[tuple[float, float], ...]
    quantity: int = 1
    rotations: tuple[float, ...] = (0.0, 180.0)
    mirroring: Mirroring = "none"
    group: str = ""
    at_fold: bool = False

    def __post_init__(self) -> None:
        problem = self._problem()
        if problem:
            raise BadInput([Problem(self.name, f"Piece “{self.name}” {problem}")])

    def _problem(self) -> str:
        if self.quantity < 1:
            return f"is wanted {self.quantity} times: a piece is cut at least once, or left out."
        if not self.rotations:
            return "may not lie any way at all: allow at least one rotation, such as 0."
        if not np.isfinite(self.rotations).all():
            return "has a rotation that is not a number of degrees."
        if len(self.outline) > MOST_CORNERS:
            return (
                f"has {len(self.outline):,} corners: at most {MOST_CORNERS:,} are taken, and a "
                "curve within 0.1 mm needs a few hundred."
            )
        points = np.array(self.outline, dtype=float).reshape(-1, 2)
        bad = ~np.isfinite(points).all(axis=1)
        if bad.any():
            return f"has a corner (number {int(np.argmax(bad)) + 1}) that is not a finite number."
        if len(points) and np.abs(points).max() > FARTHEST:
            return f"reaches {np.abs(points).max():.4g} mm: at most {FARTHEST:.0e} mm is taken."
        distinct = len(np.unique(points, axis=0))
        if distinct < 3:
            corners = "1 corner" if distinct == 1 else f"{distinct} corners"
            return f"has {corners}: an outline needs at least three that differ."
        tidy = cleaned(points)
        if len(tidy) < 3:
            return "has no area: all its corners lie on one line."
        meeting = self_contact(tidy)
        if meeting:
            return (
                f"has an outline that crosses or touches itself near ({meeting[0]:.6g}, "
                f"{meeting[1]:.6g}): draw it as one loop that never meets itself."
            )
        return ""

    @property
    def area(self) -> float:
        """Area of one copy, mm²."""
        return abs(signed_area(np.array(self.outline, dtype=float)))

    def ways(self, copy: int) -> tuple[tuple[float, bool], ...]:
        """The rotations, each with whether mirrored, in which a copy may lie, counted from 1.

        At a fold a half may only be turned end for end: upside down and mirrored.
        """
        if self.at_fold:
            return tuple((rotation, bool(rotation % 360)) for rotation in self.rotations
                         if rotation % 180 == 0)
        return tuple(
            (rotation, mirrored)
            for mirrored in self.is_mirrored(copy) for rotation in self.rotations
        )

    def is_mirrored(self, copy: int) -> tuple[bool, ...]:
        """The ways up allowed for a copy, counted from 1."""
        if self.mirroring == "free":
            return (False, True)
        return (self.mirroring == "pairs" and copy % 2 == 0,)
