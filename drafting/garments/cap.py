"""The cap: a rectangle folded over the head, its back edges sewn together down to the nape.

The fold runs from the forehead to the crown, the back seam from there to the nape; the front edge lies
from jaw to jaw. A rectangle alone leaves a peak where fold and seam meet: it is rounded off along an
arc, or taken out by a dart, or left. Proportions: common practice, no source.
"""

from math import ceil, hypot, pi

from ..body import Body
from ..pattern import Clearance, Pattern, Remedy
from ..words.cautions import CORDS, is_young_child
from ..words.problems import BadInput, Problem
from ..words.wording import said
from .cap_pieces import back_seam, cap_piece, schematic, tie_ends, tie_piece
from .drafted import drafted
from .garment import Garment
from .options import ChoiceOption, Chosen, LengthOption, Options
from .rounding import round_to
from .wearing import Wearing

FRONT_OF_FACE = 0.8
LEAST_FRONT_OF_FACE = 0.72
"""Front edge over the way round the face: the rest lies under the chin, from jaw to jaw."""

DEPTH_OF_HEAD = 0.3
LEAST_BACK_OF_HEAD = 0.55
"""Depth over head girth; and the part of the head's girth that lies behind the temples."""

ROUNDING_OF_HEAD = 0.11
NAPE_EASE = 10.0
NOTCH_OVER_ALLOWANCE = 2.5
"""Depth of what is taken off the peak over the allowance: in less, the allowances of its two sides
cross beyond the back edge. source: plane geometry, 1 + √2 for the arc, √5 for the dart."""


def _default_front_edge(body: Body) -> float:
    return ceil(FRONT_OF_FACE * body["face_length"] / 5) * 5.0


def _default_rounding(body: Body) -> float:
    return round_to(ROUNDING_OF_HEAD * body["head_girth"], 5)


def _default_depth(body: Body) -> float:
    """Deep enough behind the temples, and for fold and back seam to reach from hairline to nape."""
    seam = _shaped_seam(_default_front_edge(body) / 2, _default_rounding(body))
    to_nape = body["crown_to_nape_length"] + NAPE_EASE - (seam - _default_rounding(body))
    return ceil(max(DEPTH_OF_HEAD * body["head_girth"], to_nape) / 5) * 5.0


def _shaped_seam(half: float, rounding: float) -> float:
    return half - rounding + rounding * pi / 2


OPTIONS = (
    LengthOption("front_edge", "Front edge", "From jaw to jaw over the crown, finished.",
                 _default_front_edge, 240, 800),
    LengthOption("depth", "Depth", "From the front edge back to the end of the crown, finished.",
                 _default_depth, 80, 400),
    ChoiceOption("back", "Back of the crown", "What becomes of the peak where fold and seam meet.",
                 "shaped", {"shaped": "rounded off", "darted": "taken in by a dart",
                            "plain": "left as a peak"}),
    LengthOption("rounding", "Size of the curve or dart", "How much of the peak is taken off.",
                 _default_rounding, 20, 150,
                 when=(Chosen("back", ("shaped", "darted")),)),
    ChoiceOption("ties", "Ties", "Tapes at the jaws, tied under the chin.", "as-fits",
                 {"as-fits": "ties, but none for a small child", "tapes": "ties",
                  "none": "no ties"}),
    LengthOption("tie_length", "Length of each tie", "From the jaw to its end, finished.", 350.0, 100, 700,
                 when=(Chosen("ties", ("as-fits", "tapes")),)),
    LengthOption("seam_allowance", "Seam allowance", "Beyond the sewing line.",
                 12.0, 5, 40, "Allowances"),
    LengthOption("hem_depth", "Hem", "Finished depth, turned twice.", 6.0, 0, 20, "Allowances"),
)


def draft(body: Body, options: Options) -> Pattern:
    """Raises BadInput when options contradict each other."""
    _check(options)
    tied = _tied(body, options)
    cap = cap_piece(options)
    seams = [back_seam(options, "back seam", "back", order=1)]
    if options.is_("back", "darted"):
        seams.insert(0, back_seam(options, "dart", "dart"))
    return drafted(
        GARMENT, body, options,
        pieces=(cap, tie_piece(options)) if tied else (cap,),
        seams=tuple(seams),
        attachments=tie_ends(options) if tied else (),
        finished=_finished(options),
        clearances=_clearances,
        notes=_notes(options, tied),
        cautions=(CORDS,),
        schematic=schematic(options, tied),
    )


def _check(options: Options) -> None:
    if options.is_("back", "plain"):
        return
    half, depth = options["front_edge"] / 2, options["depth"]
    most = min(half, depth) * 0.6
    least = NOTCH_OVER_ALLOWANCE * options["seam_allowance"]
    if options["rounding"] < least:
        raise BadInput([Problem(
            "rounding",
            f"A curve or dart of {said(options['rounding'])} is too small to be sewn with "
            f"{said(options['seam_allowance'])} of allowance: give {said(least)} or more, less "
            "allowance, or leave the peak.",
            also=("seam_allowance", "back"),
        )])
    if options["rounding"] > most:
        raise BadInput([Problem(
            "rounding",
            f"A curve or dart of {said(options['rounding'])} takes too much off a cap "
            f"{said(depth)} deep with {said(half)} of back seam: give {said(most)} or less, or "
            "leave the peak.",
            also=("depth", "front_edge", "back"),
        )])


def _tied(body: Body, options: Options) -> bool:
    return options.is_("ties", "tapes") or (
        options.is_("ties", "as-fits") and not is_young_child(body["stature"])
    )


def _way_over(options: Options) -> float:
    """From the front edge along the fold and down the back seam."""
    half, depth, size = options["front_edge"] / 2, options["depth"], options["rounding"]
    if options.is_("back", "plain"):
        return depth + half
    if options.is_("back", "shaped"):
        return depth - size + _shaped_seam(half, size)
    return depth - size + hypot(size, size / 2) + half - size / 2


def _finished(options: Options) -> dict[str, float]:
    return {"front_edge": options["front_edge"], "depth": options["depth"],
            "back_seam": _way_over(options) - options["depth"] + (
                0.0 if options.is_("back", "plain") else options["rounding"])}


def _clearances(body: Body, options: Options) -> tuple[Clearance, ...]:
    _check(options)
    return (
        _reach(body, "front edge reaches the jaws", "face_length", options["front_edge"],
               LEAST_FRONT_OF_FACE * body["face_length"], "front_edge", options["front_edge"]),
        _reach(body, "back reaches the nape", "crown_to_nape_length", _way_over(options),
               body["crown_to_nape_length"] + NAPE_EASE, "depth", options["depth"]),
        _reach(body, "cap holds the back of the head", "head_girth", 2 * options["depth"],
               LEAST_BACK_OF_HEAD * body["head_girth"], "depth", options["depth"], per_mm=2),
    )


def _reach(
    body: Body, name: str, measure: str, value: float, limit: float, option: str, now: float,
    per_mm: float = 1,
) -> Clearance:
    wanted = ceil((now + (limit - value) / per_mm) / 5) * 5
    label = "A front edge of" if option == "front_edge" else "A depth of"
    return Clearance(
        name, value, limit,
        f"{said(value - limit)} to spare.", f"{said(limit - value)} too short.",
        (Remedy(f"{label} {said(wanted)}", option, f"{wanted} mm"),),
        body.is_estimated(measure),
    )


def _notes(options: Options, tied: bool) -> tuple[str, ...]:
    notes = ["The cap is drawn spread out, its outer side up; left and right are the wearer's."]
    if not options.is_("back", "plain"):
        notes.append("Sew the back, try it on, and only then trim what was taken off the peak.")
    if options.is_("ties", "as-fits"):
        notes.append("Ties at the jaws hold it." if tied
                     else "Drafted without ties, as the wearer is of a small child's stature.")
    return tuple(notes)


GARMENT = Garment(
    name="cap",
    title="Cap",
    summary="A rectangle folded over the head and sewn behind, with or without ties.",
    needs=("head_girth",),
    uses=("face_length", "crown_to_nape_length", "stature"),
    options=OPTIONS,
    draft=draft,
    history="Caps of one rectangle, sewn at the back and rounded or darted there, were found in "
            "10th-century Dublin and York.",
    provenance="from memory: Wincott Heckett 2003, Viking Age Headcoverings from Dublin; "
               "Walton 1989, Textiles, Cordage and Raw Fibre from 16–22 Coppergate",
    worn_at="head",
    usual_fibre="linen",
    usual_wearer="woman",
    long=False,
    held_by={"cord": Chosen("ties", ("as-fits", "tapes"))},
    instead=("head-scarf", "cloak"),
    worn=Wearing(hangs_from="head", lies={"cap": "over the head"}, aside=("tie",)),
)
