"""The apron dress: a tube hung from two straps.

Four panels: front and back take a third of every girth, the two sides a sixth each, at the top, the
waist and the hem alike (common practice, no source); the front may be pleated. Or wrapped: front and
back half of the girth each, lapping at the left side, widened by two side gores. The waist level,
where the flare starts, is where the tape for the torso length ended.
"""

from dataclasses import replace
from math import degrees

from ..body import Body
from ..pattern import Level, LevelKind, Pattern
from ..words.cautions import BROOCH_STRAPS, LONG_HEM, PINS
from ..words.wording import said
from .apron_fit import LEAST_HIP_EASE, apron_clearances, hip_depth, side_opening
from .apron_girths import PAST_THE_WAIST, THIRD, Tube
from .apron_panels import panel_seams, panels, schematic, side_gores, strap_places
from .apron_tube import bust_depth, tube_for
from .drafted import drafted
from .fit import WAIST_TO_HIP, girth_at
from .garment import Garment
from .gore import WIDEST_ANGLE
from .options import ChoiceOption, Chosen, CountOption, LengthOption, Options
from .rounding import round_to, up_to
from .straps import strap_ends, strap_length, straps
from .wearing import Wearing

USUAL_EASE = 50.0
"""mm at top and waist, over the body and the underdress. common practice, no source."""

PLEATS, PLEAT_DEPTH = 24, 2.5
"""Many, 2–3 mm deep. from memory: the dress from Køstrup, in Rasmussen & Lønborg 1993."""

CHALK_TELLS_APART = 5.0
"""mm between lines of chalk that a hand can still keep apart. common practice, no source."""

LACE_PER_OPENING, LACE_TO_TIE = 3.0, 400.0
"""mm of lace to and fro for each of an opening, and to tie. common practice, no source."""

LOOSE_TOP = 60.0
"""mm beyond the ease asked for at which a top edge gapes. common practice, no source."""


def _default_length(body: Body) -> float:
    return round_to(0.69 * body["stature"], 10)


def _default_hem_girth(body: Body) -> float:
    """To walk in, in fair folds, and flaring fast enough from a slim waist to clear the hips."""
    widest = max(body["hip_girth"], body["bust_girth"], body["waist_girth"])
    waist, hips = body["waist_girth"] + USUAL_EASE, body["hip_girth"] + LEAST_HIP_EASE
    to_hem = _default_length(body) - body["torso_length"]
    to_hips = WAIST_TO_HIP * body["stature"]
    clears = waist + (hips - waist) * to_hem / to_hips if to_hips < to_hem else hips
    return up_to(max(1.4 * body["stature"], 1.6 * widest, clears), 10)


_NOT_WRAPPED = Chosen("style", ("four-panels", "pleated", "straight-panels"))
_PLEATED = Chosen("style", ("pleated",))
_WITH_STRAPS = Chosen("strap_style", ("loops", "single"))

OPTIONS = (
    ChoiceOption("style", "Style", "How the tube is made up.", "four-panels",
                 {"four-panels": "four panels", "pleated": "four panels, the front pleated",
                  "straight-panels": "four straight panels, gores between them below the waist",
                  "wrapped": "two side gores, the front wrapped over the left side"}),
    LengthOption("length", "Dress length", "From under the arms to the finished hem.",
                 _default_length, 250, 1700),
    LengthOption("hem_girth", "Hem girth", "All the way round the finished hem.",
                 _default_hem_girth, 500, 8000),
    ChoiceOption("shaping", "Waist", "How the tube runs from the top to where it flares.", "waisted",
                 {"waisted": "drawn in at the waist", "straight": "straight down to the waist",
                  "a-line": "flared from the top"}),
    ChoiceOption("opening", "Opening", "A slit left in a side seam, so that it can be put on.",
                 "as-needed",
                 {"as-needed": "side opening if needed", "side": "side opening",
                  "none": "no opening"},
                 when=(_NOT_WRAPPED,)),
    ChoiceOption("closing", "Opening closed by", "What keeps a side opening together once it is on.", "lace",
                 {"lace": "loops and a lace", "hooks": "hooks and eyes"},
                 when=(_NOT_WRAPPED, Chosen("opening", ("as-needed", "side")))),
    LengthOption("scoop", "Scoop under the arm", "How far the side panels dip at the top.",
                 0.0, 0, 120,
                 when=(_NOT_WRAPPED,)),
    LengthOption("growth_tuck", "Growth tuck",
                 "Depth of a fold sewn in above the hem, to let down as a child grows.",
                 0.0, 0, 150),
    CountOption("pleat_count", "Pleats", "Across the middle of a pleated front.", PLEATS, 1, 40,
                when=(_PLEATED,)),
    LengthOption("pleat_depth", "Depth of a pleat", "Each takes twice its depth of cloth.",
                 PLEAT_DEPTH, 2, 60,
                 when=(_PLEATED,)),
    LengthOption("wrap_overlap", "Wrap", "How far front and back each reach past the left side.",
                 lambda body: round_to(0.1 * body["bust_girth"], 10), 20, 400,
                 when=(Chosen("style", ("wrapped",)),)),
    LengthOption("bust_ease", "Ease at the top", "Room over the body and the underdress.",
                 USUAL_EASE, 0, 600, "Ease"),
    LengthOption("waist_ease", "Ease at the waist", "Room over the body and the underdress.",
                 USUAL_EASE, 0, 800, "Ease"),
    ChoiceOption("strap_style", "Straps", "How the dress hangs from the shoulders.", "loops",
                 {"loops": "long loops behind, short loops in front, for brooches",
                  "single": "single straps, sewn at both ends", "none": "no straps"}, "Straps"),
    LengthOption("strap_cut_width", "Strap strip", "Width to cut; a quarter of it when folded.",
                 40.0, 16, 120, "Straps",
                 when=(_WITH_STRAPS,)),
    LengthOption("strap_spare", "Spare on each strap", "Cut long, shorten at the fitting.",
                 60.0, 0, 300, "Straps",
                 when=(_WITH_STRAPS,)),
    LengthOption("front_loop", "Front loop", "From the top edge to where the brooch's pin goes.",
                 50.0, 15, 200, "Straps",
                 when=(_WITH_STRAPS,)),
    LengthOption("seam_allowance", "Seam allowance", "Beyond the sewing line, for run-and-fell seams.",
                 25.0, 6, 60, "Allowances"),
    LengthOption("hem_depth", "Hem", "Finished depth; it is turned twice.",
                 12.0, 0, 80, "Allowances"),
    LengthOption("top_hem_depth", "Top hem", "Finished depth; it is turned twice.",
                 12.0, 0, 40, "Allowances"),
)


def draft(body: Body, options: Options) -> Pattern:
    """Raises BadInput when options contradict each other or the body."""
    tube = tube_for(body, options)
    opening = side_opening(body, options, tube)
    pieces = panels(options, tube, opening) + straps(body, options)
    hips = hip_depth(body)
    return drafted(
        GARMENT, body, options,
        pieces=pieces,
        seams=panel_seams(options, tube, opening),
        attachments=strap_ends(options, strap_places(options, tube)),
        finished=_finished(body, options, tube, opening, hips),
        clearances=apron_clearances,
        levels=_profile(body, tube, hips),
        notes=_notes(body, options, tube),
        cautions=_cautions(options),
        schematic=schematic(options, pieces),
    )


def _finished(
    body: Body, options: Options, tube: Tube, opening: float, hips: float
) -> dict[str, float]:
    found = {
        "top_girth": tube.top,
        "bust_girth": girth_at(tube.levels, bust_depth(body)),
        "waist_girth": girth_at(tube.levels, body["torso_length"]),
        "hip_girth": girth_at(tube.levels, hips),
        "hem_girth": tube.hem,
        "length": options["length"],
    }
    if opening:
        found["opening_length"] = opening
        if options.is_("closing", "lace"):
            found["lace_length"] = up_to(LACE_PER_OPENING * opening + LACE_TO_TIE, 10)
    if tube.pleats:
        found["taken_up_by_pleats"] = tube.pleats
    if options.is_("style", "wrapped"):
        found["lap"] = 2 * options["wrap_overlap"]
    if not options.is_("strap_style", "none"):
        found["strap_length"] = strap_length(body)
        found["strap_width"] = options["strap_cut_width"] / 4
    return found


def _profile(body: Body, tube: Tube, hips: float) -> tuple[Level, ...]:
    levels = [level for level in tube.levels if level.name != PAST_THE_WAIST]
    bodies: dict[LevelKind, float] = {"top": body["upper_chest_girth"], "waist": body["waist_girth"]}
    found = [replace(level, body_girth=bodies.get(level.kind)) for level in levels]
    bust = bust_depth(body)
    found.append(Level("bust", bust, girth_at(tube.levels, bust), body["bust_girth"], kind="between"))
    if not tube.waist_depth:
        torso = body["torso_length"]
        found.append(Level("waist", torso, girth_at(tube.levels, torso), body["waist_girth"], kind="waist"))
    if hips < levels[-1].depth:
        found.append(Level("hips", hips, girth_at(tube.levels, hips), body["hip_girth"], kind="hips"))
    return tuple(sorted(found, key=lambda level: level.depth))


def _notes(body: Body, options: Options, tube: Tube) -> tuple[str, ...]:
    wrapped = options.is_("style", "wrapped")
    notes = [
        "Left and right are the wearer's. Panels show their outer side.",
        "Hang the dress for a day before hemming: the slanted edges drop.",
    ]
    if wrapped:
        notes.append("The front laps over the back at the left side; pin or stitch its free corner "
                     "where it comes to lie.")
    loose = tube.top - body["upper_chest_girth"] - options["bust_ease"]
    straight = options.is_("style", "straight-panels")
    if loose > LOOSE_TOP and straight:
        notes.append(f"To be put on and to clear the waist, the straight panels are {said(loose)} looser "
                     "under the arms than was asked for: take the top up in small pleats at the front.")
    elif loose > LOOSE_TOP:
        notes.append(f"To clear the bust on its way down to the waist, the top edge is {said(loose)} looser "
                     "under the arms than was asked for: take it up in small pleats at the front, or draw "
                     "the waist in less.")
    if tube.pleats:
        notes.append(f"The pleats take up {said(tube.pleats)} of the front, are sewn down to the waist "
                     "and open below it. Fold those on each side away from the middle.")
        if options["pleat_depth"] < CHALK_TELLS_APART:
            notes.append(f"For pleats {said(options['pleat_depth'])} deep mark the folds alone, by drawn "
                         "threads and not with chalk, and run each so far beside its fold.")
    spare = options["seam_allowance"] - 10
    seam_edges = 2 if wrapped else 8
    if spare > 0:
        notes.append(f"Left untrimmed, the seam allowances hold up to {said(seam_edges * spare)} of girth to "
                     "let out.")
    if options["growth_tuck"]:
        notes.append(f"The tuck holds {said(tube.tucked)} of length to let down. It is a straight band let "
                     "into the flare, so that its two rows are equal; level the hem again when it is let "
                     "down.")
    if wrapped and side_gores(tube)[1].gore.angle > WIDEST_ANGLE:
        notes.append("The gores are so wide for their length that their edges hang on the bias and "
                     "stretch; a narrower hem or four panels hang better.")
    elif not wrapped and not straight and degrees(tube.panel(THIRD).hem_lean) * 2 > WIDEST_ANGLE:
        notes.append("The front and back flare so far that their edges hang on the bias and stretch; "
                     "a narrower hem hangs better.")
    return tuple(notes)


def _cautions(options: Options) -> tuple[str, ...]:
    if options.is_("strap_style", "loops"):
        return (LONG_HEM, BROOCH_STRAPS)
    return (LONG_HEM, PINS) if options.is_("style", "wrapped") else (LONG_HEM,)


GARMENT = Garment(
    name="apron-dress",
    title="Apron dress",
    summary="Four panels in thirds and sixths of the girth, hung from straps over an underdress.",
    needs=("bust_girth", "waist_girth", "torso_length"),
    uses=("upper_chest_girth", "hip_girth", "shoulder_girth", "stature", "brooch_strap_length"),
    options=OPTIONS,
    draft=draft,
    history="Worn with oval brooches from the 8th century to about 1000 in Scandinavia and where its people "
            "settled; mostly of wool, less often linen.",
    provenance="common practice, no source",
    worn_at="trunk",
    usual_fibre="wool",
    usual_wearer="woman",
    long=True,
    held_by={"pinned straps": Chosen("strap_style", ("loops",)), "pins": Chosen("style", ("wrapped",))},
    instead=("underdress", "tunic", "cloak", "head-scarf", "trousers", "leg-wraps"),
    cuts_instead={"style=pleated": ("four-panels",)},
    estimated_as="woman",
    worn=Wearing(
        hangs_from="straps",
        lies={"front": "front", "back": "back", "side": "sides"},
        aside=("strap", "back strap", "front loop", "opening facing"),
        fastens=((("front", "left opening", 1), ("side", "front opening", 1)),),
        laps=((("front", "left", 1), ("back", "left", 1)),),
        beneath=2.0,
        # Its girths are the same: the pleats take up what the front is cut wider by.
        shown_as={"style=pleated": "four-panels"},
    ),
)
