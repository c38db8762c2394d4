"""What the sewer must know of a cloth: how thick it is and what it weighs."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from ..garments import GARMENTS
from ..pattern import Pattern

BULK_DENSITY: Mapping[str, float] = {"wool": 0.30, "linen": 0.45}
"""g/cm³ of the cloth as it lies, air and all. from memory: Morton & Hearle, Physical Properties of
Textile Fibres: woven cloths 0.2 to 0.5 (wool, fulled and hairy, at the lower end)."""


HANDLED_AS: Mapping[str, Literal["wool", "linen"]] = {
    "wool": "wool", "wool-mix": "wool", "synthetic": "wool",
    "linen": "linen", "hemp": "linen", "nettle": "linen", "half-linen": "linen", "cotton": "linen",
    "viscose": "linen", "silk": "linen",
}
"""Which of the two a cloth is like under the needle: soft and bulky, or thin and firm. judged by eye."""


@dataclass(frozen=True, slots=True)
class SewnCloth:
    """A cloth's fibre and weight in g/m²; `thickness` in mm, worked out from them unless given.

    Raises ValueError for a fibre this project does not know and for a weight not above zero.
    """

    fibre: str
    weight: float
    measured_thickness: float | None = None

    def __post_init__(self) -> None:
        if self.fibre not in HANDLED_AS:
            raise ValueError(f"no cloth of “{self.fibre}”: say one of {', '.join(HANDLED_AS)}")
        if not self.weight > 0:
            raise ValueError(f"a cloth weighs more than {self.weight:g} g/m²")

    @property
    def thickness(self) -> float:
        """mm: weight over bulk density, where it was not measured."""
        if self.measured_thickness is not None:
            return self.measured_thickness
        return self.weight / BULK_DENSITY[HANDLED_AS[self.fibre]] / 1000


WOOL = SewnCloth("wool", 300.0)
LINEN = SewnCloth("linen", 180.0)
LINING = SewnCloth("linen", 140.0)
"""A medium woollen, a shirting linen, a light linen. common practice, no source."""


def usual_cloths(
    pattern: Pattern, fibre: str | None = None, weight: float | None = None
) -> dict[str, SewnCloth]:
    """For each cloth that the pieces name, what it usually is, or what is known of the outer one.

    `weight` in g/m². Raises ValueError as SewnCloth does.
    """
    garment = GARMENTS.get(pattern.garment)
    usual = LINEN if garment is not None and garment.usual_fibre == "linen" else WOOL
    if fibre is not None and fibre != usual.fibre:
        middling = WOOL if HANDLED_AS.get(fibre) == "wool" else LINEN
        usual = SewnCloth(fibre, middling.weight)
    main = usual if weight is None else SewnCloth(usual.fibre, weight)
    found = {}
    for piece in pattern.pieces:
        found[piece.cloth] = LINING if "lining" in piece.cloth else main
    return found
