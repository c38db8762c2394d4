"""How long sewing takes: from the sewer's own stitches a minute, timed over a short seam."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from ..words.problems import BadInput, Problem
from .stitches import STITCHES

FEWEST_STITCHES = 10
SLOWEST, FASTEST = 0.5, 200.0
"""Stitches a minute that a hand can make. common practice, no source."""


@dataclass(frozen=True)
class Pace:
    """Stitches a minute by stitch, and the minutes that threading and pinning add.

    common practice, no source, for every number here: it is a start that `calibrate` replaces.
    """

    per_minute: Mapping[str, float] = field(
        default_factory=lambda: {stitch.name: stitch.per_minute for stitch in STITCHES.values()}
    )
    minutes_a_needleful: float = 0.75
    minutes_a_metre_of_pinning: float = 2.0
    timed: bool = False

    def stitching(self, stitch: str, count: int) -> float:
        """Minutes for so many stitches."""
        return count / self.per_minute[stitch]


TYPICAL = Pace()


def calibrate(
    stitches: float, seconds: float, stitch: str = "running", pace: Pace = TYPICAL
) -> Pace:
    """The pace of someone who sewed so many stitches in so many seconds.

    Stitches are counted as they show on top. The other stitches keep their share of it: someone half
    as fast again at running stitch is taken to be so at felling too. Raises BadInput.
    """
    problems = []
    if stitch not in STITCHES:
        problems.append(Problem(
            "stitch", f"“{stitch[:40]}” is not a stitch to time: choose one of {', '.join(STITCHES)}."
        ))
    if not stitches >= FEWEST_STITCHES:
        problems.append(Problem(
            "stitches", f"{stitches:g} stitches are too few to time: sew at least "
            f"{FEWEST_STITCHES}, better 50."
        ))
    if not seconds > 0:
        problems.append(Problem(
            "seconds", f"{seconds:g} seconds is no time to sew in: give the seconds it took."
        ))
    if problems:
        raise BadInput(problems)
    rate = 60 * stitches / seconds
    if not SLOWEST <= rate <= FASTEST:
        raise BadInput([Problem(
            "seconds", f"{stitches:g} stitches in {seconds:g} seconds would be {rate:.3g} a minute, "
            f"which no hand sews: give {SLOWEST:g} to {FASTEST:g} a minute.", also=("stitches",)
        )])
    share = rate / pace.per_minute[stitch]
    scaled = {name: per_minute * share for name, per_minute in pace.per_minute.items()}
    return replace(pace, per_minute=scaled, timed=True)
