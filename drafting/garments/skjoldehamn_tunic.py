"""The tunic of the Skjoldehamn kind: a gore on every side, those in the middle set high, a standing collar.

The collar is a band as long as the neck's hole, from one side of the slit round to the other; folded along
its middle it stands up from the neck.
"""

from dataclasses import replace

from ..body import Body
from ..geometry import Allowance
from ..pattern import Pattern, Seam, SeamEdge
from ..words.wording import said
from .block_draft import draft_block
from .block_options import named_depth
from .body_block import Block
from .body_seams import Parts, block_parts
from .garment import Garment
from .layers import OVER
from .neck import ALLOWANCE, neck_for
from .options import LengthOption, Options, kept
from .strips import band
from .tunic import GARMENT as TUNIC
from .wearing import BLOCK_WORN

HIGH = 0.24
"""Of the stature, from the shoulder down to where the gores in the middle begin: over the waist. common
practice, no source: in the find they are set high."""

BELOW_THE_SLIT = 45.0
"""mm of whole cloth between the neck's slit and the gore below it. common practice, no source."""

KEPT = ("length", "length_to", "body_width", "shoulder", "middle_gore_length", "hem_girth", "growth_tuck",
        "neck_slit", "sleeve_length", "cuff_girth", "cuff_slit", "gusset_size", "over", "chest_ease",
        "arm_ease", "loom_width", "seam_allowance", "hem_depth")
"""The tunic's options that this one has; its cut settles the others."""

OPTIONS = (
    *(replace(option, help="Length of gores in slits; 0 sets them high, above the waist.")
      if option.name == "middle_gore_length" else option for option in kept(TUNIC.options, KEPT)),
    LengthOption("collar_height", "Collar", "Height of the standing collar; 0 for none.", 40.0, 0, 80,
                 "Neck"),
)


def draft(body: Body, options: Options) -> Pattern:
    """Raises BadInput when options contradict each other or the body."""
    return draft_block(GARMENT, body, options, as_block=_as_tunic, parts_of=_parts, notes=_notes(options))


def _as_tunic(body: Body, options: Options) -> Options:
    """The tunic that the body of this one is."""
    asked = TUNIC.chosen({
        **{option.name: option.default_for(body) for option in TUNIC.options},
        **{name: options.values[name] for name in KEPT},
        "gores": "all", "neckline": "keyhole", "neck_finish": "turned",
    })
    if options["middle_gore_length"]:
        return asked
    length = (options["length"] if options.is_("length_to", "by-number")
              else named_depth(body, options.chosen("length_to")))
    neck = neck_for(body, asked, options.pick("over", OVER))
    return asked.changed("middle_gore_length", max(
        0.0, length - max(HIGH * body["stature"], neck.lowest + BELOW_THE_SLIT)))


def _parts(block: Block, asked: Options, options: Options) -> Parts:
    """The tunic's, and the collar where there is one."""
    parts, height, girth = block_parts(block, asked), options["collar_height"], block.neck.girth
    if not height:
        return parts
    pieces = tuple(
        replace(piece, allowances={**piece.allowances, "neck": Allowance(ALLOWANCE)})
        if "neck" in piece.allowances else piece for piece in parts.pieces)
    front = block.neck.front.length / 2
    collar = band("collar", girth, height, ALLOWANCE, (
        (front, "left shoulder"), (girth / 2, "middle of the back"), (girth - front, "right shoulder")))
    around = ((SeamEdge("body", "neck"),) if block.folded
              else (SeamEdge("front", "neck"), SeamEdge("back", "neck")))
    seam = Seam("collar", (SeamEdge("collar", "neck"),), around, ALLOWANCE, stitch="back", treatment="bound",
                order=40)
    return Parts((*pieces, collar), (*parts.seams, seam))


def _notes(options: Options) -> tuple[str, ...]:
    height = options["collar_height"]
    if not height:
        return ("Without a collar the neck's edge is turned in, as the tunic's own of the find is.",)
    return (f"The collar stands {said(height)} high: begin at one side of the slit, sew round to the "
            "other, fold "
            "it along its middle and fell it inside on the first row; its short ends are turned in.",
            "The find's shirt has the collar, its tunic a neck cut to a point: both are cut by this one.")


GARMENT = Garment(
    name="skjoldehamn-tunic",
    title="Skjoldehamn tunic",
    summary="A wool tunic with gores on every side, those in the middle set high, and a standing collar.",
    needs=TUNIC.needs,
    uses=TUNIC.uses,
    options=OPTIONS,
    draft=draft,
    history="A whole dress of wool was found in a bog at Skjoldehamn on Andøya in northern Norway: shirt "
            "with a "
            "standing collar, tunic with a gore in front, one behind, two on the right and three on the "
            "left, "
            "trousers, hood and ankle cloths. It is of about 1000 or of the later 11th century; who wore "
            "it, a man "
            "or a woman, Norse or Sámi, is disputed.",
    provenance="Nockert 1997, Bockstensmannen och hans dräkt, as retold by a reader of it; from memory: "
               "Løvlid 2009 "
               "and 2010; the gores are shared evenly here: common practice, no source",
    worn_at="trunk",
    usual_fibre="wool",
    usual_wearer="man",
    long=False,
    held_by={"neck slit": True},
    instead=("tunic", "cloak", "underdress"),
    worn=replace(BLOCK_WORN, aside=(*BLOCK_WORN.aside, "collar"), beneath=1.5),
)
