"""Problems with what the user gave: sentences that name the field, what was given and what would do."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True)
class Problem:
    """One sentence about one field. An error stops the draft; a warning does not.

    `also` names further fields the sentence speaks of, so that a page can mark them too.
    """

    field: str
    message: str
    severity: Literal["error", "warning"] = "error"
    also: tuple[str, ...] = ()


class BadInput(ValueError):
    """Raised when a request cannot be met; carries every problem found, not just the first."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__(" ".join(problem.message for problem in self.problems))
