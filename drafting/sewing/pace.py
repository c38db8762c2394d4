"""How long sewing takes: from the sewer's own stitches a minute, timed over a short seam.

The usual pace is set so that a practised sewer makes a hood in 3 to 4 hours and an apron dress in 8 to 12,
all by hand (common practice, no source). No two sewers are alike, so a total is told as a span.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from ..words.problems import BadInput, Problem
from .stitches import STITCHES

FEWEST_STITCHES = 10
SLOWEST, FASTEST = 0.5, 200.0
"""Stitches a minute that a hand can make. common practice, no source."""


@dataclass(frozen=True)
class Pace:
    """Stitches a minute by stitch, and the minutes that threading, pinning, basting, pressing, unpicking a
    row, chalking a new line and taking up the work for another step add.

    common practice, no source, for every number here: it is a start that `calibrate` replaces.
    """

    per_minute: Mapping[str, float] = field(
        default_factory=lambda: {stitch.name: stitch.per_minute for stitch in STITCHES.values()}
    )
    minutes_a_needleful: float = 1.0
    minutes_a_metre_of_pinning: float = 3.0
    minutes_a_metre_of_basting: float = 4.0
    minutes_a_metre_of_pressing: float = 3.0
    minutes_a_metre_of_unpicking: float = 4.0
    minutes_a_metre_of_marking: float = 2.0
    minutes_a_step: float = 1.0
    minutes_of_trying_on: float = 10.0
    minutes_of_levelling: float = 10.0
    timed: bool = False

    def stitching(self, stitch: str, count: int) -> float:
        """Minutes for so many stitches."""
        return count / self.per_minute[stitch]


TYPICAL = Pace()

SPAN = (0.8, 1.2)
"""Parts of a time that it may take, at the quickest and at the slowest. common practice, no source."""


def span_of(minutes: float) -> tuple[float, float]:
    """The least and the most minutes to reckon with."""
    return SPAN[0] * minutes, SPAN[1] * minutes


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
