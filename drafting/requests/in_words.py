"""A draft, its checks, problems and ways to save cloth as plain values, lengths in the reader's unit."""

from collections.abc import Iterable
from math import ceil
from typing import TYPE_CHECKING, Any

from ..body import MEASURES
from ..checks.truing import Check
from ..desk.drafts import Draft, growth
from ..desk.order import label
from ..garments.options import OptionValue, as_typed
from ..geometry import bounds
from ..pattern import Pattern
from ..words.problems import Meant, Problem
from ..words.units import Unit, format_estimate, format_finely, format_length, format_number, parse_length
from ..words.wording import spell

if TYPE_CHECKING:
    from ..desk.less_cloth import Way

Told = dict[str, Any]

EIGHTH_INCH = 25.4 / 8


def draft_in_words(drafted: Draft) -> Told:
    """All of a draft but its picture."""
    order, pattern = drafted.order, drafted.pattern
    unit = order.unit
    return {
        "garment": pattern.garment,
        "title": pattern.title,
        "cloths": list(drafted.parts),
        "checks": [check_in_words(check, unit) for check in drafted.checks],
        "passed": drafted.passed,
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
             "text": f"about {format_estimate(pattern.measurements[name], unit)}, "
             f"± {format_length(error, unit)}"}
            for name, error in pattern.estimated.items()
        ],
        "options": {
            option.name: _grey(drafted.as_asked.options[option.name], unit)
            for option in order.garment.options
        },
        "age_months": order.body.age_months,
        "growth": [spell(sentence, unit) for sentence in growth(drafted)],
        "notes": [spell(note, unit) for note in pattern.notes],
        "cautions": [spell(caution, unit) for caution in pattern.cautions],
        "problems": [problem_in_words(p, unit) for p in order.doubts],
        "remnants": _remnants(drafted),
    }


def _grey(value: OptionValue, unit: Unit) -> str:
    """An option's value as it stands in an empty field: no finer than it would be said."""
    if unit == "in" and isinstance(value, float):
        return format_length(value, unit).removesuffix(" in")
    return as_typed(value, unit)


def _remnants(drafted: Draft) -> list[Told]:
    """Of each piece of the main cloth that is there already its name and picture."""
    cloth = drafted.order.cloths and drafted.order.cloths.read.get("main")
    if not cloth or not cloth.remnants:
        return []
    from ..sheets.cloth_picture import cloth_svg

    return [{"name": piece.name, "picture": cloth_svg(piece)} for piece in cloth.remnants]


def piece_size(pattern: Pattern, name: str, unit: Unit) -> str:
    """Width by height of the cloth a piece takes, allowances included."""
    left, top, right, bottom = bounds(pattern.piece(name).cutting_line)
    return f"{format_length(right - left, unit)} × {format_length(bottom - top, unit)}"


def check_in_words(check: Check, unit: Unit) -> Told:
    """A check with its lengths in the reader's unit."""
    value, limit = check.in_words(unit)
    return {
        "name": check.name,
        "passed": check.passed,
        "value": value,
        "limit": limit,
        "advice": spell(check.advice, unit),
        "estimated": check.estimated,
        "remedies": [
            {"label": spell(r.label, unit), "option": r.option, "value": _as_typed(r.value, unit)}
            for r in check.remedies
        ],
    }


def _as_typed(value: str, unit: Unit) -> str:
    """A remedy's value as it would be typed under `unit`; one in mm never gets smaller by it."""
    if not value.endswith(" mm"):
        return value
    mm = parse_length(value, "mm")
    return format_number(ceil(mm / EIGHTH_INCH - 1e-6) * EIGHTH_INCH if unit == "in" else mm, unit)


def problem_in_words(problem: Problem, unit: Unit) -> Told:
    return {
        "field": problem.field,
        "message": spell(problem.message, unit),
        "severity": problem.severity,
        "also": list(problem.also),
        "meant": [[meant.field, _put_right(meant, unit)] for meant in problem.meant],
        "offer": _offer(problem.meant, unit),
    }


def _put_right(meant: Meant, unit: Unit) -> str:
    """A measurement as one would type it: 36 in, under cm, where it was read in inches."""
    if meant.unit and meant.unit != unit:
        return format_finely(meant.mm, meant.unit)
    return format_number(meant.mm, unit)


def _offer(meant: tuple[Meant, ...], unit: Unit) -> str:
    """What taking it is called; "" where there is nothing to take."""
    if not meant:
        return ""
    if len(meant) == 1:
        return f"Take {format_length(meant[0].mm, meant[0].unit or unit)}"
    if meant[0].unit:
        return f"Read them as {'inches' if meant[0].unit == 'in' else 'centimetres'}"
    return "Take them so"


def ways_in_words(ways: "Iterable[Way]", unit: Unit) -> list[Told]:
    """Each way's `sentence`, and its `change`: texts by the names of a form's fields."""
    return [
        {"change": {setting.field: setting.text(unit) for setting in way.change},
         "sentence": spell(way.sentence, unit)}
        for way in ways
    ]
