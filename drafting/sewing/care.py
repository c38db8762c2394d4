"""How to keep what was made, and what can hurt while making it. common practice, no source.

What is bought as cloth comes with a label, and the label goes first.
"""

from collections.abc import Iterable

from ..words.cautions import HOT_TOOLS, SHARP_TOOLS, WOOL_ON_SKIN

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
    "silk": (
        "Silk: wash it by hand, cool, with a mild soap, without wringing; dry it in the shade and iron it "
        "from the wrong side.",
    ),
}
_AS_LINEN = ("hemp", "nettle", "half-linen", "cotton")
_BY_LABEL = (
    "Mixed and modern fibres: wash and iron them as the label of the cloth says, and wash the cloth once "
    "before cutting.",
)

MAKING = (SHARP_TOOLS, HOT_TOOLS)


def care_for(fibres: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(sentence for fibre in fibres for sentence in _care(fibre)))


def _care(fibre: str) -> tuple[str, ...]:
    if fibre in _AS_LINEN:
        name = fibre.replace("-", " ").capitalize()
        return tuple(s.replace("Linen:", f"{name}:").replace("Dyed linen", "Dyed cloth")
                     for s in CARE["linen"])
    return CARE.get(fibre, _BY_LABEL)
