"""The ways in which a right measurement is typed wrong, and how a slip is told in a sentence."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import log

from drafting.body.joint import FromTheRest
from drafting.words.problems import Meant
from drafting.words.units import MM_PER_INCH, Unit
from drafting.words.wording import said

_PER_INCH = MM_PER_INCH / 10

# How likely each slip is, given that one was made: common practice, no source.
_UNIT, _DECIMAL, _DIGITS, _TAPE = log(0.3), log(0.3), log(0.05), log(0.03)

UNEXPLAINED = log(0.02)
"""Log likelihood of any other slip."""

SWAP = log(0.2)
"""Log likelihood of two neighbouring fields being exchanged, beside the slips of one field."""

USUAL = 0.002
"""A share of bodies large enough for what was meant to be believed."""


@dataclass(frozen=True)
class Slip:
    """What the measurement would be, mm, had this slip not been made, and how to say so."""

    meant: float
    log_likelihood: float
    question: str
    unit: Unit | None = None
    """The unit it was read in, where the slip was that."""

    def meant_for(self, name: str) -> tuple[Meant, ...]:
        return (Meant(name, self.meant, self.unit),)


def slips(name: str, mm: float, unit: Unit) -> Iterator[Slip]:
    """Every value, mm, that could have become `mm` by one usual slip in a field of `unit`."""
    if unit == "in":
        yield _slip(mm / _PER_INCH, _UNIT, "was it read in centimetres? That is {meant}.", "cm")
    else:
        yield _slip(mm * _PER_INCH, _UNIT, "was it read in inches? That is {meant}.", "in")
    yield _slip(mm * 10, _DECIMAL, "did a digit or the decimal point slip? Did you mean {meant}?")
    yield _slip(mm / 10, _DECIMAL, "did the decimal point slip? Did you mean {meant}?")
    yield _slip(mm * 100, _DIGITS, "did the decimal point slip? Did you mean {meant}?")
    yield _slip(mm / 100, _DIGITS, "did the decimal point slip? Did you mean {meant}?")
    if name.endswith("girth"):
        yield _slip(mm * 2, _TAPE, "was the tape laid flat, half the way round? That is {meant}.")
        yield _slip(mm / 2, _TAPE, "was the tape read double? Half of it is {meant}.")
    for meant in _digit_slips(mm, MM_PER_INCH if unit == "in" else 10.0):
        yield _slip(meant, _DIGITS, "did you mean {meant}?")


def likeliest_slip(name: str, mm: float, foretold: FromTheRest, unit: Unit) -> Slip | None:
    """The slip that best explains `mm`, if what was meant then goes with the other measures."""
    return max(
        (slip for slip in slips(name, mm, unit) if foretold.tail(slip.meant) > USUAL),
        key=lambda slip: slip.log_likelihood + foretold.log_density(slip.meant),
        default=None,
    )


def _slip(meant: float, log_likelihood: float, question: str, unit: Unit | None = None) -> Slip:
    return Slip(meant, log_likelihood, question.format(meant=said(meant)), unit)


def _digit_slips(mm: float, one: float) -> Iterator[float]:
    """Two neighbouring digits exchanged, or a leading digit left out, as written in units of `one`
    mm."""
    whole, _, tenths = f"{mm / one:.1f}".partition(".")
    digits = whole + ("" if tenths == "0" else tenths)
    scale = one if tenths == "0" else one / 10
    for i in range(len(digits) - 1):
        if digits[i] != digits[i + 1]:
            exchanged = digits[:i] + digits[i + 1] + digits[i] + digits[i + 2 :]
            yield float(exchanged) * scale
    for leading in "" if whole == "0" else "123456789" if len(whole) == 1 else "1":
        yield float(leading + digits) * scale
