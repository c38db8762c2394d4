"""The command line's verb `wear`: a garment hung on its wearer's figure, seen before it is cut."""

import argparse
from pathlib import Path
from typing import Any

from ..desk.drafts import draft
from ..desk.order import read_order
from ..garments import GARMENTS
from ..words.problems import BadInput, Problem
from .body_verb import add_asked_arguments, asked_of
from .writing import write_files


def add_wear_verb(verbs: Any) -> None:
    """`wear GARMENT`: writes worn.json and worn.svg."""
    parser = verbs.add_parser(
        "wear", help="hang a garment on its wearer's figure, and draw it",
        description="Sews the pieces together in the computer, hangs them on a figure of the measurements "
        "and draws front, side and back. It informs; the checks of `draft` judge.")
    parser.add_argument("garment", choices=tuple(GARMENTS))
    add_asked_arguments(parser)
    parser.add_argument("--cloth-weight", metavar="G", help="of the cloth in g/m² (300 wool, 180 linen)")
    parser.add_argument("--fibre", help="of the cloth: wool or linen")
    parser.add_argument("--colour", "--dye", help="a colour or a dye")
    parser.add_argument("--out", default="worn", metavar="DIR", help="folder for the files (worn)")
    parser.set_defaults(act=_wear)


def _wear(given: argparse.Namespace) -> int:
    from ..desk.wearing import wear, worn_files

    weight = _weight(given.cloth_weight)
    drafted = draft(read_order({
        **asked_of(given),
        "fibre": given.fibre,
        "colour": given.colour,
    }))
    seen = wear(drafted, weight)
    files = worn_files(drafted, seen)
    write_files(Path(given.out), files, lambda path: path.as_posix() in files)
    print(f"{drafted.pattern.title}, worn")
    for sentence in seen.sentences:
        print(f"  {sentence}")
    print(f"\nWritten to {given.out}: {', '.join(files)} ({seen.worn.rounds} rounds, "
          f"{seen.worn.seconds:.1f} s)")
    return 0


def _weight(text: str | None) -> float | None:
    """Raises BadInput."""
    if text is None:
        return None
    try:
        return float(text.replace(",", "."))
    except ValueError:
        raise BadInput([Problem(
            "cloth_weight", f"--cloth-weight “{text[:20]}” is not a weight in g/m² such as 250.")]) from None
