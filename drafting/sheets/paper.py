"""Sizes of paper, by the names printers know, and how a sheet of it is laid out."""

from dataclasses import dataclass

from ..words.problems import BadInput, Problem
from ..words.units import quoted

INCH = 25.4

MARGIN = 10.0
"""mm left white all round: home printers cannot print nearer to the edge than 3 to 6.
common practice, no source."""

FOOT = 6.0
"""mm under the drawing for the line that names the page."""

BLEED = 1.0
"""mm that is shown beyond the drawing's bounds, so that a line along them keeps its whole width."""

LARGEST = 5000.0
"""mm: PDF readers refuse a page over 14,400 points (5,080 mm).
source: ISO 32000-1:2008, annex C.2, table C.1."""


@dataclass(frozen=True, slots=True)
class Paper:
    """Width and height in mm as one holds it upright; 0 where it is as long as need be."""

    name: str
    width: float
    height: float


PAPERS: dict[str, Paper] = {
    paper.name: paper
    for paper in (
        Paper("A4", 210, 297),
        Paper("A3", 297, 420),
        Paper("A2", 420, 594),
        Paper("A1", 594, 841),
        Paper("A0", 841, 1189),
        Paper("Letter", 8.5 * INCH, 11 * INCH),
        Paper("Legal", 8.5 * INCH, 14 * INCH),
        Paper("Tabloid", 11 * INCH, 17 * INCH),
        Paper("full", 0, 0),
        Paper("roll 610", 610, 0),
        Paper("roll 914", 914, 0),
        Paper("roll 1067", 1067, 0),
    )
}
"""source: ISO 216:2007 for A sizes; ANSI/ASME Y14.1 for Letter (A) and Tabloid (B); Legal is a
US office size; rolls are named by their width in mm (24, 36 and 42 in). `full` is one sheet."""


def read_paper(text: str) -> Paper:
    """The paper called so, in small or capital letters. Raises BadInput naming those there are."""
    wanted = " ".join(text.split()).lower()
    for name, paper in PAPERS.items():
        if name.lower() == wanted:
            return paper
    raise BadInput([Problem(
        "paper",
        f"There is no paper {quoted(text)} here: choose one of {', '.join(PAPERS)}.",
    )])
