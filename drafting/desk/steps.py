"""Work in steps, for whoever does not watch it."""

from collections.abc import Generator
from typing import Any, TypeVar

Made = TypeVar("Made")


def at_one_go(steps: Generator[Any, Any, Made]) -> Made:
    """What the steps come to when nobody stops them. Raises what they raise."""
    while True:
        try:
            next(steps)
        except StopIteration as end:
            made: Made = end.value
            return made
