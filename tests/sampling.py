"""Long sweeps in short: the same members of a long row each time, all of them with ELLWAND_SEARCH=1."""

import os
from collections.abc import Sequence
from typing import TypeVar

T = TypeVar("T")


def some(row: Sequence[T], every: int) -> Sequence[T]:
    """Each `every`-th of a row; all of it where new examples are looked for too (see conftest.py)."""
    return row if os.environ.get("ELLWAND_SEARCH") else row[every // 2 :: every]
