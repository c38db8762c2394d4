"""The command line's verb `season`: what a family's clothes ask for on a day, from its kit alone."""

import argparse
from datetime import date
from pathlib import Path
from typing import Any

from ..kit.family import family_season
from ..kit.family_list import season_listing
from ..kit.listing import listing_sheet, listing_text
from ..words.problems import Problem
from .kit_verb import read_kit_named
from .writing import write_files


def add_season_verb(verbs: Any) -> None:
    """`season KIT --date 2027-04-01`."""
    parser = verbs.add_parser(
        "season", help="what fits until when, what to let out, hand on and make new",
        description="For every child of a kit who grows, from the measurements, their date and the growth "
        "curve.")
    parser.add_argument("file", help="a kit file, or “demo” for Marram Farm's")
    parser.add_argument("--date", metavar="DATE", help="the day it is asked for, such as 2027-04-01 (today)")
    parser.add_argument("--steps", action="store_true", help="the work of letting out step by step")
    parser.add_argument("--paper", default="A4", help="of the printed page (A4)")
    parser.add_argument("--out", metavar="DIR", help="also write season.txt and season.pdf into this folder")
    parser.set_defaults(act=_season)


def _season(given: argparse.Namespace) -> int:
    aside: list[Problem] = []
    kit, _ = read_kit_named(given.file, aside)
    season = family_season(kit, given.date or date.today().isoformat())
    listing = season_listing(season, kit.unit, kit.title, steps=given.steps)
    text = listing_text(listing)
    if given.out:
        sheet = listing_sheet(listing, given.paper, subject="The season")
        files = {"season.txt": text.encode(), "season.pdf": sheet}
        write_files(Path(given.out), files, lambda path: path.as_posix() in files)
    print(text, end="")
    for problem in aside:
        print(problem.message)
    return 1 if season.problems or aside else 0
