"""The wrap coat: the body block cut open in front, its fronts lapped over each other, worn over wool.

Each front is half a panel and an overlap, straight all the way up or shaped from the waist to the neck.
It closes by a belt, by brooches, or by toggles and loops.
"""

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

from ..body import Body
from ..geometry import Path
from ..pattern import (
    Attachment,
    Clearance,
    Pattern,
    Piece,
    Remedy,
    Seam,
    SeamEdge,
)
from ..words.cautions import CHILD_STATURE, PINS, TOGGLES
from ..words.problems import BadInput, Problem
from ..words.wording import said
from .block_draft import AsAsked, finish
from .block_fit import LEAST_CHEST_EASE, block_clearances
from .block_options import FELLED_IN_WOOL, block_options, default_chest_ease, hip_depth, waist_depth
from .block_sizes import block_for
from .body_block import Block
from .body_seams import Parts, block_parts
from .body_tuck import row_depth
from .fit import girth_at
from .garment import Garment
from .layers import OVER
from .lining import lining_for
from .neck import BACK_DEPTH, NECK_EASE, Neck
from .options import ChoiceOption, Chosen, CountOption, LengthOption, Options
from .rounding import round_to
from .strips import band, loop_strip
from .underdress import GARMENT as UNDERDRESS
from .wearing import COAT_WORN

LEAST_LAP = 80.0
"""mm that the fronts must still lie over each other on the body. common practice, no source."""

BAND_WIDTH = 25.0
LOOP_WIDTH, LOOP_LENGTH, LOOP_JOINT = 40.0, 70.0, 20.0
"""mm: the neck band when folded; the strip for a loop, folded in four, and the ends sewn down.
common practice, no source."""

LOOP_FROM_NECK, LOOP_FROM_TUCK = 40.0, 30.0
"""mm from the neck to the first loop, and from the last to a growth tuck. common practice, no source."""

OVERLAP = 0.2
"""Of the width of a wide body, by which each front laps. common practice, no source."""


def _default_overlap(body: Body) -> float:
    """70 mm for a child of three, 130 for a big man."""
    chest = max(body["bust_girth"], body["waist_girth"]) + default_chest_ease(body) + OVER["wool"].chest
    return min(300.0, max(40.0, round_to(OVERLAP * chest / 2, 5)))


OPTIONS = (
    *block_options(length="mid-calf", over="wool", gores="sides", neckline=None, hem=1.2,
                   seam=FELLED_IN_WOOL, open_front=True),
    LengthOption("overlap", "Overlap", "How far each front reaches beyond the middle.",
                 _default_overlap, 40, 300, "Front"),
    ChoiceOption("lap", "Front edges", "How the fronts run from the hem to the neck.", "straight",
                 {"straight": "straight up", "shaped": "slanted from the waist to the neck"}, "Front"),
    ChoiceOption("closure", "Closed by", "What keeps the fronts together.", "belt",
                 {"belt": "a belt", "brooch": "brooches", "toggles": "toggles and loops"}, "Front"),
    CountOption("toggles", "Toggles", "How many, evenly from the neck to the waist.", 3, 1, 9, "Front",
                when=(Chosen("closure", ("toggles",)),)),
    ChoiceOption("neck_finish", "Neck edge", "How the neck is finished.", "band",
                 {"band": "bound with a straight band", "turned": "turned in and felled"}, "Front"),
    ChoiceOption("lining", "Lining", "A second coat of thin cloth, felled inside.", "none",
                 {"none": "none", "full": "all through"}, "Front"),
)


def draft(body: Body, options: Options) -> Pattern:
    """Raises BadInput when options contradict each other or the body."""
    return draft_coat(GARMENT, body, options, lambda _, options: options, lambda parts: parts)


def draft_coat(
    garment: Garment, body: Body, options: Options, as_coat: AsAsked, edged: Callable[[Parts], Parts]
) -> Pattern:
    """A coat of whatever name: `as_coat` turns its options into the wrap coat's, and `edged` adds what its
    edges have beyond that one's. Raises BadInput."""
    asked = as_coat(body, options)
    block = _block(body, asked)
    parts = edged(_with_closures(block, asked, block_parts(block, asked)))
    return finish(
        garment, body, options, block, parts,
        lambda body, changed: _block(body, as_coat(body, changed)),
        lambda body, changed, block: _clearances(body, as_coat(body, changed), block),
        notes=_notes(asked), cautions=_cautions(body, asked),
        extra={"overlap": asked["overlap"], "neck_girth": _neck_edge(block)},
        attachments=_loops(asked, block, parts),
        asked=asked,
    )


def _block(body: Body, options: Options) -> Block:
    waist = waist_depth(body)
    shaped = options.is_("lap", "shaped")
    if shaped and waist > options["length"] - 100 and options.is_("length_to", "by-number"):
        raise BadInput([Problem(
            "lap",
            f"Fronts shaped from the waist need a coat that reaches below it: give a length of "
            f"{said(waist + 100)} or more, or choose straight front edges.",
            also=("length",))])
    neck = _neck(body, options)
    block = block_for(body, options, overlap=options["overlap"], neck=neck)
    return replace(block, lap_depth=waist if shaped else 0.0)


def _neck(body: Body, options: Options) -> Neck:
    girth = body["neck_base_girth"] + NECK_EASE + options.pick("over", OVER).neck
    half = girth / Neck(1.0, 1.1, BACK_DEPTH).girth
    return Neck(half, 1.1 * half, BACK_DEPTH * half)


def _lap_at(block: Block, depth: float) -> float:
    """How far one front reaches beyond the middle at a depth."""
    assert block.overlap is not None
    top = block.neck.front_depth
    if not block.lap_depth or depth >= block.lap_depth:
        return block.overlap
    return block.overlap * max(0.0, (depth - top) / (block.lap_depth - top))


def _clearances(body: Body, options: Options, block: Block) -> tuple[Clearance, ...]:
    return (*block_clearances(body, options, block), _lap(body, options, block))


def _lap(body: Body, options: Options, block: Block) -> Clearance:
    """The fronts must lie over each other wherever the body is fullest."""
    levels, extra = block.levels(body), block.layers.chest + LEAST_CHEST_EASE
    places = [
        girth_at(levels, depth) + 2 * _lap_at(block, depth) - body[measure] - extra
        for measure, depth in (("bust_girth", block.gusset_foot), ("waist_girth", block.waist),
                               ("hip_girth", hip_depth(body)))
        if depth < block.length
    ]
    least = min(places)
    wider = min(300.0, -(-(options["overlap"] + max(0.0, LEAST_LAP - least) / 2) // 10) * 10)
    return Clearance(
        "fronts lie over each other", least, LEAST_LAP,
        f"Over the clothes beneath and room to breathe, {said(least)} of overlap is left.",
        f"Over the clothes beneath and room to breathe, only {said(least)} of overlap is left: at least "
        f"{said(LEAST_LAP)} is wanted."
        if least > 0 else "Over the clothes beneath the fronts do not meet.",
        (Remedy(f"An overlap of {said(wider)}", "overlap", f"{wider:g} mm"),
         Remedy("Straight front edges", "lap", "straight")),
    )


def _neck_edge(block: Block) -> float:
    """The neck's edge from one front edge over the back to the other."""
    quarter = block.neck.front.length / 2
    flat = 0.0 if block.lap_depth else block.overlap or 0.0
    return 2 * (quarter + flat) + block.neck.back.length


def _with_closures(block: Block, options: Options, parts: Parts) -> Parts:
    pieces, seams = parts.pieces, parts.seams
    around = (SeamEdge("front", "neck", 1), SeamEdge("back", "neck"), SeamEdge("front", "neck", 2))
    if options.is_("lining", "full"):
        lining, more = lining_for(pieces, seams)
        pieces, seams = pieces + lining, seams + more
    if options.is_("neck_finish", "band"):
        pieces += (_band(block),)
        seams += (Seam("neck band", (SeamEdge("neck band", "neck"),), around, 6.0,
                       stitch="back", treatment="bound", order=95),)
    if options.is_("closure", "toggles"):
        copies = tuple(f"loop {n}" for n in range(1, options.count("toggles") + 1))
        pieces += (loop_strip("loop", 2 * LOOP_LENGTH, LOOP_WIDTH, LOOP_JOINT, copies),)
    return Parts(pieces, seams)


def _band(block: Block) -> Piece:
    length, back = _neck_edge(block), block.neck.back.length
    shoulder = (length - back) / 2
    return band("neck band", length, BAND_WIDTH, 6.0, (
        (shoulder, "left shoulder"), (length / 2, "middle of the back"),
        (length - shoulder, "right shoulder")))


def _loops(options: Options, block: Block, parts: Parts) -> tuple[Attachment, ...]:
    """Both ends of each loop inside the left front's edge, from the neck down to the waist, and above the
    rows of a growth tuck."""
    if not options.is_("closure", "toggles"):
        return ()
    count = options.count("toggles")
    edge = SeamEdge("front", "front edge", 1)
    path = next(piece for piece in parts.pieces if piece.name == edge.piece).line(edge.edge)
    top = block.neck.front_depth + LOOP_FROM_NECK
    lowest = min(block.waist, block.length - 100)
    if block.tuck:
        lowest = min(lowest, row_depth(block) - LOOP_FROM_TUCK)
    step = max(0.0, lowest - top) / max(1, count - 1)
    return tuple(
        Attachment(f"loop {n + 1} to left front", "loop", n + 1, edge, _up_to(path, top + n * step))
        for n in range(count)
    )


def _up_to(path: Path, depth: float) -> float:
    """mm along a front's edge, which runs up from the hem, to `depth` below the shoulder line."""
    along = 0.0
    for lower, upper in pairwise(path.points()):
        if upper.y <= depth < lower.y:
            return along + lower.distance(upper) * (lower.y - depth) / (lower.y - upper.y)
        along += lower.distance(upper)
    return along


def _notes(options: Options) -> tuple[str, ...]:
    notes = ["The middle of each front is marked: lay middle on middle, either front on top, the same "
             "on every coat of a group.",
             "The shoulders are straight: the cloth drapes over their slope."]
    if options.is_("closure", "toggles"):
        notes.append("Sew the loops inside the left front's edge and the toggles on the right front, an "
                     "overlap's width twice in from its edge.")
    if options.is_("lining", "full"):
        notes.append("Wash both cloths before cutting: a lining that shrinks alone draws the coat up.")
    return tuple(notes)


def _cautions(body: Body, options: Options) -> tuple[str, ...]:
    if options.is_("closure", "brooch"):
        return (PINS,)
    if options.is_("closure", "toggles") and body["stature"] <= CHILD_STATURE:
        return (TOGGLES,)
    return ()


GARMENT = Garment(
    name="wrap-coat",
    title="Wrap coat",
    summary="A coat of straight panels, open in front, its fronts lapped over each other.",
    needs=UNDERDRESS.needs,
    uses=tuple(name for name in UNDERDRESS.uses if name != "head_girth"),
    options=OPTIONS,
    draft=draft,
    history="Coats that lap over in front are worn on carvings and gold foils of the 6th to 8th "
            "centuries, and a riding coat is inferred for 10th-century graves at Birka; cut coats are "
            "preserved from 8th- and 9th-century graves in the Caucasus.",
    provenance="from memory: Hägg 1983, Fornvännen 78, on Birka; Ierusalimskaja 1996 on Moshchevaja "
               "Balka; the cut: common practice, no source",
    worn_at="trunk",
    usual_fibre="wool",
    usual_wearer="man",
    long=False,
    held_by={"pins": Chosen("closure", ("brooch",)), "toggles": Chosen("closure", ("toggles",))},
    instead=("cloak", "tunic", "underdress"),
    worn=COAT_WORN,
)
