"""The booklet's section on time, place and rank: the group's own rules, then our advice with its sources.

Nothing in it needs colour: what is wrong or unusual says so in words.
"""

from collections.abc import Iterator
from typing import Any

from ..period.advice import ORGANISER_FIRST, Advice, Ground
from ..period.counsel import Counsel
from ..period.house_rules import HouseRules, Ruling, in_sentences
from ..period.places import RANKS, REGIONS, said_years
from ..period.telling import SURENESS
from .flow import Setter

MARKS = {"right": "✓", "note": "–", "unknown": "?", "unusual": "!", "wrong": "✗"}


def period_section(setter: Setter, found: Counsel) -> list[Any]:
    """The flowables; none where there is neither advice nor a group's rules."""
    parts = [*_house(setter, found.house, found.rulings), *_advised(setter, found)]
    if not parts:
        return []
    head = [setter.heading("For your time and place"), setter.text(ORGANISER_FIRST)]
    return [setter.together([*head, parts[0]]), *parts[1:]]


def _house(setter: Setter, rules: HouseRules | None, rulings: tuple[Ruling, ...]) -> Iterator[Any]:
    if rules is None:
        return
    said = [
        *([rules.message] if rules.message else []),
        *(f"{MARKS['wrong']} {ruling.sentence}" for ruling in rulings),
        *in_sentences(rules),
    ]
    yield setter.together([
        setter.text(f"What {rules.name} says, as it was given to us", setter.styles.step),
        *setter.bullets(said), setter.space(0.4),
    ])


def _advised(setter: Setter, found: Counsel) -> Iterator[Any]:
    if found.placed:
        choice = found.choice
        yield setter.text(
            f"Our advice for {RANKS[choice.rank].title} in {REGIONS[choice.region].title}, "
            f"{said_years(choice.years)}:"
        )
    for advice in found.advice:
        yield setter.together([*_told(setter, advice), setter.space(0.4)])
    for problem in found.problems:
        yield setter.text(f"Left out: {problem.message}", setter.styles.small)


def _told(setter: Setter, advice: Advice) -> Iterator[Any]:
    yield setter.text(f"{MARKS[advice.severity]} {advice.headline}", setter.styles.step)
    yield from _grounded(setter, advice.ground)
    for ground in advice.more:
        yield from _grounded(setter, ground)
    if advice.alternatives:
        labels = "; ".join(alternative.label for alternative in advice.alternatives)
        yield setter.text(f"Right instead: {labels}.")


def _grounded(setter: Setter, ground: Ground) -> Iterator[Any]:
    title = f"{ground.title}. " if ground.title else ""
    dispute = f" But: {ground.dispute}" if ground.dispute else ""
    yield setter.text(f"{title}{ground.says}{dispute}")
    yield setter.text(f"({SURENESS[ground.sure]}; {ground.source})", setter.styles.small)
