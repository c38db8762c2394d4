"""The sizes of trousers: how wide and deep a leg must be, from the body's measures and the options."""

from dataclasses import dataclass
from math import ceil, hypot, sqrt

from ..body import Body
from ..words.problems import BadInput, Problem
from ..words.wording import said
from .fit import ANKLE_HEIGHT
from .layers import OVER
from .loom import WIDER_PANEL, loom_width
from .options import Options
from .rounding import round_to, up_to
from .taper import STEEPEST, Taper

BACK_RISE = 0.025
"""How much longer the back seam is than the front one, over stature: 30–50 mm for adults. common
practice, no source."""

KNEE_GIRTH = 0.65
"""Girth at the knee over the thigh's. source: Gordon et al. 2014, NATICK/TR-15/007: lower thigh over
thigh, 0.651 women, 0.656 men."""

CALF_HEIGHT = 0.73
"""Height of the fullest calf over the knee's. common practice, no source."""

LEAST_SEAM = 40.0
"""mm of a seam that can still be sewn. common practice, no source."""

LEAST_CALF_EASE = 20.0
FOOT_EASE = 10.0
"""mm. common practice, no source."""

NAMED_LENGTHS = {"by-number": "the length given", "knee": "below the knee",
                 "mid-calf": "middle of the calf", "ankle": "the ankle"}


def named_length(body: Body, name: str) -> float:
    """mm from the waist down to a named height of the leg."""
    knee, ankle = body["knee_height"], ANKLE_HEIGHT * body["stature"]
    height = {"knee": 0.9 * knee, "mid-calf": (knee + ankle) / 2, "ankle": ankle}[name]
    return round_to(body["waist_height"] - height, 5)


@dataclass(frozen=True)
class Legs:
    """Finished sizes, mm. Depths are below the waist at the back."""

    width: float
    front_rise: float
    back_rise: float
    gusset: float
    hem: float
    length: float
    changes: tuple[str, ...] = ()

    @property
    def drop(self) -> float:
        """How much lower the waist is in front."""
        return self.back_rise - self.front_rise

    @property
    def waist_edge(self) -> float:
        """Of one leg, slanted down to the front."""
        return hypot(self.width, self.drop)

    @property
    def around(self) -> float:
        """Round the seat."""
        return 2 * self.width

    @property
    def below_crotch(self) -> float:
        """How far under the crotch the inseam begins: a square gusset hangs by half its diagonal."""
        return self.gusset / sqrt(2)

    @property
    def gusset_foot(self) -> float:
        return self.back_rise + self.gusset

    @property
    def outside(self) -> float:
        """How much lower the waist is at the outside of the leg, down which the length is taken."""
        return self.drop / 2

    @property
    def taper(self) -> Taper:
        """Below the gusset."""
        return Taper(self.width, self.hem, self.length + self.outside - self.gusset_foot)

    @property
    def crotch_way(self) -> float:
        """From the waist in front through the gusset's diagonal to the waist behind."""
        return self.front_rise + self.back_rise + sqrt(2) * self.gusset

    def girth_at(self, depth: float) -> float:
        """Round one leg `depth` mm below the waist down its outside, under the gusset."""
        down = depth + self.outside - self.gusset_foot
        return self.width if down <= 0 else self.taper.width_at(down)


def thigh_below_crotch(body: Body, distance: float) -> float:
    """The thigh's girth that far below the crotch, straight between thigh and knee."""
    thigh = body["thigh_girth"]
    part = distance / max(body["inside_leg_height"] - body["knee_height"], 1.0)
    return thigh * (1 - (1 - KNEE_GIRTH) * min(1.0, part))


def thigh_at_gusset_foot(body: Body, gusset: float) -> float:
    """The gusset hangs over the inner thigh by half its diagonal; there the panel is alone."""
    return thigh_below_crotch(body, gusset / sqrt(2))


def leg_girth(body: Body, height: float) -> float:
    """The leg's girth at a height between knee and foot, straight between knee, calf and ankle."""
    knee, calf = body["knee_height"], CALF_HEIGHT * body["knee_height"]
    ankle = ANKLE_HEIGHT * body["stature"]
    at_knee = KNEE_GIRTH * body["thigh_girth"]
    if height >= knee:
        return thigh_below_crotch(body, body["inside_leg_height"] - height)
    if height >= calf:
        return body["calf_girth"] + (at_knee - body["calf_girth"]) * (height - calf) / (knee - calf)
    part = max(0.0, (height - ankle) / (calf - ankle))
    return body["ankle_girth"] + (body["calf_girth"] - body["ankle_girth"]) * part


def legs_for(body: Body, options: Options) -> Legs:
    gusset = options["gusset_size"]
    length = (options["length"] if options.is_("length_to", "by-number")
              else named_length(body, options.chosen("length_to")))
    width, gusset, changes = _width(body, options, gusset)
    back = BACK_RISE * body["stature"]
    front = (body["crotch_length"] + options["rise_ease"] - sqrt(2) * gusset - back) / 2
    least_seam = options["front_slit"] + LEAST_SEAM
    if front < least_seam:
        raise BadInput([Problem(
            "gusset_size",
            f"A seat gusset of {said(gusset)} and a front slit of {said(options['front_slit'])} leave a "
            f"front seam of {said(front)} in a crotch length of {said(body['crotch_length'])}: give a "
            "smaller gusset, a shorter slit, or "
            f"{said(options['rise_ease'] + 2 * (least_seam - front))} of ease through the crotch.",
            also=("front_slit", "rise_ease"))])
    foot = front + back + gusset
    least = foot + LEAST_SEAM + 20 + options["ankle_slit"]
    if length < least:
        raise BadInput([Problem(
            "length",
            f"Trousers {said(length)} long end above the seat gusset's lower corner at {said(foot)} and "
            f"a slit of {said(options['ankle_slit'])}: give {said(least)} or more, or a smaller gusset.",
            also=("gusset_size", "ankle_slit", "rise_ease"))])
    below_gusset = length + back / 2 - foot
    hem = options["leg_hem"] or max(
        hem_needed(body, options, length), ceil((width - 2 * STEEPEST * below_gusset) / 5) * 5.0)
    legs = Legs(width, front, front + back, gusset, hem, length, changes)
    if not legs.taper.can_be_cut:
        raise BadInput([Problem(
            "leg_hem",
            f"A leg {said(width)} wide at the thigh cannot go to {said(hem)} over the "
            f"{said(legs.taper.length)} below the gusset: give a hem nearer the thigh's width, or longer "
            "trousers.",
            also=("length",))])
    return legs


def hem_needed(body: Body, options: Options, length: float) -> float:
    """Wide enough for the foot, unless a slit lets it through, and for the leg at that height."""
    height = body["waist_height"] - length
    foot = body["heel_ankle_girth"] + FOOT_EASE + 5 - 2 * options["ankle_slit"]
    leg = leg_girth(body, height) + LEAST_CALF_EASE + 10 + options.pick("over", OVER).leg
    return ceil(max(foot, leg) / 5) * 5.0


def _width(body: Body, options: Options, gusset: float) -> tuple[float, float, tuple[str, ...]]:
    """The leg panel's width, and the gusset's side and a note where the loom changed them."""
    layers = options.pick("over", OVER)
    widest = max(body["hip_girth"], body["waist_girth"])

    def wanted_by_the_thigh(side: float) -> float:
        return thigh_at_gusset_foot(body, side) + options["thigh_ease"] + layers.leg

    at_seat = (widest + options["hip_ease"] + 2 * layers.leg) / 2
    width = up_to(max(at_seat, wanted_by_the_thigh(gusset)), 5)
    if not options["loom_width"]:
        return width, gusset, ()
    across = loom_width(options) - 2 * options["seam_allowance"]
    if width <= across <= width + WIDER_PANEL:
        return across, gusset, (f"The legs are {said(across)} wide instead of {said(width)}, from selvedge "
                                "to selvedge.",)
    if across < width:
        larger = next((gusset + more for more in range(0, 61, 5)
                       if at_seat <= across and wanted_by_the_thigh(gusset + more) <= across), None)
        if larger:
            return across, larger, (
                f"The legs are {said(across)} wide instead of {said(width)}, from selvedge to selvedge, "
                f"and the seat gusset {said(larger)} instead of {said(gusset)} to keep the thigh's room.",)
        return width, gusset, ()
    return width, gusset, ()


