"""A family's next season, from its kit: as a list, and as a page to print. All of these raise BadInput."""

from datetime import date
from typing import Any

from ..desk.values import Values, text_of, unit_of
from ..kit.family import family_season
from ..kit.family_list import season_listing
from ..kit.listing import listing_sheet, listing_text, listing_values, read_listing
from ..sheets.page_forms import FORMS
from ..words.problems import Problem
from .page_kit import kit_from_page, told


def season_list(request: Values) -> dict[str, Any]:
    """What the `kit`'s text asks for on a `date`, today where none is given: `listing` and `text`;
    `steps` for the work of letting out step by step."""
    aside: list[Problem] = []
    kit = kit_from_page(text_of(request, "kit"), aside)
    season = family_season(kit, text_of(request, "date") or date.today().isoformat())
    made = season_listing(season, unit_of(request), kit.title, steps=bool(request.get("steps")))
    return {"listing": listing_values(made), "text": listing_text(made), "set_aside": told(aside)}


def season_sheet(request: Values) -> dict[str, Any]:
    """A `listing` that was made before, as a PDF to print, on `paper`."""
    paper = text_of(request, "paper")
    made = read_listing(request.get("listing"))
    data = listing_sheet(made, paper if paper in FORMS else "A4", subject="The season")
    return {"bytes": data, "type": "application/pdf", "name": "season.pdf"}
