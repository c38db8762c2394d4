"""The wardrobe: one module a garment, each reading like a cutter's notes."""

from .apron_dress import GARMENT as apron_dress
from .garment import ChoiceOption, CountOption, Garment, LengthOption, Option, read_options
from .trousers import GARMENT as trousers
from .tunic import GARMENT as tunic
from .underdress import GARMENT as underdress
from .wrap_coat import GARMENT as wrap_coat

GARMENTS: dict[str, Garment] = {
    garment.name: garment for garment in (apron_dress, underdress, tunic, trousers, wrap_coat)
}

__all__ = [
    "GARMENTS", "ChoiceOption", "CountOption", "Garment", "LengthOption", "Option", "read_options",
]
