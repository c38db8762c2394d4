"""A list as a printable sheet, with a box to tick before each thing to get."""

from collections.abc import Sequence
from dataclasses import dataclass

from .ink import MM, prepare_reportlab
from .page_forms import read_form
from .text import clean

TOGETHER = 12
"""Rows up to which a part is not broken over two pages."""


@dataclass(frozen=True)
class ListPart:
    """Rows of (what, how much, remark) under a title, and sentences under them."""

    title: str
    rows: Sequence[tuple[str, str, str]]
    notes: Sequence[str] = ()
    to_tick: bool = False


def list_sheet(
    title: str, parts: Sequence[ListPart], *, paper: str = "A4", subject: str = "Shopping list"
) -> bytes:
    """A PDF, the same bytes for the same input; `paper` is one of booklet.FORMS that is not folded.

    Raises BadInput for another paper.
    """
    _, form = read_form(paper)
    prepare_reportlab()
    from .flow import Setter, Styles
    from .imposition import bound

    setter = Setter(Styles.sized(form.type_size), (form.width - 2 * form.margin) * MM, "cm")
    story = [setter.text(title, setter.styles.title)]
    for part in parts:
        box = "☐ " if part.to_tick else ""
        rows = [(f"{box}{what}", amount, remark) for what, amount, remark in part.rows]
        block = [setter.heading(part.title)]
        block += [setter.table(("", "", ""), rows, (4, 2, 5))] if rows else []
        block += [setter.text(note, setter.styles.small) for note in part.notes]
        story += [setter.together(block)] if len(rows) <= TOGETHER else block
    return bound(story, form, foot=clean(title), subject=subject)
