"""The underdress: a linen shift on the body block, worn next to the skin, down to the ankle."""

from ..body import Body
from ..pattern import Pattern
from .block_draft import draft_block
from .block_options import FELLED_IN_LINEN, block_options
from .garment import Garment
from .options import Chosen, Options
from .wearing import BLOCK_WORN


def draft(body: Body, options: Options) -> Pattern:
    """Raises BadInput when options contradict each other or the body."""
    return draft_block(GARMENT, body, options)


GARMENT = Garment(
    name="underdress",
    title="Underdress",
    summary="A long shift of straight panels, with sleeves, underarm gussets and side gores.",
    needs=("stature", "bust_girth", "hip_girth", "arm_length"),
    uses=(
        "waist_girth", "shoulder_width", "shoulder_girth", "head_girth", "neck_base_girth",
        "back_waist_length", "upper_arm_girth", "wrist_girth", "folded_hand_girth",
        "cervicale_height", "knee_height", "inside_leg_height",
    ),
    options=block_options(length="ankle", over="skin", gores="sides", neckline="keyhole", hem=1.3,
                          seam=FELLED_IN_LINEN),
    draft=draft,
    history="Pleated and plain linen under wool is known from oval brooches' backs in graves of the 9th "
            "and 10th centuries; its cut is not preserved, and straight panels with gores follow later "
            "finds.",
    provenance="from memory: Hägg 1974, Kvinnodräkten i Birka; the cut: common practice, no source",
    worn_at="trunk",
    usual_fibre="linen",
    usual_wearer="woman",
    long=True,
    held_by={"neck slit": Chosen("neckline", ("keyhole", "slit"))},
    instead=("tunic", "cloak", "head-scarf", "trousers", "leg-wraps"),
    worn=BLOCK_WORN,
)
