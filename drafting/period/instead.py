"""What would be right instead of what was chosen."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from ..garments import GARMENTS
from .choice import Choice, title_of
from .dyes import DYES
from .findings import (
    SEVERITIES,
    best_dye,
    can_be_had,
    colour_is_right,
    dyed_severity,
    severity_of,
)

MOST_ALTERNATIVES = 3
NOT_FOR_CHILDREN = frozenset(("brooch", "ties", "loop-and-button", "toggles"))
"""Fastenings that the cautions keep from children."""


@dataclass(frozen=True)
class Alternative:
    """Something that would be right: `field` set to `value`. `options.shape` is the option shape."""

    field: str
    value: str
    label: str


_INSTEAD: Mapping[str, tuple[str, ...]] = {
    "fibre": ("wool", "linen", "hemp"),
    "weave": ("twill", "tabby", "herringbone", "broken-twill"),
    "thread": ("wool", "linen"),
    "trim": ("tablet-band", "none"),
    "fastening": ("brooch", "belt", "ties", "none"),
    "making": ("hand",),
}
_INSTEAD_OF: Mapping[tuple[str, str], tuple[str, ...]] = {
    ("fibre", "cotton"): ("linen", "hemp", "wool"),
    ("fibre", "half-linen"): ("linen", "hemp", "wool"),
    ("fibre", "viscose"): ("linen", "hemp", "wool"),
    ("fibre", "silk"): ("linen", "wool"),
    ("weave", "velvet"): ("diamond-twill", "twill", "tabby"),
    ("weave", "satin"): ("tabby", "diamond-twill"),
    ("weave", "diamond-twill"): ("twill", "herringbone", "tabby"),
    ("place", "danelaw"): ("england",),
    ("place", "iceland"): ("norway",),
    ("place", "rus"): ("slavs",),
}
_REDS = ("madder", "bedstraw", "madder-pale", "bark-brown")
_PURPLES = ("madder-woad", "lichen-purple", "madder-pale", "woad-pale")
_KIN: Mapping[str, tuple[str, ...]] = {
    "madder": _REDS, "bedstraw": _REDS, "kermes": _REDS, "cochineal": _REDS,
    "madder-weld": ("madder-pale", "weld", "leaf-yellow", "bark-brown"),
    "madder-woad": _PURPLES, "lichen-purple": _PURPLES, "whelk-purple": _PURPLES, "logwood": _PURPLES,
    "woad": ("woad-pale",), "woad-deep": ("woad", "woad-pale"),
    "deep-green": ("pale-green", "olive-green"), "pale-green": ("olive-green", "leaf-yellow"),
    "modern-bright": ("woad", "woad-pale", "madder-pale"), "neon": ("weld", "leaf-yellow", "pale-green"),
}
"""Colours that someone who likes this one may like too, the likest first. common practice, no source."""


def alternatives(choice: Choice, topic: str, subject: str, field: str) -> tuple[Alternative, ...]:
    """What would be right for all the years, the likest first, three at most."""
    if field == "colour":
        values = _right_colours(choice, subject if topic == "dye" else best_dye(choice))
        return tuple(Alternative("colour", v, title_of("dye", v)) for v in values)
    right = []
    for value in _instead_of(topic, subject):
        if choice.child and topic == "fastening" and value in NOT_FOR_CHILDREN:
            continue
        if value != subject and _would_be_right(choice, topic, value):
            right.append(Alternative(field, value, _label(topic, value)))
    return tuple(right[:MOST_ALTERNATIVES])


def _instead_of(topic: str, subject: str) -> tuple[str, ...]:
    """What to try, the likest first: for garments and their cuts as the garments declare."""
    if topic == "garment":
        return GARMENTS[subject].instead
    if topic == "cut":
        garment, _, cut = subject.partition(".")
        return GARMENTS[garment].cuts_instead.get(cut, ())
    return _INSTEAD_OF.get((topic, subject), _INSTEAD.get(topic, ()))


def _would_be_right(choice: Choice, topic: str, value: str) -> bool:
    if topic == "cut":
        return True
    if topic == "place":
        changed = replace(choice, region=value)
        return severity_of(changed, "place", value) != "wrong"
    change: dict[str, Any] = {topic: value}
    changed = replace(choice, **change)
    if severity_of(changed, topic, value) != "right":
        return False
    if topic != "fibre" or not choice.colours:
        return True
    return _colour_severity(changed) <= _colour_severity(choice)


def _colour_severity(choice: Choice) -> int:
    """Place in SEVERITIES of the colour chosen, on the fibre chosen."""
    dye = best_dye(choice)
    if not can_be_had(choice, dye):
        return SEVERITIES.index("wrong")
    return max(map(SEVERITIES.index, (severity_of(choice, "dye", dye), dyed_severity(choice, dye))))


def _label(topic: str, value: str) -> str:
    return value.replace("-", " ").capitalize() if topic == "cut" else title_of(topic, value)


def _right_colours(choice: Choice, dye: str) -> tuple[str, ...]:
    """The right colours that look most like what was asked for."""
    right = [name for name in DYES if name != dye and colour_is_right(choice, name)]
    kin = _KIN.get(dye, ())
    return tuple(sorted(
        right, key=lambda name: (kin.index(name) if name in kin else len(kin), _unlike(dye, name))
    )[:MOST_ALTERNATIVES])


def _unlike(one: str, other: str) -> float:
    """How unlike two dyes look: between the nearest of their tones, by squares of red, green, blue."""
    return min(
        sum((int(a[i : i + 2], 16) - int(b[i : i + 2], 16)) ** 2 for i in (1, 3, 5))
        for a in _shown(one) for b in _shown(other)
    )


def _shown(dye: str) -> tuple[str, str, str]:
    tones = DYES[dye].wool or DYES[dye].linen
    assert tones is not None
    return tones
