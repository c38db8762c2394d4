"""The wardrobe: one module a garment, each reading like a cutter's notes."""

from .apron_dress import GARMENT as apron_dress
from .caftan import GARMENT as caftan
from .cap import GARMENT as cap
from .childs_gown import GARMENT as childs_gown
from .cloak import GARMENT as cloak
from .garment import Garment, read_options
from .garters import GARMENT as garters
from .head_scarf import GARMENT as head_scarf
from .hood import GARMENT as hood
from .hose import GARMENT as hose
from .leg_wraps import GARMENT as leg_wraps
from .mantle import GARMENT as mantle
from .mittens import GARMENT as mittens
from .options import ChoiceOption, CountOption, LengthOption, Option
from .pouch import GARMENT as pouch
from .skjoldehamn_tunic import GARMENT as skjoldehamn_tunic
from .thorsberg_trousers import GARMENT as thorsberg_trousers
from .trousers import GARMENT as trousers
from .tunic import GARMENT as tunic
from .underdress import GARMENT as underdress
from .viborg_shirt import GARMENT as viborg_shirt
from .wide_trousers import GARMENT as wide_trousers
from .woven_belt import GARMENT as woven_belt
from .wrap_coat import GARMENT as wrap_coat


def wardrobe(*garments: Garment) -> dict[str, Garment]:
    """The garments by name. Raises ValueError where one names another instead that is not among them."""
    found = {garment.name: garment for garment in garments}
    for garment in garments:
        for name in garment.instead:
            if name not in found:
                raise ValueError(f"{garment.title}, instead: there is no garment “{name}”.")
    return found


GARMENTS = wardrobe(
    apron_dress, underdress, tunic, trousers, wrap_coat, hood, cloak, leg_wraps, cap, head_scarf,
    childs_gown,
    mittens, hose, woven_belt, garters, pouch, mantle,
    caftan, wide_trousers, viborg_shirt, thorsberg_trousers, skjoldehamn_tunic,
)

__all__ = [
    "GARMENTS", "ChoiceOption", "CountOption", "Garment", "LengthOption", "Option", "read_options",
]
