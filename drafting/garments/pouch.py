"""The pouch: one rectangle folded at its foot, sewn up at the sides, shut by a cord or hung from a frame."""

from ..body import Body
from ..geometry import Allowance, Edge, Outline, Path, Point
from ..pattern import Clearance, InnerLine, Pattern, Piece, Remedy, SchematicPlace, Seam, SeamEdge
from ..words.problems import BadInput, Problem
from ..words.wording import said
from .drafted import drafted
from .garment import Garment
from .options import ChoiceOption, Chosen, LengthOption, Options
from .rounding import up_to

FOR_THE_HAND = 20.0
CORD_BEYOND = 200.0
"""mm round the hand, and of each cord beyond the mouth. common practice, no source."""

OPTIONS = (
    ChoiceOption("closes", "Closes", "How the mouth is shut.", "cord",
                 {"cord": "drawn shut by two cords", "frame": "between two handles of wood, bone or antler"}),
    LengthOption("width", "Width", "Of the mouth, laid flat; of a frame, between its ends.",
                 lambda body: up_to((body["folded_hand_girth"] + FOR_THE_HAND) / 2 + 70, 10), 60, 500),
    LengthOption("depth", "Depth", "From the mouth to the fold at the foot.",
                 lambda body: up_to((body["folded_hand_girth"] + FOR_THE_HAND) / 2 + 90, 10), 60, 500),
    LengthOption("holes_apart", "Between the eyelets", "Along the mouth.", 30.0, 15, 80,
                 when=(Chosen("closes", ("cord",)),)),
    LengthOption("seam_allowance", "Seam allowance", "Beyond the sewing line.", 10.0, 5, 20, "Allowances"),
    LengthOption("hem_depth", "Hem of the mouth", "Finished depth, turned twice; the eyelets go through it.",
                 15.0, 5, 40, "Allowances"),
)


def draft(body: Body, options: Options) -> Pattern:
    """Raises BadInput when the mouth is hemmed away."""
    width, depth = options["width"], options["depth"]
    if options["hem_depth"] > depth / 3:
        raise BadInput([Problem(
            "hem_depth",
            f"A hem of {said(options['hem_depth'])} takes up a pouch {said(depth)} deep: give "
            f"{said(depth / 3)} or less, or a deeper pouch.",
            also=("depth",))])
    finished = {"width": width, "depth": depth}
    if options.is_("closes", "cord"):
        finished["cord_length"] = 2 * (2 * width + CORD_BEYOND)
    return drafted(
        GARMENT, body, options,
        pieces=(_pouch(options),),
        seams=tuple(
            Seam(f"{side} side", (SeamEdge("pouch", f"{side} front"),), (SeamEdge("pouch", f"{side} back"),),
                 options["seam_allowance"], stitch="back", order=-1)
            for side in ("left", "right")),
        finished=finished,
        clearances=_clearances,
        notes=(_how_it_closes(options),),
        schematic=(SchematicPlace("pouch", 1, 0.0, 0.0),),
    )


def _pouch(options: Options) -> Piece:
    """Spread out: the front above the fold, the back below."""
    width, depth = options["width"], options["depth"]
    corners = [Point(x, y * depth) for x, y in
               ((0, 0), (width, 0), (width, 1), (width, 2), (0, 2), (0, 1))]
    names = ("front mouth", "right front", "right back", "back mouth", "left back", "left front")
    seam, hem = Allowance(options["seam_allowance"]), Allowance(2 * options["hem_depth"], fold=True)
    return Piece(
        name="pouch",
        title="pouch",
        outline=Outline(tuple(Edge(name, Path.through(one, next_one)) for name, one, next_one in zip(
            names, corners, (*corners[1:], corners[0]), strict=True))),
        allowances={name: hem if "mouth" in name else seam for name in names},
        inner_lines=(InnerLine("fold at the foot", Path.through(corners[5], corners[2])),),
        grain=(Point(width / 2, 0.2 * depth), Point(width / 2, 0.8 * depth)),
    )


def _how_it_closes(options: Options) -> str:
    if options.is_("closes", "frame"):
        return ("Sew the mouth through the slots of two handles, one before and one behind; a cord through "
                "their ends carries it and holds them together.")
    pairs = max(2, int(options["width"] / options["holes_apart"] / 2))
    return (f"Work {4 * pairs} eyelets round the hem of the mouth, about "
            f"{said(options['width'] / 2 / pairs)} apart, and draw two cords through, one from either side, "
            "each knotted to itself.")


def _clearances(body: Body, options: Options) -> tuple[Clearance, ...]:
    limit = body["folded_hand_girth"] + FOR_THE_HAND
    wanted = up_to(limit / 2, 10)
    return (Clearance(
        "the hand goes in", 2 * options["width"], limit,
        "The hand goes in, and comes out with what it holds.",
        f"The hand with its thumb folded in is {said(body['folded_hand_girth'])} round.",
        (Remedy(f"A width of {said(wanted)}", "width", f"{wanted:g} mm"),),
        body.is_estimated("folded_hand_girth")),)


GARMENT = Garment(
    name="pouch",
    title="Pouch",
    summary="A rectangle folded and sewn at the sides, drawn shut or hung between two handles.",
    needs=("stature",),
    uses=("hand_girth", "folded_hand_girth"),
    options=OPTIONS,
    draft=draft,
    history="Narrow handles of wood and antler with slots, from Hedeby and Birka, are read as those of bags, "
            "of which no cloth is left; purses in graves were mostly of leather.",
    provenance="Westphal on the wooden finds from Hedeby, plate 59, as quoted: handles 181 to 495 mm long",
    worn_at="trunk",
    usual_fibre="wool",
    usual_wearer="woman",
    long=False,
    held_by={},
    instead=("woven-belt",),
)
