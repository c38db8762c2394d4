"""The kit as the page holds it, from and to a kit's file; two kits made one; the demo kit.

The page works on the file's own values, with the house rules as a line of text (see kit.rules). What of a
kit does not read is told in `set_aside`, in sentences. All of these raise BadInput.
"""

from collections.abc import Iterable, Mapping
from typing import Any

from ..desk.values import Values
from ..kit import Kit, merge, read_kit, write_kit
from ..kit.marram_farm import demo_kit
from ..kit.model import as_values, file_name
from ..kit.readkit import Aside, from_values
from ..kit.rules import for_a_file, for_the_page
from ..words.problems import Problem
from ..words.reading import read_json


def kit_from_page(text: str, aside: Aside) -> Kit:
    """The kit in the text of a file, or in the one that the page makes of its own; `aside` is as for
    read_kit."""
    try:
        values = read_json(text)
    except ValueError:
        values = None
    return _kit(values, aside) if isinstance(values, Mapping) else read_kit(text, aside)


def read_kit_file(request: Values) -> dict[str, Any]:
    """The file in `text` as the page's values, `kit`."""
    aside: list[Problem] = []
    kit = read_kit(str(request.get("text") or ""), aside)
    return {"kit": for_the_page(as_values(kit)), "set_aside": told(aside)}


def write_kit_file(request: Values) -> dict[str, Any]:
    """The file of the page's values in `kit`: `text`, `name`, `type`."""
    aside: list[Problem] = []
    kit = _kit(request.get("kit"), aside)
    return {"text": write_kit(kit), "name": file_name(kit), "type": "application/json",
            "set_aside": told(aside)}


def merge_kits(request: Values) -> dict[str, Any]:
    """All that is in `mine` and in `theirs`; `conflicts` says what both had and had differently, and what of
    theirs does not read; `remeasured` which of them are about one person measured twice. Of mine nothing is
    set aside, since what comes of it takes its place."""
    aside: list[Problem] = []
    merged = merge(_kit(request.get("mine"), None), _kit(request.get("theirs"), aside))
    return {
        "kit": for_the_page(as_values(merged.kit)), "conflicts": [*told(aside), *merged.conflicts],
        "remeasured": [
            {"mine": one.mine.id, "theirs": one.theirs.id, "said": one.said,
             "dates": [one.mine.wearer.measured, one.theirs.wearer.measured]}
            for one in merged.remeasured
        ],
    }


def demo(request: Values) -> dict[str, Any]:
    """The volunteers of Marram Farm."""
    return {"kit": for_the_page(as_values(demo_kit()))}


def told(aside: Iterable[Problem]) -> list[str]:
    return [problem.message for problem in aside]


def _kit(values: object, aside: Aside) -> Kit:
    whole = isinstance(values, Mapping) and isinstance(values.get("impression", {}), Mapping)
    return from_values(for_a_file(values) if whole else values, aside)  # type: ignore[arg-type]
