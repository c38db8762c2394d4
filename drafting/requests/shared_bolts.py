"""A bolt of the shopping list that several garments are cut from: its one lay, to look at and to take away.

The last list that was made is kept, so that a lay that was found is never searched again. These raise
BadInput.
"""

from collections.abc import Generator
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from ..desk.lay_search import search_seconds
from ..desk.steps import at_one_go
from ..desk.values import Values, text_of
from ..words.problems import BadInput, Problem
from .page_kit import kit_from_page

if TYPE_CHECKING:
    from ..kit import Kit
    from ..kit.shopping import Bolt, Shopping, ShopProgress

_last: dict[str, tuple["Kit", "Shopping"]] = {}
"""The last kit that was read and its list, by the kit's text; one at most."""


def shopped(text: str, seconds: float) -> Generator["ShopProgress", bool | None, "Shopping"]:
    """The shopping of a kit in text, told as `shop_in_steps` tells it, and kept."""
    from ..kit.shopping import shop_in_steps

    aside: list[Problem] = []
    kit = kit_from_page(text, aside)
    shopping = yield from shop_in_steps(kit, seconds)
    shopping = replace(shopping, problems=(*aside, *shopping.problems))
    _last.clear()
    _last[text] = kit, shopping
    return shopping


def bolts_in_words(shopping: "Shopping") -> list[dict[str, Any]]:
    """What bolts there are: each one's name and how many garments are cut from it."""
    return [{"name": bolt.name, "garments": len(bolt.lay.orders)} for bolt in shopping.bolts]


def bolt_lay(request: Values) -> dict[str, Any]:
    """The lay of the `bolt` by its name, of the kit in `kit`, as `lay` tells one garment's."""
    from ..desk.lay_results import bolt_in_words

    kit, bolt = _bolt(request)
    return bolt_in_words(bolt.lay, kit.unit)


def bolt_file(request: Values) -> dict[str, Any]:
    """A file of that lay, by its `kind`: chalk-plan.pdf, chalk-plan.json, lay.json or lay.svg."""
    from ..desk.lay_results import bolt_files
    from ..desk.takeaway import MEDIA_TYPES

    kit, bolt = _bolt(request)
    files = bolt_files(bolt.lay, kit.unit, title=kit.title or "Kit", name=bolt.name,
                       paper=text_of(request, "paper") or "A4")
    kind = text_of(request, "kind")
    if kind not in files:
        raise BadInput([Problem("kind", f"Ask for one of these files of a bolt: {', '.join(files)}.")])
    return {"bytes": files[kind], "type": MEDIA_TYPES[kind.rsplit(".")[-1]], "name": f"bolt-{kind}"}


def _bolt(request: Values) -> tuple["Kit", "Bolt"]:
    text = str(request.get("kit") or "")
    if text not in _last:
        at_one_go(shopped(text, search_seconds(request)))
    kit, shopping = _last[text]
    wanted = text_of(request, "bolt")
    for bolt in shopping.bolts:
        if bolt.name == wanted:
            return kit, bolt
    names = ", ".join(bolt.name for bolt in shopping.bolts) or "none"
    raise BadInput([Problem("bolt", f"The kit's bolts are {names}: ask for one of them.")])
