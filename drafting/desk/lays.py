"""Laying what a request asks for: each of the garment's cloths on a bolt of its own, one by one."""

from collections.abc import Callable, Generator, Mapping
from dataclasses import dataclass
from math import inf
from typing import Any, TypeVar

from ..cloth.cloth import read_cloth
from ..lay.bolt import BoltLay, BoltSearch, ToCut
from ..lay.layout import Layout
from .requests import Request, cloth_of, draft, name_of, number_of, parts_of

Step = TypeVar("Step")
Made = TypeVar("Made")

LONGEST_SEARCH = 3600.0
MOST_ROUNDS = 1e9
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
    request: Request, step: float = STEP
) -> Generator[BoltProgress, bool | None, tuple[BoltLay, ...]]:
    """The lays a request asks for, the main cloth's first, told every `step` seconds or so.

    Each bolt is searched for `seconds`, or `max_rounds` (a number, or one for each cloth by name), or
    laid to be torn when `tearable`. Whoever sends True has seen enough: what is not laid yet gets the
    first good lay. Raises BadInput.
    """
    seconds, pattern = search_seconds(request), draft(request)[0]
    parts = parts_of(pattern)
    found: list[BoltLay] = []
    enough: bool | None = False
    for part in parts:
        search = BoltSearch(
            [ToCut(pattern, name_of(request) or "")], cloth_of(request, part) or read_cloth({}, part=part),
            part=part,
            seed=int(number_of(request, "seed", 0, MOST_ROUNDS)),
        )
        if request.get("tearable"):
            found.append(search.torn())
            continue
        rounds = _rounds(request, part)
        known = _kept.get((search.key, rounds))
        while not known and not enough and search.seconds < seconds:
            done = max(search.seconds / seconds, search.rounds / rounds if rounds else 0.0)
            enough = yield BoltProgress((len(found) + min(done, 1.0)) / len(parts), search.bolt)
            more = not enough and search.advance(min(step, seconds - search.seconds), rounds)
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


def relayed(
    steps: Generator[Step, bool | None, Made], tell: Callable[[Step], dict[str, Any]]
) -> Generator[dict[str, Any], bool | None, Made]:
    """Each step in plain values, as `tell` puts it; what is sent goes to `steps`. Returns what they do."""
    stopped: bool | None = None
    while True:
        try:
            step = steps.send(stopped)
        except StopIteration as end:
            made: Made = end.value
            return made
        stopped = yield {"ok": True, "going_on": True, **tell(step)}


def lay(request: Request) -> tuple[BoltLay, ...]:
    """As `lay_in_steps`, at one go. Raises BadInput."""
    steps = lay_in_steps(request, inf)
    while True:
        try:
            next(steps)
        except StopIteration as end:
            return tuple(end.value)


def search_seconds(request: Request) -> float:
    """How long to search for a shorter lay. Raises BadInput."""
    return number_of(request, "seconds", 5.0, LONGEST_SEARCH)


def rounds_of(bolts: tuple[BoltLay, ...]) -> dict[str, int]:
    """`max_rounds` for a request that is to be laid just so again."""
    return {bolt.part: max(1, bolt.layout.rounds) for bolt in bolts}


def _rounds(request: Request, part: str) -> int | None:
    given = request.get("max_rounds")
    each = {"max_rounds": given.get(part) if isinstance(given, Mapping) else given}
    return int(number_of(each, "max_rounds", 0, MOST_ROUNDS)) or None
