"""The shirt of the Viborg kind: a double upper body quilted in rows, a square neck, and two lapped skirts.

The upper body is one piece folded over the shoulders, and so is its lining; rows of running stitches make
them one. Front and back skirt are rectangles, each wider than the body: at the waist each goes on round
the side seam, so that they lie over each other at the sides, where nothing closes them.
"""

from dataclasses import replace

from ..body import Body
from ..pattern import Clearance, Level, Pattern, Remedy
from ..words.cautions import CHILD_STATURE, NECK_CLOSING
from ..words.problems import BadInput, Problem
from ..words.wording import said
from .block_fit import LEAST_HIP_EASE, block_clearances
from .block_options import hip_depth, named_depth
from .block_schematic import schematic
from .block_sizes import block_for
from .drafted import drafted
from .garment import Garment
from .neck import HEAD_EASE_SLIT, NECK_EASE
from .options import LengthOption, Options, kept
from .rounding import round_to, up_to
from .underdress import GARMENT as UNDERDRESS
from .viborg_pieces import FROM_EDGES, Shirt, SquareNeck, rows_of_quilting, shirt_parts

KEPT = ("chest_ease", "sleeve_length", "cuff_girth", "gusset_size", "arm_ease", "neck_slit", "seam_allowance",
        "hem_depth")
"""The underdress's options that this shirt has as they are."""

BEHIND = 0.25
"""Depth of the square neck behind the shoulder line over its half width; in front it is as deep as half its
width. common practice, no source."""

LEAST_LAP = 40.0
"""mm that the skirts must still lie over each other at the hips. common practice, no source."""

RAISED = "room to raise the arm"
LARGER_GUSSETS = (170.0, 200.0, 230.0)
"""The clearance that a gusset helps, and sides of gussets to try, mm. common practice, no source."""

OPTIONS = (
    LengthOption("length", "Length", "From the shoulder beside the neck to the finished hem.",
                 lambda body: named_depth(body, "knee"), 350, 1500),
    LengthOption("skirt_lap", "Skirts lap", "How far front and back skirt lie over each other at each side.",
                 lambda body: round_to(0.08 * body["stature"], 5), 40, 300),
    LengthOption("row_spacing", "Rows are apart", "Between the rows of quilting across the body.",
                 70.0, 25, 200),
    LengthOption("tie_length", "Ties", "Of each end of the neck's band, to tie; 0 for none.",
                 lambda body: 0.0 if body["stature"] <= CHILD_STATURE else 250.0, 0, 500, "Neck"),
    *kept(UNDERDRESS.options, KEPT),
)


def draft(body: Body, options: Options) -> Pattern:
    """Raises BadInput when options contradict each other or the body."""
    shirt = _shirt(body, options)
    parts = shirt_parts(shirt, options)
    quilting = sum(row.path.length for row in rows_of_quilting(shirt, options))
    return drafted(
        GARMENT, body, options,
        pieces=parts.pieces,
        seams=parts.seams,
        finished=_finished(shirt) | {"quilting": quilting},
        clearances=_clearances,
        levels=_levels(body, shirt),
        notes=_notes(shirt, options),
        cautions=(NECK_CLOSING,) if body["stature"] <= CHILD_STATURE else (),
        schematic=schematic(shirt.top, parts.pieces),
    )


def _shirt(body: Body, options: Options) -> Shirt:
    asked = UNDERDRESS.chosen({
        **{option.name: option.default_for(body) for option in UNDERDRESS.options},
        **{name: options.values[name] for name in KEPT},
        "length": options["length"], "length_to": "by-number", "gores": "none", "body_width": "wide",
        "shoulder": "fold", "sleeve": "tapered", "gusset": "square", "neck_finish": "turned",
        "over": "skin",
    })
    whole = block_for(body, asked, neck=_neck(body, options))
    waist = max(whole.waist, whole.gusset_foot + 2 * LEAST_LAP, whole.neck.lowest + 2 * LEAST_LAP)
    if options["length"] < waist + 2 * LEAST_LAP:
        raise BadInput([Problem(
            "length", f"A shirt {said(options['length'])} long leaves no skirt below its waist at "
                      f"{said(waist)}: "
            f"give {said(waist + 2 * LEAST_LAP)} or more.", also=("gusset_size", "arm_ease", "neck_slit"))])
    if options["skirt_lap"] > whole.width / 2:
        raise BadInput([Problem(
            "skirt_lap", f"Skirts cannot lap by {said(options['skirt_lap'])} on a body {said(whole.width)} "
                         "wide: "
            f"give {said(whole.width / 2)} or less.")])
    return Shirt(asked, whole, replace(whole, length=waist, waist=waist), options["skirt_lap"],
                 options["length"] - waist)


def _neck(body: Body, options: Options) -> SquareNeck:
    half = (body["neck_base_girth"] + NECK_EASE) / (4 + 2 + 2 * BEHIND)
    plain = SquareNeck(half, half, BEHIND * half)
    needed = (body["head_girth"] + HEAD_EASE_SLIT - plain.girth) / 2
    return SquareNeck(half, half, BEHIND * half, options["neck_slit"] or max(50.0, up_to(needed, 10)))


def _finished(shirt: Shirt) -> dict[str, float]:
    top, sleeve = shirt.top, shirt.top.sleeve
    assert sleeve is not None
    return {
        "bust_girth": top.narrowest, "waist_girth": 2 * top.width, "hem_girth": 2 * (top.width + shirt.lap),
        "length": top.length + shirt.skirt, "body_width": top.width, "upper_body": top.length,
        "armhole_depth": top.armhole, "neck_girth": top.neck.girth, "neck_slit": top.neck.slit,
        "sleeve_length": sleeve.length, "upper_arm_girth": sleeve.girth_at(sleeve.gusset),
        "cuff_girth": sleeve.shape.end,
    }


def _levels(body: Body, shirt: Shirt) -> tuple[Level, ...]:
    upper = [level for level in shirt.top.levels(body) if level.kind != "hem"]
    top, lapped = shirt.top, 2 * (shirt.top.width + shirt.lap)
    return (*upper, Level("waist seam", top.length, 2 * top.width, body["waist_girth"], kind="waist"),
            Level("hem", top.length + shirt.skirt, lapped, kind="hem"))


def _clearances(body: Body, options: Options) -> tuple[Clearance, ...]:
    """Those of the body block above the waist; the skirts are open, so they must only lie over each other."""
    shirt = _shirt(body, options)
    open_below = {"room at the hips", "room to stride"}
    found = [replace(c, remedies=(*c.remedies, *_larger_gussets())) if c.name == RAISED else c
             for c in block_clearances(body, shirt.asked, shirt.whole) if c.name not in open_below]
    if hip_depth(body) < options["length"]:
        found.append(_lap_at_the_hips(body, shirt))
    return tuple(found)


def _larger_gussets() -> tuple[Remedy, ...]:
    """For the stout, whose armholes drop far down the arm: this shirt has no narrow body with side panels."""
    return tuple(Remedy(f"A gusset of {said(side)}", "gusset_size", f"{side:g} mm")
                 for side in LARGER_GUSSETS)


def _lap_at_the_hips(body: Body, shirt: Shirt) -> Clearance:
    around = 2 * (shirt.top.width + shirt.lap)
    left = (around - body["hip_girth"] - LEAST_HIP_EASE) / 2
    wider = up_to(shirt.lap + max(0.0, LEAST_LAP - left), 5)
    return Clearance(
        "skirts lie over each other", left, LEAST_LAP,
        f"Round the hips and with room to move, {said(left)} of the lap is left at each side.",
        f"Round the hips and with room to move, only {said(left)} of the lap is left at each side: "
        f"{said(LEAST_LAP)} is wanted." if left > 0 else "Round the hips the skirts do not meet.",
        (Remedy(f"A lap of {said(wider)}", "skirt_lap", f"{wider:g} mm"),), body.is_estimated("hip_girth"))


def _notes(shirt: Shirt, options: Options) -> tuple[str, ...]:
    ties = (f"The band goes on beyond the neck at both ends: fold these {said(options['tie_length'])} in "
            "half, the "
            "raw edges inside, and whip them shut. Knot one round the other, so that the knot slides and "
            "draws "
            "the slit together." if options["tie_length"] else
            "No ties: a button and a sewn loop close the slit.")
    return (
        *shirt.whole.changes,
        "Left and right are the wearer's. Pieces show their outer side; the slit is on the wearer's left.",
        f"Rule the rows across {said(options['row_spacing'])} apart, from {said(FROM_EDGES)} above the "
        "waist upwards, "
        "and one down each side, half way from the neck to the armhole.",
        "At each corner of the neck fold the band into a mitre.", ties,
        "The skirts lie over each other at each side, one up to the other's mark. Pin them to the waist "
        "with the "
        "middle of each lap on the side seam. Their upright edges stay open.",
    )


GARMENT = Garment(
    name="viborg-shirt",
    title="Viborg shirt",
    summary="A close linen shirt: a double upper body quilted in rows, a square tied neck, two lapped "
            "skirts.",
    needs=UNDERDRESS.needs,
    uses=UNDERDRESS.uses,
    options=OPTIONS,
    draft=draft,
    history="The greater part of a man's linen shirt of the 11th century was found at Viborg in Jutland: a "
            "close "
            "upper body without shoulder seams, lined and quilted, skirts open at both sides, and a neck "
            "whose "
            "edging goes on in two ties. Its sleeves are presumed.",
    provenance="Fentz 1987, Kuml, English summary; the rows' places and the neck's slit: common practice, "
               "no source",
    worn_at="trunk",
    usual_fibre="linen",
    usual_wearer="man",
    long=False,
    held_by={"neck slit": True},
    instead=("underdress", "tunic", "cloak"),
)
