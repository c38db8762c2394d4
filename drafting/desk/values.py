"""Plain values from outside, read one field at a time. All of these raise BadInput that names the field."""

from collections.abc import Mapping
from typing import Any

from ..body import Sex, Wearer, is_date
from ..words.problems import BadInput, Problem
from ..words.units import LengthError, Unit, parse_length
from ..words.wording import writable

Values = Mapping[str, Any]

UNITS: tuple[Unit, ...] = ("cm", "in", "mm", "m")
LONGEST_NAME = 80
OLDEST_MONTHS = 1500


def text_of(values: Values, field: str) -> str:
    """What was typed, without the space about it; "" where there is nothing."""
    return str(values.get(field) or "").strip()


def texts_of(values: Values, field: str) -> dict[str, str]:
    """Texts by name, those that are empty left out."""
    texts = values.get(field) or {}
    if not isinstance(texts, Mapping):
        raise BadInput([Problem(field, f"The {field} must be names with texts.")])
    return {str(k): str(v) for k, v in texts.items() if v is not None and str(v).strip()}


def names_of(values: Values, field: str, sentence: str) -> tuple[str, ...]:
    """A list of names; `sentence` is what is said of anything else."""
    names = values.get(field) or ()
    if not isinstance(names, (list, tuple)) or not all(isinstance(name, str) for name in names):
        raise BadInput([Problem(field, sentence)])
    return tuple(names)


def number_of(values: Values, field: str, default: float, most: float) -> float:
    """From 0 to `most`."""
    value = values.get(field)
    if value is None:
        return default
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not 0 <= value <= most:
        raise BadInput([Problem(
            field, f"“{str(value)[:20]}” does not do for {field}: give a number from 0 to {most:g}."
        )])
    return value


def unit_of(values: Values) -> Unit:
    unit = values.get("unit") or "cm"
    if unit not in UNITS:
        raise BadInput([Problem(
            "unit", f"“{str(unit)[:20]}” is not a unit to draft in: choose {', '.join(UNITS)}."
        )])
    return unit


def sex_of(values: Values) -> Sex | None:
    sex = values.get("sex") or None
    if sex not in (None, "woman", "man"):
        raise BadInput([Problem(
            "sex", f"“{str(sex)[:20]}” is not a body the estimates know: leave it out, or give "
            "woman or man."
        )])
    return sex


def day_of(values: Values, field: str) -> str | None:
    """A date as ISO writes it."""
    day = values.get(field) or None
    if day is not None and not (isinstance(day, str) and is_date(day)):
        raise BadInput([Problem(
            field, f"“{str(day)[:20]}” is no date that reads: write it like 2026-11-25."
        )])
    return day


def age_of(values: Values) -> int | None:
    """Whole months: from `born` to `measured` or `today` where they are given, else `age_months`."""
    born, then = day_of(values, "born"), day_of(values, "measured") or day_of(values, "today")
    if born and then:
        return Wearer("born", born=born, measured=then).age_months
    text = text_of(values, "age_months")
    if not text:
        return None
    if not (text.isascii() and text.isdigit() and int(text[:6]) <= OLDEST_MONTHS):
        raise BadInput([Problem(
            "age_months", f"An age of “{text[:20]}” months does not read: give a whole number."
        )])
    return int(text)


def stature_of(values: Values) -> float | None:
    """mm, where a stature was typed that reads as a length."""
    measurements = values.get("measurements")
    text = measurements.get("stature") if isinstance(measurements, Mapping) else None
    try:
        return parse_length(str(text), unit_of(values)) if text else None
    except LengthError:
        return None


def name_of(values: Values) -> str:
    """Whose it is, "" where nobody is named."""
    return writable(text_of(values, "name")).strip()[:LONGEST_NAME]
