"""What can be taken away of a draft: its files, each written by a sheet, a lay or the booklet."""

import json
from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from ..checks.truing import Check
from ..pattern import Pattern, as_json
from ..words.problems import BadInput, Problem
from .requests import (
    Request,
    age_of,
    cloth_of,
    draft,
    growth,
    name_of,
    sewing_choices,
    stature_of,
    unit_of,
)

if TYPE_CHECKING:
    from ..period.counsel import Counsel


def file(request: Request) -> dict[str, Any]:
    """`bytes`, media `type` and `name` of the file that a request names as `kind`; raises BadInput."""
    kind = request.get("kind")
    writer = FILES.get(kind) if isinstance(kind, str) else None
    if writer is None:
        raise BadInput([Problem("kind", f"Ask for one of these files: {', '.join(FILES)}.")])
    pattern, checks, _ = draft(request)
    data, media_type, name = writer(pattern, checks, request)
    return {"bytes": data, "type": media_type, "name": name}


def _pattern_file(
    pattern: Pattern, checks: tuple[Check, ...], request: Request
) -> tuple[bytes, str, str]:
    text = json.dumps(as_json(pattern, checks), ensure_ascii=False, indent=1)
    return text.encode(), "application/json", f"{pattern.garment}-pattern.json"


def _svg_file(
    pattern: Pattern, checks: tuple[Check, ...], request: Request
) -> tuple[bytes, str, str]:
    from ..sheets.svg import pieces_svg

    text = pieces_svg(pattern, unit=unit_of(request), name=name_of(request))
    return text.encode(), "image/svg+xml", f"{pattern.garment}-pieces.svg"


def _pdf_file(
    pattern: Pattern, checks: tuple[Check, ...], request: Request
) -> tuple[bytes, str, str]:
    from ..sheets.tiled_pdf import tiled_pdf

    paper = str(request.get("paper") or "A4")
    pattern = replace(pattern, notes=(*growth(request, pattern), *pattern.notes))
    data = tiled_pdf(pattern, paper=paper, unit=unit_of(request), name=name_of(request))
    return data, "application/pdf", f"{pattern.garment}-{paper.lower()}.pdf"


def _counsel(request: Request) -> "Counsel | None":
    """What the booklet says of time, place and rank, where anything was asked of them."""
    from ..period.counsel import counsel, is_asked

    if not is_asked(request):
        return None
    return counsel(request, age_months=age_of(request), stature=stature_of(request))


def _booklet_file(
    pattern: Pattern, checks: tuple[Check, ...], request: Request
) -> tuple[bytes, str, str]:
    from ..sewing.plan import sewing_plan
    from ..sheets.booklet import booklet

    form = str(request.get("booklet_paper") or "A4")
    unit = unit_of(request)
    chalk: list[Any] = []
    to_buy: list[Any] = []
    if cloth_of(request):
        from .lay_results import booklet_pages
        from .lays import lay

        chalk, to_buy = booklet_pages(lay(request), unit)
    pattern = replace(pattern, notes=(*growth(request, pattern), *pattern.notes))
    data = booklet(
        pattern, plan=sewing_plan(pattern, sewing_choices(request, pattern)), paper=form, unit=unit,
        name=name_of(request), checks=checks, chalk=chalk, to_buy=to_buy,
        advice=_counsel(request),
    )
    return data, "application/pdf", f"{pattern.garment}-booklet.pdf"


def _lay_file(
    pattern: Pattern, checks: tuple[Check, ...], request: Request
) -> tuple[bytes, str, str]:
    from .lay_results import lay_files
    from .lays import lay

    kind = str(request["kind"])
    files = lay_files(
        lay(request), unit_of(request), title=pattern.title, name=name_of(request),
        paper=str(request.get("paper") or "A4"),
    )
    if kind not in files:
        raise BadInput([Problem(
            "kind", f"This garment is cut from one cloth: its lay is {kind.replace('-lining', '')}."
        )])
    return files[kind], _MEDIA_TYPES[kind.rsplit(".")[-1]], f"{pattern.garment}-{kind}"


_Writer = Callable[[Pattern, tuple[Check, ...], Request], tuple[bytes, str, str]]
FILES: dict[str, _Writer] = {
    "pattern.json": _pattern_file, "pieces.svg": _svg_file, "tiled.pdf": _pdf_file,
    "lay.json": _lay_file, "lay.svg": _lay_file, "chalk-plan.pdf": _lay_file,
    "lay-lining.json": _lay_file, "lay-lining.svg": _lay_file, "booklet.pdf": _booklet_file,
}
_MEDIA_TYPES = {"json": "application/json", "svg": "image/svg+xml", "pdf": "application/pdf"}
