"""The hood: two side panels with a short cape, widened by gores at front and back.

Above the level of the neck each panel is a rectangle: the face edge in front, the crown on top, the back
seam behind. Below it the same rectangle goes on as the cape, slit at front and back (and over the
shoulders for a wide one), and every slit takes a gore. Closed in front, the head goes through the neck;
open, the two fronts lap and need no pin.
"""

from dataclasses import replace
from math import pi

from ..body import Body
from ..pattern import Pattern, SchematicPlace
from ..words.cautions import CORDS, OPEN_FIRE, TAIL_CATCHES
from ..words.wording import said
from .drafted import drafted
from .garment import Garment
from .gore import WIDEST_ANGLE
from .hood_fit import hood_clearances, way_over_crown
from .hood_pieces import hood_layer, lining_seams, tail_piece, tail_seams
from .hood_shape import HoodShape, shape_for
from .layers import OVER, over_option
from .loom import LOOM_WIDTH
from .options import ChoiceOption, Chosen, Given, LengthOption, Options
from .rounding import up_to
from .shoulders import girth_needed, way_to_shoulder_girth
from .wearing import Wearing

HEAD_EASE, FACE_EASE, CROWN_EASE = 40.0, 30.0, 10.0
"""mm over the head, the face and the crown. common practice, no source."""

CAPE_BELOW_SHOULDER = 50.0
"""mm past the widest shoulders. common practice, no source."""


def _default_depth(body: Body) -> float:
    """For the head; square gores cannot be widened, so for broad shoulders over a tunic the panels are."""
    way = way_to_shoulder_girth(body)
    at_shoulders = girth_needed(body, way, OVER["wool"].chest) - pi * way
    return up_to(max(body["head_girth"] + HEAD_EASE, at_shoulders) / 2, 5)


def _default_face(body: Body) -> float:
    return up_to(body["face_length"] + FACE_EASE, 10)


def _default_height(body: Body) -> float:
    return max(up_to(way_over_crown(body) + CROWN_EASE, 5), _default_face(body) / 2)


def _default_cape(body: Body) -> float:
    return up_to(way_to_shoulder_girth(body) + CAPE_BELOW_SHOULDER, 10)


OPTIONS = (
    LengthOption("face_opening", "Face opening", "All the way round the face, as a string lies.",
                 _default_face, 350, 1000),
    LengthOption("depth", "Depth", "Of each side panel, from the face edge to the back seam.",
                 _default_depth, 150, 450),
    LengthOption("height", "Height", "From the root of the neck to the crown, along the cloth.",
                 _default_height, 175, 550),
    LengthOption("cape_length", "Length of the cape", "From the root of the neck to the hem.",
                 _default_cape, 80, 700),
    LengthOption("hem_girth", "Hem girth",
                 "All the way round the cape's hem, with wedge gores; 0 to have it worked out.",
                 0.0, 0, 4000,
                 when=(Chosen("gore_shape", ("wedge",)),)),
    ChoiceOption("gores", "Gores", "Where the cape is widened.", "front-back",
                 {"front-back": "front and back", "all-round": "front, back and both shoulders"}),
    ChoiceOption("gore_shape", "Shape of the gores", "Squares hang in points; wedges hang level.",
                 "square", {"square": "squares, set in by a corner", "wedge": "wedges"}),
    ChoiceOption("crown", "Crown", "Where the top meets the back.", "pointed",
                 {"pointed": "left pointed", "rounded": "rounded off",
                  "comb": "pointed, with a comb: a ridge sewn along the crown"}),
    LengthOption("tail_length", "Tail", "A long narrow tail at the point of the crown; 0 for none.",
                 0.0, 0, 1500,
                 when=(Chosen("crown", ("pointed",)),)),
    LengthOption("tail_width", "Width of the tail", "Where it leaves the hood, laid flat.",
                 70.0, 30, 150,
                 when=(Chosen("crown", ("pointed",)), Given("tail_length"))),
    ChoiceOption("front", "Front", "Below the chin.", "closed",
                 {"closed": "closed, pulled over the head", "overlap": "open, the fronts lapping"}),
    LengthOption("overlap", "Overlap", "How far each front reaches past the middle.",
                 60.0, 20, 200,
                 when=(Chosen("front", ("overlap",)),)),
    ChoiceOption("lining", "Lining", "A second layer of the same pieces.", "none",
                 {"none": "none", "full": "lined all over"}),
    over_option("wool"),
    LengthOption("seam_allowance", "Seam allowance", "Beyond the sewing line.",
                 15.0, 6, 40, "Allowances"),
    LengthOption("hem_depth", "Hem", "Finished depth, turned twice; 0 for raw edges.",
                 8.0, 0, 30, "Allowances",
                 when=(Chosen("lining", ("none",)),)),
    LOOM_WIDTH,
)


def draft(body: Body, options: Options) -> Pattern:
    """Raises BadInput when options contradict each other."""
    shape, fitting = shape_for(body, options)
    pieces, seams = hood_layer(shape, "main")
    if shape.tail:
        pieces.append(tail_piece(shape))
        seams += tail_seams(shape)
    if shape.lined:
        lining, inner = hood_layer(replace(shape, comb=0.0), "lining")
        pieces += lining
        seams += inner + lining_seams(shape)
    return drafted(
        GARMENT, body, options,
        pieces=tuple(pieces),
        seams=tuple(seams),
        finished=_finished(shape),
        clearances=hood_clearances,
        notes=(*fitting, *_notes(shape)),
        cautions=_cautions(shape),
        schematic=_schematic(shape),
    )


def _finished(shape: HoodShape) -> dict[str, float]:
    found = {"face_opening": 2 * shape.face, "neck_girth": shape.neck_way, "depth": shape.depth,
             "height": shape.height, "cape_length": shape.cape}
    if not shape.square_gores:
        found["hem_girth"] = shape.hem_girth
    if shape.tail:
        found["tail_length"] = shape.tail
    return found


def _notes(shape: HoodShape) -> tuple[str, ...]:
    notes = ["Panels and gores show their outer side; left and right are the wearer's."]
    if shape.overlap:
        notes.append(f"The fronts lap by {said(2 * shape.overlap)} altogether, and hold without a pin.")
    if shape.square_gores:
        notes.append("Square gores hang in points below the hem, front and back.")
    elif max(gore.angle for gore in shape.gores) > WIDEST_ANGLE:
        notes.append("The gores are wide for their length and drop along their middle: let the hood "
                     "hang for a day before hemming.")
    if shape.tail:
        notes.append("Long tails on hoods are best known from pictures later than 1100.")
    return tuple(notes)


def _cautions(shape: HoodShape) -> tuple[str, ...]:
    return (CORDS, *((TAIL_CATCHES,) if shape.tail else ()), OPEN_FIRE)


def _schematic(shape: HoodShape) -> tuple[SchematicPlace, ...]:
    """Right panel, front gore, left panel, back gore from left to right; cut slits' gores below them."""
    gap, neck, below_hem = 30.0, shape.height, shape.height + shape.cape + 30.0
    front, back = shape.gore_at("front gore"), shape.gore_at("back gore")
    # A wedge hangs down from its apex, a square to the right of it as well.
    upright = 45.0 if shape.square_gores else 0.0
    across = 2 * shape.overlap + gap if shape.overlap else front.length * front.spread + 2 * gap
    placed = [
        SchematicPlace("panel", 1, 0.0, 0.0),
        SchematicPlace("panel", 2, -across, 0.0, mirrored=True),
        SchematicPlace("back gore", 1, shape.depth + gap, neck, upright - back.angle / 2),
    ]
    if not shape.overlap:
        placed.append(SchematicPlace("front gore", 1, -gap, neck, upright + front.angle / 2))
    for gore in shape.gores:
        if gore.slit:
            x = gore.length * gore.spread / 2
            placed.append(SchematicPlace(gore.name, 1, x, below_hem, upright))
            placed.append(SchematicPlace(gore.name, 2, -across - x, below_hem, -upright, mirrored=True))
            below_hem += gore.length * (2**0.5 if shape.square_gores else 1.0) + gap
    if shape.tail:
        placed.append(SchematicPlace("tail", 1, shape.depth + gap, shape.tail_width, -90.0))
    return tuple(placed)


GARMENT = Garment(
    name="hood",
    title="Hood",
    summary="Two side panels and a short cape, widened by gores at front and back.",
    needs=("head_girth", "shoulder_girth"),
    uses=("face_length", "crown_to_shoulder_length", "neck_base_girth", "shoulder_width", "stature"),
    options=OPTIONS,
    draft=draft,
    history="A hood with square gores at front and back was found at Skjoldehamn in northern Norway, "
            "and is dated to the 11th century.",
    provenance="from memory: Løvlid 2009, Nye tanker om Skjoldehamnfunnet",
    worn_at="head",
    usual_fibre="wool",
    usual_wearer="woman",
    long=False,
    held_by={},
    instead=("head-scarf", "cloak"),
    cuts_instead={"crown=comb": ("pointed",)},
    worn=Wearing(
        hangs_from="head",
        lies={"panel": "beside the head", "tail": "down from the hood"},
        laps=((("panel", "front", 1), ("panel", "front", 2)),),
        beneath=3.0,
        shown_as={"crown=comb": "pointed"},
    ),
)
