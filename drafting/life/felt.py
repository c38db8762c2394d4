"""What is felt at a try-on, in a fitter's words, and which fit each of them asks for."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, get_args

from ..words.units import LengthError, Unit, parse_length

FeltWord = Literal["tight", "loose", "short", "long", "rides up", "gapes", "twists"]
PlaceKind = Literal["girth", "length"]

LARGER: Mapping[FeltWord, bool] = {
    "tight": True, "loose": False, "short": True, "long": False, "rides up": True, "gapes": False,
}
"""Whether the place must be larger for it. common practice, no source."""

OF_KIND: Mapping[PlaceKind, tuple[FeltWord, ...]] = {
    "girth": ("tight", "loose", "gapes", "rides up", "twists"),
    "length": ("short", "long", "rides up", "twists"),
}

ASKED: Mapping[FeltWord, str] = {
    "tight": "How much wider all the way round?",
    "loose": "Pinch what is too much in a fold, and measure the fold: write “loose pinch 1.5 cm”.",
    "short": "How much longer?",
    "long": "How much shorter?",
    "rides up": "How far does it ride up when you move?",
    "gapes": "Pinch the edge until it lies, and measure the fold: write “gapes pinch 1 cm”.",
    "twists": "Do its seams hang plumb?",
}

NO_FIT_MENDS_A_TWIST = (
    "it twists, which no fit mends: its seams were set in off the grain or one side was stretched. Unpick "
    "that seam, let it hang, and baste it again from the top down with both sides equally long.")

PINCH = "pinch"
"""A fold that was pinched takes twice its depth. source: plane geometry."""


@dataclass(frozen=True)
class Felt:
    """A word of the fitter's, and mm by which the place is to be larger for it, below zero for smaller."""

    word: FeltWord | None
    change: float


def read_felt(text: str, kind: PlaceKind, unit: Unit = "cm") -> Felt:
    """`tight 3 cm`, `loose pinch 1.5 cm`, or with its sign `+3 cm`. Raises LengthError with a sentence."""
    written = re.sub(r"^[−–—‐‑‒]", "-", " ".join(text.lower().split()).replace("rides-up", "rides up"))
    word = next((word for word in get_args(FeltWord) if written.startswith(word)), None)
    if word is None:
        return Felt(None, _signed(written, unit))
    if word not in OF_KIND[kind]:
        others = [other for other in OF_KIND[kind] if other != "twists"]
        raise LengthError(f"it cannot be “{word}”: it is {', '.join(others[:-1])} or {others[-1]}.")
    if word == "twists":
        raise LengthError(NO_FIT_MENDS_A_TWIST)
    rest = written.removeprefix(word).strip(" :,")
    times = 2 if rest.startswith(PINCH) else 1
    rest = rest.removeprefix(PINCH).strip(" :,")
    if not rest:
        raise LengthError(f"“{word}” says not how much: {ASKED[word]}")
    mm = times * parse_length(rest, unit)
    return Felt(word, mm if LARGER[word] else -mm)


def _signed(written: str, unit: Unit) -> float:
    if not written.startswith(("+", "-")):
        raise LengthError(f"“{written[:40]}” does not say which way: write +3 cm or tight 3 cm for larger, "
                          "-3 cm or loose 3 cm for smaller.")
    mm = parse_length(written[1:], unit)
    return -mm if written.startswith("-") else mm


def contradict(one: Felt, other: Felt) -> bool:
    """Whether two answers for one place ask for both at once."""
    return one.word is not None and other.word is not None and one.change * other.change < 0
