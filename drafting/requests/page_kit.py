"""The kit as the page holds it, from and to a kit's file; two kits made one; the demo kit.

The page works on the file's own values, with the house rules as a line of text (see kit.rules). All of
these raise BadInput.
"""

from collections.abc import Mapping
from typing import Any

from ..desk.values import Values
from ..kit import Kit, merge, read_kit, write_kit
from ..kit.marram_farm import demo_kit
from ..kit.model import as_values, file_name, from_values
from ..kit.rules import for_a_file, for_the_page
from ..words.reading import read_json


def kit_from_page(text: str) -> Kit:
    """The kit in the text of a file, or in the one that the page makes of its own."""
    try:
        values = read_json(text)
    except ValueError:
        values = None
    return _kit(values) if isinstance(values, Mapping) else read_kit(text)


def read_kit_file(request: Values) -> dict[str, Any]:
    """The file in `text` as the page's values, `kit`."""
    return {"kit": for_the_page(as_values(read_kit(str(request.get("text") or ""))))}


def write_kit_file(request: Values) -> dict[str, Any]:
    """The file of the page's values in `kit`: `text`, `name`, `type`."""
    kit = _kit(request.get("kit"))
    return {"text": write_kit(kit), "name": file_name(kit), "type": "application/json"}


def merge_kits(request: Values) -> dict[str, Any]:
    """All that is in `mine` and in `theirs`; `conflicts` says what both had and had differently."""
    merged = merge(_kit(request.get("mine")), _kit(request.get("theirs")))
    return {"kit": for_the_page(as_values(merged.kit)), "conflicts": list(merged.conflicts)}


def demo(request: Values) -> dict[str, Any]:
    """The volunteers of Marram Farm."""
    return {"kit": for_the_page(as_values(demo_kit()))}


def _kit(values: object) -> Kit:
    whole = isinstance(values, Mapping) and isinstance(values.get("impression", {}), Mapping)
    return from_values(for_a_file(values) if whole else values)  # type: ignore[arg-type]
