"""Where on the body a garment's pieces lie, and what holds them there: the facts that hang it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from ..words.kinds import must_be

Lies = Literal["front", "back", "sides", "over the shoulders", "arms", "legs", "round the neck",
               "over the head", "beside the head", "down from the hood", "wound"]
"""Where a piece lies. `sides`, `arms`, `legs`, `beside the head` and `wound` are for pieces of which every
second copy is the other side's. A piece of which nothing is said lies between those it is sewn to."""

WornEdge = tuple[str, str, int]
"""A piece, an edge of it, and which copy."""

HangsFrom = Literal["straps", "shoulders", "drawstring", "pin", "head", "winding"]


@dataclass(frozen=True)
class Wearing:
    """How a garment is worn.

    `lies` by the names of pieces; those in `aside` are not hung (straps, facings, bindings, loops).
    `fastens` are edges that lie against each other, closed, when it is worn; `laps` are edges that lie on
    each other's pieces, lapped and closed down to the waist. `beneath` is mm of what is
    usually worn beneath, as thickness all round. `shown_as` are choices, as `style=pleated`, whose cloth
    hangs as another choice's does but for what is too small to be seen.

    Raises ValueError with a sentence for a place or a hold that is none.
    """

    hangs_from: HangsFrom
    lies: Mapping[str, Lies]
    aside: tuple[str, ...] = ()
    fastens: tuple[tuple[WornEdge, WornEdge], ...] = ()
    laps: tuple[tuple[WornEdge, WornEdge], ...] = ()
    beneath: float = 0.0
    shown_as: Mapping[str, str] = field(default_factory=dict)

    @property
    def fastened(self) -> bool:
        """Whether a seam's opening is closed when worn; where a garment hangs from the shoulders it is
        an armhole."""
        return self.hangs_from != "shoulders"

    def __post_init__(self) -> None:
        must_be("hangs_from", self.hangs_from, HangsFrom)
        for piece, lies in self.lies.items():
            must_be(f"The piece “{piece}” lies", lies, Lies)


BLOCK_WORN = Wearing(
    hangs_from="shoulders",
    lies={"body": "over the shoulders", "front": "front", "back": "back", "sleeve": "arms",
          "side panel": "sides"},
    aside=("neck facing",),
    beneath=0.5,
)
"""How what is cut from the body block is worn, next to the skin."""

COAT_WORN = Wearing(
    hangs_from="shoulders",
    lies={"front": "front", "back": "back", "sleeve": "arms", "side panel": "sides"},
    aside=("neck band", "loop", "front strip", "cuff strip"),
    laps=((("front", "front edge", 2), ("front", "front edge", 1)),),
    beneath=4.0,
)
"""How a coat cut from the body block is worn, its fronts lapped, over a tunic."""
