"""Laying a draft: each of the garment's cloths on a bolt of its own, one by one."""

from collections.abc import Generator
from dataclasses import dataclass
from math import inf

from ..lay.bolt import BoltLay, BoltSearch, ToCut
from ..lay.layout import Layout
from .drafts import Draft
from .lay_search import AS_USUAL, LaySearch
from .steps import at_one_go

STEP = 0.1
"""Seconds between reports."""

MOST_KEPT = 24
_kept: dict[object, Layout] = {}
"""The last lays, by what was laid and for how many rounds: the search is the same each time."""


@dataclass(frozen=True)
class BoltProgress:
    """How far the laying has come, from 0 to 1, and the best lay yet of the bolt it is at."""

    done: float
    bolt: BoltLay


def lay_in_steps(
    drafted: Draft, how: LaySearch, step: float = STEP
) -> Generator[BoltProgress, bool | None, tuple[BoltLay, ...]]:
    """The draft's lays, the main cloth's first, told every `step` seconds or so.

    Whoever sends True has seen enough: what is not laid yet gets the first good lay. Raises BadInput.
    """
    parts, order = drafted.parts, drafted.order
    found: list[BoltLay] = []
    enough: bool | None = False
    for part in parts:
        search = BoltSearch(
            [ToCut(drafted.pattern, order.name)], order.cloth(part), part=part, seed=how.seed
        )
        if how.tearable:
            found.append(search.torn())
            continue
        rounds = how.rounds.get(part)
        known = _kept.get((search.key, rounds))
        while not known and not enough and search.seconds < how.seconds:
            done = max(search.seconds / how.seconds, search.rounds / rounds if rounds else 0.0)
            enough = yield BoltProgress((len(found) + min(done, 1.0)) / len(parts), search.bolt)
            more = not enough and search.advance(min(step, how.seconds - search.seconds), rounds)
            if not more:
                break
        search.finish()
        bolt = search.with_layout(known) if known else search.bolt
        _keep(search, bolt.layout)
        found.append(bolt)
    return tuple(found)


def _keep(search: BoltSearch, layout: Layout) -> None:
    while len(_kept) >= MOST_KEPT:
        del _kept[next(iter(_kept))]
    _kept[search.key, layout.rounds] = layout


def lay(drafted: Draft, how: LaySearch = AS_USUAL) -> tuple[BoltLay, ...]:
    """As `lay_in_steps`, at one go. Raises BadInput."""
    return at_one_go(lay_in_steps(drafted, how, inf))


def rounds_of(bolts: tuple[BoltLay, ...]) -> dict[str, int]:
    """The rounds with which a draft is laid just so again."""
    return {bolt.part: max(1, bolt.layout.rounds) for bolt in bolts}
