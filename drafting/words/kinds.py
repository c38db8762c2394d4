"""Kinds: a `Literal` that is checked where something of that kind is made."""

from typing import Any, get_args


def must_be(what: str, given: object, kind: Any) -> None:
    """Raises ValueError, naming what was given and what would do, unless it is one of the `Literal` kind."""
    if given not in get_args(kind):
        raise ValueError(f"{what}: “{given}” is not one of {', '.join(map(str, get_args(kind)))}.")
