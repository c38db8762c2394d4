"""What is worn beneath, and the room it takes."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from .options import ChoiceOption


@dataclass(frozen=True)
class Layers:
    """mm that the clothes beneath add to a girth of the body."""

    chest: float
    arm: float
    wrist: float
    neck: float
    leg: float


OVER: Mapping[str, Layers] = MappingProxyType({
    "skin": Layers(0.0, 0.0, 0.0, 0.0, 0.0),
    "linen": Layers(40.0, 20.0, 10.0, 10.0, 20.0),
    "wool": Layers(80.0, 40.0, 20.0, 20.0, 40.0),
})
"""A shirt or underdress of linen; a wool tunic over that. Folds lie two or three deep at the armpit and
the waist, so the chest gains more than the cloth is thick. It makes of 110 mm of ease at the skin the
150 and 190 that are usual over linen and over wool. common practice, no source."""


def over_option(default: str) -> ChoiceOption:
    return ChoiceOption(
        "over", "Worn over", "Adds room for the clothes beneath to every ease.", default,
        {"skin": "the skin", "linen": "a linen shirt or underdress",
         "wool": "a wool tunic or dress and linen"}, "Ease")
