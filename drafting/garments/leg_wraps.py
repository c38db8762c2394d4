"""Leg wraps: two long strips, wound from the ankle to under the knee and tucked in."""

from math import hypot

from ..body import Body
from ..geometry import Allowance, Edge, Outline, Path, Point
from ..pattern import Notch, Pattern, Piece, SchematicPlace
from ..words.cautions import OPEN_FIRE, WRAPS_TOO_TIGHT
from ..words.problems import BadInput, Problem
from ..words.wording import said
from .drafted import drafted
from .garment import Garment
from .leg_wraps_fit import wrap_clearances
from .leg_wraps_shape import Leg, Strip, leg_of, strip_for, wrapped_leg
from .loom import LOOM_WIDTH
from .options import ChoiceOption, LengthOption, Options
from .rounding import round_to

WRAPPED_PART = 0.74
"""Of the knee's height, from over the ankle bones to the hollow under the knee. common practice,
no source."""


def _default_width(body: Body) -> float:
    leg = leg_of(body, WRAPPED_PART * body["knee_height"], 30.0)
    widest = leg.widest_strip // 5 * 5
    return max(40.0, min(round_to(0.2 * body["knee_height"], 5), widest))


OPTIONS = (
    LengthOption("width", "Width of the strip", "Finished, at the knee's end where it is tapered.",
                 _default_width, 30, 200),
    LengthOption("overlap", "Overlap",
                 "How far each turn covers the one before; 0 to have it worked out.", 0.0, 0, 150),
    ChoiceOption("shape", "Shape", "How the strip runs from the ankle to the knee.", "straight",
                 {"straight": "straight", "tapered": "narrower at the ankle"}),
    LengthOption("ankle_width", "Width at the ankle",
                 "Of a tapered strip, finished; 0 for three quarters of the width.", 0.0, 0, 200),
    ChoiceOption("ends", "Upper end", "The end that is tucked in under the knee.", "square",
                 {"square": "square", "pointed": "pointed"}),
    LengthOption("leg_length", "Leg to wrap", "From over the ankle bones to just under the knee.",
                 lambda body: round_to(WRAPPED_PART * body["knee_height"], 5), 80, 600),
    LengthOption("band_length", "Length of a band at hand",
                 "Of a band already woven, finished; 0 to have the length worked out.",
                 0.0, 0, 10000),
    LengthOption("room_beneath", "Room for what is beneath", "Added to every girth of the leg.",
                 30.0, 0, 200, "Ease"),
    LengthOption("tuck", "To tuck in", "Left over under the knee, to tuck in or hook.",
                 350.0, 200, 1000, "Ease"),
    LengthOption("hem_depth", "Hem", "Finished depth, turned twice; 0 for selvedges or raw edges.",
                 6.0, 0, 20, "Allowances"),
    LOOM_WIDTH,
)


def draft(body: Body, options: Options) -> Pattern:
    """Raises BadInput when options contradict each other or the leg."""
    leg = wrapped_leg(body, options)
    strip, fitting = strip_for(options, leg)
    return drafted(
        GARMENT, body, options,
        pieces=(_piece(options, leg, strip),),
        seams=(),
        finished=_finished(options, strip),
        clearances=wrap_clearances,
        notes=(*fitting, *_notes(leg, strip)),
        cautions=(WRAPS_TOO_TIGHT, OPEN_FIRE),
        schematic=(SchematicPlace("wrap", 1, 0.0, 0.0), SchematicPlace("wrap", 2, strip.width + 40.0, 0.0)),
    )


def _piece(options: Options, leg: Leg, strip: Strip) -> Piece:
    """As on the leg: the start at the foot of the page, the knee's end at its head."""
    half, low = strip.width / 2, strip.ankle_width / 2
    pointed = options.is_("ends", "pointed")
    shoulder = strip.width if pointed else 0.0
    left, right = Point(-half, shoulder), Point(half, shoulder)
    if strip.length <= shoulder + 10:
        raise BadInput([Problem(
            "band_length",
            f"A band of {said(strip.length)} is shorter than its own point: choose square ends, or "
            "give a longer band.",
            also=("ends",),
        )])
    foot_right, foot_left = Point(low, strip.length), Point(-low, strip.length)
    end = Path.through(left, Point(0, 0), right) if pointed else Path.through(left, right)
    hem = Allowance(2 * options["hem_depth"], fold=True)
    return Piece(
        name="wrap",
        title="leg wrap",
        outline=Outline((
            Edge("upper end", end),
            Edge("right", Path.through(right, foot_right)),
            Edge("start", Path.through(foot_right, foot_left)),
            Edge("left", Path.through(foot_left, left)),
        )),
        allowances={name: hem for name in ("upper end", "right", "start", "left")},
        cut=2,
        copies=("left leg wrap", "right leg wrap"),
        notches=_marks(leg, strip, shoulder),
    )


def _marks(leg: Leg, strip: Strip, shoulder: float) -> tuple[Notch, ...]:
    marks = ((strip.start, "the turns begin"), (strip.start + strip.wound, "under the knee"))
    edge_length = hypot(strip.length - shoulder, (strip.width - strip.ankle_width) / 2)
    return tuple(
        Notch("left", distance, label) for distance, label in marks if distance < edge_length - 1
    )


def _finished(options: Options, strip: Strip) -> dict[str, float]:
    found = {"strip_width": strip.width, "strip_length": strip.length, "overlap": strip.overlap,
             "leg_length": options["leg_length"]}
    if strip.ankle_width != strip.width:
        found["width_at_the_ankle"] = strip.ankle_width
    return found


def _notes(leg: Leg, strip: Strip) -> tuple[str, ...]:
    turns = round(leg.turns(strip.fresh))
    return (
        f"About {turns} turns a leg, each {said(strip.fresh)} above the last; wind the two legs in "
        "opposite directions.",
        "Start over the ankle bones, lay one and a half turns over the start to hold it, and wind up "
        "to under the knee.",
        "Wool twill winds best: it stretches a little and grips itself.",
    )


GARMENT = Garment(
    name="leg-wraps",
    title="Leg wraps",
    summary="Two long strips wound round the lower legs, from ankle to knee.",
    needs=("calf_girth",),
    uses=("ankle_girth", "under_knee_girth", "knee_height", "stature"),
    options=OPTIONS,
    draft=draft,
    history="Woollen bands of a hand's breadth, among the textiles from the harbour of Hedeby, are "
            "taken for leg wraps.",
    provenance="from memory: Hägg 1984, Die Textilfunde aus dem Hafen von Haithabu",
    worn_at="legs",
    usual_fibre="wool",
    usual_wearer="man",
    long=False,
    held_by={"winding": True},
    instead=("trousers", "underdress", "cloak"),
)
