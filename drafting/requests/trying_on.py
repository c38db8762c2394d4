"""A garment tried on: what to ask of it, and what becomes of the answers. All of these raise BadInput."""

from typing import Any

from ..desk.altering import altered_in_words
from ..desk.drafts import draft
from ..desk.order import read_order
from ..desk.values import Values
from ..life.try_on import questions


def tried_on(request: Values) -> dict[str, Any]:
    """`questions` as life.try_on asks them; and for a request with `fits`, `altered` as desk.altering
    tells it."""
    drafted = draft(read_order(request))
    asked = [{"place": one.place, "title": one.title, "drawing": one.drawing,
              "feels": [{"word": word, "asks": asks} for word, asks in one.feels]}
             for one in questions(drafted.order.garment, drafted.pattern)]
    return {"questions": asked, "altered": altered_in_words(drafted)}
