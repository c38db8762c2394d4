"""One request in, one result out: the page's worker and the command line both call `run`.

A request is a dict of plain values with `do`; a result is a dict of plain values with `ok`. When
`ok` is False, `problems` says in sentences what would do. Nothing a user can send makes `run` raise.

    {"do": "describe"}                       what can be drafted, for building forms
    {"do": "draft", "garment": …, "measurements": {name: text}, "options": {name: text}, "unit": "cm"}
    {"do": "lay", "cloth": {name: text}, "cloths": {"lining": {name: text}}, "seconds": 5,
     "max_rounds": {"main": 900}, "tearable": False, … as for draft}     see desk/lays.py
    {"do": "save", … as for lay}             what would shorten that lay, or make it fit the cloth
    {"do": "wear", … as for draft}           the garment on its wearer's figure: `svg`, `sentences`, `hem`
    {"do": "sew", "gussets": "first", "stitches": 50, "stitching_seconds": 120, … as for draft}
    {"do": "advise", "garment": …, "year": "980", "region": "Denmark", "rank": "farmer", "colour": "purple",
     "fibre": …, "weave": …, "house_rules": text, "activities": ["fire"]}   see period/telling.py; `forgiving`
     answers with what reads and tells the rest as `problems`
    {"do": "read-house-rules", "text": …}    a group's file, in sentences and as a link's text
    {"do": "write-house-rules", "rules": {name: text}}    likewise, and as a file: `text`, `name`, `type`
    {"do": "try-on", … as for draft}         what to ask at a try-on, `questions`; with `fits`, a place and
                                             what is felt there, what becomes of it, `altered`, and what the
                                             `next` of the kind is to have; `altered` in the request likewise,
                                             done on its cloth already
    {"do": "read-wearer", "text": …}         a wearer's file, as `wearer`
    {"do": "write-wearer", "wearer": {…}}    adds `text` and a file `name`
    {"do": "read-kit", "text": …}            a kit's file, as the page's `kit` in plain values
    {"do": "demo-kit"}                       Marram Farm's, likewise
    {"do": "write-kit", "kit": {…}}          adds `text` and a file `name`
    {"do": "merge-kits", "mine": {…}, "theirs": {…}}    both as one `kit`, and `conflicts` in sentences
    {"do": "file", "kind": "pieces.svg", "paper": "A4", … as for draft}    adds `bytes`
    {"do": "sheets", "paper": "A4", "whole": False, … as for draft}    on how many `sheets` that prints, of
                                             which every piece is whole if asked for; “file” takes it too
    {"do": "qr", "link": …}                  QR codes of a link; see hand_over.py for these three
    {"do": "share-kit", "kit": a kit file's text, "names": False}    the fragment that holds it
    {"do": "open-link", "fragments": […]}    what a kit's link, or the parts of a link, come to
    {"do": "shop", "kit": text, "seconds": 5}    the shopping list as `listing` and `text`; without a
                                             kit, of one garment, … as for draft
    {"do": "bolt", "kit": text, "bolt": its name}    the lay of a bolt of the list, as `lay` answers
    {"do": "bolt-file", "kind": "chalk-plan.pdf", … as for bolt}     adds `bytes`
    {"do": "season", "kit": text, "date": "2027-04-01"}    a family's next season, as `listing` and `text`
    {"do": "season-sheet", "listing": …, "paper": "A4"}    adds `bytes`
    {"do": "shopping-sheet", "listing": …, "paper": "A4"}    adds `bytes`
    {"do": "measuring-sheet", "garments": [names], "people": 4, "unit": "cm", "paper": "A4"}    adds `bytes`

A draft of a child's garment says in `growth` how long it will fit; `today` and `measured` are ISO
dates, and with `born` they give the age. `start` lists measurements that are only a size's start
values. `cloth` is what the garment is cut from, `cloths` the others that it may be cut from besides,
each with the fields of cloth.Cloth as typed (`cloths` may hold the "main" one too); a problem calls
them cloth_width and cloth_lining_width. With one of them given, pieces wider than their cloth are
pieced, in every answer.

A lay answers for the main cloth, and in `further` with the same for each other one; `rounds` (by
cloth) given as `max_rounds` makes the very same lays again. A way to save is a `sentence` and a
`change`: texts for options by name and for cloths as a problem names their fields.

A draft may hold in `taken_up` what an earlier try-on changed, by place as `fits`, and is made with it.
It may hold all that `advise` takes: its booklet then says what is right for the time, the place
and the rank.
"""

from collections.abc import Callable, Generator, Mapping
from importlib import import_module
from math import inf
from typing import Any

from ..desk.drafts import draft, sewing_choices
from ..desk.order import read_impression, read_order
from ..desk.values import UNITS, Values, text_of, texts_of
from ..words.problems import BadInput, Problem
from ..words.units import Unit, format_length
from ..words.wording import spell
from .in_words import draft_in_words, problem_in_words, ways_in_words
from .relay import relayed

Result = dict[str, Any]
Steps = Generator[Result, bool | None, None]


def run(request: Values) -> Result:
    """Does what the request asks. Never raises: what goes wrong comes back as problems."""
    try:
        work = _WORK.get(str(request.get("do"))) if isinstance(request, Mapping) else None
        if work is None:
            raise BadInput([Problem("do", f"A request must ask for one of {', '.join(_WORK)}.")])
        return {"ok": True, **work(request)}
    except Exception as error:  # noqa: BLE001 - the last resort that keeps tracebacks off the page
        return _failed(error, request)


def _failed(error: Exception, request: Values) -> Result:
    problems = error.problems if isinstance(error, BadInput) else (Problem(
        "",
        "Something in Ellwand itself went wrong "
        f"({type(error).__name__}: {str(error)[:200]}). What you typed is kept; please change a value "
        "and try again, and tell us about it.",
    ),)
    unit = _unit_or_cm(request)
    return {"ok": False, "problems": [problem_in_words(p, unit) for p in problems]}


def _unit_or_cm(request: Values) -> Unit:
    unit = request.get("unit") if isinstance(request, Mapping) else None
    return unit if unit in UNITS else "cm"


def _draft(request: Values) -> Result:
    from ..sheets.preview import preview_svg

    drafted = draft(read_order(request))
    preview = preview_svg(drafted.pattern, unit=drafted.order.unit)
    return {**draft_in_words(drafted), "preview": preview}


def _describe(request: Values) -> Result:
    from .catalogue import describe

    return describe()


def _last(steps: Steps) -> Result:
    *_, last = steps
    return last


def _watched(steps: Steps, request: Values) -> Steps:
    try:
        yield from steps
    except Exception as error:  # noqa: BLE001 - told as `run` tells it
        yield _failed(error, request)


def lay_in_steps(request: Values) -> Steps:
    """The lays of a `lay` request, told every tenth of a second, to be watched and stopped.

    Each result but the last is {"ok": True, "going_on": True, "done", "used", "cut_length", "cloth"};
    the last is what `run` answers. Whoever has seen enough sends True, and gets the last. Never
    raises.
    """
    return _watched(_laying(request), request)


def _laying(request: Values, step: float | None = None) -> Steps:
    from ..desk import lays
    from ..desk.lay_results import lays_in_words  # now, so that whoever says stop need not wait for it
    from ..desk.lay_search import read_lay_search

    drafted = draft(read_order(request))
    unit, search = drafted.order.unit, read_lay_search(request, drafted.parts)
    bolts = yield from relayed(lays.lay_in_steps(drafted, search, step or lays.STEP), lambda step: {
        "done": step.done, "cloth": step.bolt.part,
        "used": f"{step.bolt.layout.utilisation:.0%}",
        "cut_length": format_length(step.bolt.cut_length, unit),
    })
    told = lays_in_words(bolts, unit, torn=search.tearable)
    yield {"ok": True, **told, "rounds": lays.rounds_of(bolts)}


def save_in_steps(request: Values) -> Steps:
    """The ways of a `save` request as they are found, told as `lay_in_steps` tells lays.

    Each result but the last is {"ok": True, "going_on": True, "done", "trying", "ways"}.
    """
    return _watched(_saving(request), request)


def _saving(request: Values) -> Steps:
    from ..desk.lay_search import read_lay_search
    from ..desk.less_cloth import ways_in_steps

    drafted = draft(read_order(request))
    unit, search = drafted.order.unit, read_lay_search(request, drafted.parts)
    ways = yield from relayed(ways_in_steps(drafted, search), lambda step: {
        "done": step.done, "trying": spell(step.trying, unit), "ways": ways_in_words(step.ways, unit),
    })
    yield {"ok": True, "ways": ways_in_words(ways, unit)}


def shop_in_steps(request: Values) -> Steps:
    """The shopping list of a `shop` request, told as `lay_in_steps` tells lays.

    Each result but the last is {"ok": True, "going_on": True, "done", "doing"}.
    """
    return _watched(_shopping(request), request)


def _shopping(request: Values) -> Steps:
    from .hand_over import shopping_in_steps

    return shopping_in_steps(request)


def wear_in_steps(request: Values) -> Steps:
    """A `wear` request's garment as it comes to rest, told as `lay_in_steps` tells lays.

    Each result but the last is {"ok": True, "going_on": True, "done"}.
    """
    return _watched(_wearing(request), request)


def _wearing(request: Values) -> Steps:
    from .fitting_room import wearing_in_steps

    return wearing_in_steps(request)


def _sew(request: Values) -> Result:
    from ..sewing.as_json import plan_json

    drafted = draft(read_order(request))
    return plan_json(drafted.pattern, unit=drafted.order.unit, choices=sewing_choices(drafted))


def _file(request: Values) -> Result:
    from ..desk.lay_search import read_lay_search
    from ..desk.takeaway import USUAL_PAPER, Takeaway

    drafted = draft(read_order(request))
    file = Takeaway(
        drafted, read_lay_search(request, drafted.parts),
        paper=text_of(request, "paper") or USUAL_PAPER,
        booklet_paper=text_of(request, "booklet_paper") or USUAL_PAPER,
        whole=bool(request.get("whole")),
    ).file(request.get("kind"))
    return {"bytes": file.data, "type": file.media_type, "name": file.name}


def _sheets(request: Values) -> Result:
    from ..desk.takeaway import USUAL_PAPER, Takeaway

    paper = text_of(request, "paper") or USUAL_PAPER
    taken = Takeaway(draft(read_order(request)), None, paper=paper, whole=bool(request.get("whole")))
    return {"sheets": taken.sheets.count}


def _advise(request: Values) -> Result:
    from ..period.telling import advise_in_words

    return advise_in_words(read_impression(request), forgiving=bool(request.get("forgiving")))


def _read_house_rules(request: Values) -> Result:
    from ..period.telling import house_rules_in_words

    text = request.get("text") or ""
    if not isinstance(text, str):
        raise BadInput([Problem("house_rules", "The house rules must be the text of their file or link.")])
    return house_rules_in_words(text)


def _write_house_rules(request: Values) -> Result:
    from ..period.telling import house_rules_written

    return house_rules_written(texts_of(request, "rules"))


def _read_wearer(request: Values) -> Result:
    from .wearer_files import wearer_from_file

    return {"wearer": wearer_from_file(request.get("text"))}


def _write_wearer(request: Values) -> Result:
    from .wearer_files import wearer_to_file

    text, name = wearer_to_file(request.get("wearer"))
    return {"text": text, "name": name, "type": "application/json"}


def _in(module: str, name: str) -> Callable[[Values], Result]:
    """The work of a module that is imported when it is first asked for."""
    def work(request: Values) -> Result:
        done: Result = getattr(import_module(module, __package__), name)(request)
        return done

    return work


_WORK: dict[str, Callable[[Values], Result]] = {
    "describe": _describe, "draft": _draft,
    "lay": lambda request: _last(_laying(request, inf)), "save": lambda request: _last(_saving(request)),
    "wear": lambda request: _last(_wearing(request)),
    "sew": _sew, "advise": _advise, "file": _file, "sheets": _sheets,
    "read-house-rules": _read_house_rules, "write-house-rules": _write_house_rules,
    "read-wearer": _read_wearer, "write-wearer": _write_wearer,
    "read-kit": _in(".page_kit", "read_kit_file"), "write-kit": _in(".page_kit", "write_kit_file"),
    "merge-kits": _in(".page_kit", "merge_kits"), "demo-kit": _in(".page_kit", "demo"),
    "qr": _in(".hand_over", "qr_codes"), "share-kit": _in(".hand_over", "share_kit"),
    "open-link": _in(".hand_over", "opened"),
    "shop": lambda request: _last(_shopping(request)),
    "bolt": _in(".shared_bolts", "bolt_lay"), "bolt-file": _in(".shared_bolts", "bolt_file"),
    "try-on": _in(".trying_on", "tried_on"),
    "season": _in(".seasons", "season_list"), "season-sheet": _in(".seasons", "season_sheet"),
    "shopping-sheet": _in(".hand_over", "shopping_sheet"),
    "measuring-sheet": _in(".hand_over", "measuring_sheet"),
}
