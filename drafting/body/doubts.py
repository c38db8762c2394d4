"""A doubt about some measurements: the problem to tell, and what no longer to lean on."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from drafting.body.measures import label_of
from drafting.words.problems import Problem


@dataclass(frozen=True)
class Doubt:
    """A problem, and the measures that later checks should leave out of account."""

    problem: Problem
    about: tuple[str, ...]


def without(taken: Mapping[str, float], doubts: Sequence[Doubt]) -> dict[str, float]:
    """The measures that none of the doubts is about."""
    doubted = {name for doubt in doubts for name in doubt.about}
    return {name: mm for name, mm in taken.items() if name not in doubted}


def small_label(name: str) -> str:
    """The measure's label as it stands inside a sentence."""
    label = label_of(name)
    return label[0].lower() + label[1:]
