"""The sizes of page that a booklet or a list is set on."""

from dataclasses import dataclass

from ..words.problems import BadInput, Problem
from ..words.units import quoted


@dataclass(frozen=True)
class PageForm:
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


FORMS: dict[str, PageForm] = {
    "A4": PageForm(210, 297, 16, 9.5),
    "Letter": PageForm(215.9, 279.4, 16, 9.5),
    "A5 folded": PageForm(148, 210, 12, 8.5, folded=True),
    "A5": PageForm(148, 210, 12, 8.5),
    "phone": PageForm(92, 164, 5, 9.5),
}
"""source: ISO 216:2007 for A4 and A5; ANSI/ASME Y14.1 for Letter. `phone` is a page as large as a
screen held upright, so that nothing need be zoomed."""


def read_form(text: str) -> tuple[str, PageForm]:
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
