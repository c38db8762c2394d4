"""Less cloth: changes that would shorten a lay, or make it fit the cloth on hand, each of them tried.

A change is told as a draft's fields with the text to put in each: options by their names, the
fields of its cloths as `cloth.field_of` names them.
"""

from collections.abc import Generator, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from ..cloth.cloth import field_of
from ..garments import GARMENTS
from ..geometry import area
from ..lay.bolt import BoltLay
from ..pattern import Pattern
from ..words.problems import BadInput
from ..words.units import format_number
from ..words.wording import said
from .lays import LONGEST_SEARCH, lay_in_steps, rounds_of
from .requests import Request, cloth_of, draft, parts_of, unit_of

WORTH_SAYING, WORTH_PIECING = 0.02, 0.10
"""Part of the length that a change must save to be named where there is cloth enough; and that a seam
which nobody needs must save."""

LEAST_ROUNDS = 400
"""Search for each lay that is compared, at least."""

SMALL_ALLOWANCE = 15.0
"""mm: the least seam allowance that a run-and-fell seam is comfortable with. common practice, no source."""

NARROWER = (0.9, 0.8)
"""Parts of the hem girth that are tried."""

PIECED = {"two-thirds": "two thirds of", "half": "half"}
NEEDED = "when-needed"

Change = Mapping[str, str]
Bolts = tuple[BoltLay, ...]


@dataclass(frozen=True)
class Way:
    """A change and what it would do; `length` is of all its lays together, mm."""

    sentence: str
    change: Change
    length: float


@dataclass(frozen=True)
class Tried:
    """How far the trials have come, from 0 to 1, what is tried, and what has helped, best first."""

    done: float
    trying: str
    ways: tuple[Way, ...]


@dataclass(frozen=True)
class _Trial:
    title: str
    change: Change
    least: float = WORTH_SAYING


Steps = Generator[Tried, bool | None, tuple[Way, ...]]


def ways_to_save(request: Request) -> tuple[Way, ...]:
    """As `ways_in_steps`, at one go. Raises BadInput."""
    steps = ways_in_steps(request)
    while True:
        try:
            next(steps)
        except StopIteration as end:
            return tuple(end.value)


def ways_in_steps(request: Request) -> Steps:
    """What would shorten the lays that the request asks for, told as it is tried.

    With cloth on hand that is too short, only what makes it fit; else what saves a fiftieth of the
    length, and piecing when it saves a tenth. Every way is searched for as many rounds as the lay it
    is compared with, and passes every check that the draft passes. Whoever sends True has seen
    enough, and gets what was found. Raises BadInput.
    """
    if request.get("tearable"):
        request = {**request, "tearable": False, "seconds": None, "max_rounds": None}
    base, stopped = yield from _laid(request, Tried(0.0, "", ()), 0.0)
    rounds = {part: max(n, LEAST_ROUNDS) for part, n in rounds_of(base or ()).items()}
    as_far = {"seconds": LONGEST_SEARCH, "max_rounds": rounds}
    failing, shapes = _failing(request), _shapes(request)
    ways: tuple[Way, ...] = ()
    trials = list(_trials(request))
    for number, trial in enumerate(trials):
        if stopped or not base:
            break
        changed = {**changed_by(request, trial.change), **as_far}
        begun = Tried(number / len(trials), trial.title, ways)
        try:
            if (_shapes(changed) == shapes or _hopeless(base, changed, trial.least)
                    or _failing(changed) - failing):
                continue
            tried, stopped = yield from _laid(changed, begun, 1 / len(trials))
        except BadInput:
            continue
        if tried and _helps(base, tried, trial.least):
            way = Way(f"{trial.title}{_seams(base, tried)}: {_compared(base, tried)}.", trial.change,
                      sum(bolt.cut_length for bolt in tried))
            if not _in_vain(way, ways, trial.least):
                ways = tuple(sorted((*ways, way), key=lambda way: way.length))
    return ways


def _laid(
    request: Request, begun: Tried, span: float
) -> Generator[Tried, bool | None, tuple[Bolts, bool]]:
    """The lays of a request, none if they were stopped, and whether they were."""
    laying = lay_in_steps(request)
    while True:
        try:
            progress = next(laying)
        except StopIteration as end:
            return tuple(end.value), False
        if (yield replace(begun, done=begun.done + span * progress.done)):
            return (), True


def _hopeless(base: Bolts, request: Request, least: float) -> bool:
    """Whether even lays without any waste would not help."""
    pattern = draft(request)[0]
    fits, shorter = True, False
    for bolt in base:
        cloth = cloth_of(request, bolt.part) or bolt.cloth
        bound = _area(pattern, bolt.part) * cloth.enlarge[0] * cloth.enlarge[1] / cloth.usable_width
        on_hand = cloth.cut_length_on_hand()
        fits &= on_hand is None or bound <= on_hand
        shorter |= bound < (1 - least) * bolt.cut_length
    return not (fits if any(bolt.missing is not None for bolt in base) else shorter)


def _area(pattern: Pattern, part: str) -> float:
    return sum(abs(area(piece.cutting_line)) * piece.cut for piece in pattern.pieces if piece.cloth == part)


def _helps(base: Bolts, tried: Bolts, least: float) -> bool:
    """Whether all of it fits the cloth on hand, where it did not; else one cloth is shorter by a part
    of its length, and no other longer by half of that part."""
    if any(bolt.missing is not None for bolt in base):
        return all(bolt.missing is None for bolt in tried)
    ratios = [new.cut_length / old.cut_length for old, new in zip(base, tried, strict=True)]
    return min(ratios) < 1 - least and max(ratios) < 1 + least / 2


def _in_vain(way: Way, ways: tuple[Way, ...], least: float) -> bool:
    """Whether a part of the change does as well."""
    return any(other.change.items() < way.change.items() and way.length > (1 - least) * other.length
               for other in ways)


def _seams(base: Bolts, tried: Bolts) -> str:
    before, after = (len(bolts[0].orders[0].pattern.seams) for bolts in (base, tried))
    return f", with {after - before} seams more" if after > before else ""


def _compared(base: Bolts, tried: Bolts) -> str:
    told = [
        f"{'' if new.part == 'main' else f'{new.part} '}{said(new.cut_length)} instead of "
        f"{said(old.cut_length)}"
        for old, new in zip(base, tried, strict=True)
        if len(base) == 1 or abs(new.cut_length / old.cut_length - 1) > WORTH_SAYING / 2
    ]
    return ", ".join(told)


def _failing(request: Request) -> set[str]:
    return {check.name for check in draft(request)[1] if not check.passed}


def _shapes(request: Request) -> object:
    """What is laid, and how: a change that leaves it alone is no way."""
    pattern = draft(request)[0]
    return pattern.pieces, [
        (cloth.nap, cloth.folded)
        for part in parts_of(pattern) if (cloth := cloth_of(request, part))
    ]


def changed_by(request: Request, change: Change) -> Request:
    """The request with a change made."""
    parts = parts_of(draft(request)[0])
    options, cloth = dict(request.get("options") or {}), dict(request.get("cloth") or {})
    others = {name: dict(texts) for name, texts in (request.get("cloths") or {}).items()}
    for field, text in change.items():
        part, name = next(((part, field.removeprefix(field_of(part, "")))
                           for part in reversed(parts) if field.startswith(field_of(part, ""))), ("", ""))
        texts = cloth if part == "main" else others.setdefault(part, {}) if part else options
        texts[name or field] = text
    return {**request, "options": options, "cloth": cloth, "cloths": others}


def _trials(request: Request) -> Iterator[_Trial]:
    """Each change by itself, all of them together, and pieces in narrower parts, alone and with all."""
    pattern = draft(request)[0]
    failing = _failing(request)
    single = [trial for trial in (*_on_the_cloth(request, pattern), *_smaller(request, pattern))
              if _failing(changed_by(request, trial.change)) <= failing]
    yield from single
    together = _all_of(single)
    if together and together.change != single[-1].change:
        yield together
    for part in parts_of(pattern):
        cloth = cloth_of(request, part)
        if cloth and cloth.piecing != NEEDED:
            continue
        for name, words in PIECED.items():
            whose = "Pieces" if part == "main" else f"Pieces of the {part}"
            trial = _Trial(f"{whose} no wider than {words} the cloth", {field_of(part, "piecing"): name},
                           WORTH_PIECING)
            yield trial
            if together and part == "main":
                yield replace(_all_of([together, trial]) or trial, least=WORTH_PIECING)


def _all_of(trials: Sequence[_Trial]) -> _Trial | None:
    """The trials at once; of several that set the same field, the last."""
    last: dict[frozenset[str], _Trial] = {frozenset(trial.change): trial for trial in trials}
    if not last:
        return None
    first, *others = (trial.title for trial in last.values())
    return _Trial(
        ", ".join([first, *(title[0].lower() + title[1:] for title in others)]),
        {field: text for trial in last.values() for field, text in trial.change.items()},
    )


def _on_the_cloth(request: Request, pattern: Pattern) -> Iterator[_Trial]:
    for part in parts_of(pattern):
        cloth = cloth_of(request, part)
        if cloth and cloth.nap:
            yield _Trial(_whose(part, "pieces may lie head to tail"), {field_of(part, "nap"): "no"})
        if cloth and cloth.folded:
            yield _Trial(_whose(part, "laid on a single layer"), {field_of(part, "folded"): "no"})


def _whose(part: str, words: str) -> str:
    return f"The {part}: {words}" if part != "main" else words[0].upper() + words[1:]


def _smaller(request: Request, pattern: Pattern) -> Iterator[_Trial]:
    unit = unit_of(request)
    known = {option.name for option in GARMENTS[pattern.garment].options}
    if pattern.options.get("seam_allowance", 0) > SMALL_ALLOWANCE:
        yield _Trial(f"Seam allowances of {said(SMALL_ALLOWANCE)}",
                     {"seam_allowance": format_number(SMALL_ALLOWANCE, unit)})
    if "hem_girth" in known:
        for part in NARROWER:
            girth = round(pattern.options["hem_girth"] * part, -1)
            yield _Trial(f"A hem girth of {said(girth)}", {"hem_girth": format_number(girth, unit)})
