"""Pages bound: numbered when all are known, and set two to a sheet where they are to be folded."""

from collections.abc import Sequence
from io import BytesIO
from typing import Any

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate

from .fonts import REGULAR
from .ink import MM
from .page_forms import PageForm

FOOT_SIZE = 7.5
FOOT_HEIGHT = 18.0
"""Points."""


def bound(story: Sequence[Flowable], form: PageForm, *, foot: str, subject: str) -> bytes:
    """The story on pages of that form as a PDF, the same bytes for the same story; `foot` names it."""
    width, height, margin = form.width * MM, form.height * MM, form.margin * MM
    low = max(margin, FOOT_HEIGHT + 14)
    frame = Frame(margin, low, width - 2 * margin, height - margin - low, 0, 0, 0, 0)
    buffer = BytesIO()
    document = BaseDocTemplate(
        buffer, pagesize=(width, height), pageTemplates=[PageTemplate("page", [frame])],
        title=foot, author="Ellwand", creator="Ellwand", subject=subject, lang="en",
        invariant=1, pageCompression=1,
    )
    document.build(list(story), canvasmaker=lambda *a, **k: Book(*a, foot=foot, folded=form.folded, **k))
    return buffer.getvalue()


class Book(Canvas):  # type: ignore[misc]
    """Keeps every page until `save`, then writes them with a foot line, and headings as outline.

    `folded` sets them as a booklet: two pages side by side on a sheet of twice the width, in the
    order in which the sheets, printed on both sides and folded together, read through.
    """

    def __init__(self, *args: Any, foot: str = "", folded: bool = False, **more: Any) -> None:
        super().__init__(*args, **more)
        self._foot = foot
        self._folded = folded
        self._kept: list[dict[str, Any]] = []
        self._headings: list[tuple[int, str]] = []

    def note_heading(self, title: str) -> None:
        """Lists the page being drawn under this title in the outline."""
        self._headings.append((len(self._kept), title))

    def showPage(self) -> None:  # noqa: N802 - reportlab's name
        self._kept.append(dict(self.__dict__))
        self._startPage()

    def save(self) -> None:
        pages, headings = self._kept, self._headings
        if self._folded:
            self._impose(pages)
        else:
            for number, page in enumerate(pages):
                self.__dict__.update(page)
                for index, (at, title) in enumerate(headings):
                    if at == number:
                        self.bookmarkPage(f"h{index}")
                        self.addOutlineEntry(title, f"h{index}", 0)
                self._number(number, len(pages))
                super().showPage()
        super().save()

    def _number(self, number: int, count: int) -> None:
        self.setFillGray(0.25)
        self.setFont(REGULAR, FOOT_SIZE)
        width = self._pagesize[0] / (2 if self._folded else 1)
        self.drawCentredString(width / 2, FOOT_HEIGHT, f"{self._foot} · {number + 1} / {count}")

    def _impose(self, pages: list[dict[str, Any]]) -> None:
        width, height = self._pagesize
        names = []
        for number, page in enumerate(pages):
            names.append(f"page{number + 1}")
            self.beginForm(names[-1], 0, 0, width, height)
            self._code.extend(page["_code"])
            self.endForm()
        self.setPageSize((2 * width, height))
        for left, right in sheets_of(len(pages)):
            for place, number in enumerate((left, right)):
                if number < len(pages):
                    self.saveState()
                    self.translate(place * width, 0)
                    self.doForm(names[number])
                    self._number(number, len(pages))
                    self.restoreState()
            super().showPage()


def sheets_of(pages: int) -> list[tuple[int, int]]:
    """For each side of each sheet the page on its left and on its right, from 0.

    Pages at or over `pages` are blank. source: saddle-stitched booklets; the two page numbers on a
    side add up to the whole number of places plus one, when counted from 1.
    """
    places = -(-pages // 4) * 4
    found = []
    for i in range(places // 2):
        outer, inner = places - 1 - i, i
        found.append((outer, inner) if i % 2 == 0 else (inner, outer))
    return found
