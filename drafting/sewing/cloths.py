"""What the sewer must know of a cloth: how thick it is and what it weighs."""

from collections.abc import Mapping
from dataclasses import dataclass

from ..pattern import Pattern

BULK_DENSITY: Mapping[str, float] = {"wool": 0.30, "linen": 0.45}
"""g/cm³ of the cloth as it lies, air and all. from memory: Morton & Hearle, Physical Properties of
Textile Fibres: woven cloths 0.2 to 0.5 (wool, fulled and hairy, at the lower end)."""


@dataclass(frozen=True, slots=True)
class SewnCloth:
    """A cloth's fibre and weight in g/m²; `thickness` in mm, worked out from them unless given.

    Raises ValueError for a fibre this project does not know and for a weight not above zero.
    """

    fibre: str
    weight: float
    measured_thickness: float | None = None

    def __post_init__(self) -> None:
        if self.fibre not in BULK_DENSITY:
            raise ValueError(f"no cloth of “{self.fibre}”: say one of {', '.join(BULK_DENSITY)}")
        if not self.weight > 0:
            raise ValueError(f"a cloth weighs more than {self.weight:g} g/m²")

    @property
    def thickness(self) -> float:
        """mm: weight over bulk density, where it was not measured."""
        if self.measured_thickness is not None:
            return self.measured_thickness
        return self.weight / BULK_DENSITY[self.fibre] / 1000


WOOL = SewnCloth("wool", 300.0)
LINEN = SewnCloth("linen", 180.0)
LINING = SewnCloth("linen", 140.0)
"""A medium woollen, a shirting linen, a light linen. common practice, no source."""

NEXT_TO_THE_SKIN = frozenset({"underdress", "cap", "head-scarf"})
"""Garments taken to be of linen unless told otherwise. common practice, no source."""


def usual_cloths(pattern: Pattern) -> dict[str, SewnCloth]:
    """For each cloth that the pieces name, what it usually is."""
    main = LINEN if pattern.garment in NEXT_TO_THE_SKIN else WOOL
    found = {}
    for piece in pattern.pieces:
        found[piece.cloth] = LINING if "lining" in piece.cloth else main
    return found
