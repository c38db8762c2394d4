"""Trousers: one panel for each leg and a square seat gusset between them.

The panel is folded round the leg, its fold down the outside, and goes straight from the waist to the
gusset's corner on the inseam; from there it tapers to the hem. Front and back centre seams join the two
legs; the gusset is set in where the four seams would meet.
"""

from math import ceil, sqrt

from ..body import Body
from ..geometry import Allowance, Cubic, Edge, Outline, Path, Point
from ..pattern import (
    HALVES,
    Attachment,
    Clearance,
    InnerLine,
    Level,
    Notch,
    Pattern,
    Piece,
    Remedy,
    SchematicPlace,
    Seam,
    SeamEdge,
)
from ..words.cautions import DRAWSTRING
from ..words.wording import said
from .block_options import WAIST_TO_HIP
from .body_seams import CHILD_STATURE
from .drafted import drafted
from .fit import room
from .garment import Chosen, Garment
from .layers import OVER, over_option
from .legs import (
    CALF_HEIGHT,
    FOOT_EASE,
    LEAST_CALF_EASE,
    NAMED_LENGTHS,
    Legs,
    leg_girth,
    legs_for,
    named_length,
    thigh_at_gusset_foot,
)
from .loom import LOOM_WIDTH
from .options import ChoiceOption, LengthOption, Options
from .rounding import round_to
from .schematic import GAP, below
from .sleeve import square_gusset
from .strips import loop_strip

SQUAT_EASE = 0.05
"""Least ease on the crotch length, over stature, to squat: 60–100 mm for adults. common practice, no
source."""

LEAST_HIP_EASE, LEAST_THIGH_EASE, LEAST_KNEE_EASE = 40.0, 30.0, 50.0
"""mm. common practice, no source; at the knee enough to bend it."""

LOOP_LENGTH, LOOP_WIDTH, LOOP_JOINT = 60.0, 40.0, 10.0
"""mm: a belt loop and the strip it is folded from. common practice, no source."""

LOOPS_AT = (0.12, 0.5, 0.88)
"""Parts of each leg's waist, from the back to the front, at which its belt loops sit. common practice, no
source."""

OPTIONS = (
    LengthOption("length", "Length", "From the waist down the outside of the leg to the finished hem.",
                 lambda body: named_length(body, "ankle"), 250, 1400),
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
                 15.0, 6, 60, "Allowances"),
    LengthOption("hem_depth", "Hem", "Finished depth; it is turned twice.", 12.0, 0, 80, "Allowances"),
)


def draft(body: Body, options: Options) -> Pattern:
    """Raises BadInput when options contradict each other or the body."""
    legs = legs_for(body, options)
    pieces = _pieces(options, legs)
    return drafted(
        GARMENT, body, options,
        pieces=pieces,
        seams=_seams(options),
        attachments=_loops(options, pieces),
        finished=_finished(legs),
        clearances=_clearances,
        levels=_profile(body, legs),
        notes=_notes(options, legs),
        cautions=_cautions(body, options),
        schematic=_schematic(legs, pieces),
    )


def _pieces(options: Options, legs: Legs) -> tuple[Piece, ...]:
    seam = Allowance(options["seam_allowance"])
    gusset = square_gusset("seat gusset", legs.gusset,
                           ("right front", "right back", "left back", "left front"), seam,
                           ("seat gusset",), ("front", "back", "back", "front"))
    if not options.is_("waist", "belt-loops"):
        return _leg(options, legs, seam), gusset
    copies = tuple(f"belt loop {n}" for n in range(1, 2 * len(LOOPS_AT) + 1))
    loops = loop_strip("belt loop", LOOP_LENGTH, LOOP_WIDTH, LOOP_JOINT, copies)
    return _leg(options, legs, seam), gusset, loops


def _leg(options: Options, legs: Legs, seam: Allowance) -> Piece:
    """The right leg seen from outside, its front to the right; the left one is turned over."""
    reach, foot, taper = legs.width / 2, legs.gusset_foot, legs.taper
    hem = taper.end_edge.moved(lambda p: Point(p.x, p.y + foot))
    back_top, front_top = Point(-reach, 0.0), Point(reach, legs.drop)
    front_corner, back_corner = Point(reach, legs.back_rise), Point(-reach, legs.back_rise)
    front_foot, back_foot = Point(reach, foot), Point(-reach, foot)
    edges = (
        Edge("waist", Path((Cubic(back_top, back_top + Point(legs.width / 3, 0),
                                  front_top - Point(legs.width / 3, 0), front_top),))),
        Edge("front seam", Path.through(front_top, front_corner)),
        Edge("front gusset", Path.through(front_corner, front_foot)),
        Edge("front inseam", Path.through(front_foot, hem.start)),
        Edge("hem", hem),
        Edge("back inseam", Path.through(hem.end, back_foot)),
        Edge("back gusset", Path.through(back_foot, back_corner)),
        Edge("back seam", Path.through(back_corner, back_top)),
    )
    slit = options["ankle_slit"]
    return Piece(
        name="leg",
        title="leg",
        outline=Outline(edges),
        allowances={edge.name: seam for edge in edges} | {
            "waist": Allowance(options["casing"] + 10.0, fold=True),
            "hem": Allowance(2 * options["hem_depth"], fold=True),
        },
        cut=2,
        mirrored=True,
        copies=("right leg", "left leg"),
        notches=(
            Notch("front gusset", 0.0, "gusset"),
            Notch("front inseam", 0.0, "inseam"),
            Notch("back gusset", 0.0, "gusset", from_end=True),
            Notch("back inseam", 0.0, "inseam", from_end=True),
            *((Notch("front seam", options["front_slit"], "slit"),) if options["front_slit"] else ()),
            *((Notch("front inseam", slit, "slit", from_end=True), Notch("back inseam", slit, "slit"))
              if slit else ()),
        ),
        inner_lines=(InnerLine("outside of the leg", Path.through(
            Point(0.0, legs.drop / 2), Point(0.0, foot + taper.length)), "level"),),
        roles={"waist": "waist", "hem": "hem"},
        faces={f"{half} {edge}": half
               for half in HALVES for edge in ("seam", "gusset", "inseam")},
    )


def _seams(options: Options) -> tuple[Seam, ...]:
    width = options["seam_allowance"]

    def leg(edge: str, copy: int) -> tuple[SeamEdge, ...]:
        return (SeamEdge("leg", edge, copy),)

    seams = [
        Seam(f"{side} leg's {half} to seat gusset",
             (SeamEdge("seat gusset", f"{side} {half}"),), leg(f"{half} gusset", copy), width, order=10)
        for copy, side in ((1, "right"), (2, "left"))
        for half in ("front", "back")
    ]
    seams.append(Seam("front seam", leg("front seam", 1), leg("front seam", 2), width,
                      open_from_top=options["front_slit"], order=20))
    # Its edges run upwards; the back is left whole.
    seams.append(Seam("back seam", leg("back seam", 1), leg("back seam", 2), width, order=20))
    seams += [
        Seam(f"{side} inseam", leg("back inseam", copy), leg("front inseam", copy), width,
             open_from_top=options["ankle_slit"], order=30)
        for copy, side in ((1, "right"), (2, "left"))
    ]
    return tuple(seams)


def _loops(options: Options, pieces: tuple[Piece, ...]) -> tuple[Attachment, ...]:
    if not options.is_("waist", "belt-loops"):
        return ()
    length = pieces[0].outline["waist"].length
    places = [(copy, part * length) for copy in (1, 2) for part in LOOPS_AT]
    return tuple(
        Attachment(f"belt loop {n}", "belt loop", n, SeamEdge("leg", "waist", copy), at)
        for n, (copy, at) in enumerate(places, 1)
    )


def _finished(legs: Legs) -> dict[str, float]:
    return {
        "waist_girth": 2 * legs.width,
        "hip_girth": 2 * legs.width,
        "thigh_girth": legs.width,
        "leg_hem_girth": legs.hem,
        "length": legs.length,
        "crotch_length": legs.crotch_way,
        "front_rise": legs.front_rise,
        "back_rise": legs.back_rise,
        "inseam": legs.gusset + legs.taper.side_length,
    }


def _clearances(body: Body, options: Options) -> tuple[Clearance, ...]:
    legs = legs_for(body, options)
    leg = options.pick("over", OVER).leg
    widest = max(body["hip_girth"], body["waist_girth"])
    hip_ease = ceil((LEAST_HIP_EASE + 5) / 10) * 10.0
    more_hip = Remedy(f"Ease of {said(hip_ease)} at the hips", "hip_ease", f"{hip_ease:g} mm")
    around, ease = 2 * legs.width, LEAST_HIP_EASE + 2 * leg
    found = [
        Clearance("the top passes the hips", around, widest + 20.0,
                  f"Drawn open the top is {said(around)}, and passes {said(widest)}.",
                  f"Drawn open the top is {said(around)}; it must pass {said(widest)}.", (more_hip,),
                  body.is_estimated("hip_girth")),
        room("room at the hips", body, "hip_girth", around, ease, (more_hip,)),
        _squat(body, legs),
        _thigh(body, legs, leg),
    ]
    found += _lower_leg(body, options, legs, leg)
    foot = body["heel_ankle_girth"] + FOOT_EASE
    slit = max(10.0, ceil((foot - legs.hem) / 20) * 10.0)
    through = legs.hem + 2 * options["ankle_slit"]
    found.append(Clearance(
        "heel through the leg", through, foot,
        f"The hem lets {said(through)} through; heel and instep are {said(body['heel_ankle_girth'])}.",
        f"The hem lets only {said(through)} through; heel and instep are "
        f"{said(body['heel_ankle_girth'])}, and {said(FOOT_EASE)} more is wanted.",
        (Remedy(f"A slit of {said(slit)} at the hem", "ankle_slit", f"{slit:g} mm"),
         Remedy("A hem as wide as the foot needs", "leg_hem", "0 mm")),
        body.is_estimated("heel_ankle_girth")))
    return tuple(found)


def _squat(body: Body, legs: Legs) -> Clearance:
    ease = SQUAT_EASE * body["stature"]
    wanted = ceil((ease + 2) / 10) * 10.0
    way = f"Between the legs the way is {said(legs.crotch_way)}, the body's {said(body['crotch_length'])}"
    return Clearance(
        "room to squat", legs.crotch_way, body["crotch_length"] + ease,
        f"{way}.", f"{way}; {said(ease)} more is wanted to squat.",
        (Remedy(f"Ease of {said(wanted)} through the crotch", "rise_ease", f"{wanted:g} mm"),),
        body.is_estimated("crotch_length"))


def _thigh(body: Body, legs: Legs, leg: float) -> Clearance:
    thigh = thigh_at_gusset_foot(body, legs.gusset)
    at_foot = f"Where the gusset ends the leg is {said(legs.width)} wide and the thigh about {said(thigh)}"
    return Clearance(
        "room for the thigh", legs.width, thigh + LEAST_THIGH_EASE + leg,
        f"{at_foot}.", f"{at_foot}: at least {said(LEAST_THIGH_EASE + leg)} more is wanted.",
        (Remedy(f"Ease of {said(LEAST_THIGH_EASE)} round the thigh", "thigh_ease",
                f"{LEAST_THIGH_EASE:g} mm"),),
        body.is_estimated("thigh_girth"))


def _lower_leg(body: Body, options: Options, legs: Legs, leg: float) -> list[Clearance]:
    """Room at knee, calf and hem, as far as the leg reaches."""
    found = []
    knee = body["knee_height"]
    at_hem = body["waist_height"] - legs.length
    wide = ceil((legs.width + 2) / 5) * 5.0
    for name, height, ease in (
        ("room at the knee", knee, LEAST_KNEE_EASE),
        ("room at the calf", CALF_HEIGHT * knee, LEAST_CALF_EASE),
        ("room at the hem", at_hem, LEAST_CALF_EASE),
    ):
        if height < at_hem:
            continue
        girth, body_girth = legs.girth_at(body["waist_height"] - height), leg_girth(body, height)
        around = f"The leg is {said(girth)} round, the body about {said(body_girth)}"
        found.append(Clearance(
            name, girth, body_girth + ease + leg,
            f"{around}.", f"{around}; {said(ease + leg)} more is wanted.",
            (Remedy("A hem as wide as foot and leg need", "leg_hem", "0 mm"),
             Remedy(f"A straight leg of {said(wide)}", "leg_hem", f"{wide:g} mm")),
            body.is_estimated("calf_girth")))
    return found


def _profile(body: Body, legs: Legs) -> tuple[Level, ...]:
    """Round the body down to the hips, then round one leg."""
    waist, knee = body["waist_height"], body["knee_height"]
    one_leg = [
        ("thigh, one leg", legs.gusset_foot, thigh_at_gusset_foot(body, legs.gusset)),
        ("knee, one leg", waist - knee, leg_girth(body, knee)),
        ("calf, one leg", waist - CALF_HEIGHT * knee, body["calf_girth"]),
    ]
    return (
        Level("waist", 0.0, 2 * legs.width, body["waist_girth"], kind="waist"),
        Level("hips", WAIST_TO_HIP * body["stature"], 2 * legs.width, body["hip_girth"], kind="hips"),
        *(Level(name, depth, legs.girth_at(depth), girth, kind="leg")
          for name, depth, girth in one_leg if depth < legs.length),
        Level("hem, one leg", legs.length, legs.hem, leg_girth(body, waist - legs.length), kind="leg"),
    )


def _notes(options: Options, legs: Legs) -> tuple[str, ...]:
    notes = [*legs.changes, "Left and right are the wearer's. Pieces show their outer side.",
             "The waist is curved: it is lower in front, and meets both centre seams square."]
    if options.is_("waist", "drawstring"):
        notes.append(f"A cord of {said(round_to(2 * legs.width + 400, 50))} runs in the casing; work two "
                     "eyelets in front before it is turned.")
    if not options.is_("length_to", "by-number"):
        notes.append(f"The hem at the {options.chosen('length_to')} makes them {said(legs.length)} long.")
    spare = options["seam_allowance"] - 10
    if spare > 0:
        notes.append(f"The centre seams hold up to {said(4 * spare)} of girth to let out.")
    return tuple(notes)


def _cautions(body: Body, options: Options) -> tuple[str, ...]:
    if not options.is_("waist", "drawstring") or body["stature"] > CHILD_STATURE:
        return ()
    return (DRAWSTRING,)


def _schematic(legs: Legs, pieces: tuple[Piece, ...]) -> tuple[SchematicPlace, ...]:
    """The legs side by side, fronts in the middle, the gusset between them."""
    x = legs.width / 2 + legs.gusset / sqrt(2) + GAP
    placed = (
        SchematicPlace("leg", 1, -x, 0.0),
        SchematicPlace("leg", 2, x, 0.0, mirrored=True),
        SchematicPlace("seat gusset", 1, 0.0, legs.back_rise, turn=45.0),
    )
    loops = [("belt loop", n) for piece in pieces if piece.name == "belt loop"
             for n in range(1, piece.cut + 1)]
    return (*placed, *below(placed, pieces, loops))


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
)
