"""The command line's verb `recut`: what comes out of an old garment of a kit, whole or with joins."""

import argparse
from typing import Any

from ..desk.values import UNITS
from ..life.unpicked import WornPlace
from ..words.problems import BadInput, Problem
from ..words.units import LengthError, Unit, parse_length
from .cloths_verb import seconds_of
from .kit_verb import read_kit_named

HOW = "--worn “left sleeve=ACROSS,DOWN,WIDTH,LENGTH”, from the left and the top of the piece"


def add_recut_verb(verbs: Any) -> None:
    """`recut KIT GARMENT --for WEARER`."""
    parser = verbs.add_parser(
        "recut", help="what smaller garments come out of an old one",
        description="Unpicks a garment of the kit, leaves its worn places out, and lays others on it.")
    parser.add_argument("file", help="a kit file, or “demo” for Marram Farm's")
    parser.add_argument("garment", help="by its id or as “Hild's underdress”")
    parser.add_argument("--for", dest="wearer", default="", metavar="WEARER", help="for whom (everyone)")
    parser.add_argument("--worn", action="append", default=[], metavar="PIECE=X,Y,W,L",
                        help=f"a worn place: {HOW}; may repeat")
    parser.add_argument("--unit", default="cm", choices=UNITS, help="what a bare number means (cm)")
    parser.add_argument("--seconds", type=float, default=2.0, help="of search for each garment (2)")
    parser.set_defaults(act=_recut)


def _recut(given: argparse.Namespace) -> int:
    from ..kit.cut_again import garment_called, recut_garment, recut_lines

    aside: list[Problem] = []
    seconds = seconds_of(given)
    kit, _ = read_kit_named(given.file, aside)
    worn = [_worn(text, given.unit) for text in given.worn]
    found = recut_garment(kit, garment_called(kit, given.garment), given.wearer, worn, seconds=seconds)
    print("\n".join(recut_lines(found, given.unit)))
    return 0 if any(not one.left for one in found) else 1


def _worn(text: str, unit: Unit) -> WornPlace:
    """Raises BadInput."""
    piece, equals, rest = text.partition("=")
    numbers = rest.split(",")
    try:
        lengths = [parse_length(number, unit) for number in numbers]
    except LengthError as error:
        raise BadInput([Problem("worn", f"--worn {text[:60]}: {error}")]) from None
    if not equals or len(lengths) != 4 or not (lengths[2] and lengths[3]):
        raise BadInput([Problem("worn", f"--worn {text[:60]}: write it as {HOW}.")])
    return WornPlace(piece.strip(), *lengths)
