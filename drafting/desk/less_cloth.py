"""Less cloth: changes that would shorten a lay, or make it fit the cloth on hand, each of them tried."""

from collections.abc import Generator, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from ..cloth.cloth import field_of
from ..garments.options import OptionValue, as_typed
from ..geometry import area
from ..lay.bolt import BoltLay
from ..pattern import Pattern
from ..words.problems import BadInput
from ..words.units import Unit, format_number
from ..words.wording import said
from .drafts import Draft, draft
from .lay_search import LONGEST_SEARCH, USUAL_SECONDS, LaySearch
from .lays import lay_in_steps, rounds_of
from .order import MAIN, Cloths, Order
from .steps import at_one_go

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

Bolts = tuple[BoltLay, ...]


@dataclass(frozen=True)
class Setting:
    """An option of the garment (`part` is "") or a field of one of its cloths, and the value to give it."""

    name: str
    value: OptionValue | bool
    part: str = ""

    @property
    def field(self) -> str:
        """What a form and a problem call it."""
        return field_of(self.part, self.name) if self.part else self.name

    def text(self, unit: Unit) -> str:
        """The value as it would be typed."""
        if isinstance(self.value, bool):
            return "yes" if self.value else "no"
        return as_typed(self.value, unit)


Change = tuple[Setting, ...]


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
    drafted: Draft
    least: float


Steps = Generator[Tried, bool | None, tuple[Way, ...]]


def ways_to_save(drafted: Draft, how: LaySearch) -> tuple[Way, ...]:
    """As `ways_in_steps`, at one go. Raises BadInput."""
    return at_one_go(ways_in_steps(drafted, how))


def ways_in_steps(drafted: Draft, how: LaySearch) -> Steps:
    """What would shorten the draft's lays, told as it is tried.

    With cloth on hand that is too short, only what makes it fit; else what saves a fiftieth of the
    length, and piecing when it saves a tenth. Every way is searched for as many rounds as the lay it
    is compared with, and passes every check that the draft passes. Whoever sends True has seen
    enough, and gets what was found. Raises BadInput.
    """
    if how.tearable:
        how = replace(how, tearable=False, seconds=USUAL_SECONDS, rounds={})
    base, stopped = yield from _laid(drafted, how, Tried(0.0, "", ()), 0.0)
    rounds = {part: max(n, LEAST_ROUNDS) for part, n in rounds_of(base or ()).items()}
    as_far = replace(how, seconds=LONGEST_SEARCH, rounds=rounds)
    ways: tuple[Way, ...] = ()
    trials, shapes = list(_trials(drafted)), _shapes(drafted)
    for number, trial in enumerate(trials):
        if stopped or not base:
            break
        changed = trial.drafted
        if _shapes(changed) == shapes or _hopeless(base, changed, trial.least):
            continue
        begun = Tried(number / len(trials), trial.title, ways)
        try:
            tried, stopped = yield from _laid(changed, as_far, begun, 1 / len(trials))
        except BadInput:
            continue
        if tried and _helps(base, tried, trial.least):
            way = Way(f"{trial.title}{_seams(base, tried)}: {_compared(base, tried)}.", trial.change,
                      sum(bolt.cut_length for bolt in tried))
            if not _in_vain(way, ways, trial.least):
                ways = tuple(sorted((*ways, way), key=lambda way: way.length))
    return ways


def _laid(
    drafted: Draft, how: LaySearch, begun: Tried, span: float
) -> Generator[Tried, bool | None, tuple[Bolts, bool]]:
    """The lays of a draft, none if they were stopped, and whether they were."""
    laying = lay_in_steps(drafted, how)
    while True:
        try:
            progress = next(laying)
        except StopIteration as end:
            return tuple(end.value), False
        if (yield replace(begun, done=begun.done + span * progress.done)):
            return (), True


def _hopeless(base: Bolts, drafted: Draft, least: float) -> bool:
    """Whether even lays without any waste would not help."""
    fits, shorter = True, False
    for bolt in base:
        cloth = drafted.order.cloth(bolt.part)
        bound = _area(drafted.pattern, bolt.part) * cloth.enlarge[0] * cloth.enlarge[1] / cloth.usable_width
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
    return any(set(other.change) < set(way.change) and way.length > (1 - least) * other.length
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


def _shapes(drafted: Draft) -> object:
    """What is laid, and how: a change that leaves it alone is no way."""
    cloths = [drafted.order.cloth(part) for part in drafted.parts]
    return drafted.pattern.pieces, [(cloth.nap, cloth.folded) for cloth in cloths]


def changed_by(order: Order, change: Change) -> Order:
    """The order with a change made."""
    options, cloths = order.options, order.cloths
    for setting in change:
        if setting.part:
            known = cloths or Cloths({})
            value: dict[str, Any] = {setting.name: setting.value}
            cloths = known.changed(setting.part, replace(known.of(setting.part), **value))
        else:
            options = options.changed(setting.name, setting.value)
    return replace(order, options=options, cloths=cloths)


def _trial(drafted: Draft, title: str, change: Change, least: float = WORTH_SAYING) -> _Trial | None:
    """None where the change cannot be drafted, or fails a check that passed."""
    try:
        changed = draft(changed_by(drafted.order, change))
    except BadInput:
        return None
    return None if changed.failing - drafted.failing else _Trial(title, change, changed, least)


def _trials(drafted: Draft) -> Iterator[_Trial]:
    """Each change by itself, all of them together, and pieces in narrower parts, alone and with all."""
    changes = (*_on_the_cloth(drafted), *_smaller(drafted))
    single = [trial for title, change in changes if (trial := _trial(drafted, title, change))]
    yield from single
    together = _all_of(drafted, single)
    if together and together.change != single[-1].change:
        yield together
    for part in drafted.parts if drafted.order.cloths else ():
        if drafted.order.cloth(part).piecing != NEEDED:
            continue
        for name, words in PIECED.items():
            whose = "Pieces" if part == MAIN else f"Pieces of the {part}"
            pieced = _trial(
                drafted, f"{whose} no wider than {words} the cloth", (Setting("piecing", name, part),),
                WORTH_PIECING,
            )
            with_all = pieced and together and part == MAIN and _all_of(drafted, [together, pieced])
            yield from filter(None, (pieced, with_all))


def _all_of(drafted: Draft, trials: Sequence[_Trial]) -> _Trial | None:
    """The trials at once; of several that set the same field, the last."""
    last = {tuple(setting.field for setting in trial.change): trial for trial in trials}
    if not last:
        return None
    first, *others = (trial.title for trial in last.values())
    title = ", ".join([first, *(title[0].lower() + title[1:] for title in others)])
    settings = {setting.field: setting for trial in last.values() for setting in trial.change}
    return _trial(drafted, title, tuple(settings.values()), max(trial.least for trial in trials))


def _on_the_cloth(drafted: Draft) -> Iterator[tuple[str, Change]]:
    for part in drafted.parts:
        cloth = drafted.order.cloth(part)
        if cloth.nap:
            yield _whose(part, "pieces may lie head to tail"), (Setting("nap", False, part),)
        if cloth.folded:
            yield _whose(part, "laid on a single layer"), (Setting("folded", False, part),)


def _whose(part: str, words: str) -> str:
    return f"The {part}: {words}" if part != MAIN else words[0].upper() + words[1:]


def _smaller(drafted: Draft) -> Iterator[tuple[str, Change]]:
    order = drafted.order
    known = {option.name for option in order.garment.options}
    if "seam_allowance" in known and order.options["seam_allowance"] > SMALL_ALLOWANCE:
        allowance = _as_typed(order, "seam_allowance", SMALL_ALLOWANCE)
        yield f"Seam allowances of {said(SMALL_ALLOWANCE)}", (allowance,)
    if "hem_girth" in known:
        for part in NARROWER:
            girth = round(order.options["hem_girth"] * part, -1)
            try:
                yield f"A hem girth of {said(girth)}", (_as_typed(order, "hem_girth", girth),)
            except ValueError:
                continue  # narrower than the garment is drafted at all


def _as_typed(order: Order, option: str, mm: float) -> Setting:
    """The option as the form reads it back. Raises ValueError for what it does not take."""
    return Setting(option, order.garment.option(option).read(format_number(mm, order.unit), order.unit))
