"""The cloak: a rectangle, or a sector of a ring that lies round the neck and falls in folds."""

from ..body import Body
from ..pattern import Pattern
from ..words.cautions import CLOAK_CATCHES, LONG_HEM, PINS
from ..words.wording import said
from .cloak_fit import cloak_clearances
from .cloak_pieces import (
    binding,
    bound_neck,
    joins,
    layer_piece,
    lining_seams,
    loop_end,
    loop_piece,
    schematic,
)
from .cloak_shape import (
    LAP,
    Sector,
    Sheet,
    _check,
    shape_for,
    too_wide,
)
from .drafted import drafted
from .garment import Garment
from .loom import LOOM_WIDTH
from .options import ChoiceOption, Chosen, LengthOption, Options
from .rounding import round_to, up_to
from .wearing import Wearing

ROUND, FOLDED_OVER = 1.33, 0.17
"""Of stature: a man's rectangle is about 1500 by 2300 to 2500 mm, its top folded over. common practice, no
source."""


def _default_width(body: Body) -> float:
    return up_to(max(ROUND * body["stature"], body["shoulder_girth"] + LAP), 50)


def _default_fold(body: Body) -> float:
    return round_to(FOLDED_OVER * body["stature"], 10)


SCOOP = 40.0
"""mm. common practice, no source: 30 to 50."""

_RECTANGLE = Chosen("shape", ("rectangle",))
_CIRCULAR = Chosen("shape", ("half-circle", "three-quarter-circle"))

OPTIONS = (
    ChoiceOption("shape", "Shape", "How the cloak is cut.", "rectangle",
                 {"rectangle": "rectangle", "half-circle": "half circle",
                  "three-quarter-circle": "three-quarter circle"}),
    LengthOption("length", "Length", "From the neck to the hem, finished.",
                 lambda body: round_to(0.66 * body["stature"], 10), 250, 1700),
    LengthOption("width", "Width of the rectangle", "From one front edge round to the other.",
                 _default_width, 500, 4000,
                 when=(_RECTANGLE,)),
    LengthOption("fold_over", "Folded over", "Of a rectangle, above the fold that lies round the neck.",
                 _default_fold, 0, 600,
                 when=(_RECTANGLE,)),
    LengthOption("neck_length", "Way round the neck",
                 "Of a circular cloak, from clasp to clasp; 0 to have it worked out.", 0.0, 0, 1200,
                 when=(_CIRCULAR,)),
    LengthOption("scoop", "Scoop at the neck", "How deep the neck of a circular cloak is hollowed.",
                 SCOOP, 20, 150,
                 when=(_CIRCULAR,)),
    ChoiceOption("cut", "Pieces", "A circular cloak whole, or in quarter circles sewn together.",
                 "as-fits", {"as-fits": "half circle whole, three-quarter circle in quarters",
                             "whole": "whole", "quarters": "quarter circles"},
                 when=(_CIRCULAR,)),
    ChoiceOption("closure", "Closed by", "What holds it at the neck or shoulder.", "brooch",
                 {"brooch": "brooch or pin", "toggle": "toggle and loop"}),
    ChoiceOption("lining", "Lining", "A second layer of the same pieces.", "none",
                 {"none": "none", "full": "lined all over"}),
    LengthOption("seam_allowance", "Seam allowance", "Beyond the sewing line.",
                 20.0, 6, 60, "Allowances"),
    LengthOption("hem_depth", "Hem", "Finished depth, turned twice; 0 for raw or woven edges.",
                 10.0, 0, 40, "Allowances",
                 when=(Chosen("lining", ("none",)),)),
    LOOM_WIDTH,
)


def draft(body: Body, options: Options) -> Pattern:
    """Raises BadInput when options contradict each other."""
    _check(options)
    shape, fitting = shape_for(body, options)
    layers = ("main", "lining") if options.is_("lining", "full") else ("main",)
    pieces = [layer_piece(options, shape, cloth) for cloth in layers]
    seams = [seam for cloth in layers for seam in joins(options, shape, cloth)]
    if options.is_("lining", "full"):
        seams += lining_seams(options, shape)
    if isinstance(shape, Sector):
        pieces.append(binding(shape))
        seams.append(bound_neck(shape))
    loop = (loop_piece(),) if options.is_("closure", "toggle") else ()
    return drafted(
        GARMENT, body, options,
        pieces=(*pieces, *loop),
        seams=tuple(seams),
        attachments=loop_end(shape) if loop else (),
        finished=_finished(shape),
        clearances=cloak_clearances,
        notes=(*fitting, *_notes(options, shape)),
        cautions=_cautions(options),
        schematic=schematic(shape, (*pieces, *loop)),
    )


def _finished(shape: Sector | Sheet) -> dict[str, float]:
    if isinstance(shape, Sheet):
        found = {"length": shape.length, "width": shape.width}
        return found | {"folded_over": shape.folded, "cloth_height": shape.height} if shape.folded else found
    return {"length": shape.length, "neck_length": shape.neck, "clasp_down_the_front": shape.clasp,
            "hem_length": shape.angle * shape.reach, "neck_radius": shape.radius,
            "hem_radius": shape.reach}


def _notes(options: Options, shape: Sector | Sheet) -> tuple[str, ...]:
    notes = ["Spread out it shows its outer side; left and right are the wearer's."]
    if isinstance(shape, Sheet):
        if shape.folded:
            notes.append(f"Fold {said(shape.folded)} of the top over to the outside: the fold lies round the "
                         "neck, and the cloak is pinned through both layers.")
        notes.append("Pinned on one shoulder it leaves that arm free.")
    else:
        notes.append(
            f"Chalk it with a string from one point: {said(shape.radius)} to the neck edge, "
            f"{said(shape.reach)} to the hem."
        )
        notes.append(f"The scoop lies at the nape; it closes {said(shape.clasp)} down each front, which then "
                     "fall open.")
        notes.append("Hang it for a day before hemming: the parts on the bias drop.")
        if too_wide(options, shape):
            notes.append("It is wider than the cloth: the lay shows where it is pieced.")
    if options.is_("closure", "toggle"):
        notes.append("Sew the toggle to the left front, across from the loop.")
    return tuple(notes)


def _cautions(options: Options) -> tuple[str, ...]:
    pins = (PINS,) if options.is_("closure", "brooch") else ()
    return (LONG_HEM, CLOAK_CATCHES, *pins)


GARMENT = Garment(
    name="cloak",
    title="Cloak",
    summary="A rectangle, or a half or three-quarter circle, held at the neck or on one shoulder.",
    needs=("stature",),
    uses=("neck_base_girth", "shoulder_girth", "shoulder_width", "cervicale_height"),
    options=OPTIONS,
    draft=draft,
    history="Rectangles pinned on one shoulder are in pictures from the whole period; a half circle "
            "is the star mantle of Emperor Henry II at Bamberg, of about 1020.",
    provenance="common practice, no source, for the rectangle; from memory: the mantle in the "
               "Diocesan Museum, Bamberg",
    worn_at="neck",
    usual_fibre="wool",
    usual_wearer="woman",
    long=True,
    held_by={"pins": Chosen("closure", ("brooch",)), "toggles": Chosen("closure", ("toggle",))},
    instead=("underdress", "tunic", "head-scarf", "trousers", "leg-wraps"),
    cuts_instead={"shape=half-circle": ("rectangle",), "shape=three-quarter-circle": ("rectangle",)},
    worn=Wearing(
        hangs_from="pin",
        lies={"cloak": "round the neck", "quarter": "round the neck", "width": "round the neck"},
        aside=("neck binding", "loop"),
        beneath=5.0,
    ),
)
