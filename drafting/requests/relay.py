"""Work that is watched: each step told in plain values, until whoever watches has seen enough."""

from collections.abc import Callable, Generator
from typing import Any, TypeVar

Step = TypeVar("Step")
Made = TypeVar("Made")
Told = dict[str, Any]


def relayed(
    steps: Generator[Step, bool | None, Made], tell: Callable[[Step], Told]
) -> Generator[Told, bool | None, Made]:
    """Each step in plain values, as `tell` puts it; what is sent goes to `steps`. Returns what they do."""
    stopped: bool | None = None
    while True:
        try:
            step = steps.send(stopped)
        except StopIteration as end:
            made: Made = end.value
            return made
        stopped = yield {"ok": True, "going_on": True, **tell(step)}
