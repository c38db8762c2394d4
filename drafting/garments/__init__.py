"""The wardrobe: one module a garment, each reading like a cutter's notes."""

from .apron_dress import GARMENT as apron_dress
from .garment import ChoiceOption, CountOption, Garment, LengthOption, Option, read_options

GARMENTS: dict[str, Garment] = {garment.name: garment for garment in (apron_dress,)}

__all__ = [
    "GARMENTS", "ChoiceOption", "CountOption", "Garment", "LengthOption", "Option", "read_options",
]
