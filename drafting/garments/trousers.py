"""Trousers: one panel for each leg and a square seat gusset between them.

The panel is folded round the leg, its fold down the outside, and goes straight from the waist to the
gusset's corner on the inseam; from there it tapers to the hem. Front and back centre seams join the two
legs; the gusset is set in where the four seams would meet.
"""

from ..body import Body
from ..pattern import Level, Pattern, Piece, SchematicPlace, Seam
from ..words.cautions import CHILD_STATURE, DRAWSTRING
from ..words.wording import said
from .block_options import FELLED_IN_WOOL
from .drafted import Clearances, drafted
from .fit import WAIST_TO_HIP
from .garment import Garment
from .layers import over_option
from .legs import (
    CALF_HEIGHT,
    NAMED_LENGTHS,
    Legs,
    leg_girth,
    legs_for,
    named_length,
    thigh_below_crotch,
)
from .loom import LOOM_WIDTH
from .options import ChoiceOption, Chosen, LengthOption, Options
from .rounding import round_to, up_to
from .trousers_fit import trouser_clearances
from .trousers_pieces import loop_ends, schematic, trouser_pieces, trouser_seams
from .wearing import Wearing

TO_TIE = 600.0
"""mm of drawstring beyond the waist, to tie a bow. common practice, no source."""

OPTIONS = (
    LengthOption("length", "Length", "From the waist down the outside of the leg to the finished hem.",
                 lambda body: named_length(body, "ankle"), 250, 1400,
                 when=(Chosen("length_to", ("by-number",)),)),
    ChoiceOption("length_to", "Length by name", "Sets the length by where the hem should be.",
                 "by-number", NAMED_LENGTHS),
    LengthOption("leg_hem", "Leg at the hem",
                 "Round the finished hem of one leg; 0 makes it as wide as foot and leg need.",
                 0.0, 0, 900),
    LengthOption("ankle_slit", "Slit at the hem", "Left open in the inseam above the hem.",
                 0.0, 0, 250),
    LengthOption("gusset_size", "Seat gusset", "Along each side of the square.",
                 lambda body: round_to(0.1 * body["stature"], 5), 50, 350),
    ChoiceOption("waist", "Waist", "How the top is kept up.", "drawstring",
                 {"drawstring": "a drawstring in a casing", "belt-loops": "a belt through loops"}),
    LengthOption("casing", "Casing or turned top", "Finished depth.", 35.0, 15, 80),
    LengthOption("front_slit", "Front slit", "Left open in the front seam below the waist.",
                 0.0, 0, 300),
    over_option("skin"),
    LengthOption("hip_ease", "Ease at the hips", "Room round the hips or waist, beyond what the clothes "
                 "beneath take.", 100.0, 0, 800, "Ease"),
    LengthOption("thigh_ease", "Ease round the thigh", "Room round each thigh, beyond what the clothes "
                 "beneath take.", 50.0, 0, 500, "Ease"),
    LengthOption("rise_ease", "Ease through the crotch",
                 "Added to the way from waist to waist between the legs.",
                 lambda body: round_to(0.065 * body["stature"], 5), 0, 400, "Ease"),
    LOOM_WIDTH,
    LengthOption("seam_allowance", "Seam allowance", "Beyond the sewing line, for run-and-fell seams.",
                 FELLED_IN_WOOL, 6, 60, "Allowances"),
    LengthOption("hem_depth", "Hem", "Finished depth; it is turned twice.", 12.0, 0, 80, "Allowances"),
)


def draft(body: Body, options: Options) -> Pattern:
    """Raises BadInput when options contradict each other or the body."""
    legs = legs_for(body, options)
    pieces = trouser_pieces(options, legs)
    return draft_legs(GARMENT, body, options, legs, pieces, trouser_seams(options), trouser_clearances,
                      schematic(legs, pieces))


def draft_legs(
    garment: Garment, body: Body, options: Options, legs: Legs, pieces: tuple[Piece, ...],
    seams: tuple[Seam, ...], clearances: Clearances, places: tuple[SchematicPlace, ...],
) -> Pattern:
    """Trousers of any cut, with what all of them have to say; their first piece is the leg."""
    finished = _finished(options, legs)
    return drafted(
        garment, body, options,
        pieces=pieces,
        seams=seams,
        attachments=loop_ends(options, pieces),
        finished=finished,
        clearances=clearances,
        levels=_profile(body, legs),
        notes=_notes(options, legs, finished),
        cautions=trouser_cautions(body, options),
        schematic=places,
    )


def _finished(options: Options, legs: Legs) -> dict[str, float]:
    found = {
        "waist_girth": legs.around,
        "hip_girth": legs.around,
        "thigh_girth": legs.width,
        "leg_hem_girth": legs.hem,
        "length": legs.length,
        "crotch_length": legs.crotch_way,
        "front_rise": legs.front_rise,
        "back_rise": legs.back_rise,
        "inseam": legs.gusset + legs.taper.side_length,
    }
    if options.is_("waist", "drawstring"):
        found["drawstring_length"] = up_to(legs.around + TO_TIE, 10)
    return found


def _profile(body: Body, legs: Legs) -> tuple[Level, ...]:
    """Round the body down to the hips, then round one leg."""
    waist, knee = body["waist_height"], body["knee_height"]
    one_leg = [
        ("thigh, one leg", legs.gusset_foot, thigh_below_crotch(body, legs.below_crotch)),
        ("knee, one leg", waist - knee, leg_girth(body, knee)),
        ("calf, one leg", waist - CALF_HEIGHT * knee, body["calf_girth"]),
    ]
    return (
        Level("waist", 0.0, legs.around, body["waist_girth"], kind="waist"),
        Level("hips", WAIST_TO_HIP * body["stature"], legs.around, body["hip_girth"], kind="hips"),
        *(Level(name, depth, legs.girth_at(depth), girth, kind="leg")
          for name, depth, girth in one_leg if depth < legs.length),
        Level("hem, one leg", legs.length, legs.hem, leg_girth(body, waist - legs.length), kind="leg"),
    )


def _notes(options: Options, legs: Legs, finished: dict[str, float]) -> tuple[str, ...]:
    notes = [*legs.changes, "Left and right are the wearer's. Pieces show their outer side.",
             "The waist is curved: it is lower in front, and meets both centre seams square."]
    if options.is_("waist", "drawstring"):
        ends = ("its ends come out at the front slit" if options["front_slit"]
                else "work two eyelets in front before it is turned")
        notes.append(f"A cord of {said(finished['drawstring_length'])} runs in the casing; {ends}.")
    if not options.is_("length_to", "by-number"):
        notes.append(f"The hem at the {options.chosen('length_to')} makes them {said(legs.length)} long.")
    spare = options["seam_allowance"] - 10
    if spare > 0:
        notes.append(f"Left untrimmed, the centre seams hold up to {said(4 * spare)} of girth to let out.")
    return tuple(notes)


def trouser_cautions(body: Body, options: Options) -> tuple[str, ...]:
    """Of a cord at a child's waist."""
    if not options.is_("waist", "drawstring") or body["stature"] > CHILD_STATURE:
        return ()
    return (DRAWSTRING,)


GARMENT = Garment(
    name="trousers",
    title="Trousers",
    summary="A panel for each leg, tapered below a square seat gusset, on a drawstring or a belt.",
    needs=("stature", "hip_girth", "crotch_length"),
    uses=("waist_girth", "thigh_girth", "calf_girth", "ankle_girth", "heel_ankle_girth", "waist_height",
          "inside_leg_height", "knee_height"),
    options=OPTIONS,
    draft=draft,
    history="Trousers with a separate square seat piece are preserved from the bog finds at Thorsberg and "
            "Damendorf (3rd to 5th century); fragments at Hedeby show trousers in the 9th and 10th.",
    provenance="from memory: Schlabow 1976, Textilfunde der Eisenzeit in Norddeutschland; Hägg 1984, Die "
               "Textilfunde aus dem Hafen von Haithabu",
    worn_at="legs",
    usual_fibre="wool",
    usual_wearer="man",
    long=False,
    held_by={"cord": Chosen("waist", ("drawstring",))},
    instead=("underdress", "tunic", "leg-wraps"),
    worn=Wearing(hangs_from="drawstring", lies={"leg": "legs"}, aside=("belt loop",), beneath=1.0),
)
