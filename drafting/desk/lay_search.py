"""How a lay is looked for: read before any lay, and the numpy it needs, is there."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from .values import Values, number_of

LONGEST_SEARCH = 3600.0
MOST_ROUNDS = 1e9
USUAL_SECONDS = 5.0


@dataclass(frozen=True)
class LaySearch:
    """How a lay is looked for: for `seconds`, or so many `rounds` of each cloth by part, from a `seed`;
    or to be torn, in strips as wide as the cloth. `may_turn`: whoever asks what would save cloth can take
    cloths on which pieces are turned across the grain."""

    seconds: float = USUAL_SECONDS
    rounds: Mapping[str, int] = field(default_factory=dict)
    seed: int = 0
    tearable: bool = False
    may_turn: bool = False

    @property
    def is_of_a_lay(self) -> bool:
        """Whether it finds again what was laid before."""
        return bool(self.rounds) or self.tearable


AS_USUAL = LaySearch()


def read_lay_search(values: Values, parts: tuple[str, ...]) -> LaySearch:
    """From `seconds`, `max_rounds` (a number for every one of the `parts`, or one for each by name), `seed`,
    `tearable` and `may_turn`. Raises BadInput."""
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
        may_turn=bool(values.get("may_turn")),
    )


def search_seconds(values: Values) -> float:
    """How long to search for a shorter lay. Raises BadInput."""
    return number_of(values, "seconds", USUAL_SECONDS, LONGEST_SEARCH)
