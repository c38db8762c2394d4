"""One request in, one result out: the page's worker and the command line both call `run`.

A request is a dict of plain values with `do`; a result is a dict of plain values with `ok`. When
`ok` is False, `problems` says in sentences what would do. Nothing a user can send makes `run` raise.

    {"do": "describe"}                       what can be drafted, for building forms
    {"do": "draft", "garment": …, "measurements": {name: text}, "options": {name: text}, "unit": "cm"}
    {"do": "file", "kind": "pieces.svg", "paper": "A4", … as for draft}    adds `bytes`
"""

import json
from collections.abc import Callable, Mapping
from typing import Any

from . import body as bodies
from .body import MEASURES
from .garments import GARMENTS, ChoiceOption, CountOption, Garment, Option, read_options
from .garments.garment import OptionValue
from .pattern import Pattern, as_json
from .problems import BadInput, Problem
from .truing import Check, true_up
from .units import Unit, format_length, format_number
from .wording import spell

Request = Mapping[str, Any]
Result = dict[str, Any]

UNITS: tuple[Unit, ...] = ("cm", "in", "mm", "m")
LONGEST_NAME = 80


def run(request: Request) -> Result:
    """Does what the request asks. Never raises: what goes wrong comes back as problems."""
    try:
        work = _WORK.get(str(request.get("do"))) if isinstance(request, Mapping) else None
        if work is None:
            raise BadInput([Problem("do", f"A request must ask for one of {', '.join(_WORK)}.")])
        return {"ok": True, **work(request)}
    except BadInput as error:
        unit = _unit_or_cm(request)
        return {"ok": False, "problems": [_problem(p, unit) for p in error.problems]}
    except Exception as error:  # noqa: BLE001 - the last resort that keeps tracebacks off the page
        return {"ok": False, "problems": [_problem(Problem(
            "", "Something in Ellwand itself went wrong "
            f"({type(error).__name__}: {str(error)[:200]}). What you typed is kept; "
            "please change a value and try again, and tell us about it."), "cm")]}


def draft(request: Request) -> tuple[Pattern, tuple[Check, ...], tuple[Problem, ...]]:
    """The pattern a request asks for, its checks, and warnings about the body.

    Raises BadInput.
    """
    garment = _garment(request)
    unit = _unit(request)
    texts = _texts(request, "measurements")
    values, problems = bodies.read_measurements(texts, unit)
    errors = [p for p in problems if p.severity == "error"]
    if errors:
        raise BadInput(errors)
    sex, age_months = _sex(request), _age(request)
    checked = bodies.check_body(values, sex=sex, age_months=age_months)
    errors = [p for p in checked if p.severity == "error"]
    missing = _missing(garment, values)
    if errors or missing:
        raise BadInput([*missing, *errors])
    body = bodies.complete(
        values, garment.needs + garment.uses, sex=sex or garment.usual_wearer, age_months=age_months,
        never_estimate=frozenset(garment.needs),
    )
    options = read_options(garment, _texts(request, "options"), body, unit)
    pattern = garment.draft(body, options)
    warnings = tuple(p for p in (*problems, *checked) if p.severity == "warning")
    return pattern, true_up(pattern), warnings


def _describe(request: Request) -> Result:
    return {
        "garments": [_describe_garment(garment) for garment in GARMENTS.values()],
        "measures": {name: _describe_measure(name) for name in MEASURES},
        "papers": _papers(),
    }


def _describe_garment(garment: Garment) -> Result:
    return {
        "name": garment.name,
        "title": garment.title,
        "summary": garment.summary,
        "history": garment.history,
        "provenance": garment.provenance,
        "needs": list(garment.needs),
        "uses": list(garment.uses),
        "options": [_describe_option(option) for option in garment.options],
    }


def _describe_option(option: Option) -> Result:
    found: Result = {
        "name": option.name, "label": option.label, "help": option.help, "group": option.group,
    }
    if isinstance(option, ChoiceOption):
        return {**found, "kind": "choice", "choices": dict(option.choices), "default": option.default}
    if isinstance(option, CountOption):
        return {**found, "kind": "count", "least": option.least, "most": option.most,
                "default": option.default}
    default = None if callable(option.default) else option.default
    return {**found, "kind": "length", "least": option.least, "most": option.most,
            "default": default,
            "range": {unit: option.range_text(unit) for unit in ("cm", "in")}}


def _describe_measure(name: str) -> Result:
    from .body.figure import figure_svg

    measure = MEASURES[name]
    return {
        "label": measure.label,
        "instruction": measure.instruction,
        "figure": figure_svg(measure),
    }


def _papers() -> list[str]:
    from .sheets.tiled_pdf import PAPERS

    return list(PAPERS)


def _draft(request: Request) -> Result:
    from .sheets.preview import preview_svg

    pattern, checks, warnings = draft(request)
    unit = _unit(request)
    garment = GARMENTS[pattern.garment]
    return {
        "garment": pattern.garment,
        "title": pattern.title,
        "preview": preview_svg(pattern, unit=unit),
        "checks": [check_in_words(check, unit) for check in checks],
        "passed": all(check.passed for check in checks),
        "pieces": [
            {"title": piece.title, "cut": piece.cut, "size": piece_size(pattern, piece.name, unit)}
            for piece in pattern.pieces
        ],
        "finished": [
            {"name": name, "label": label(name), "text": format_length(value, unit)}
            for name, value in pattern.finished.items()
        ],
        "estimated": [
            {"name": name, "label": MEASURES[name].label,
             "text": f"about {format_length(pattern.measurements[name], unit)}, "
             f"± {format_length(error, unit)}"}
            for name, error in pattern.estimated.items()
        ],
        "options": {
            option.name: option_in_words(pattern.options[option.name], unit)
            for option in garment.options
        },
        "notes": [spell(note, unit) for note in pattern.notes],
        "cautions": [spell(caution, unit) for caution in pattern.cautions],
        "problems": [_problem(p, unit) for p in warnings],
    }


def _file(request: Request) -> Result:
    kind = request.get("kind")
    writer = _FILES.get(kind) if isinstance(kind, str) else None
    if writer is None:
        raise BadInput([Problem("kind", f"Ask for one of these files: {', '.join(_FILES)}.")])
    pattern, checks, _ = draft(request)
    data, media_type, name = writer(pattern, checks, request)
    return {"bytes": data, "type": media_type, "name": name}


def _pattern_file(
    pattern: Pattern, checks: tuple[Check, ...], request: Request
) -> tuple[bytes, str, str]:
    text = json.dumps(as_json(pattern, checks), ensure_ascii=False, indent=1)
    return text.encode(), "application/json", f"{pattern.garment}-pattern.json"


def _svg_file(
    pattern: Pattern, checks: tuple[Check, ...], request: Request
) -> tuple[bytes, str, str]:
    from .sheets.svg import pieces_svg

    text = pieces_svg(pattern, unit=_unit(request), name=_name(request))
    return text.encode(), "image/svg+xml", f"{pattern.garment}-pieces.svg"


def _pdf_file(
    pattern: Pattern, checks: tuple[Check, ...], request: Request
) -> tuple[bytes, str, str]:
    from .sheets.tiled_pdf import tiled_pdf

    paper = str(request.get("paper") or "A4")
    data = tiled_pdf(pattern, paper=paper, unit=_unit(request), name=_name(request))
    return data, "application/pdf", f"{pattern.garment}-{paper.lower()}.pdf"


_Writer = Callable[[Pattern, tuple[Check, ...], Request], tuple[bytes, str, str]]
_FILES: dict[str, _Writer] = {
    "pattern.json": _pattern_file, "pieces.svg": _svg_file, "tiled.pdf": _pdf_file,
}
_WORK: dict[str, Callable[[Request], Result]] = {
    "describe": _describe, "draft": _draft, "file": _file,
}


def label(name: str) -> str:
    """A field's name for people: its measure's label where it is one."""
    return MEASURES[name].label if name in MEASURES else name.replace("_", " ").capitalize()


def option_in_words(value: OptionValue, unit: Unit) -> str:
    """An option's value as it would be typed."""
    return format_number(value, unit) if isinstance(value, float) else str(value)


def piece_size(pattern: Pattern, name: str, unit: Unit) -> str:
    """Width by height of the cloth a piece takes, allowances included."""
    from .geometry import bounds

    left, top, right, bottom = bounds(pattern.piece(name).cutting_line)
    return f"{format_length(right - left, unit)} × {format_length(bottom - top, unit)}"


def check_in_words(check: Check, unit: Unit) -> Result:
    """A check with its lengths in the reader's unit."""
    def amount(value: float) -> str:
        if check.unit != "mm":
            return f"{value:g}" if value == int(value) else f"{value:.1f}"
        return format_length(value, unit) if check.sense == "at least" else f"{value:.1f}"

    unit_text = "" if check.unit == "mm" and check.sense == "at least" else f" {check.unit}"
    return {
        "name": check.name,
        "passed": check.passed,
        "value": amount(check.value) + unit_text,
        "limit": f"{check.sense} {amount(check.limit)}{unit_text}",
        "advice": spell(check.advice, unit),
        "estimated": check.estimated,
        "remedies": [
            {"label": spell(r.label, unit), "option": r.option, "value": r.value}
            for r in check.remedies
        ],
    }


def _problem(problem: Problem, unit: Unit) -> Result:
    return {
        "field": problem.field,
        "message": spell(problem.message, unit),
        "severity": problem.severity,
        "also": list(problem.also),
    }


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


def _unit(request: Request) -> Unit:
    unit = request.get("unit") or "cm"
    if unit not in UNITS:
        raise BadInput([Problem(
            "unit", f"“{str(unit)[:20]}” is not a unit to draft in: choose {', '.join(UNITS)}."
        )])
    return unit


def _unit_or_cm(request: Request) -> Unit:
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


def _age(request: Request) -> int | None:
    text = str(request.get("age_months") or "").strip()
    if not text:
        return None
    if not (text.isascii() and text.isdigit() and int(text[:6]) <= 1500):
        raise BadInput([Problem(
            "age_months", f"An age of “{text[:20]}” months does not read: give a whole number."
        )])
    return int(text)


def _name(request: Request) -> str | None:
    name = str(request.get("name") or "").strip()[:LONGEST_NAME]
    return name or None
