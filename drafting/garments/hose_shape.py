"""Hose: the leg and the foot as two tubes that meet in a slant over heel and instep.

The leg, spread out, ends in a curve that rises from the heel behind to the instep in front; the foot begins
in one that runs back from the instep to the heel. Both are as long as the way over heel and instep, which is
what must pass when the hose is drawn on; how far each rises follows from its own width. source: plane
geometry (a mitre of two tubes, unrolled, here as one cubic from crest to crest).
"""

from dataclasses import dataclass

from ..body import Body
from ..geometry import Cubic, Path, Point
from ..words.problems import BadInput, Problem
from ..words.wording import said
from .options import Options
from .rounding import up_to

ANKLE, CALF, UNDER_KNEE, STOCKING_TOP = 0.20, 0.755, 0.94, 0.98
"""Heights over the knee's, as where leg wraps begin and end. common practice, no source."""

BELOW_THE_CROTCH, ROUND_THE_HEEL, BEYOND_THE_TOES, ROUND_THE_FOOT = 40.0, 10.0, 10.0, 15.0
GIVES = {"bias": 0.2, "straight": 0.05}
"""mm; and how much a wool twill gives round the leg. common practice, no source."""

FLAT_AT_THE_CRESTS = 0.3
MOST_OF_SEAM = 0.97
"""How wide a tube may be for the seam at its end, which must rise over the heel."""

LEAST_INSTEP = 10.0


@dataclass(frozen=True)
class Hose:
    """Finished sizes, mm. `knots` are depth below the top and girth there, the last at the heel or the ankle;
    the rises are nought without a foot. `seam` goes over heel and instep, `foot` round the ball."""

    knots: tuple[tuple[float, float], ...]
    calf: float
    ankle: float
    gives: float
    seam: float
    leg_rise: float
    foot_rise: float
    foot: float
    sole: float

    @property
    def length(self) -> float:
        return self.knots[-1][0]


def hose_for(body: Body, options: Options) -> Hose:
    """Raises BadInput for options that contradict each other or the leg."""
    ease, knee = options["leg_ease"], body["knee_height"]
    gives = options.pick("grain", GIVES)
    seam = body["heel_ankle_girth"] + options["heel_ease"]
    ankle = max(body["ankle_girth"] + ease, up_to(seam / (1 + gives), 1))
    footed = options.is_("foot", "footed")
    calf = body["calf_girth"] + ease
    heights = [(CALF * knee, calf), (ANKLE * knee, ankle)]
    if footed:
        heights.append((-ROUND_THE_HEEL, ankle))
    if options.is_("reach", "thigh"):
        heights.insert(0, (UNDER_KNEE * knee, body["under_knee_girth"] + ease))
        heights.insert(0, (_thigh_top(body), body["thigh_girth"] + ease))
    else:
        heights.insert(0, (STOCKING_TOP * knee, body["under_knee_girth"] + ease))
    top = heights[0][0]
    knots = tuple((top - height, girth) for height, girth in heights)
    if not footed:
        return Hose(knots, calf, ankle, gives, seam, 0.0, 0.0, 0.0, 0.0)
    foot, sole = options["foot_girth"] + ROUND_THE_FOOT, options["foot_length"] + BEYOND_THE_TOES
    _check_foot(body, options, max(foot, ankle), seam)
    found = Hose(knots, calf, ankle, gives, seam, _rise(ankle, seam), _rise(foot, seam), foot, sole)
    if sole - found.foot_rise < foot / 4 + LEAST_INSTEP:
        least = found.foot_rise + foot / 4 + LEAST_INSTEP - BEYOND_THE_TOES
        raise BadInput([Problem(
            "foot_length",
            f"A foot of {said(options['foot_length'])} is too short for one {said(seam)} round heel and "
            f"instep: give {said(up_to(least, 5))} or more.",
            also=("heel_ankle_girth", "foot_girth"))])
    return found


def _thigh_top(body: Body) -> float:
    top = body["inside_leg_height"] - BELOW_THE_CROTCH
    if top <= body["knee_height"]:
        raise BadInput([Problem(
            "inside_leg_height",
            f"Hose to the thigh end above the knee, and an inside leg of {said(body['inside_leg_height'])} "
            f"hardly does with the knee at {said(body['knee_height'])}: measure both again and give them, or "
            "choose stockings to the knee.",
            also=("knee_height", "reach"))])
    return top


def _check_foot(body: Body, options: Options, widest: float, seam: float) -> None:
    if options["foot_length"] > body["knee_height"]:
        raise BadInput([Problem(
            "foot_length",
            f"A foot of {said(options['foot_length'])} is longer than the way from knee to floor, "
            f"{said(body['knee_height'])}: measure it from the heel to the longest toe, and give that.",
            also=("knee_height",))])
    if widest > MOST_OF_SEAM * seam:
        raise BadInput([Problem(
            "foot_girth",
            f"Foot or ankle are {said(widest)} round, with their room, which leaves no heel in "
            f"{said(seam)} over heel and instep: give a smaller girth round the foot, less room round the "
            "leg, or more over the heel.",
            also=("heel_ankle_girth", "leg_ease", "heel_ease"))])


def slant(girth: float, rise: float) -> Cubic:
    """Half a tube's end spread out: from its crest at (0, 0) to `rise` below it at half the girth."""
    half, flat = girth / 2, FLAT_AT_THE_CRESTS * girth / 2
    return Cubic(Point(0, 0), Point(flat, 0), Point(half - flat, rise), Point(half, rise))


def _reach(rise: float, girth: float) -> float:
    return slant(girth, rise).length


def _rise(girth: float, seam: float) -> float:
    """How far a tube's end must rise to be `seam` long all round: halved into, to less than can be seen."""
    low, high = 0.0, seam
    while high - low > 1e-4:
        middle = (low + high) / 2
        low, high = (middle, high) if _reach(middle, girth) < seam / 2 else (low, middle)
    return (low + high) / 2


def down_the_back(knots: tuple[tuple[float, float], ...]) -> Path:
    """The right back edge from the top: upright at every knot, so that all edges meet it square."""
    segments = []
    for (above, wide), (below, narrow) in zip(knots, knots[1:], strict=False):
        start, end = Point(wide / 2, above), Point(narrow / 2, below)
        reach = Point(0, 0.4 * (below - above))
        segments.append(Cubic(start, start + reach, end - reach, end))
    return Path(tuple(segments))
