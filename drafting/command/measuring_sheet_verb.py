"""The command line's `measuring-sheet`: a blank sheet for the measurements of people who will send theirs."""

import argparse
from pathlib import Path
from typing import Any

from ..desk.values import UNITS
from ..garments import GARMENTS
from ..sheets.measuring_sheet import MOST_PEOPLE, measuring_sheet
from ..sheets.page_forms import FORMS
from .writing import write_files

NAME = "measuring-sheet.pdf"


def add_measuring_sheet_verb(verbs: Any) -> None:
    """`measuring-sheet GARMENT … --out DIR`."""
    parser = verbs.add_parser("measuring-sheet", help="a blank sheet for measurements, to print or send")
    parser.add_argument("garments", nargs="+", choices=tuple(GARMENTS), metavar="GARMENT",
                        help="what will be drafted: the sheet asks for what they need")
    parser.add_argument("--people", type=int, default=4, help=f"columns to write in, up to {MOST_PEOPLE} (4)")
    parser.add_argument("--unit", default="cm", choices=UNITS, help="of the tape (cm)")
    parser.add_argument("--paper", default="A4", help=f"{', '.join(FORMS)} (A4)")
    parser.add_argument("--out", default=".", metavar="DIR", help="folder for the sheet (here)")
    parser.set_defaults(act=_measuring_sheet)


def _measuring_sheet(given: argparse.Namespace) -> int:
    garments = [GARMENTS[name] for name in dict.fromkeys(given.garments)]
    data = measuring_sheet(garments, given.people, given.unit, paper=given.paper)
    write_files(Path(given.out), {NAME: data}, ours=lambda path: False)
    given.written = 0
    print(f"Written to {given.out}: {NAME}, for {given.people} people")
    return 0
