"""The wardrobe: one module a garment, each reading like a cutter's notes."""

from .apron_dress import GARMENT as apron_dress
from .cap import GARMENT as cap
from .cloak import GARMENT as cloak
from .garment import ChoiceOption, CountOption, Garment, LengthOption, Option, read_options
from .head_scarf import GARMENT as head_scarf
from .hood import GARMENT as hood
from .leg_wraps import GARMENT as leg_wraps
from .trousers import GARMENT as trousers
from .tunic import GARMENT as tunic
from .underdress import GARMENT as underdress
from .wrap_coat import GARMENT as wrap_coat

GARMENTS: dict[str, Garment] = {
    garment.name: garment
    for garment in (
        apron_dress, underdress, tunic, trousers, wrap_coat, hood, cloak, leg_wraps, cap, head_scarf,
    )
}

__all__ = [
    "GARMENTS", "ChoiceOption", "CountOption", "Garment", "LengthOption", "Option", "read_options",
]
