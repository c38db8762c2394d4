"""A garment seen on its wearer, as the page asks for it: plain values, told as it comes to rest."""

from collections.abc import Generator
from typing import Any

from ..desk.drafts import draft
from ..desk.order import read_order
from ..desk.values import Values
from ..desk.wearing import cloth_colour, seen_worn, wear_in_steps
from ..worn.answers import hem_heights
from ..worn.hanging import Worn
from ..worn.seen import as_seen
from .relay import Told, relayed


def wearing_in_steps(request: Values) -> Generator[dict[str, Any], bool | None, None]:
    """Each result but the last is {"ok": True, "going_on": True, "done"}, one of them with a first `seen`
    (worn/seen.py); the last has that, `sentences`, `hem` ([[degrees, mm]]), `residual` and `rounds`. Raises
    BadInput."""
    drafted = draft(read_order(request))
    colour = cloth_colour(drafted)

    def told(step: Worn) -> Told:
        first = {"seen": as_seen(step, colour)} if step.rests else {}
        return {"done": step.done, **first}

    worn = yield from relayed(wear_in_steps(drafted), told)
    seen = seen_worn(drafted, worn)
    yield {
        "ok": True,
        "seen": as_seen(worn, colour),
        "sentences": list(seen.sentences),
        "hem": [[angle, round(height, 1)] for angle, height in hem_heights(worn)],
        "residual": worn.residual,
        "rounds": worn.rounds,
    }
