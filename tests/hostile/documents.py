"""Bad kits, wearers, house rules and polygon files: a right one, spoiled in every place in turn."""

import copy
import json
from collections.abc import Iterator
from typing import Any

from drafting.kit import write_kit
from drafting.kit.marram_farm import demo_kit
from tests.hostile.texts import NAMES

KIT: dict[str, Any] = json.loads(write_kit(demo_kit()))
WEARER: dict[str, Any] = {
    "format": "ellwand-wearer", "version": 1, "name": "Hild", "unit": "cm", "sex": "woman",
    "born": "1990-04-01", "measured": "2026-10-03",
    "measurements": {"stature": "166", "bust_girth": "92 cm"},
}
RULES: dict[str, Any] = {
    "format": "ellwand-house-rules", "version": 1, "group": "Marram Farm", "years": [850, 950],
    "regions": ["denmark"], "ranks": ["farmer"], "colours": ["brown", "weld"], "fibres": ["wool"],
    "not_allowed": ["zip", "silk"], "message": "Ask Hild before you buy cloth.",
}
POLYGONS: dict[str, Any] = {
    "width": 1000,
    "pieces": [
        {"name": "front", "quantity": 2, "rotations": [0, 180], "outline": [[0, 0], [300, 0], [300, 600]]},
        {"name": "side", "quantity": 1, "rotations": [0], "outline": [[0, 0], [90, 0], [90, 90], [0, 90]]},
    ],
}

VALUES: tuple[Any, ...] = (
    None, True, False, 0, -1, 1e308, float("nan"), float("inf"), 10**400, "", "x", "<b>", "\0", [], {},
    [[]], [None], {"": ""}, {"__proto__": {}}, "9" * 5000,
)
"""What may stand where something else is wanted."""


def places(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Every place in a document, as the keys that lead there."""
    yield path
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from places(inner, (*path, key))
    elif isinstance(value, list):
        for index, inner in enumerate(value[:2]):
            yield from places(inner, (*path, index))


def replaced(document: Any, path: tuple[Any, ...], value: Any) -> Any:
    if not path:
        return value
    spoiled = copy.deepcopy(document)
    holder = spoiled
    for key in path[:-1]:
        holder = holder[key]
    holder[path[-1]] = value
    return spoiled


def removed(document: Any, path: tuple[Any, ...]) -> Any:
    spoiled = copy.deepcopy(document)
    holder = spoiled
    for key in path[:-1]:
        holder = holder[key]
    del holder[path[-1]]
    return spoiled


def not_json(right: str) -> Iterator[tuple[str, str]]:
    """Texts that do not even read as JSON, or hardly."""
    for share in range(10):
        yield f"cut off after {share} tenths", right[: len(right) * share // 10]
    yield "byte order mark", "\ufeff" + right
    yield "twice", right + right
    yield "a comment", "// kit\n" + right
    yield "single quotes", right.replace('"', "'")
    yield "nested for ever", "[" * 100_000
    yield "nested objects", '{"a":' * 50_000
    yield "nul bytes", "\0" * 100
    yield "web page", "<!doctype html><script>alert(1)</script>"
    yield "picture", "\x89PNG\r\n\x1a\n\0\0\0\rIHDR"
    yield "archive", "PK\x03\x04" + "\xff" * 50
    yield "ten thousand digits", '{"version": ' + "9" * 10_000 + "}"
    yield "surrogates", '{"format": "\\ud800", "name": "\\udfff"}'
    yield "the same key twice", '{"version": 1, "version": 2, "format": 1, "format": "x"}'
    yield "five megabytes", '{"x": "' + "x" * 5_000_000 + '"}'


def spoiled(right: dict[str, Any]) -> Iterator[tuple[str, str]]:
    """(what is wrong, the text) of every way to spoil a right document."""
    text = json.dumps(right)
    yield from not_json(text)
    for path in places(right):
        at = "/".join(map(str, path)) or "all"
        for value in VALUES:
            yield f"{at} is {str(value)[:20]!r}", json.dumps(replaced(right, path, value))
        if path:
            yield f"{at} left out", json.dumps(removed(right, path))
    for name, hostile in NAMES.items():
        for path in places(right):
            here: Any = right
            for key in path:
                here = here[key]
            if isinstance(here, str):
                at = "/".join(map(str, path))
                yield f"{name} at {at}", json.dumps(replaced(right, path, hostile))
            elif isinstance(here, dict):
                more = {**here, hostile: hostile}
                yield f"{name} as a key of {path}", json.dumps(replaced(right, path, more))


def sample(right: dict[str, Any], every: int) -> list[tuple[str, str]]:
    """Every so manieth of them, and all that do not read."""
    cases = list(spoiled(right))
    whole = len(list(not_json("")))
    return [*cases[:whole], *cases[whole::every]]
