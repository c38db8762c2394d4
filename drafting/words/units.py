"""Lengths as people type and read them. Inside, a length is a float in millimetres.

How an ambiguous separator is read, when exactly three digits follow a comma or a dot:

- metres: always decimal (`1,120 m` is 1120 mm);
- millimetres: one digit before it makes thousands (`1,120 mm` and `1.120 mm` are 1120 mm), three
  make a decimal (`925.125 mm`), and two are refused, since either could be meant;
- centimetres and inches: a dot is decimal (`36.125 in`); a comma is refused, unless a zero stands
  before it.
"""

import re
import unicodedata
from contextlib import suppress
from typing import Literal, NamedTuple, get_args

Unit = Literal["mm", "cm", "m", "in"]

MM_PER_INCH = 25.4
"""Source: international yard and pound agreement, 1959; NIST SP 811."""

LONGEST_MM = 100_000.0
LONGEST_TEXT = 200

_HOW = "write it like 92, 92.5 cm, 925 mm, 1 m 12 or 36 1/4 in"


class LengthError(ValueError):
    """A text that is no length. Its message is a sentence without the field's name."""


class _UnitOfLength(NamedTuple):
    name: str
    mm: float
    next_unit: str | None


_UNITS = {
    "mm": _UnitOfLength("mm", 1.0, None),
    "cm": _UnitOfLength("cm", 10.0, "mm"),
    "dm": _UnitOfLength("dm", 100.0, "cm"),
    "m": _UnitOfLength("m", 1000.0, "cm"),
    "in": _UnitOfLength("in", MM_PER_INCH, None),
    "ft": _UnitOfLength("ft", 12 * MM_PER_INCH, "in"),
    "yd": _UnitOfLength("yd", 36 * MM_PER_INCH, None),
}

_SPELLINGS = {
    **{name: name for name in _UNITS},
    **dict.fromkeys(("millimetre", "millimetres", "millimeter", "millimeters"), "mm"),
    **dict.fromkeys(("centimetre", "centimetres", "centimeter", "centimeters", "cms"), "cm"),
    **dict.fromkeys(("metre", "metres", "meter", "meters"), "m"),
    **dict.fromkeys(("inch", "inches", "ins", '"', "''"), "in"),
    **dict.fromkeys(("foot", "feet", "'"), "ft"),
    **dict.fromkeys(("yard", "yards", "yds"), "yd"),
}

_VULGAR = {
    "¼": "1/4", "½": "1/2", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅕": "1/5", "⅖": "2/5",
    "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8",
    "⅞": "7/8",
}  # fmt: skip

_ALIKE: dict[str | int, str | None] = {
    **{fraction: f" {plain} " for fraction, plain in _VULGAR.items()},
    **dict.fromkeys("⁄∕", "/"),
    **dict.fromkeys("″“”„‟〃", '"'),
    **dict.fromkeys("′’‘‛ʹʼ`´", "'"),
    **dict.fromkeys("−–—‐‑‒", "-"),
    "٫": ".",
    **dict.fromkeys("²³", "^"),
    "\u00ad": None,
    "\ufeff": None,
    **dict.fromkeys(range(0x200B, 0x2010)),
    **dict.fromkeys(range(0x202A, 0x202F)),
    **dict.fromkeys(range(0x2060, 0x2070)),
}
_SAME_AS = str.maketrans(_ALIKE)

_TOKEN = re.compile(
    r"\s*(?:(?P<fraction>\d+\s*/\s*\d+)|(?P<number>\d[\d.,]*|[.,]\d+)"
    r"|(?P<unit>[a-z]+\.?|''|[\"'])|(?P<hyphen>-))"
)
_APOSTROPHE_THOUSANDS = re.compile(r"(?<!\d)(\d{1,3})'(\d{3})(?!\s*(?:\"|''|in|/|\d))")
_GROUP_BEFORE = re.compile(r"\d{1,3}(\d{3})*")
_GROUP = re.compile(r"\d{3}([.,]\d+)?")
_GROUPED = re.compile(r"\d{1,3}(?:([.,])\d{3})(?:\1\d{3})*(?:(?!\1)[.,]\d+)?")
_DECIMAL = re.compile(r"\d*[.,]?\d+|\d+[.,]?")


def parse_length(text: str, unit: Unit = "cm") -> float:
    """The length in mm that `text` gives; a bare number is taken in `unit`.

    Zero is a length. Raises LengthError for anything that is not one length from 0 to 100 m.
    """
    if len(text) > LONGEST_TEXT:
        raise LengthError(
            f"{quoted(text)} is too long a text for a length ({len(text)} characters): {_HOW}."
        )
    plain = _plain(text)
    if not plain:
        raise LengthError(f"Nothing is written here: {_HOW}.")
    if plain.startswith("-"):
        raise LengthError(f"{quoted(text)} is below zero: a length is measured from zero up.")
    parts = _parts(_tokens(plain, text), text)
    mm = _sum(parts, unit, text)
    if mm > LONGEST_MM:
        raise LengthError(
            f"{quoted(text)} is more than 100 m: check the unit and the decimal point."
        )
    return mm


def format_length(mm: float, unit: Unit = "cm") -> str:
    """A length to read: one decimal at most in mm and cm, whole mm in m; inches as a tape is read, to 1/8
    from one inch up and to 1/16 below."""
    if unit == "in":
        return f"{_inches(mm, 8 if abs(mm) > MM_PER_INCH else 16)} in"
    decimals = 3 if unit == "m" else 1
    return f"{_decimal(mm / _UNITS[unit].mm, decimals)} {unit}"


def with_unit(text: str, unit: Unit) -> str:
    """The text as it means the same whatever a bare number is taken for; as it is where it is no length.

    One that does not read in its own unit, and would in another, gets its unit too.
    """
    try:
        mm = parse_length(text, unit)
    except LengthError:
        return f"{text.strip()} {unit}" if any(_reads(text, other) for other in get_args(Unit)) else text
    for written in (text, f"{text.strip()} {unit}"):
        with suppress(LengthError):
            if all(parse_length(written, other) == mm for other in get_args(Unit)):
                return written
    return f"{mm:.4f} mm"


def _reads(text: str, unit: Unit) -> bool:
    try:
        parse_length(text, unit)
    except LengthError:
        return False
    return True


def format_number(mm: float, unit: Unit) -> str:
    """The bare number to put back in a field: to 0.1 mm in mm, cm and m; to 1/16 in inches."""
    if unit == "in":
        return _inches(mm, 16)
    return _decimal(mm / _UNITS[unit].mm, {"mm": 1, "cm": 2, "m": 4}[unit])


def format_estimate(mm: float, unit: Unit) -> str:
    """A length no surer than an estimate: to half a centimetre, or a quarter of an inch."""
    return format_length(round(mm / 6.35) * 6.35 if unit == "in" else round(mm / 5) * 5, unit)


def quoted(text: str, limit: int = 40) -> str:
    """What was typed, in quotation marks on one line, cut so that it never floods a sentence."""
    shown = "".join(c if c.isprintable() else " " for c in text[: limit + 1]).strip()
    return f"“{shown[: limit - 1]}…”" if len(text) > limit else f"“{shown}”"


def _plain(text: str) -> str:
    swapped = unicodedata.normalize("NFKC", text.translate(_SAME_AS)).translate(_SAME_AS)
    digits = "".join(str(unicodedata.decimal(c)) if c.isdecimal() else c for c in swapped)
    plain = digits.lower().strip().rstrip(".,; \t\n").lstrip("= ")
    return _APOSTROPHE_THOUSANDS.sub(r"\1\2", plain)


def _tokens(plain: str, text: str) -> list[tuple[str, str]]:
    tokens: list[tuple[str, str]] = []
    at = 0
    while at < len(plain):
        match = _TOKEN.match(plain, at)
        if match is None or match.lastgroup is None:
            raise LengthError(f"{quoted(text)} is not a length: {_HOW}.")
        kind, value = match.lastgroup, match[match.lastgroup]
        spaced = match.start(kind) > at
        last_kind, last = tokens[-1] if tokens else ("", "")
        if kind == "number" and last_kind == "number":
            if not (spaced and _GROUP_BEFORE.fullmatch(last) and _GROUP.fullmatch(value)):
                raise LengthError(f"{quoted(text)} holds two numbers: give one length.")
            tokens[-1] = ("number", last + value)
        else:
            tokens.append((kind, value))
        at = match.end()
    return tokens


def _parts(tokens: list[tuple[str, str]], text: str) -> list[tuple[str, float, str | None]]:
    """(number as typed, fraction, unit or None) for each part, such as 3 ft and 2 1/2 in."""
    parts: list[tuple[str, float, str | None]] = []
    rest = list(tokens)
    while rest:
        number, fraction, unit = "", 0.0, None
        if rest[0][0] == "number":
            number = rest.pop(0)[1]
            if [kind for kind, _ in rest[:2]] == ["hyphen", "fraction"]:
                rest.pop(0)
            elif rest and rest[0][0] == "hyphen":
                raise LengthError(f"{quoted(text)} looks like a range: give one length.")
        if rest and rest[0][0] == "fraction":
            if not number.isdecimal() and number:
                raise LengthError(
                    f"{quoted(text)} mixes a decimal and a fraction: use one or the other."
                )
            fraction = _fraction(rest.pop(0)[1], text)
        elif not number:
            raise LengthError(f"{quoted(text)} is not a length: {_HOW}.")
        if rest and rest[0][0] == "unit":
            unit = _unit(rest.pop(0)[1], text)
        parts.append((number, fraction, unit))
    return parts


def _fraction(token: str, text: str) -> float:
    above, below = (int(n) for n in token.replace(" ", "").split("/"))
    if below == 0:
        raise LengthError(f"{quoted(text)} divides by zero: write a fraction like 1/4.")
    if above >= below:
        whole = f"{above}"
        hint = f": did you mean {whole[:-1]} {whole[-1]}/{below}?" if len(whole) > 1 else "."
        raise LengthError(f"The fraction in {quoted(text)} is not less than one{hint}")
    return above / below


def _unit(token: str, text: str) -> str:
    name = _SPELLINGS.get(token.rstrip("."))
    if name is None:
        raise LengthError(
            f"{quoted(text)} is not a length: {quoted(token, 20)} is none of the units mm, cm, m, "
            "in, ft, yd."
        )
    return name


def _sum(parts: list[tuple[str, float, str | None]], unit: Unit, text: str) -> float:
    mm = 0.0
    previous: _UnitOfLength | None = None
    for i, (number, fraction, name) in enumerate(parts):
        if previous is None:
            of = _UNITS[name or unit]
        elif name or previous.next_unit:
            of = _UNITS[name or previous.next_unit or unit]
        else:
            raise LengthError(
                f"{quoted(text)} leaves the unit of its last number open: write it behind."
            )
        part = (_number(number, of.name, text) + fraction) * of.mm
        if previous is not None and (of.mm >= previous.mm or part >= previous.mm):
            raise LengthError(
                f"{quoted(text)} does not add up: what follows the {previous.name} must be less "
                f"than one {previous.name}."
            )
        if i < len(parts) - 1 and (fraction or not number.isdecimal() or name is None):
            raise LengthError(f"{quoted(text)} is not a length: {_HOW}.")
        mm += part
        previous = of
    return mm


def _number(token: str, unit: str, text: str) -> float:
    if not token:
        return 0.0
    if token.isdecimal():
        return float(token)
    grouped = _GROUPED.fullmatch(token)
    separators = token.count(",") + token.count(".")
    if grouped is not None and (separators > 1 or _thousands(token, unit, text)):
        separator = grouped[1]
        return float(token.replace(separator, "").replace(",", "."))
    if _DECIMAL.fullmatch(token) is None:
        raise LengthError(f"The number in {quoted(text)} has too many commas or points.")
    return float(token.replace(",", "."))


def _thousands(token: str, unit: str, text: str) -> bool:
    """Whether the one separator with three digits behind it parts thousands."""
    whole, separator, decimals = token.partition("," if "," in token else ".")
    if int(whole) == 0 or unit in ("m", "yd", "dm"):
        return False
    if unit == "mm" and len(whole) != 2:
        return len(whole) == 1
    if unit != "mm" and separator == ".":
        return False
    raise LengthError(
        f"{quoted(text)} can be read as {whole}.{decimals} {unit} or as {whole}{decimals} {unit}: "
        f"write it without the {'comma' if separator == ',' else 'point'}, or with fewer decimals."
    )


def _decimal(value: float, decimals: int) -> str:
    shown = f"{value:.{decimals}f}"
    if "." in shown:
        shown = shown.rstrip("0").rstrip(".")
    return "0" if shown == "-0" else shown


def format_finely(mm: float, unit: Unit) -> str:
    """A length to read beside another that it must not be taken for: inches to 1/16."""
    return f"{_inches(mm, 16)} in" if unit == "in" else format_length(mm, unit)


def _inches(mm: float, below: int) -> str:
    parts = round(abs(mm) / MM_PER_INCH * below)
    sign = "-" if mm < 0 and parts else ""
    whole, above = divmod(parts, below)
    if above == 0:
        return f"{sign}{whole}"
    while above % 2 == 0:
        above, below = above // 2, below // 2
    return f"{sign}{whole} {above}/{below}" if whole else f"{sign}{above}/{below}"
