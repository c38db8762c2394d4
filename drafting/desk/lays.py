"""Laying a draft: each of the garment's cloths on a bolt of its own, one by one."""

from collections.abc import Generator, Mapping
from dataclasses import dataclass, field
from math import inf

from ..lay.bolt import BoltLay, BoltSearch, ToCut
from ..lay.layout import Layout
from .drafts import Draft
from .values import Values, number_of

LONGEST_SEARCH = 3600.0
MOST_ROUNDS = 1e9
USUAL_SECONDS = 5.0
STEP = 0.1
"""Seconds between reports."""

MOST_KEPT = 24
_kept: dict[object, Layout] = {}
"""The last lays, by what was laid and for how many rounds: the search is the same each time."""


@dataclass(frozen=True)
class LaySearch:
    """How a lay is looked for: for `seconds`, or so many `rounds` of each cloth by part, from a `seed`;
    or to be torn, in strips as wide as the cloth."""

    seconds: float = USUAL_SECONDS
    rounds: Mapping[str, int] = field(default_factory=dict)
    seed: int = 0
    tearable: bool = False


def read_lay_search(values: Values, parts: tuple[str, ...]) -> LaySearch:
    """From `seconds`, `max_rounds` (a number for every one of the `parts`, or one for each by name), `seed`
    and `tearable`. Raises BadInput."""
    given = values.get("max_rounds")
    each = {part: given.get(part) if isinstance(given, Mapping) else given for part in parts}
    rounds = {
        part: int(number_of({"max_rounds": most}, "max_rounds", 0, MOST_ROUNDS))
        for part, most in each.items()
    }
    return LaySearch(
        seconds=search_seconds(values),
        rounds={part: most for part, most in rounds.items() if most},
        seed=int(number_of(values, "seed", 0, MOST_ROUNDS)),
        tearable=bool(values.get("tearable")),
    )


def search_seconds(values: Values) -> float:
    """How long to search for a shorter lay. Raises BadInput."""
    return number_of(values, "seconds", USUAL_SECONDS, LONGEST_SEARCH)


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


def lay(drafted: Draft, how: LaySearch = LaySearch()) -> tuple[BoltLay, ...]:
    """As `lay_in_steps`, at one go. Raises BadInput."""
    steps = lay_in_steps(drafted, how, inf)
    while True:
        try:
            next(steps)
        except StopIteration as end:
            return tuple(end.value)


def rounds_of(bolts: tuple[BoltLay, ...]) -> dict[str, int]:
    """The rounds with which a draft is laid just so again."""
    return {bolt.part: max(1, bolt.layout.rounds) for bolt in bolts}
