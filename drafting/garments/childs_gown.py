"""The child's gown: the body block cut to grow, in every edge something that can be let down or out."""

from collections.abc import Mapping
from dataclasses import replace

from ..body import Body
from ..pattern import Pattern
from .block_draft import draft_block
from .block_options import block_options, default_chest_ease
from .garment import Garment
from .options import LengthOption, Option, Options
from .underdress import GARMENT as UNDERDRESS
from .wearing import BLOCK_WORN

GROWS: Mapping[str, float] = {"growth_tuck": 50.0, "hem_depth": 25.0, "arm_ease": 80.0}
SEAM_ALLOWANCE, CHEST_EASE = 25.0, 160.0
"""mm: a tuck above the hem, cuffs and hem turned deep to let down, seams that can be let out, and room for
two years' growth round the chest and the arm. common practice, no source."""


def draft(body: Body, options: Options) -> Pattern:
    """Raises BadInput when options contradict each other or the body."""
    pattern = draft_block(GARMENT, body, options)
    return replace(pattern, notes=(*pattern.notes, *_notes()))


def _chest_ease(body: Body) -> float:
    return max(CHEST_EASE, default_chest_ease(body))


def _growing(option: Option) -> Option:
    if not isinstance(option, LengthOption):
        return option
    if option.name == "chest_ease":
        return replace(option, default=_chest_ease)
    return replace(option, default=GROWS.get(option.name, option.default))


def _notes() -> tuple[str, ...]:
    return ("As the child grows let down the tuck first, then the cuffs and the hem, and let out the side "
            "seams last: trim none of their allowances.",)


GARMENT = Garment(
    name="childs-gown",
    title="Child's gown",
    summary="A gown of straight panels with a neck that opens wide, a tuck and deep edges to grow into.",
    needs=UNDERDRESS.needs,
    uses=UNDERDRESS.uses,
    options=tuple(map(_growing, block_options(
        length="mid-calf", over="skin", gores="sides", neckline="keyhole", hem=1.3, seam=SEAM_ALLOWANCE))),
    draft=draft,
    history="Hardly any child's clothing is preserved from these centuries; children in pictures wear "
            "what their elders wear. That it was cut to be let down is inferred from thrift.",
    provenance="common practice, no source",
    worn_at="trunk",
    usual_fibre="linen",
    usual_wearer="woman",
    long=False,
    held_by=UNDERDRESS.held_by,
    instead=("underdress", "tunic", "cloak"),
    worn=BLOCK_WORN,
)
