"""The booklet: everything a sewer wants beside the cloth, from the measurements to the last hem."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from ..checks.truing import Check
from ..pattern import Pattern
from ..sewing import Material, SewingPlan, sewing_plan
from ..words.units import Unit
from .ink import MM, prepare_reportlab
from .page_forms import read_form
from .text import clean

if TYPE_CHECKING:
    from ..period.counsel import Counsel
    from .flow import Drawing


def booklet(
    pattern: Pattern,
    *,
    plan: SewingPlan | None = None,
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
    from .booklet_sections import Sections
    from .flow import Setter, Styles
    from .imposition import bound

    whose = clean(name or "")
    title = clean(pattern.title)
    foot = f"{title} · {whose}" if whose else title
    setter = Setter(Styles.sized(form.type_size), (form.width - 2 * form.margin) * MM, unit)
    sections = Sections(pattern, plan or sewing_plan(pattern), form, setter, whose)
    story = sections.story(checks=checks, chalk=chalk, to_buy=to_buy, advice=advice)
    return bound(story, form, foot=foot, subject="Sewing booklet")
