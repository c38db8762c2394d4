"""The flags of `draft` for a garment that is there already: tried on, or measured flat instead of a body."""

import argparse
from textwrap import fill
from typing import Any

from ..desk.drafts import Draft
from ..words.problems import BadInput, Problem

_WIDTH = 100


def add_fit_arguments(parser: argparse.ArgumentParser) -> None:
    """`--fit`, which may repeat, and `--from-garment`."""
    parser.add_argument("--fit", action="append", default=[], metavar="PLACE=CHANGE",
                        help="what a try-on changed, such as chest=+3cm, “chest=loose pinch 1cm” or "
                        "sleeve-length=-2cm; may repeat")
    parser.add_argument("--from-garment", action="extend", nargs="+", default=[], metavar="NAME=LENGTH",
                        help="measured flat, a garment that fits, instead of a body: half_chest=52cm …")


def fit_texts(given: argparse.Namespace) -> list[tuple[str, str]]:
    """As an order reads them. Raises BadInput naming those that are not written so."""
    split = [text.partition("=") for text in given.fit]
    problems = [Problem("fits", f"--fit {text[:60]}: write it as PLACE=CHANGE, such as chest=+3cm.")
                for text, (name, equals, _) in zip(given.fit, split, strict=True) if not (name and equals)]
    if problems:
        raise BadInput(problems)
    return [(name, change) for name, _, change in split]


def print_altered(drafted: Draft) -> None:
    """What changed, what can still be done on the cloth as cut, and the work of it; nothing without a fit."""
    if drafted.fitted is None:
        return
    from ..desk.altering import altered_in_words
    from ..desk.drafts import sewing_choices

    told = altered_in_words(drafted.fitted, sewing_choices(drafted), drafted.order.unit)
    print("\nOn the cloth as it is cut")
    for sentence in told["as_cut"]:
        _say(sentence)
    for line in told["seams"]:
        seam = f" ({line['seam']})" if line["seam"] else ""
        print(f"  {line['piece']}, {line['edge']}{seam}: {line['text']}, {line['left_text']} left beyond it")
    if told["steps"]:
        print(f"\nAltering it, {told['time']}, {told['thread'] / 1000:.0f} m of thread")
        print_steps(told["steps"])


def print_steps(steps: list[dict[str, Any]]) -> None:
    """An order of work, each step with its length and time."""
    for step in steps:
        beside = ", ".join(filter(None, (step["text"], step["time"])))
        print(f"  {step['number']:2}. {step['title']}{f' ({beside})' if beside else ''}")
        for sentence in step["sentences"]:
            _say(sentence, 6)


def _say(sentence: str, indent: int = 2) -> None:
    print(fill(sentence, _WIDTH, initial_indent=" " * indent, subsequent_indent=" " * indent))
