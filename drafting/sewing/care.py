"""How to keep what was made, and what can hurt while making it. common practice, no source."""

from collections.abc import Iterable

from ..cautions import HOT_TOOLS, SHARP_TOOLS, WOOL_ON_SKIN

CARE: dict[str, tuple[str, ...]] = {
    "wool": (
        "Wool: air it and brush it; wash it seldom, by hand, in cool water with a mild soap, without "
        "rubbing, and dry it flat. Heat, sudden cold and rubbing full it: it shrinks for good.",
        "Dry it before it is put away, and keep it from moths in a closed bag.",
        WOOL_ON_SKIN,
    ),
    "linen": (
        "Linen: wash the cloth hot once before cutting, since it shrinks then; later wash the garment "
        "warm, and iron it damp. Dyed linen is washed alone the first times.",
    ),
}

MAKING = (SHARP_TOOLS, HOT_TOOLS)


def care_for(fibres: Iterable[str]) -> tuple[str, ...]:
    return tuple(sentence for fibre in dict.fromkeys(fibres) for sentence in CARE[fibre])
