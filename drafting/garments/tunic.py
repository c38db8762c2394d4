"""The tunic: the body block in wool over linen, down to the knee. Men's, women's and children's."""

from dataclasses import replace

from ..body import Body
from ..pattern import Pattern
from .block_draft import draft_block
from .block_options import FELLED_IN_WOOL, block_options
from .garment import Garment
from .options import Options
from .underdress import GARMENT as UNDERDRESS
from .wearing import BLOCK_WORN


def draft(body: Body, options: Options) -> Pattern:
    """Raises BadInput when options contradict each other or the body."""
    return draft_block(GARMENT, body, options)


GARMENT = Garment(
    name="tunic",
    title="Tunic",
    summary="A wool tunic of straight panels, with sleeves, underarm gussets and side gores.",
    needs=UNDERDRESS.needs,
    uses=UNDERDRESS.uses,
    options=block_options(length="knee", over="linen", gores="sides", neckline="keyhole", hem=1.15,
                          seam=FELLED_IN_WOOL),
    draft=draft,
    history="Tunics pieced from straight panels, with gores and gussets, are preserved from the Roman "
            "Iron Age bogs to the 11th century, such as the tunics of Kragelund and Skjoldehamn.",
    provenance="from memory: Nockert 1997, Bockstensmannen och hans dräkt; Løvlid 2009 on Skjoldehamn",
    worn_at="trunk",
    usual_fibre="wool",
    usual_wearer="man",
    long=False,
    held_by=UNDERDRESS.held_by,
    instead=("underdress", "cloak", "head-scarf", "trousers", "leg-wraps"),
    worn=replace(BLOCK_WORN, beneath=1.5),
)
