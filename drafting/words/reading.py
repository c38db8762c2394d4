"""JSON that came from outside."""

from typing import Any

DEEPEST = 50  # lists and objects within one another; our own files hold six


class NestedTooDeep(ValueError):
    """More than DEEPEST lists and objects within one another."""


def read_json(text: str, **options: Any) -> Any:
    """What `json.loads(text, **options)` gives.

    Raises ValueError where it does, and NestedTooDeep for more than DEEPEST lists and objects within
    one another: the reader calls itself for each, and in the browser that ends the whole interpreter,
    with no exception to catch.
    """
    import json

    if text.count("[") + text.count("{") > DEEPEST and _depth(text) > DEEPEST:
        raise NestedTooDeep("nested too deep")
    return json.loads(text, **options)


def _depth(text: str) -> int:
    """How deep the nesting goes, up to where the text stops being JSON."""
    import re

    depth = deepest = 0
    for found in re.finditer(r'"(?:[^"\\]+|\\.?)*"?|[\[{]|[\]}]', text, re.DOTALL):
        if found[0] in "[{":
            depth += 1
            deepest = max(deepest, depth)
        elif found[0] in "]}":
            depth -= 1
    return deepest
