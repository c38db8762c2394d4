"""Leg wraps: two long strips, wound from the ankle to under the knee and tucked in."""

from ..body import Body
from ..pattern import Pattern
from ..words.cautions import OPEN_FIRE, WRAPS_TOO_TIGHT
from ..words.wording import said
from .drafted import drafted
from .garment import Garment
from .leg_wraps_fit import wrap_clearances
from .leg_wraps_pieces import COUNTED, wrap_pieces, wrap_places, wrap_seams
from .leg_wraps_shape import Leg, Strip, leg_of, strip_for, wrapped_leg
from .loom import LOOM_WIDTH
from .options import ChoiceOption, Chosen, LengthOption, Options
from .rounding import round_to
from .wearing import Wearing

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
                 "Of a tapered strip, finished; 0 for three quarters of the width.", 0.0, 0, 200,
                 when=(Chosen("shape", ("tapered",)),)),
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
    ChoiceOption("edges", "Long edges", "What keeps them from fraying.", "selvedges",
                 {"selvedges": "selvedges, of a band woven to width", "hemmed": "hemmed, or left raw"},
                 "Allowances"),
    LengthOption("hem_depth", "Hem", "Finished depth, turned twice; 0 for raw edges.",
                 6.0, 0, 20, "Allowances"),
    ChoiceOption("joins", "Made of", "Lengths that each strip is joined from.", "joined",
                 {"joined": "two or three lengths, joined", "one": "one length"}, "Cloth"),
    LOOM_WIDTH,
)


def draft(body: Body, options: Options) -> Pattern:
    """Raises BadInput when options contradict each other or the leg."""
    leg = wrapped_leg(body, options)
    strip, fitting = strip_for(options, leg)
    pieces = wrap_pieces(options, strip)
    return drafted(
        GARMENT, body, options,
        pieces=pieces,
        seams=wrap_seams(pieces),
        finished=_finished(options, strip),
        clearances=wrap_clearances,
        notes=(*fitting, *_notes(leg, strip, len(pieces))),
        cautions=(WRAPS_TOO_TIGHT, OPEN_FIRE),
        schematic=wrap_places(pieces, strip),
    )


def _finished(options: Options, strip: Strip) -> dict[str, float]:
    found = {"strip_width": strip.width, "strip_length": strip.length, "overlap": strip.overlap,
             "leg_length": options["leg_length"]}
    if strip.ankle_width != strip.width:
        found["width_at_the_ankle"] = strip.ankle_width
    return found


def _notes(leg: Leg, strip: Strip, parts: int) -> tuple[str, ...]:
    turns = round(leg.turns(strip.fresh))
    notes = [
        f"About {turns} turns a leg, each {said(strip.fresh)} above the last; wind the two legs in "
        "opposite directions.",
        "Start over the ankle bones, lay one and a half turns over the start to hold it, and wind up "
        "to under the knee.",
        "Wool twill winds best: it stretches a little and grips itself.",
    ]
    if strip.selvedges:
        notes.append(f"The long edges are selvedges, of a band {said(strip.width)} wide, and need no hem. "
                     "Cut from wider cloth, the strip frays: choose hemmed edges.")
    if parts > 1:
        notes.append(f"Each strip is joined from {COUNTED[parts]} lengths; a band long enough for one is "
                     "better still.")
    return tuple(notes)


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
    worn=Wearing(
        hangs_from="winding",
        lies={"wrap": "wound", "wrap 1": "wound", "wrap 2": "wound", "wrap 3": "wound"},
        beneath=4.0,
    ),
)
