"""Problems with what the user gave: sentences that name the field, what was given and what would do."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Literal, TypeVar

from .units import Unit

Read = TypeVar("Read")
Other = TypeVar("Other")


@dataclass(frozen=True)
class Meant:
    """What a measurement was probably meant to be: mm, told in `unit` where that is not the form's."""

    field: str
    mm: float
    unit: Unit | None = None


@dataclass(frozen=True)
class Problem:
    """One sentence about one field. An error stops the draft; a warning does not.

    `also` names further fields the sentence speaks of, so that a page can mark them too. `meant` is what
    would put it right, if it was that, in one go.
    """

    field: str
    message: str
    severity: Literal["error", "warning"] = "error"
    also: tuple[str, ...] = ()
    meant: tuple[Meant, ...] = ()


class BadInput(ValueError):
    """Raised when a request cannot be met; carries every problem found, not just the first."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__(" ".join(problem.message for problem in self.problems))


class Gathered:
    """Reads on after what does not read, so that all that is wrong is told at once."""

    def __init__(self) -> None:
        self.problems: list[Problem] = []

    def read(self, reader: Callable[[], Read], otherwise: Other) -> Read | Other:
        """What `reader` gives, or `otherwise` where it raises BadInput, whose problems are kept."""
        try:
            return reader()
        except BadInput as error:
            self.problems += error.problems
            return otherwise
