"""Which cautions apply to a choice: to its garment, its wearer, its fibre, its dye and what will be done."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Literal

from ..garments import GARMENTS, Garment
from ..garments.garment import HeldBy
from ..words import cautions as words
from .choice import Choice
from .dyes import DYES, NOT_TO_BE_HAD

Moment = Literal["wearing", "sewing", "dyeing", "washing"]
Activity = Literal["fire", "sewing", "dyeing", "fulling"]
ACTIVITIES: dict[Activity, str] = {
    "fire": "cooking or working at an open fire",
    "sewing": "cutting and sewing",
    "dyeing": "dyeing the cloth",
    "fulling": "fulling the cloth",
}

_SYNTHETIC = frozenset(("synthetic", "wool-mix"))
_BURNS_LIKE_LINEN = frozenset(("linen", "hemp", "nettle", "cotton", "half-linen", "viscose"))
_HELD_BY_FASTENING: Mapping[str, HeldBy] = {"brooch": "pins", "toggles": "toggles"}


@dataclass(frozen=True)
class Caution:
    """One sentence, and when it matters."""

    moment: Moment
    sentence: str


def cautions_for(
    choice: Choice,
    *,
    age_years: float | None = None,
    stature: float | None = None,
    activities: Collection[Activity] = (),
) -> tuple[Caution, ...]:
    """The cautions that apply, what is worn first. `stature` is in mm.

    Age goes before stature; a child of whom neither is known is taken to be small. Without activities,
    those are taken that the choice itself calls for.
    """
    found: list[tuple[Moment, str]] = []
    small, older = _child(choice, age_years, stature)
    found += [("wearing", sentence) for sentence in _child_cautions(choice, small, older)]
    found += [("wearing", sentence) for sentence in _pins(choice)]
    found += [("wearing", sentence) for sentence in _fire(choice, activities)]
    if _held_by(choice, "winding"):
        found.append(("wearing", words.WRAPS_TOO_TIGHT))
    fibre = _fibre(choice)
    if fibre in ("wool", "wool-mix"):
        found.append(("wearing", words.WOOL_ON_SKIN))
    found += [("sewing", words.SHARP_TOOLS), ("sewing", words.HOT_TOOLS)]
    found += [("dyeing", sentence) for sentence in _dyeing(choice, activities)]
    if "fulling" in activities or choice.weave in ("felt", "broadcloth"):
        found.append(("washing", words.HOT_FULLING))
    return tuple(Caution(moment, sentence) for moment, sentence in dict.fromkeys(found))


def _child(choice: Choice, age_years: float | None, stature: float | None) -> tuple[bool, bool]:
    """Whether the wearer is a small child, and whether an older one."""
    if age_years is not None:
        small = age_years < words.YOUNG_CHILD_YEARS
        return small, not small and age_years < words.OLDER_CHILD_YEARS
    if stature is not None and words.is_young_child(stature):
        return True, False
    return choice.child and stature is None, choice.child and stature is not None


def _worn(choice: Choice) -> Garment:
    return GARMENTS[choice.garment]


def _held_by(choice: Choice, held_by: HeldBy) -> bool:
    """By the garment's own options or by what is chosen to fasten it with."""
    fastened = choice.fastening is not None and _HELD_BY_FASTENING.get(choice.fastening) == held_by
    return fastened or _worn(choice).is_held_by(held_by, choice.options)


def _child_cautions(choice: Choice, small: bool, older: bool) -> list[str]:
    if not (small or older):
        return []
    garment, found = _worn(choice), []
    at_head_or_neck = garment.worn_at in ("head", "neck")
    if at_head_or_neck or choice.fastening == "ties":
        found.append(words.CORDS if small else words.CORDS_OLDER)
    if _held_by(choice, "neck slit"):
        found.append(words.NECK_CLOSING)
    if garment.worn_at == "neck" and garment.long:
        found.append(words.CLOAK_CATCHES)
    if not at_head_or_neck and garment.is_held_by("cord", choice.options):
        found.append(words.DRAWSTRING)
    if _held_by(choice, "toggles"):
        found.append(words.TOGGLES)
    return found


def _pins(choice: Choice) -> list[str]:
    if _held_by(choice, "pinned straps"):
        return [words.BROOCH_STRAPS]
    return [words.PINS] if _held_by(choice, "pins") else []


def _fire(choice: Choice, activities: Collection[Activity]) -> list[str]:
    found, long = [], _worn(choice).long
    if long:
        found.append(words.LONG_HEM)
    elif "fire" in activities:
        found.append(words.OPEN_FIRE)
    if _fibre(choice) in _SYNTHETIC or choice.thread == "synthetic":
        found.append(words.SYNTHETICS_MELT)
    if _fibre(choice) in _BURNS_LIKE_LINEN and (long or "fire" in activities):
        found.append(words.PLANT_FIBRE_BURNS)
    return found


def _fibre(choice: Choice) -> str:
    return choice.fibre or _worn(choice).usual_fibre


def _dyeing(choice: Choice, activities: Collection[Activity]) -> list[str]:
    """For a dye of the time, unless the work planned is other work."""
    dyes = [
        dye for dye in map(DYES.__getitem__, choice.colours)
        if not dye.grown and dye.cost < NOT_TO_BE_HAD
    ]
    if "dyeing" not in activities and (activities or not dyes):
        return []
    found = [words.DYE_BATH]
    names = {dye.name for dye in dyes}
    if names - {"woad-pale", "woad", "woad-deep", "lichen-purple"} or not names:
        found.append(words.MORDANTS)
    if names & {"woad-pale", "woad", "woad-deep", "pale-green", "deep-green", "madder-woad"}:
        found.append(words.VAT)
    if "lichen-purple" in names:
        found.append(words.AMMONIA)
    if names & {"tannin-iron", "olive-green"}:
        found.append(words.IRON_BATH)
    return found
