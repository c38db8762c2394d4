"""A garment tried on: what to ask of it, and what becomes of the answers. All of these raise BadInput."""

from dataclasses import replace
from typing import Any

from ..desk.altering import altered_in_words
from ..desk.drafts import draft, sewing_choices
from ..desk.order import read_order, read_order_fits
from ..desk.values import Values
from ..life.adjust import fitted, sized
from ..life.as_altered import as_altered
from ..life.fits import fit_texts, together
from ..life.try_on import questions


def tried_on(request: Values) -> dict[str, Any]:
    """`questions` as life.try_on asks them; and for a request with `fits`, `altered` as desk.altering tells
    it, and `next`, by place what the next of the kind is to have. `altered` in a request is what was done on
    the garment's own cloth since it was cut."""
    order = read_order(request)
    altered = read_order_fits(request.get("altered"), order.unit)
    cut = draft(replace(order, fits=()))
    now = as_altered(sized(order.garment, cut.order.body, cut.order.options), altered)
    asked = [{"place": one.place, "title": one.title, "drawing": one.drawing,
              "feels": [{"word": word, "asks": asks} for word, asks in one.feels]}
             for one in questions(now.garment, now.pattern)]
    told = {"questions": asked, "altered": {},
            "next": fit_texts(together(order.taken_up, altered, order.fits), order.unit)}
    if order.fits:
        told["altered"] = altered_in_words(fitted(now, order.fits), sewing_choices(cut), order.unit)
    return told
