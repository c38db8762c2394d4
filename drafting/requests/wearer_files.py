"""Wearers' files for the page: a file's text read into plain values, and plain values into a file."""

import re
from typing import Any

from ..body import MEASURES, Wearer, read_wearer, write_wearer
from ..words.problems import BadInput, Problem

_FIELDS = ("name", "measured", "unit", "sex", "born", "age", "measurements")


def wearer_from_file(text: object) -> dict[str, Any]:
    """The wearer as plain values, those not said left out. Raises BadInput."""
    if not isinstance(text, str):
        raise BadInput([Problem("text", "There is no text of a wearer's file to read.")])
    wearer = read_wearer(text)
    found = {name: getattr(wearer, name) for name in _FIELDS}
    found["measurements"] = dict(wearer.measurements)
    return {name: value for name, value in found.items() if value is not None}


def wearer_to_file(plain: object) -> tuple[str, str]:
    """(the file's text, a name for the file) of a wearer in plain values. Raises BadInput."""
    if not isinstance(plain, dict):
        raise BadInput([Problem("wearer", "There is no wearer to write.")])
    strange = [key for key in plain if key not in _FIELDS]
    if strange:
        raise BadInput([Problem(
            "wearer", f"“{str(strange[0])[:40]}” is nothing that a wearer's file holds."
        )])
    given = {name: value for name, value in plain.items() if value not in (None, "")}
    texts = given.get("measurements")
    if isinstance(texts, dict):  # the page's own Python keeps no order
        order = [*MEASURES, *(name for name in texts if name not in MEASURES)]
        given["measurements"] = {name: texts[name] for name in order if name in texts}
    wearer = Wearer(**{"name": "", **given})
    stem = re.sub(r"[^\w]+", "-", wearer.name.lower()).strip("-_")[:40] or "wearer"
    return write_wearer(wearer), f"{stem}.wearer.json"
