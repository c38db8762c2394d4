"""Requests: a dict of plain values read into a draft or a lay, every bad value named.

All of these raise BadInput.
"""

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from .. import body as bodies
from ..body import MEASURES
from ..body.growth import LAST_MONTH
from ..checks.truing import Check, true_up
from ..cloth.cloth import LOOKS, Cloth, read_cloth
from ..cloth.piecing import fit_to_width
from ..garments import GARMENTS, Garment, read_options
from ..pattern import Pattern
from ..words.problems import BadInput, Problem
from ..words.units import LengthError, Unit, parse_length
from ..words.wording import writable

if TYPE_CHECKING:
    from ..sewing.plan import Choices

Request = Mapping[str, Any]

UNITS: tuple[Unit, ...] = ("cm", "in", "mm", "m")
LONGEST_NAME = 80


def draft(request: Request) -> tuple[Pattern, tuple[Check, ...], tuple[Problem, ...]]:
    """The pattern a request asks for, its checks, and warnings about the body.

    Raises BadInput.
    """
    garment = _garment(request)
    unit = unit_of(request)
    texts = _texts(request, "measurements")
    values, problems = bodies.read_measurements(texts, unit)
    errors = [p for p in problems if p.severity == "error"]
    if errors:
        raise BadInput(errors)
    sex, age_months = _sex(request), age_of(request)
    checked = bodies.check_body(values, sex=sex, age_months=age_months, unit=unit)
    errors = [p for p in checked if p.severity == "error"]
    missing = _missing(garment, values)
    if errors or missing:
        raise BadInput([*missing, *errors])
    body = bodies.complete(
        values, garment.needs + garment.uses, sex=sex or garment.estimated_as, age_months=age_months,
        never_estimate=frozenset(garment.needs),
    )
    options = read_options(garment, _texts(request, "options"), body, unit)
    pattern = garment.draft(body, options)
    for part in parts_of(pattern):
        cloth = cloth_of(request, part)
        if cloth:
            pattern = fit_to_width(pattern, cloth.piece_width, part, cloth.wished_width, cloth.folded)
    pattern = _saying_start_values(pattern, request)
    warnings = tuple(p for p in (*problems, *checked) if p.severity == "warning")
    return pattern, true_up(pattern), warnings


def _saying_start_values(pattern: Pattern, request: Request) -> Pattern:
    """A note, on paper too, on measurements that `start` names as a size's and nobody's."""
    names = request.get("start") or ()
    if not isinstance(names, (list, tuple)):
        raise BadInput([Problem("start", "The start values must be a list of measurements.")])
    started = [label(name) for name in MEASURES if name in names and name in pattern.measurements]
    if not started:
        return pattern
    note = (
        f"A size's start values, not this body's: {', '.join(started)}. Measure them before you cut."
    )
    return replace(pattern, notes=(note, *pattern.notes))


def growth(request: Request, pattern: Pattern) -> tuple[str, ...]:
    """Sentences on how long the pattern will fit a child, with lengths as marks. Raises BadInput.

    `today` and `measured` are ISO dates; the clock is the caller's.
    """
    age, measured, today = age_of(request), _day(request, "measured"), _day(request, "today")
    if age is None or age >= LAST_MONTH:
        return ()
    from ..checks.growing import growth_in_sentences

    body = bodies.Body(pattern.measurements, pattern.estimated, _sex(request), age)
    return growth_in_sentences(pattern, body, measured=measured, today=today)


def _day(request: Request, key: str) -> str | None:
    day = request.get(key) or None
    if day is not None and not (isinstance(day, str) and bodies.is_date(day)):
        raise BadInput([Problem(
            key, f"“{str(day)[:20]}” is no date that reads: write it like 2026-11-25."
        )])
    return day


def sewing_choices(request: Request, pattern: Pattern) -> "Choices":
    """How the sewer wants to work, and on what: `gussets`, `stitches` sewn in `stitching_seconds` to
    time them by, and the fibre and weight of the `cloth`."""
    from ..period.counsel import fibre_of
    from ..sewing.cloths import usual_cloths
    from ..sewing.pace import TYPICAL, calibrate
    from ..sewing.plan import Choices

    gussets: Any = request.get("gussets") or "first"
    if gussets not in ("first", "last"):
        raise BadInput([Problem(
            "gussets", f"“{str(gussets)[:20]}” is no order for gussets: give first or last."
        )])
    pace = TYPICAL
    if request.get("stitches") not in (None, ""):
        try:
            pace = calibrate(
                number_of(request, "stitches", 0, 1e5), number_of(request, "stitching_seconds", 0, 1e6)
            )
        except BadInput as error:
            raise BadInput([
                replace(p, field="stitching_seconds") if p.field == "seconds" else p
                for p in error.problems
            ]) from None
    cloth = cloth_of(request)
    weight = cloth.weight if cloth else None
    return Choices(pace=pace, gussets=gussets, cloths=usual_cloths(pattern, fibre_of(request), weight))


def label(name: str) -> str:
    """A field's name for people: its measure's label where it is one."""
    return MEASURES[name].label if name in MEASURES else name.replace("_", " ").capitalize()


def _garment(request: Request) -> Garment:
    name = request.get("garment")
    if not isinstance(name, str) or name not in GARMENTS:
        raise BadInput([Problem(
            "garment",
            f"There is no garment “{str(name)[:40]}”: choose one of {', '.join(GARMENTS)}.",
        )])
    return GARMENTS[name]


def _missing(garment: Garment, values: Mapping[str, float]) -> list[Problem]:
    return [
        Problem(name, f"{label(name)} is needed for this garment: measure it and type it here.")
        for name in garment.needs
        if name not in values
    ]


def _texts(request: Request, field: str) -> dict[str, str]:
    texts = request.get(field) or {}
    if not isinstance(texts, Mapping):
        raise BadInput([Problem(field, f"The {field} must be names with texts.")])
    return {str(k): str(v) for k, v in texts.items() if v is not None and str(v).strip()}


def parts_of(pattern: Pattern) -> tuple[str, ...]:
    """The cloths that a garment is cut from, the main one first."""
    parts = {piece.cloth: None for piece in pattern.pieces}
    return tuple(sorted(parts, key=lambda part: part != "main"))


def cloth_of(request: Request, part: str = "main") -> Cloth | None:
    """One of a garment's cloths; None where the request says nothing of any but how it looks.

    Raises BadInput.
    """
    main = _texts(request, "cloth")
    if not (main.keys() - set(LOOKS) or request.get("cloths")):
        return None
    if part == "main":
        return read_cloth(main, unit_of(request))
    others = request.get("cloths") or {}
    if not isinstance(others, Mapping):
        raise BadInput([Problem("cloths", "The further cloths must be names, each with its texts.")])
    return read_cloth(_texts(others, part), unit_of(request), part)


def number_of(request: Request, field: str, default: float, most: float) -> float:
    value = request.get(field)
    if value is None:
        return default
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not 0 <= value <= most:
        raise BadInput([Problem(
            field, f"“{str(value)[:20]}” does not do for {field}: give a number from 0 to {most:g}."
        )])
    return value


def unit_of(request: Request) -> Unit:
    unit = request.get("unit") or "cm"
    if unit not in UNITS:
        raise BadInput([Problem(
            "unit", f"“{str(unit)[:20]}” is not a unit to draft in: choose {', '.join(UNITS)}."
        )])
    return unit


def unit_or_cm(request: Request) -> Unit:
    unit = request.get("unit") if isinstance(request, Mapping) else None
    return unit if unit in UNITS else "cm"


def _sex(request: Request) -> Any:
    sex = request.get("sex") or None
    if sex not in (None, "woman", "man"):
        raise BadInput([Problem(
            "sex", f"“{str(sex)[:20]}” is not a body the estimates know: leave it out, or give "
            "woman or man."
        )])
    return sex


def age_of(request: Request) -> int | None:
    """Whole months: from `born` to `measured` or `today` where they are given, else `age_months`.

    Raises BadInput.
    """
    born, then = _day(request, "born"), _day(request, "measured") or _day(request, "today")
    if born and then:
        if born > then:
            raise BadInput([Problem(
                "born", f"A date of birth of {born} lies after {then}, the day of measuring.",
                also=("measured",),
            )])
        return bodies.Wearer("born", born=born, measured=then).age_months
    text = str(request.get("age_months") or "").strip()
    if not text:
        return None
    if not (text.isascii() and text.isdigit() and int(text[:6]) <= 1500):
        raise BadInput([Problem(
            "age_months", f"An age of “{text[:20]}” months does not read: give a whole number."
        )])
    return int(text)


def stature_of(request: Request) -> float | None:
    """mm, where a stature was typed that reads as a length."""
    measurements = request.get("measurements")
    text = measurements.get("stature") if isinstance(measurements, Mapping) else None
    try:
        return parse_length(str(text), unit_of(request)) if text else None
    except LengthError:
        return None


def name_of(request: Request) -> str | None:
    name = writable(str(request.get("name") or "")).strip()[:LONGEST_NAME]
    return name or None
