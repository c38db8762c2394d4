"""What to ask for in a shop: a length its rule has a mark for, with what squaring and shrinking take.

The exact length stays what the lay says; this is what one buys so that it comes out of the piece bought.
"""

from collections.abc import Mapping
from math import ceil

from ..words.units import MM_PER_INCH, Unit
from .cloth import Cloth

SQUARING = 50.0
"""mm of what is bought that squaring the ends takes. common practice, no source."""

TEN_CENTIMETRES = 100.0
EIGHTH_OF_A_YARD = 36 * MM_PER_INCH / 8
"""The marks to which a shop cuts. common practice, no source; the yard: international agreement, 1959."""

USUAL_SHRINKAGE: Mapping[str, tuple[float, float]] = {
    "wool": (0.05, 0.03), "wool-mix": (0.04, 0.02), "synthetic": (0.01, 0.01),
    "linen": (0.05, 0.03), "hemp": (0.05, 0.03), "nettle": (0.05, 0.03), "half-linen": (0.05, 0.03),
    "cotton": (0.05, 0.03), "viscose": (0.06, 0.03), "silk": (0.03, 0.02),
}
"""Along and across, in the first careful wash of cloth that was not washed before, as parts of one.
common practice, no source: a washed sample of the cloth at hand is surer."""


def usual_shrinkage(fibre: str) -> tuple[float, float]:
    """Along and across; nothing for a fibre that is not known."""
    return USUAL_SHRINKAGE.get(fibre, (0.0, 0.0))


def usual_in_words(fibre: str, title: str) -> str:
    """A sentence on what a fibre that is known as `title` usually shrinks; "" for one that is not known."""
    along, across = usual_shrinkage(fibre)
    return (f"Usual for {title} in the first wash: {along:.0%} along, {across:.0%} across. What to buy "
            "counts that in until you say what yours does.") if along else ""


def reckoned_shrinkage(cloth: Cloth) -> float:
    """Along the cloth, of what is bought: as said, or where nothing is said as is usual for its fibre."""
    if not cloth.washed_first:
        return 0.0
    return cloth.shrinkage_warp if cloth.shrinkage_said else usual_shrinkage(cloth.fibre)[0]


def shop_length(cloth: Cloth, cut_length: float, unit: Unit) -> float:
    """mm to ask for: `cut_length` of lay and the squaring before it shrinks, up to the next mark; nothing
    where nothing is cut from it."""
    if not cut_length:
        return 0.0
    mark = EIGHTH_OF_A_YARD if unit == "in" else TEN_CENTIMETRES
    needed = (cut_length + SQUARING) / (1 - reckoned_shrinkage(cloth))
    return ceil(needed / mark - 1e-6) * mark


def shop_words(mm: float, unit: Unit) -> str:
    """A length up to the next mark as one says it in a shop: “2.8 m”, or “3 1/8 yd”."""
    if unit != "in":
        return f"{ceil(mm / TEN_CENTIMETRES - 1e-6) / 10:.1f} m"
    whole, eighths = divmod(ceil(mm / EIGHTH_OF_A_YARD - 1e-6), 8)
    above, below = eighths, 8
    while above and above % 2 == 0:
        above, below = above // 2, below // 2
    return " ".join([*([str(whole)] if whole or not above else []), *([f"{above}/{below}"] if above else []),
                     "yd"])
