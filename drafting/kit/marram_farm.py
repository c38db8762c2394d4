"""Marram Farm: an invented open-air farmstead museum, and three of its volunteers.

Demo data. Nobody has these measurements; nothing is tested against them.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from .model import Kit


@dataclass(frozen=True)
class Volunteer:
    """Someone who needs clothes for the season; `measurements` are texts as they would be typed."""

    name: str
    what_they_do: str
    sex: Literal["woman", "man"]
    age_months: int | None
    measurements: Mapping[str, str]


HILD = Volunteer(
    "Hild", "keeps the geese", "woman", None,
    {
        "stature": "166 cm", "head_girth": "56 cm", "neck_base_girth": "38 cm", "bust_girth": "92 cm",
        "waist_girth": "78 cm", "hip_girth": "100 cm", "shoulder_girth": "103 cm",
        "torso_length": "36 cm", "arm_length": "57 cm", "upper_arm_girth": "29 cm",
        "calf_girth": "36 cm", "crotch_length": "64 cm",
    },
)
WULF = Volunteer(
    "Wulf", "burns the charcoal", "man", None,
    {
        "stature": "178 cm", "head_girth": "58 cm", "neck_base_girth": "44 cm", "bust_girth": "104 cm",
        "waist_girth": "92 cm", "hip_girth": "102 cm", "shoulder_girth": "118 cm",
        "torso_length": "38 cm", "arm_length": "62 cm", "upper_arm_girth": "34 cm",
        "calf_girth": "39 cm", "crotch_length": "64 cm",
    },
)
EBBA = Volunteer(
    "Ebba", "carries the water", "woman", 98,
    {
        "stature": "128 cm", "head_girth": "52 cm", "neck_base_girth": "30 cm", "bust_girth": "63 cm",
        "waist_girth": "57 cm", "hip_girth": "68 cm", "shoulder_girth": "77 cm",
        "torso_length": "26 cm", "arm_length": "43 cm", "upper_arm_girth": "20 cm",
        "calf_girth": "26 cm", "crotch_length": "46 cm",
    },
)
VOLUNTEERS = (HILD, WULF, EBBA)


def demo_kit() -> "Kit":
    """The volunteers' clothes for the season, from two bolts."""
    from ..body.wearer import Wearer
    from .model import Kit, KitCloth, KitGarment, KitWearer

    wearers = tuple(
        KitWearer(f"w{number}", Wearer(
            name=who.name, measurements=dict(who.measurements), measured="2026-10-03", sex=who.sex,
            born="2018-08-01" if who.age_months else None,
        ))
        for number, who in enumerate(VOLUNTEERS, 1)
    )
    return Kit(
        title="Marram Farm, clothes for the season",
        impression={"year": "950", "region": "Denmark", "rank": "farmer"},
        wearers=wearers,
        cloths=(
            KitCloth("c1", {"name": "madder-red wool", "width": "150 cm", "shrinkage_warp": "6",
                            "shrinkage_weft": "4", "weight": "320", "price": "24",
                            "fibre": "wool", "weave": "twill", "colour": "madder"}),
            KitCloth("c2", {"name": "bleached linen", "width": "140 cm", "shrinkage_warp": "5",
                            "shrinkage_weft": "3", "weight": "180", "price": "14",
                            "fibre": "linen", "weave": "tabby", "colour": "bleached-linen"}),
        ),
        garments=(
            KitGarment("g1", "w1", "apron-dress", {"length": "112 cm"}, {"main": "c1"}),
            KitGarment("g2", "w1", "underdress", {}, {"main": "c2"}),
            KitGarment("g3", "w2", "tunic", {}, {"main": "c1"}),
            KitGarment("g4", "w2", "trousers", {}, {"main": "c1"}),
            KitGarment("g5", "w3", "apron-dress",
                       {"growth_tuck": "4 cm", "strap_style": "single"}, {"main": "c1"}),
            KitGarment("g6", "w3", "underdress", {"growth_tuck": "4 cm"}, {"main": "c2"}),
        ),
    )
