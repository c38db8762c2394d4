"""The booklet: everything a sewer wants beside the cloth, from the measurements to the last hem."""

from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import TYPE_CHECKING

from ..pattern import Pattern
from ..problems import BadInput, Problem
from ..sewing import Material, Plan, sewing_plan
from ..truing import Check
from ..units import Unit, quoted
from .ink import MM, prepare_reportlab
from .text import clean

if TYPE_CHECKING:
    from ..period.counsel import Counsel
    from .flow import Drawing


@dataclass(frozen=True)
class Form:
    """A size of page in mm, its margin, its type in points; `folded` sets two on a sheet."""

    width: float
    height: float
    margin: float
    type_size: float
    folded: bool = False

    @property
    def wide(self) -> bool:
        """Whether a picture has room beside its text."""
        return self.width > 180


FORMS: dict[str, Form] = {
    "A4": Form(210, 297, 16, 9.5),
    "Letter": Form(215.9, 279.4, 16, 9.5),
    "A5 folded": Form(148, 210, 12, 8.5, folded=True),
    "A5": Form(148, 210, 12, 8.5),
    "phone": Form(92, 164, 5, 9.5),
}
"""source: ISO 216:2007 for A4 and A5; ANSI/ASME Y14.1 for Letter. `phone` is a page as large as a
screen held upright, so that nothing need be zoomed."""


def read_form(text: str) -> tuple[str, Form]:
    """The booklet's form called so, in small or capital letters. Raises BadInput naming those there
    are."""
    wanted = " ".join(text.split()).lower()
    for name, form in FORMS.items():
        if name.lower() == wanted:
            return name, form
    raise BadInput([Problem(
        "paper",
        f"There is no booklet on {quoted(text)}: choose one of {', '.join(FORMS)}.",
    )])


def booklet(
    pattern: Pattern,
    *,
    plan: Plan | None = None,
    paper: str = "A4",
    unit: Unit = "cm",
    name: str | None = None,
    checks: Sequence[Check] = (),
    chalk: "Sequence[Drawing | str]" = (),
    to_buy: Sequence[Material] = (),
    advice: "Counsel | None" = None,
) -> bytes:
    """A PDF, the same bytes for the same input; `paper` is one of FORMS, lengths in `unit`.

    `chalk` holds the chalk plan's drawings and sentences, `to_buy` the cloth that a lay found,
    `advice` what there is to say on time, place and rank. Raises BadInput for a paper that is none of them.
    """
    _, form = read_form(paper)
    prepare_reportlab()
    from reportlab.platypus import BaseDocTemplate, Frame, PageTemplate

    from .booklet_sections import Sections
    from .flow import Setter, Styles
    from .imposition import FOOT_HEIGHT, Book

    whose = clean(name or "")
    title = clean(pattern.title)
    foot = f"{title} · {whose}" if whose else title
    width, height, margin = form.width * MM, form.height * MM, form.margin * MM
    setter = Setter(Styles.sized(form.type_size), width - 2 * margin, unit)
    sections = Sections(pattern, plan or sewing_plan(pattern), form, setter, whose)
    story = sections.story(checks=checks, chalk=chalk, to_buy=to_buy, advice=advice)
    buffer = BytesIO()
    low = max(margin, FOOT_HEIGHT + 14)
    frame = Frame(margin, low, width - 2 * margin, height - margin - low, 0, 0, 0, 0)
    document = BaseDocTemplate(
        buffer, pagesize=(width, height), pageTemplates=[PageTemplate("page", [frame])],
        title=foot, author="Ellwand", creator="Ellwand", subject="Sewing booklet", lang="en",
        invariant=1, pageCompression=1,
    )
    document.build(story, canvasmaker=lambda *a, **k: Book(*a, foot=foot, folded=form.folded, **k))
    return buffer.getvalue()
