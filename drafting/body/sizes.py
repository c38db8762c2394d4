"""Start values for a quick first draft, by clothing size. They are nobody's body.

from memory: EN 13402-3, women's bust, waist and hip girth, men's chest, waist and hip girth, and
children by stature with chest, waist and hip girth, all in cm.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

PROVENANCE = "from memory: EN 13402-3"


@dataclass(frozen=True)
class Size:
    """A size's start values in mm, and for whom it stands."""

    name: str
    label: str
    values: Mapping[str, float]


def _woman(bust: int, waist: int, hip: int) -> Size:
    values = {"bust_girth": bust * 10.0, "waist_girth": waist * 10.0, "hip_girth": hip * 10.0}
    return Size(f"woman-{bust}", f"Woman, bust {bust} cm", MappingProxyType(values))


def _man(chest: int, waist: int, hip: int) -> Size:
    values = {"bust_girth": chest * 10.0, "waist_girth": waist * 10.0, "hip_girth": hip * 10.0}
    return Size(f"man-{chest}", f"Man, chest {chest} cm", MappingProxyType(values))


def _child(stature: int, chest: int, waist: int, hip: int) -> Size:
    values = {"stature": stature * 10.0, "bust_girth": chest * 10.0,
              "waist_girth": waist * 10.0, "hip_girth": hip * 10.0}  # fmt: skip
    return Size(f"child-{stature}", f"Child, {stature} cm tall", MappingProxyType(values))


_ALL = (
    _child(92, 53, 51, 54),
    _child(98, 55, 52, 56),
    _child(104, 56, 53, 58),
    _child(110, 58, 54, 61),
    _child(116, 60, 55, 63),
    _child(122, 62, 57, 66),
    _child(128, 64, 59, 69),
    _child(134, 66, 61, 72),
    _child(140, 69, 63, 75),
    _child(146, 72, 65, 78),
    _child(152, 76, 67, 82),
    _child(158, 80, 69, 86),
    _woman(84, 68, 92),
    _woman(88, 72, 96),
    _woman(92, 76, 100),
    _woman(96, 80, 104),
    _woman(100, 84, 108),
    _woman(104, 88, 112),
    _woman(110, 94, 117),
    _man(92, 80, 94),
    _man(96, 84, 98),
    _man(100, 88, 102),
    _man(104, 92, 106),
    _man(108, 96, 110),
    _man(112, 100, 114),
)

SIZE_TABLE: Mapping[str, Size] = MappingProxyType({size.name: size for size in _ALL})
"""Sizes by name, children first, then women, then men."""
