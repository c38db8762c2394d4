"""The command line's smaller verbs, `body` and `gallery`, and what all of its verbs share."""

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from ..body import read_measurements
from ..body.report import report
from ..desk.drafts import draft
from ..desk.order import Order, read_body
from ..desk.values import UNITS, age_of
from ..garments import GARMENTS, Garment, read_options
from ..kit.marram_farm import VOLUNTEERS, Volunteer
from ..sheets.gallery import gallery_svg
from ..words.problems import BadInput, Problem
from .writing import write_files


def add_asked_arguments(
    parser: argparse.ArgumentParser, *, unit: str = "what a bare number means (cm)",
    age: str = "a child's age: for estimates",
) -> None:
    """What a garment's verbs have in common, which `asked_of` reads."""
    parser.add_argument("-m", "--measure", action="append", default=[], metavar="NAME=LENGTH",
                        help="a body measurement; may repeat")
    parser.add_argument("-o", "--option", action="append", default=[], metavar="NAME=VALUE",
                        help="an option of the garment; may repeat")
    parser.add_argument("--unit", default="cm", choices=UNITS, help=unit)
    parser.add_argument("--sex", choices=("woman", "man"), help="for estimates only")
    parser.add_argument("--age-months", help=age)


def asked_of(given: argparse.Namespace) -> dict[str, Any]:
    """What a garment's verbs have in common, as an order reads it. Raises BadInput as `pairs` does."""
    return {
        "garment": given.garment,
        "measurements": pairs(given.measure, "-m"),
        "options": pairs(given.option, "-o"),
        "unit": given.unit,
        "sex": given.sex,
        "age_months": given.age_months,
    }


def pairs(texts: Sequence[str], flag: str) -> dict[str, str]:
    """NAME=VALUE texts as a dict. Raises BadInput naming those that are not written so."""
    pairs = {}
    problems = []
    for text in texts:
        name, equals, value = text.partition("=")
        if not equals or not name.strip():
            problems.append(Problem(flag, f"{flag} {text[:60]}: write it as NAME=VALUE."))
        pairs[name.strip().replace("-", "_")] = value
    if problems:
        raise BadInput(problems)
    return pairs


def add_body_verb(verbs: Any) -> None:
    """`body`: what is given, what is estimated from it, what must still be measured."""
    parser = verbs.add_parser("body", help="what is known of a body, and what is still to measure")
    parser.add_argument("-m", "--measure", action="append", default=[], metavar="NAME=LENGTH",
                        help="a body measurement; may repeat")
    parser.add_argument("--for", dest="garment", choices=tuple(GARMENTS),
                        help="ask for what this garment needs; without, for everything")
    parser.add_argument("--unit", default="cm", choices=UNITS, help="what a bare number means (cm)")
    parser.add_argument("--sex", choices=("woman", "man"), help="for estimates only")
    parser.add_argument("--age-months", help="a child's age")
    parser.set_defaults(act=_body)


def _body(given: argparse.Namespace) -> int:
    values, problems = read_measurements(pairs(given.measure, "-m"), given.unit)
    garment = GARMENTS[given.garment] if given.garment else None
    print(report(
        values, garment.needs if garment else (), garment.uses if garment else (), unit=given.unit,
        sex=given.sex, age_months=age_of({"age_months": given.age_months}), problems=problems,
    ))
    return 2 if any(problem.severity == "error" for problem in problems) else 0


def add_gallery_verb(verbs: Any) -> None:
    """`gallery`: every garment for one volunteer of Marram Farm, on one sheet."""
    parser = verbs.add_parser("gallery", help="draw every garment for one body, on one sheet")
    parser.add_argument("--who", default=VOLUNTEERS[0].name,
                        choices=[volunteer.name for volunteer in VOLUNTEERS],
                        help=f"a volunteer of Marram Farm ({VOLUNTEERS[0].name})")
    parser.add_argument("--unit", default="cm", choices=UNITS, help="of the lengths (cm)")
    parser.add_argument("--out", default="gallery", metavar="DIR", help="folder for the file (gallery)")
    parser.set_defaults(act=_gallery)


def _gallery(given: argparse.Namespace) -> int:
    who = next(volunteer for volunteer in VOLUNTEERS if volunteer.name == given.who)
    patterns = [draft(_order(garment, who)).pattern for garment in GARMENTS.values()]
    svg = gallery_svg(
        patterns, title=f"The wardrobe, drafted for {who.name} of Marram Farm", unit=given.unit
    )
    write_files(Path(given.out), {"gallery.svg": svg.encode()}, ours=lambda path: False)
    given.written = 0
    print(f"Written to {given.out}: gallery.svg, {len(patterns)} garments for {who.name}")
    return 0


def _order(garment: Garment, who: Volunteer) -> Order:
    body, doubts = read_body(garment, who.measurements, "cm", who.sex, who.age_months)
    return Order(garment, body, read_options(garment, {}, body), doubts=doubts)
