"""The tables beside this module, read when first needed; each names its source in itself."""

from functools import cache
from typing import Any


@cache
def load(name: str) -> Any:
    """The table `name`.json as Python values, which callers must not change."""
    import json
    from os.path import dirname, join

    with open(join(dirname(__file__), f"{name}.json"), encoding="utf-8") as file:
        return json.load(file)
