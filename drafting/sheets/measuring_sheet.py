"""A blank sheet for the measurements of several people: what garments need, and where the tape goes."""

from collections.abc import Sequence

from ..body.measures import MEASURES, Measure
from ..garments.garment import Garment
from ..words.problems import BadInput, Problem
from ..words.units import Unit
from .ink import MM, prepare_reportlab
from .page_forms import read_form
from .text import clean

MOST_PEOPLE = 6
"""Columns that a number can still be written in."""

_TAPE_IN = {"cm": "centimetres", "in": "inches", "mm": "millimetres", "m": "metres"}


def measuring_sheet(
    garments: Sequence[Garment], people: int, unit: Unit = "cm", *, paper: str = "A4"
) -> bytes:
    """A PDF with room for so many people, the same bytes for the same input.

    Raises BadInput for no garment, for a number of people that is not 1 to MOST_PEOPLE, and for another paper
    than a booklet takes.
    """
    if not garments:
        raise BadInput([Problem("garments", "A measuring sheet is for garments: name at least one.")])
    if not 1 <= people <= MOST_PEOPLE:
        raise BadInput([Problem("people", f"A sheet has room for 1 to {MOST_PEOPLE} people, not {people}.")])
    _, form = read_form(paper)
    prepare_reportlab()
    from .blank_table import blank_table
    from .flow import Setter, Styles
    from .imposition import bound

    setter = Setter(Styles.sized(form.type_size), (form.width - 2 * form.margin) * MM, unit)
    named = ", ".join(garment.title.lower() for garment in garments)
    needed, helpful = asked_for(garments)
    story = [
        setter.text("Measurements", setter.styles.title),
        setter.text(f"For: {named}. Over a shirt or nothing, the tape close but not tight. Write "
                    f"{_TAPE_IN[unit]}, or the unit beside the number."),
        blank_table(setter, needed, people, ("Name", "Measured on", "Age, of a child")),
    ]
    if helpful:
        story += [
            setter.heading("These help it to fit"),
            setter.text("Where one is left empty it is estimated from the others."),
            blank_table(setter, helpful, people, ("Name",)),
        ]
    return bound(story, form, foot=clean(f"Measurements for {named}"), subject="Measuring sheet")


def asked_for(garments: Sequence[Garment]) -> tuple[list[Measure], list[Measure]]:
    """(what any of them needs, what helps besides), each in tape order."""
    needs = {name for garment in garments for name in garment.needs}
    uses = {name for garment in garments for name in garment.uses} - needs
    needed, helpful = ([m for m in MEASURES.values() if m.name in names] for names in (needs, uses))
    return needed, helpful
