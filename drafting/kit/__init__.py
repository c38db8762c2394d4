"""The kit file: several people, several garments, handed from phone to phone."""

from .merge import Merged, merge
from .model import Kit, KitCloth, KitGarment, KitWearer, write_kit
from .readkit import read_kit
from .share import is_kit, pack, parts, together, too_long, unpack

__all__ = [
    "Kit", "KitCloth", "KitGarment", "KitWearer", "Merged", "is_kit", "merge", "pack", "parts",
    "read_kit", "together", "too_long", "unpack", "write_kit",
]
