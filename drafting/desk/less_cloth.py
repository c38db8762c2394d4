"""Less cloth: changes that would shorten a lay, or make it fit the cloth on hand, each of them tried.

As a cutter would, changes are tried together: each is laid in a hurry, the most promising are joined with
others and laid so again, and the best of each number of changes is then laid with care before it is named.
"""

from collections.abc import Generator, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from math import inf

from ..cloth.cloth import Cloth
from ..geometry import area, bounds
from ..lay.bolt import BoltLay, BoltSearch, ToCut, may_lie_across
from ..pattern import Pattern, Piece
from ..words.problems import BadInput
from ..words.wording import said
from .cutters_ways import WORTH_SAYING, Change, Move, Setting, changed_by, moves
from .drafts import Draft, draft
from .lay_search import LONGEST_SEARCH, USUAL_SECONDS, LaySearch
from .lays import STEP, lay_in_steps, rounds_of
from .steps import at_one_go

LEAST_ROUNDS, MORE_ROUNDS = 400, 1600
"""Search for each lay that is compared, at least; and where the lay there is took less, since it could not
be shorter, or there was no time."""

NEARLY = 0.02
"""Part of the length that a change may fall short of being worth naming, to be searched for longer."""

QUICK_ROUNDS = 60
"""Search for each lay that only tells what to go on with."""

PROMISING = 1.03
"""A change that in a hurry comes to more than so much of the hurried length now is not laid with care."""

GONE_ON_WITH, TOGETHER, BEST_OF_EACH = 3, 5, 2
"""Changes that others are joined to, how many are joined at most, and how many of each number are laid with
care."""

SINGLY, HURRIED = 0.5, 0.75
"""How far it is when each change was tried by itself, and when all that go together were in a hurry."""

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
    """`quick` is the length in all of its lays in a hurry, mm; infinite where nothing could come of it."""

    move: Move
    drafted: Draft
    quick: float = inf


class _Enough(Exception):
    """Whoever watches has seen enough."""


@dataclass
class _Told:
    """What whoever watches is told."""

    done: float = 0.0
    trying: str = ""
    ways: tuple[Way, ...] = ()

    def step(self, further: float = 0.0) -> "Telling":
        if (yield Tried(self.done + further, self.trying, self.ways)):
            raise _Enough

    def begun(self, trial: _Trial, done: float) -> None:
        self.trying, self.done = trial.move.title, done


Steps = Generator[Tried, bool | None, tuple[Way, ...]]
Telling = Generator[Tried, bool | None, None]
Trying = Generator[Tried, bool | None, list[_Trial]]


def ways_to_save(drafted: Draft, how: LaySearch) -> tuple[Way, ...]:
    """As `ways_in_steps`, at one go. Raises BadInput."""
    return at_one_go(ways_in_steps(drafted, how))


def ways_in_steps(drafted: Draft, how: LaySearch) -> Steps:
    """What would shorten the draft's lays, told as it is tried.

    With cloth on hand that is too short, only what makes it fit; else what saves a fiftieth of the
    length, and piecing when it saves a tenth. No way is searched for in more rounds than the lay it is
    compared with, the best in as many, and each passes every check that the draft passes. Whoever sends
    True has seen enough, and gets what was found. Raises BadInput.
    """
    told = _Told()
    with suppress(_Enough):
        yield from _ways(drafted, how, told)
    return told.ways


def _ways(drafted: Draft, how: LaySearch, told: _Told) -> Telling:
    if how.tearable:
        how = replace(how, tearable=False, seconds=USUAL_SECONDS, rounds={})
    base = yield from _laid(drafted, how, told, 0.0)
    if not all(bolt.cut_length for bolt in base):
        return  # what needs no bolt cannot be had from less of it
    rounds = {part: n if n >= LEAST_ROUNDS else MORE_ROUNDS for part, n in rounds_of(base).items()}
    trials = _Trials(drafted, base, replace(how, seconds=LONGEST_SEARCH, rounds=rounds), told)
    singles = yield from trials.singly()
    told.done = SINGLY
    together = yield from trials.together(singles)
    for number, trial in enumerate(together):
        told.begun(trial, HURRIED + (1 - HURRIED) * number / len(together))
        yield from trials.lay_with_care(trial, (1 - HURRIED) / len(together))
    yield from trials.lay_the_best_longer()


def _laid(
    drafted: Draft, how: LaySearch, told: _Told, span: float
) -> Generator[Tried, bool | None, Bolts]:
    laying = lay_in_steps(drafted, how)
    while True:
        try:
            progress = next(laying)
        except StopIteration as end:
            return tuple(end.value)
        yield from told.step(span * progress.done)


class _Trials:
    """Changes of one draft, compared with the lays it has."""

    def __init__(self, drafted: Draft, base: Bolts, how: LaySearch, told: _Told) -> None:
        self._drafted, self._base, self._how, self._told = drafted, base, how, told
        self._shapes = {_shapes(drafted)}
        self._asked: set[frozenset[Setting]] = set()
        self._named: dict[Change, _Trial] = {}
        self._now = inf
        self._known = tuple(moves(drafted, may_turn=how.may_turn))
        self._least = {setting: move.least for move in self._known for setting in move.change}

    def singly(self) -> Trying:
        """Each change by itself, laid with care where it promises something."""
        self._now = (yield from self._hurried(_Trial(Move("", ()), self._drafted))).quick
        found = []
        drafted = [trial for move in self._known if (trial := self._drafted_anew(move))]
        for number, trial in enumerate(drafted):
            self._told.begun(trial, SINGLY * number / len(drafted))
            found.append((yield from self._hurried(trial)))
            if found[-1].quick < PROMISING * self._now:
                yield from self.lay_with_care(found[-1], SINGLY / len(drafted))
        return found

    def together(self, singles: list[_Trial]) -> Trying:
        """The most promising of several changes at once, those of fewest first."""
        chosen: list[_Trial] = []
        level = singles
        for number in range(2, TOGETHER + 1):
            best = sorted(level, key=lambda trial: trial.quick)[:GONE_ON_WITH]
            joined = [joined for first in best for joined in self._joined(first, singles)]
            level = []
            for at, trial in enumerate(joined):
                share = (number - 2 + at / len(joined)) / (TOGETHER - 1)
                self._told.begun(trial, SINGLY + (HURRIED - SINGLY) * share)
                level.append((yield from self._hurried(trial)))
            promising = [trial for trial in level if trial.quick < PROMISING * self._now]
            chosen += sorted(promising, key=lambda trial: trial.quick)[:BEST_OF_EACH]
            if not any(trial.quick < best[0].quick for trial in promising):
                break
        shortest = sorted(chosen, key=lambda trial: trial.quick)[:1]
        return [*chosen, *(trial for best in shortest for trial in self._laid_otherwise(best, singles))]

    def _laid_otherwise(self, best: _Trial, singles: list[_Trial]) -> Iterator[_Trial]:
        """With more freedom on the cloth, which costs nothing to sew and shows only in a longer search."""
        free = [trial for trial in singles if all(setting.name == "turned" for setting in trial.move.change)]
        for trial in self._joined(best, free):
            yield replace(trial, quick=best.quick)

    def _joined(self, first: _Trial, singles: list[_Trial]) -> Iterator[_Trial]:
        for other in singles:
            if first.quick < inf and not first.move.fields & other.move.fields:
                trial = self._drafted_anew(first.move.and_also(other.move))
                if trial and self._bound(trial) < (1 - other.move.least) * first.quick:
                    yield trial

    def _bound(self, trial: _Trial) -> float:
        """mm in all that no lays of it can be shorter than."""
        return sum(_at_least(trial.drafted.pattern, part, trial.drafted.order.cloth(part))
                   for part in trial.drafted.parts)

    def _drafted_anew(self, move: Move) -> _Trial | None:
        """None where the change cannot be drafted, fails a check that passed, or has been tried."""
        asked = frozenset(move.change)
        if asked in self._asked:
            return None
        self._asked.add(asked)
        try:
            changed = draft(changed_by(self._drafted.order, move.change))
        except BadInput:
            return None
        shapes = _shapes(changed)
        if changed.failing - self._drafted.failing or shapes in self._shapes:
            return None
        self._shapes.add(shapes)
        return _Trial(move, changed)

    def _hurried(self, trial: _Trial) -> Generator[Tried, bool | None, _Trial]:
        """With its length in lays that are soon made, where it has hope."""
        if trial.move.change and _hopeless(self._base, trial.drafted, trial.move.least):
            return trial
        length = 0.0
        order = trial.drafted.order
        try:
            for part in trial.drafted.parts:
                search = BoltSearch([ToCut(trial.drafted.pattern)], order.cloth(part), part=part)
                while search.advance(STEP, QUICK_ROUNDS):
                    yield from self._told.step()
                length += search.bolt.cut_length
        except BadInput:
            return trial
        return replace(trial, quick=length)

    def lay_with_care(self, trial: _Trial, span: float) -> Telling:
        """Named among the ways if it helps; where that is not plain soon, it is searched for as long as the
        lay it is compared with."""
        if _hopeless(self._base, trial.drafted, trial.move.least):
            return
        soon = {part: min(rounds, LEAST_ROUNDS) for part, rounds in self._how.rounds.items()}
        tried = yield from self._searched(trial, soon, span)
        if tried and soon != self._how.rounds and self._may_yet_help(trial, tried):
            tried = yield from self._searched(trial, self._how.rounds, span)
        if tried and _helps(self._base, tried, trial.move.least):
            self._name(trial, tried)

    def _may_yet_help(self, trial: _Trial, tried: Bolts) -> bool:
        if _helps(self._base, tried, trial.move.least):
            return False
        short = any(bolt.missing is not None for bolt in self._base)
        return short or _helps(self._base, tried, trial.move.least - NEARLY)

    def lay_the_best_longer(self) -> Telling:
        """For as long as the lay it is compared with: it is what is taken."""
        if self._told.ways and any(rounds > LEAST_ROUNDS for rounds in self._how.rounds.values()):
            best = self._told.ways[0]
            tried = yield from self._searched(self._named[best.change], self._how.rounds, 0.0)
            if tried and (way := self._way(self._named[best.change], tried)).length < best.length:
                self._told.ways = (way, *self._told.ways[1:])

    def _searched(
        self, trial: _Trial, rounds: Mapping[str, int], span: float
    ) -> Generator[Tried, bool | None, Bolts | None]:
        with suppress(BadInput):
            return (yield from _laid(trial.drafted, replace(self._how, rounds=rounds), self._told, span))
        return None

    def _way(self, trial: _Trial, tried: Bolts) -> Way:
        return Way(f"{trial.move.title}{_seams(self._base, tried)}: {_compared(self._base, tried)}.",
                   trial.move.change, sum(bolt.cut_length for bolt in tried))

    def _name(self, trial: _Trial, tried: Bolts) -> None:
        way = self._way(trial, tried)
        if not self._in_vain(way):
            self._named[way.change] = trial
            self._told.ways = tuple(sorted((*self._told.ways, way), key=lambda way: way.length))

    def _in_vain(self, way: Way) -> bool:
        """Whether a part of the change does as well: what comes to it must save as much again."""
        for other in self._told.ways:
            further = set(way.change) - set(other.change)
            if len(further) + len(other.change) == len(way.change):
                least = max((self._least[setting] for setting in further), default=0.0)
                if way.length > (1 - least) * other.length:
                    return True
        return False


def _hopeless(base: Bolts, drafted: Draft, least: float) -> bool:
    """Whether even lays without any waste would not help."""
    fits, shorter = True, False
    for bolt in base:
        cloth = drafted.order.cloth(bolt.part)
        bound = _at_least(drafted.pattern, bolt.part, cloth)
        on_hand = cloth.cut_length_on_hand()
        fits &= on_hand is None or bound <= on_hand
        shorter |= bound < (1 - least) * bolt.cut_length
    return not (fits if any(bolt.missing is not None for bolt in base) else shorter)


def _at_least(pattern: Pattern, part: str, cloth: Cloth) -> float:
    """mm below which no lay of that part can go: what its pieces' area takes, and its longest piece."""
    needed = _area(pattern, part) * cloth.enlarge[0] * cloth.enlarge[1]
    spread = max(needed - sum(piece.area for piece in cloth.remnants), 0.0) / cloth.usable_width
    if cloth.remnants:
        return spread  # the longest may be cut from one of them
    return max(spread, *(_along(piece, cloth) for piece in pattern.pieces if piece.cloth == part))


def _along(piece: Piece, cloth: Cloth) -> float:
    """mm along the cloth that it takes at least."""
    left, top, right, bottom = bounds(piece.cutting_line)
    down = (bottom - top) * cloth.enlarge[1]
    return min(down, right - left) if cloth.may_turn and may_lie_across(piece) else down


def _area(pattern: Pattern, part: str) -> float:
    return sum(abs(area(piece.cutting_line)) * piece.cut for piece in pattern.pieces if piece.cloth == part)


def _helps(base: Bolts, tried: Bolts, least: float) -> bool:
    """Whether all of it fits the cloth on hand, where it did not; else one cloth is shorter by a part
    of its length, and no other longer by half of that part."""
    if any(bolt.missing is not None for bolt in base):
        return all(bolt.missing is None for bolt in tried)
    ratios = [new.cut_length / old.cut_length for old, new in zip(base, tried, strict=True)]
    return min(ratios) < 1 - least and max(ratios) < 1 + least / 2


def _seams(base: Bolts, tried: Bolts) -> str:
    """The price: seams more to sew, and how long they are together."""
    before, after = (bolts[0].orders[0].pattern for bolts in (base, tried))
    more = len(after.seams) - len(before.seams)
    longer = _sewn(after) - _sewn(before)
    if more <= 0:
        return ""
    return f", with {more} seams more" + (f", {said(longer)} to sew" if longer > 0 else "")


def _sewn(pattern: Pattern) -> float:
    """mm of seams in all."""
    return sum(pattern.side_length(seam.a) for seam in pattern.seams)


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
    pieces = tuple((piece.cutting_line, piece.cut, piece.mirrored, piece.cloth)
                   for piece in drafted.pattern.pieces)
    return pieces, tuple((cloth.nap, cloth.folded, cloth.turned) for cloth in cloths)
