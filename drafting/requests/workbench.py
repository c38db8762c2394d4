"""One request in, one result out: the page's worker and the command line both call `run`.

A request is a dict of plain values with `do`; a result is a dict of plain values with `ok`. When
`ok` is False, `problems` says in sentences what would do. Nothing a user can send makes `run` raise.

    {"do": "describe"}                       what can be drafted, for building forms
    {"do": "draft", "garment": …, "measurements": {name: text}, "options": {name: text}, "unit": "cm"}
    {"do": "lay", "cloth": {name: text}, "cloths": {"lining": {name: text}}, "seconds": 5,
     "max_rounds": {"main": 900}, "tearable": False, … as for draft}     see laying.py
    {"do": "save", … as for lay}             what would shorten that lay, or make it fit the cloth
    {"do": "sew", "gussets": "first", "stitches": 50, "stitching_seconds": 120, … as for draft}
    {"do": "advise", "garment": …, "year": "980", "region": "Denmark", "rank": "farmer", "colour": "purple",
     "fibre": …, "weave": …, "house_rules": text, "activities": ["fire"]}   see period/telling.py; `forgiving`
     answers with what reads and tells the rest as `problems`
    {"do": "read-house-rules", "text": …}    a group's file, in sentences and as a link's text
    {"do": "read-wearer", "text": …}         a wearer's file, as `wearer`
    {"do": "write-wearer", "wearer": {…}}    adds `text` and a file `name`
    {"do": "read-kit", "text": …}            a kit's file, as the page's `kit` in plain values
    {"do": "demo-kit"}                       Marram Farm's, likewise
    {"do": "write-kit", "kit": {…}}          adds `text` and a file `name`
    {"do": "merge-kits", "mine": {…}, "theirs": {…}}    both as one `kit`, and `conflicts` in sentences
    {"do": "file", "kind": "pieces.svg", "paper": "A4", … as for draft}    adds `bytes`
    {"do": "qr", "link": …}                  QR codes of a link; see handing.py for these three
    {"do": "share-kit", "kit": a kit file's text, "names": False}    the fragment that holds it
    {"do": "open-link", "fragments": […]}    what a kit's link, or the parts of a link, come to
    {"do": "shop", "kit": text, "seconds": 5}    the shopping list as `listing` and `text`; without a
                                             kit, of one garment, … as for draft
    {"do": "shopping-sheet", "listing": …, "paper": "A4"}    adds `bytes`

A draft of a child's garment says in `growth` how long it will fit; `today` and `measured` are ISO
dates, and with `born` they give the age. `start` lists measurements that are only a size's start
values. `cloth` is what the garment is cut from, `cloths` the others that it may be cut from besides,
each with the fields of cloth.Cloth as typed; a problem calls them cloth_width and
cloth_lining_width. With one of them given, pieces wider than their cloth are pieced, in every answer.

A lay answers for the main cloth, and in `further` with the same for each other one; `rounds` (by
cloth) given as `max_rounds` makes the very same lays again. A way to save is a `sentence` and a
`change`: texts for options by name and for cloths as a problem names their fields.

A draft may hold all that `advise` takes: its booklet then says what is right for the time, the place
and the rank.
"""

from collections.abc import Callable, Generator, Mapping
from importlib import import_module
from math import ceil
from typing import TYPE_CHECKING, Any

from ..body import MEASURES
from ..checks.truing import Check
from ..desk.requests import (
    Request,
    age_of,
    draft,
    growth,
    label,
    parts_of,
    sewing_choices,
    stature_of,
    unit_of,
    unit_or_cm,
)
from ..garments import GARMENTS
from ..garments.options import OptionValue
from ..pattern import Pattern
from ..words.problems import BadInput, Problem
from ..words.units import Unit, format_estimate, format_length, format_number, parse_length
from ..words.wording import spell
from .catalogue import describe

if TYPE_CHECKING:
    from ..desk.less_cloth import Way
    from ..lay.bolt import BoltLay

Result = dict[str, Any]
Steps = Generator[Result, bool | None, None]

EIGHTH_INCH = 25.4 / 8


def run(request: Request) -> Result:
    """Does what the request asks. Never raises: what goes wrong comes back as problems."""
    try:
        work = _WORK.get(str(request.get("do"))) if isinstance(request, Mapping) else None
        if work is None:
            raise BadInput([Problem("do", f"A request must ask for one of {', '.join(_WORK)}.")])
        return {"ok": True, **work(request)}
    except Exception as error:  # noqa: BLE001 - the last resort that keeps tracebacks off the page
        return _failed(error, request)


def _failed(error: Exception, request: Request) -> Result:
    problems = error.problems if isinstance(error, BadInput) else (Problem(
        "",
        "Something in Ellwand itself went wrong "
        f"({type(error).__name__}: {str(error)[:200]}). What you typed is kept; please change a value "
        "and try again, and tell us about it.",
    ),)
    unit = unit_or_cm(request)
    return {"ok": False, "problems": [_problem(p, unit) for p in problems]}


def _draft(request: Request) -> Result:
    from ..sheets.preview import preview_svg

    pattern, checks, warnings = draft(request)
    unit = unit_of(request)
    garment = GARMENTS[pattern.garment]
    return {
        "garment": pattern.garment,
        "title": pattern.title,
        "cloths": list(parts_of(pattern)),
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
             "text": f"about {format_estimate(pattern.measurements[name], unit)}, "
             f"± {format_length(error, unit)}"}
            for name, error in pattern.estimated.items()
        ],
        "options": {
            option.name: option_in_words(pattern.options[option.name], unit)
            for option in garment.options
        },
        "age_months": age_of(request),
        "growth": [spell(sentence, unit) for sentence in growth(request, pattern)],
        "notes": [spell(note, unit) for note in pattern.notes],
        "cautions": [spell(caution, unit) for caution in pattern.cautions],
        "problems": [_problem(p, unit) for p in warnings],
    }


def _lay(request: Request) -> Result:
    from ..desk.lays import lay

    return _told(lay(request), request)


def _told(bolts: "tuple[BoltLay, ...]", request: Request) -> Result:
    from ..desk.lay_results import lays_in_words
    from ..desk.lays import rounds_of

    told = lays_in_words(bolts, unit_of(request), torn=bool(request.get("tearable")))
    return {**told, "rounds": rounds_of(bolts)}


def lay_in_steps(request: Request) -> Steps:
    """The lays of a `lay` request, told every tenth of a second, to be watched and stopped.

    Each result but the last is {"ok": True, "going_on": True, "done", "used", "cut_length", "cloth"};
    the last is what `run` answers. Whoever has seen enough sends True, and gets the last. Never
    raises.
    """
    return _watched(_laying(request), request)


def _watched(steps: Steps, request: Request) -> Steps:
    try:
        yield from steps
    except Exception as error:  # noqa: BLE001 - told as `run` tells it
        yield _failed(error, request)


def shop_in_steps(request: Request) -> Steps:
    """The shopping list of a `shop` request, told as `lay_in_steps` tells lays.

    Each result but the last is {"ok": True, "going_on": True, "done", "doing"}.
    """
    from .hand_over import shopping_in_steps

    return _watched(shopping_in_steps(request), request)


def _shop(request: Request) -> Result:
    from .hand_over import shopping_in_steps

    *_, last = shopping_in_steps(request)
    return last


def _laying(request: Request) -> Steps:
    from ..desk import lay_results as cutting  # noqa: F401 - cutting now, so that whoever says stop need not wait
    from ..desk import lays as laying

    unit = unit_of(request)
    bolts = yield from laying.relayed(laying.lay_in_steps(request), lambda step: {
        "done": step.done, "cloth": step.bolt.part,
        "used": f"{step.bolt.layout.utilisation:.0%}",
        "cut_length": format_length(step.bolt.cut_length, unit),
    })
    yield {"ok": True, **_told(bolts, request)}


def _save(request: Request) -> Result:
    from ..desk.less_cloth import ways_to_save

    return {"ways": _ways(ways_to_save(request), unit_of(request))}


def _ways(ways: "tuple[Way, ...]", unit: Unit) -> list[Result]:
    return [{"change": dict(way.change), "sentence": spell(way.sentence, unit)} for way in ways]


def save_in_steps(request: Request) -> Steps:
    """The ways of a `save` request as they are found, told as `lay_in_steps` tells lays.

    Each result but the last is {"ok": True, "going_on": True, "done", "trying", "ways"}.
    """
    return _watched(_saving(request), request)


def _saving(request: Request) -> Steps:
    from ..desk.lays import relayed
    from ..desk.less_cloth import ways_in_steps

    unit = unit_of(request)
    ways = yield from relayed(ways_in_steps(request), lambda step: {
        "done": step.done, "trying": spell(step.trying, unit), "ways": _ways(step.ways, unit),
    })
    yield {"ok": True, "ways": _ways(ways, unit)}


def _sew(request: Request) -> Result:
    from ..sewing.as_json import plan_json

    pattern, _, _ = draft(request)
    return plan_json(pattern, unit=unit_of(request), choices=sewing_choices(request, pattern))


def _advise(request: Request) -> Result:
    from ..period.telling import advise_in_words

    return advise_in_words(request, age_months=age_of(request), stature=stature_of(request))


def _read_house_rules(request: Request) -> Result:
    from ..period.telling import house_rules_in_words

    return house_rules_in_words(request.get("text"))


def _read_wearer(request: Request) -> Result:
    from .wearer_files import wearer_from_file

    return {"wearer": wearer_from_file(request.get("text"))}


def _write_wearer(request: Request) -> Result:
    from .wearer_files import wearer_to_file

    text, name = wearer_to_file(request.get("wearer"))
    return {"text": text, "name": name, "type": "application/json"}


def option_in_words(value: OptionValue, unit: Unit) -> str:
    """An option's value as it would be typed."""
    return format_number(value, unit) if isinstance(value, float) else str(value)


def piece_size(pattern: Pattern, name: str, unit: Unit) -> str:
    """Width by height of the cloth a piece takes, allowances included."""
    from ..geometry import bounds

    left, top, right, bottom = bounds(pattern.piece(name).cutting_line)
    return f"{format_length(right - left, unit)} × {format_length(bottom - top, unit)}"


def _as_typed(value: str, unit: Unit) -> str:
    """A remedy's value as it would be typed under `unit`; one in mm never gets smaller by it."""
    if not value.endswith(" mm"):
        return value
    mm = parse_length(value, "mm")
    return format_number(ceil(mm / EIGHTH_INCH - 1e-6) * EIGHTH_INCH if unit == "in" else mm, unit)


def check_in_words(check: Check, unit: Unit) -> Result:
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


def _problem(problem: Problem, unit: Unit) -> Result:
    return {
        "field": problem.field,
        "message": spell(problem.message, unit),
        "severity": problem.severity,
        "also": list(problem.also),
    }


def _in(module: str, name: str) -> Callable[[Request], Result]:
    """The work of a module that is imported when it is first asked for."""
    def work(request: Request) -> Result:
        done: Result = getattr(import_module(module, __package__), name)(request)
        return done

    return work


_WORK: dict[str, Callable[[Request], Result]] = {
    "describe": lambda request: describe(), "draft": _draft, "lay": _lay,
    "save": _save, "sew": _sew, "advise": _advise, "file": _in("..desk.takeaway", "file"),
    "read-house-rules": _read_house_rules, "read-wearer": _read_wearer, "write-wearer": _write_wearer,
    "read-kit": _in(".page_kit", "read_kit_file"), "write-kit": _in(".page_kit", "write_kit_file"),
    "merge-kits": _in(".page_kit", "merge_kits"), "demo-kit": _in(".page_kit", "demo"),
    "qr": _in(".hand_over", "qr_codes"), "share-kit": _in(".hand_over", "share_kit"),
    "open-link": _in(".hand_over", "opened"),
    "shop": _shop, "shopping-sheet": _in(".hand_over", "shopping_sheet"),
}
