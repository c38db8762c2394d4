"""The fonts embedded in PDFs: DejaVu Sans 2.37, whose licence stands beside them.

They cover the Latin, Greek and Cyrillic alphabets, so that Łucja, Þóra and Жанна print.
The page fetches them apart from the rest of the package, after the first pattern is drawn.
"""

from pathlib import Path

REGULAR = "DejaVuSans"
BOLD = "DejaVuSans-Bold"


ADVANCES = (
    318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337, 636, 636, 636, 636,
    636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632, 575, 775,
    752, 295, 295, 656, 557, 863, 748, 787, 603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390,
    337, 390, 838, 500, 500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612,
    635, 635, 411, 521, 392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838,
)
"""How far the letters from space to tilde take a line in REGULAR, in thousandths of its size.
source: the font file's table hmtx; the widest rounded up."""


def font_path(name: str) -> Path:
    """The TrueType file of the font called `name` (REGULAR or BOLD).

    Raises FileNotFoundError, with a sentence, when the file is not (or not yet) there.
    """
    path = Path(__file__).with_name(f"{name}.ttf")
    if not path.is_file():
        raise FileNotFoundError(
            f"The font {name} is not in {path.parent.name}/: "
            f"on the page it is still loading, elsewhere the installation is incomplete."
        )
    return path
