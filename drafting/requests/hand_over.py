"""Handing over: QR codes of a link, links to a whole kit and what an opened one holds, the shopping list.

All of these raise BadInput.
"""

from collections.abc import Generator, Mapping
from typing import TYPE_CHECKING, Any

from ..desk.drafts import draft
from ..desk.lay_search import search_seconds
from ..desk.order import garment_named, read_order
from ..desk.values import Values, unit_of
from ..kit import Kit, pack, together, too_long, write_kit
from ..kit.share import of_the_same
from ..words.problems import BadInput, Problem
from ..words.units import Unit, quoted
from ..words.wording import writable
from .page_kit import kit_from_page, told
from .relay import relayed

if TYPE_CHECKING:
    from ..kit.listing import Listing
    from ..kit.shopping import Shopped, Shopping, ShopProgress

MOST_PARTS = 500


def qr_codes(request: Values) -> dict[str, Any]:
    """The codes of `link`: each as `svg`, with the `link` that is in it and its width in `modules`."""
    from ..kit.codes import codes

    made = codes(_text(request, "link"))
    return {"codes": [
        {"label": f"{number} of {len(made)}", "svg": code.svg, "link": code.link, "modules": code.modules}
        for number, code in enumerate(made, 1)
    ]}


def share_kit(request: Values) -> dict[str, Any]:
    """The fragment that holds the kit in `kit`, a kit file's text; with names where `names` is True."""
    aside: list[Problem] = []
    kit = kit_from_page(_text(request, "kit"), aside)
    fragment = pack(kit, names=request.get("names") is True)
    return {"fragment": fragment, "too_long": too_long(fragment), "said": kit_in_words(kit),
            "set_aside": told(aside)}


def opened(request: Values) -> dict[str, Any]:
    """What the fragments come to, of which the last is the newest.

    {"kind": "kit", "said", "kit": the kit file's text, "set_aside"}, {"kind": "draft", "fragment"}, or
    {"kind": "parts", "have", "wanted"} while some are missing.
    """
    fragments = request.get("fragments")
    if not isinstance(fragments, (list, tuple)) or not all(isinstance(f, str) for f in fragments):
        raise BadInput([Problem("fragments", "The parts of a link must be a list of texts.")])
    aside: list[Problem] = []
    found = together(of_the_same(fragments[-MOST_PARTS:]), aside)
    if isinstance(found, Kit):
        return {"kind": "kit", "said": kit_in_words(found), "kit": write_kit(found), "set_aside": told(aside)}
    if isinstance(found, str):
        return {"kind": "draft", "fragment": found}
    return {"kind": "parts", "have": found[0], "wanted": found[1]}


def shopping_in_steps(request: Values) -> Generator[dict[str, Any], bool | None, None]:
    """The shopping list of the kit in `kit`, or of the one garment a `draft` request asks for.

    Each result but the last says how far it is; the last is {"ok", "listing", "text", "bolts"}. Whoever sends
    True has seen enough.
    """
    from ..kit.listing import listing_text, listing_values
    from ..kit.shopping import shop_for_one
    from .shared_bolts import bolts_in_words, shopped

    seconds = search_seconds(request)
    if request.get("kit"):
        text = _text(request, "kit")
        unit, steps = kit_from_page(text, []).unit, shopped(text, seconds)
    else:
        order = read_order(request)
        unit, steps = order.unit, shop_for_one(draft(order), seconds)
    shopping, listed = yield from relayed(
        _laid_and_listed(steps, unit), lambda step: {"done": step.done, "doing": step.doing})
    bolts = bolts_in_words(shopping) if request.get("kit") else []
    yield {"ok": True, "listing": listing_values(listed), "text": listing_text(listed), "bolts": bolts}


def _laid_and_listed(
    steps: "Shopped", unit: Unit
) -> "Generator[ShopProgress, bool | None, tuple[Shopping, Listing]]":
    """Told to the end, unless whoever watches has seen enough: then the list is made at one go."""
    from ..kit.listing import listing_in_steps

    enough: bool | None = None
    while True:
        try:
            enough = (yield steps.send(enough)) or enough
        except StopIteration as end:
            shopping: Shopping = end.value
            break
    listing = listing_in_steps(shopping, unit)
    while True:
        try:
            step = next(listing)
        except StopIteration as end:
            return shopping, end.value
        if not enough:
            enough = yield step


def shopping_sheet(request: Values) -> dict[str, Any]:
    """A `listing` that was made before, as a PDF to print, on `paper`."""
    from ..kit.listing import listing_sheet, read_listing
    from ..sheets.page_forms import FORMS

    made = read_listing(request.get("listing"))
    paper = str(request.get("paper") or "A4")
    data = listing_sheet(made, paper if paper in FORMS else "A4")
    return {"bytes": data, "type": "application/pdf", "name": "shopping-list.pdf"}


def measuring_sheet(request: Values) -> dict[str, Any]:
    """A blank sheet for the `garments`, by name, and so many `people`; `unit` is that of their tape."""
    from ..sheets.measuring_sheet import measuring_sheet as sheet
    from ..sheets.page_forms import FORMS

    names, people = request.get("garments"), request.get("people", 4)
    if not isinstance(names, (list, tuple)) or not isinstance(people, int):
        raise BadInput([Problem(
            "garments", "A measuring sheet takes a list of garments and a number of people.")])
    paper = str(request.get("paper") or "A4")
    garments = [garment_named(name) for name in dict.fromkeys(map(str, names))]
    data = sheet(garments, people, unit_of(request), paper=paper if paper in FORMS else "A4")
    return {"bytes": data, "type": "application/pdf", "name": "measuring-sheet.pdf"}


def kit_in_words(kit: Kit) -> str:
    """What a kit is, in one line: “A kit of 4 wearers, 11 garments: Marram Farm”."""
    counts = f"{_count(len(kit.wearers), 'wearer')}, {_count(len(kit.garments), 'garment')}"
    return f"A kit of {counts}{f': {kit.title}' if kit.title else ''}"


def _count(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"


def _text(request: Mapping[str, Any], field: str) -> str:
    given = request.get(field)
    text = writable(given) if isinstance(given, str) else ""
    if not text:
        raise BadInput([Problem(field, f"A {field} to hand over must be a text, not {quoted(str(given))}.")])
    return text
