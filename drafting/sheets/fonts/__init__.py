"""The fonts embedded in PDFs: DejaVu Sans 2.37, whose licence stands beside them.

They cover the Latin, Greek and Cyrillic alphabets, so that Łucja, Þóra and Жанна print.
The page fetches them apart from the rest of the package, after the first pattern is drawn.
"""

from pathlib import Path

REGULAR = "DejaVuSans"
BOLD = "DejaVuSans-Bold"


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
