"""One mistake planted in a right body, as hands and eyes make them."""

import random
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from drafting.words.units import Unit

Kind = Literal["decimal slip", "inches for centimetres", "centimetres for inches", "two swapped"]

PER_INCH = 2.54


@dataclass(frozen=True)
class Mistake:
    """The body as it would be typed, mm, the fields that are wrong, and what was right."""

    kind: Kind
    fields: tuple[str, ...]
    typed: dict[str, float]
    right: Mapping[str, float]

    @property
    def unit(self) -> Unit:
        """What a bare number means in the fields where the mistake was made."""
        return "in" if self.kind == "centimetres for inches" else "cm"


def plant(right: Mapping[str, float], rng: random.Random) -> tuple[Mistake, ...]:
    """One mistake of each kind (the decimal slip both ways), each in a field drawn at random."""
    names = list(right)

    def one(kind: Kind, factor: float) -> Mistake:
        name = rng.choice(names)
        return Mistake(kind, (name,), {**right, name: right[name] * factor}, right)

    first, second = rng.sample(names, 2)
    swapped = {**right, first: right[second], second: right[first]}
    return (
        one("decimal slip", 10),
        one("decimal slip", 0.1),
        one("inches for centimetres", 1 / PER_INCH),
        one("centimetres for inches", PER_INCH),
        Mistake("two swapped", (first, second), swapped, right),
    )
