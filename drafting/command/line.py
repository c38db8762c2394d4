"""The command line: `ellwand`, or `python -m drafting`.

Exit status: 0 when every check passes, 1 when one fails (files are written all the same), 2 for bad
input (nothing is written). Once files are written nothing makes it 2, not even a pipe that closes.
"""

import argparse
import os
import sys
from collections.abc import Iterable, Sequence
from contextlib import suppress
from datetime import date
from io import TextIOWrapper
from pathlib import Path
from typing import Any

from ..body import MEASURES
from ..desk.drafts import draft
from ..desk.order import Order, read_order
from ..desk.takeaway import FILES, USUAL_PAPER, Takeaway
from ..garments import GARMENTS, ChoiceOption, CountOption, Garment
from ..period.telling import advise_in_words
from ..requests.in_words import draft_in_words
from ..sheets.page_forms import FORMS
from ..sheets.paper import PAPERS, read_paper
from ..words.problems import BadInput
from ..words.units import Unit, format_length
from ..words.wording import spell
from .advise_verb import add_advise_verb, add_impression_arguments, impression_texts, print_advice
from .body_verb import add_asked_arguments, add_body_verb, add_gallery_verb, asked_of, pairs
from .fit_flags import add_fit_arguments, fit_texts, print_altered
from .keeping_verbs import add_keeping_verbs
from .kit_verb import add_kit_verb
from .lay_verb import about_the_lays, add_cloth_arguments, add_lay_verb, cloth_texts, lay_search, wants_a_lay
from .measuring_sheet_verb import add_measuring_sheet_verb
from .recut_verb import add_recut_verb
from .season_verb import add_season_verb
from .wear_verb import add_wear_verb
from .writing import write_files


def main(arguments: Sequence[str] | None = None) -> int:
    for stream in filter(None, (sys.stdout, sys.stderr)):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="replace")  # a terminal without these letters shows ? for them
    unit: Unit = "cm"
    given = argparse.Namespace(written=None)
    try:
        _parser().parse_args(arguments, given)
        unit = getattr(given, "unit", unit)
        status = int(given.act(given))
        if sys.stdout:
            sys.stdout.flush()
        return status
    except BadInput as error:
        return _complain(spell(p.message, unit) for p in error.problems)
    except KeyboardInterrupt:
        return _complain(["Stopped."], given)
    except BrokenPipeError:
        _print_no_more()
        return 2 if given.written is None else int(given.written)
    except OSError as error:
        _print_no_more()
        return _complain([f"This cannot be printed: {error.strerror or error}."], given)
    except Exception as error:  # noqa: BLE001 - the last resort that keeps tracebacks off the terminal
        return _complain([
            f"Something in Ellwand itself went wrong ({type(error).__name__}: {str(error)[:200]}). "
            "Please tell us about it."
        ], given)


def _print_no_more() -> None:
    """Nothing is tried again at exit. source: Python's documentation, signal, "Note on SIGPIPE"."""
    if sys.stdout:
        with suppress(OSError, ValueError):
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _complain(messages: Iterable[str], given: argparse.Namespace | None = None) -> int:
    for message in messages:
        print(message, file=sys.stderr)
    return 1 if given and given.written is not None else 2


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="python -m drafting" if Path(sys.argv[0]).name == "__main__.py" else "ellwand",
        description="Early-medieval clothing for living history, drafted from a few measurements.",
    )
    verbs = parser.add_subparsers(required=True, metavar="VERB")
    garments = verbs.add_parser("garments", help="list what can be drafted")
    garments.set_defaults(act=_garments)
    draft = verbs.add_parser("draft", help="draft a garment and write its files")
    names = draft.add_subparsers(required=True, metavar="GARMENT")
    for garment in GARMENTS.values():
        _draft_arguments(names, garment)
    add_lay_verb(verbs)
    add_wear_verb(verbs)
    add_body_verb(verbs)
    add_gallery_verb(verbs)
    add_advise_verb(verbs)
    add_kit_verb(verbs)
    add_measuring_sheet_verb(verbs)
    add_recut_verb(verbs)
    add_keeping_verbs(verbs)
    add_season_verb(verbs)
    return parser


def _draft_arguments(names: Any, garment: Garment) -> None:
    parser = names.add_parser(
        garment.name,
        help=garment.summary,
        description=garment.summary,
        epilog=_takes(garment),
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    add_asked_arguments(parser, unit="what a bare number means, and the unit of the output (cm)",
                        age="a child's age: for estimates, and how long it will fit")
    parser.add_argument("--born", metavar="DATE", help="date of birth, instead of the age: 2019-05-31")
    parser.add_argument("--measured", metavar="DATE", help="when the tape was taken (today)")
    parser.add_argument("--name", help="whose garment it is, printed on the sheets")
    parser.add_argument("--paper", default="A4", help=f"{', '.join(PAPERS)} (A4)")
    parser.add_argument("--whole", action="store_true",
                        help="print every piece whole, those alike and those that a tape draws too")
    parser.add_argument("--out", default=garment.name, metavar="DIR",
                        help=f"folder for the files ({garment.name})")
    parser.add_argument("--booklet", nargs="?", const="A4", metavar="FORM",
                        help=f"add booklet.pdf: {', '.join(FORMS)} (A4)")
    add_fit_arguments(parser)
    add_impression_arguments(parser)
    add_cloth_arguments(parser)
    parser.set_defaults(act=_draft, garment=garment.name)


def _takes(garment: Garment) -> str:
    lines = ["measurements it needs (cm unless you say otherwise):"]
    lines += [f"  {name:20} {MEASURES[name].instruction}" for name in garment.needs]
    lines.append("measurements it estimates when they are missing:")
    lines += [f"  {name:20} {MEASURES[name].instruction}" for name in garment.uses]
    lines.append("options:")
    for option in garment.options:
        if isinstance(option, ChoiceOption):
            takes = f"{' | '.join(option.choices)} (default {option.default})"
        elif isinstance(option, CountOption):
            takes = f"{option.least} to {option.most} (default {option.default})"
        else:
            default = ("from the body" if callable(option.default)
                       else format_length(option.default))
            takes = f"{option.range_text('cm')} (default {default})"
        lines.append(f"  {option.name:20} {takes}")
        lines.append(f"  {'':20} {option.help}")
    return "\n".join(lines)


def _garments(given: argparse.Namespace) -> int:
    for garment in GARMENTS.values():
        print(f"{garment.name}: {garment.summary}")
        print(f"  measure:  {', '.join(garment.needs)}")
        print(f"  helps:    {', '.join(garment.uses)}")
        print(f"  options:  {', '.join(option.name for option in garment.options)}")
    return 0


def _draft(given: argparse.Namespace) -> int:
    order = _ordered({
        **asked_of(given),
        "from_garment": pairs(given.from_garment, "--from-garment"),
        "born": given.born,
        "measured": given.measured,
        "name": given.name,
        **cloth_texts(given),
        **impression_texts(given),
        "fits": fit_texts(given),
        "today": date.today().isoformat(),
    })
    advised = advise_in_words(order.impression) if order.impression.asks else {}
    drafted = draft(order)
    search = lay_search(given)
    taken = Takeaway(drafted, search, paper=given.paper, booklet_paper=given.booklet or USUAL_PAPER,
                     whole=given.whole)
    kinds = ["pattern.json", "pieces.svg", "tiled.pdf", *(["booklet.pdf"] if given.booklet else [])]
    files = {kind: taken.file(kind).data for kind in kinds}
    lay_words = ""
    if wants_a_lay(given):
        files.update(taken.lay_files)
        lay_words = about_the_lays(given, taken, search)
    moved = write_files(Path(given.out), files, lambda path: path.as_posix() in FILES)
    given.written = 0 if drafted.passed else 1
    _print_result(draft_in_words(drafted))
    print_altered(drafted)
    if lay_words:
        print(f"\n{lay_words}")
    if advised:
        print()
        print_advice(advised)
    print(f"\nWritten to {given.out}: {', '.join(files)}")
    count = taken.sheets.count
    print(f"tiled.pdf is {count} sheet{'s' if count > 1 else ''}{_of_paper(given.paper)}")
    if moved:
        print(moved)
    return int(given.written)


def _ordered(values: dict[str, Any]) -> Order:
    """Raises BadInput."""
    if not values["from_garment"]:
        return read_order(values)
    from ..desk.flat_order import read_flat_order

    return read_flat_order(values)


def _of_paper(name: str) -> str:
    paper = read_paper(name)
    return f" of {paper.name}" if paper.height else ""


def _print_result(result: dict[str, Any]) -> None:
    print(result["title"])
    for piece in result["pieces"]:
        print(f"  {piece['title']:14} cut {piece['cut']}   {piece['size']} with allowances")
    for row in result["finished"]:
        print(f"  finished {row['label'].lower()}: {row['text']}")
    for row in result["estimated"]:
        print(f"  estimated {row['label'].lower()}: {row['text']}")
    print()
    rows = [("", "check", "value", "limit")]
    rows += [("ok" if c["passed"] else "FAILS", c["name"], c["value"], c["limit"])
             for c in result["checks"]]
    widths = [max(len(row[i]) for row in rows) for i in range(4)]
    for row, check in zip(rows, [None, *result["checks"]], strict=True):
        print("  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip())
        if check and not check["passed"]:
            print(f"       {check['advice']}")
            for remedy in check["remedies"]:
                print(f"       {remedy['label']}: -o {remedy['option']}={remedy['value']!r}")
    for problem in result["problems"]:
        print(f"\nNote: {problem['message']}")
    for line in (*result["growth"], *result["notes"], *result["cautions"]):
        print(f"\n{line}")

