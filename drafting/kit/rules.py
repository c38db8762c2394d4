"""A group's house rules in a kit's plain values: JSON in its file, one line of text on the page.

The page keeps them as `rules` of the impression, the text that a link carries; the file has them as
`house_rules`. What does not read stays where it is, so that nothing is lost.
"""

import json
from collections.abc import Mapping
from typing import Any

from ..period.counsel import read_rules
from ..period.house_rules import as_json, as_link_text
from ..words.problems import BadInput

RULES = "rules"


def for_the_page(kit: Mapping[str, Any]) -> dict[str, Any]:
    """The kit with its `house_rules` as a text of its `impression`."""
    rules = kit.get("house_rules")
    try:
        found = read_rules(json.dumps(rules)) if rules else None
    except BadInput:
        found = None
    if found is None:
        return dict(kit)
    impression = {**(kit.get("impression") or {}), RULES: as_link_text(found)}
    return {**kit, "impression": impression, "house_rules": None}


def for_a_file(kit: Mapping[str, Any]) -> dict[str, Any]:
    """The kit with the `rules` of its `impression` as `house_rules`."""
    impression = dict(kit.get("impression") or {})
    try:
        text = impression.get(RULES)
        found = read_rules(text) if isinstance(text, str) else None
    except BadInput:
        found = None
    if found is None:
        return dict(kit)
    del impression[RULES]
    return {**kit, "impression": impression, "house_rules": json.loads(as_json(found))}
