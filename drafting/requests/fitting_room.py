"""A garment seen on its wearer, as the page asks for it: plain values, told as it comes to rest."""

from collections.abc import Generator
from typing import Any

from ..desk.drafts import draft
from ..desk.order import read_order
from ..desk.values import Values
from ..desk.wearing import seen_worn, wear_in_steps, worn_picture
from ..worn.answers import hem_heights
from .relay import relayed


def wearing_in_steps(request: Values) -> Generator[dict[str, Any], bool | None, None]:
    """Each result but the last is {"ok": True, "going_on": True, "done"}; the last adds `svg`, `sentences`,
    `hem` ([[degrees, mm]]), `residual` and `rounds`. Raises BadInput."""
    drafted = draft(read_order(request))
    worn = yield from relayed(wear_in_steps(drafted), lambda step: {"done": step.done})
    seen = seen_worn(drafted, worn)
    yield {
        "ok": True,
        "svg": worn_picture(drafted, seen),
        "sentences": list(seen.sentences),
        "hem": [[angle, round(height, 1)] for angle, height in hem_heights(worn)],
        "residual": worn.residual,
        "rounds": worn.rounds,
    }
