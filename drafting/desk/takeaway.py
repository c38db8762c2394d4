"""What can be taken away of a draft: its files, each written by a sheet, a lay or the booklet."""

import json
import unicodedata
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, Any

from ..pattern import Pattern, as_json
from ..words.problems import BadInput, Problem
from .drafts import Draft, growth, sewing_choices
from .lay_search import AS_USUAL, LaySearch

if TYPE_CHECKING:
    from ..lay.bolt import BoltLay
    from ..period.counsel import Counsel
    from ..sheets.tiled_pdf import TiledSheets

USUAL_PAPER = "A4"
PRINTED = "\u0250"
"""The face that sheets are set in has every letter before this one. source: DejaVu Sans 2.37, cmap."""


@dataclass(frozen=True)
class TakenFile:
    """A file's bytes, its media type, and a name for it where it stands alone."""

    data: bytes
    media_type: str
    name: str


@dataclass(frozen=True)
class Takeaway:
    """The files of one draft, on `paper`, its booklet on `booklet_paper`, laid as `search` says.

    Sheets to print are as few as will do, or show everything `whole`.
    Without a `search` it is laid elsewhere, as with all else of a kit's bolt: its booklet then has no lay of
    its own. Everything that several files show is worked out once.
    """

    drafted: Draft
    search: LaySearch | None = AS_USUAL
    paper: str = USUAL_PAPER
    booklet_paper: str = USUAL_PAPER
    whole: bool = False

    def file(self, kind: object) -> TakenFile:
        """Raises BadInput for a kind that is none of FILES, or cannot be had of this draft."""
        writer = FILES.get(kind) if isinstance(kind, str) else None
        if writer is None:
            raise BadInput([Problem("kind", f"Ask for one of these files: {', '.join(FILES)}.")])
        return writer(self, str(kind))

    @cached_property
    def lays(self) -> "tuple[BoltLay, ...]":
        from .lays import lay

        return lay(self.drafted, self.search or AS_USUAL)

    @cached_property
    def lay_files(self) -> Mapping[str, bytes]:
        from .lay_results import lay_files

        order = self.drafted.order
        return lay_files(
            self.lays, order.unit, title=self.drafted.pattern.title, name=order.name or None,
            paper=self.paper,
        )

    @cached_property
    def _as_printed(self) -> Pattern:
        """The pattern with what its PDFs say besides: how long it fits a child, what they cannot print."""
        pattern, name = self.drafted.pattern, _about_the_name(self.drafted.order.name)
        return replace(pattern, notes=(*name, *growth(self.drafted), *pattern.notes))

    def _pattern(self, kind: str) -> TakenFile:
        content = as_json(self.drafted.pattern, self.drafted.checks)
        text = json.dumps(content, ensure_ascii=False, indent=1)
        return self._named(text.encode(), "application/json", "pattern.json")

    def _svg(self, kind: str) -> TakenFile:
        from ..sheets.svg import pieces_svg

        order = self.drafted.order
        text = pieces_svg(self.drafted.pattern, unit=order.unit, name=order.name or None)
        return self._named(text.encode(), "image/svg+xml", "pieces.svg")

    @cached_property
    def sheets(self) -> "TiledSheets":
        """What will be printed; how many sheets that takes is known without making them."""
        from ..sheets.tiled_pdf import tiled_sheets

        order = self.drafted.order
        return tiled_sheets(
            self._as_printed, paper=self.paper, unit=order.unit, name=order.name or None, whole=self.whole
        )

    def _pdf(self, kind: str) -> TakenFile:
        return self._named(self.sheets.pdf(), "application/pdf", f"{self.paper.lower()}.pdf")

    def _booklet(self, kind: str) -> TakenFile:
        from ..sewing.plan import sewing_plan
        from ..sheets.booklet import booklet

        order = self.drafted.order
        chalk: list[Any] = []
        to_buy: list[Any] = []
        if self.search and (order.cloths or self.search.is_of_a_lay):
            from .lay_results import booklet_pages

            chalk, to_buy = booklet_pages(self.lays, order.unit)
        pattern = self._as_printed
        data = booklet(
            pattern, plan=sewing_plan(pattern, sewing_choices(self.drafted)), paper=self.booklet_paper,
            unit=order.unit, name=order.name or None, checks=self.drafted.checks, chalk=chalk,
            to_buy=to_buy, advice=_counsel(self.drafted),
        )
        return self._named(data, "application/pdf", "booklet.pdf")

    def _lay(self, kind: str) -> TakenFile:
        if kind not in self.lay_files:
            raise BadInput([Problem(
                "kind", f"This garment is cut from one cloth: its lay is {kind.replace('-lining', '')}."
            )])
        return self._named(self.lay_files[kind], MEDIA_TYPES[kind.rsplit(".")[-1]], kind)

    def _named(self, data: bytes, media_type: str, name: str) -> TakenFile:
        return TakenFile(data, media_type, f"{self.drafted.pattern.garment}-{name}")


def _about_the_name(name: str) -> tuple[str, ...]:
    if all(letter < PRINTED for letter in name):
        return ()
    from ..sheets.ink import not_printed

    lost = not_printed(name)
    if not lost:
        return ()
    kinds = dict.fromkeys(unicodedata.name(letter, "unknown").split()[0].lower() for letter in lost)
    codes = ", ".join(f"U+{ord(letter):04X}" for letter in lost[:6])
    return (
        f"The name holds {len(lost)} {'letter' if len(lost) == 1 else 'letters'} that this sheet cannot "
        f"print ({', '.join(list(kinds)[:3])}: {codes}): an empty box stands for "
        "each. Write the name in by hand.",
    )


def _counsel(drafted: Draft) -> "Counsel | None":
    """What the booklet says of time, place and rank, where anything was asked of them."""
    from ..period.counsel import counsel

    asked = drafted.order.impression
    return counsel(asked) if asked.asks else None


FILES: dict[str, Callable[[Takeaway, str], TakenFile]] = {
    "pattern.json": Takeaway._pattern, "pieces.svg": Takeaway._svg, "tiled.pdf": Takeaway._pdf,
    "lay.json": Takeaway._lay, "lay.svg": Takeaway._lay, "chalk-plan.pdf": Takeaway._lay,
    "chalk-plan.json": Takeaway._lay, "lay-lining.json": Takeaway._lay, "lay-lining.svg": Takeaway._lay,
    "booklet.pdf": Takeaway._booklet,
}
MEDIA_TYPES = {"json": "application/json", "svg": "image/svg+xml", "pdf": "application/pdf"}
