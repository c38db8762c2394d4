"""The command line's `kit`: every garment of a kit file drafted, laid on its bolts, and listed."""

import argparse
import re
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

from ..desk.lay_results import bolt_files
from ..desk.takeaway import FILES, Takeaway
from ..kit import Kit, read_kit, write_kit
from ..kit.listing import as_text
from ..kit.marram_farm import demo_kit
from ..kit.readkit import LARGEST_FILE
from ..kit.shopping import Shopping, shop
from ..kit.stories import stories
from ..words.problems import BadInput, Problem
from ..words.wording import spell
from .cloths_verb import seconds_of
from .writing import write_files

KINDS = ("pattern.json", "pieces.svg", "tiled.pdf", "booklet.pdf")


def add_kit_verb(verbs: Any) -> None:
    """`kit FILE --out DIR`."""
    parser = verbs.add_parser("kit", help="draft and lay a whole kit, and write its shopping list")
    parser.add_argument("file", help="a kit file, or “demo” for Marram Farm's")
    parser.add_argument("--out", default="kit", metavar="DIR", help="folder for everything (kit)")
    parser.add_argument("--paper", default="A4", help="of the printed patterns (A4)")
    parser.add_argument("--whole", action="store_true",
                        help="print every piece whole, those alike and those that a tape draws too")
    parser.add_argument("--seconds", type=float, default=5.0, help="of search for each bolt (5)")
    parser.set_defaults(act=_kit)


def _kit(given: argparse.Namespace) -> int:
    seconds = seconds_of(given)
    aside: list[Problem] = []
    kit, text = read_kit_named(given.file, aside)
    shopping = shop(kit, seconds=seconds)
    shopping = replace(shopping, problems=(*aside, *shopping.problems))
    files: dict[str, bytes] = {"kit.json": text if aside else write_kit(kit).encode()}
    for number, one in enumerate(shopping.drafted, 1):
        taken = Takeaway(one.draft, None, paper=given.paper, whole=given.whole)
        folder = f"{number:02}-{safe_name(one.draft.order.name)}-{one.pattern.garment}"
        files |= {f"{folder}/{kind}": taken.file(kind).data for kind in KINDS}
    files |= _bolt_files(shopping, kit, given.paper)
    files["shopping-list.txt"] = as_text(shopping, kit.unit).encode()
    moved = write_files(Path(given.out), files, _is_of_a_kit)
    passed = all(one.draft.passed for one in shopping.drafted)
    given.written = 0 if passed and not shopping.problems else 1
    print(as_text(shopping, kit.unit), end="")
    print("".join(f"\n{line}" for line in stories(kit)))
    print(f"\nWritten to {given.out}: {len(files)} files")
    if moved:
        print(moved)
    for problem in shopping.problems:
        print(spell(problem.message, kit.unit), file=sys.stderr)
    return int(given.written)


def _is_of_a_kit(path: Path) -> bool:
    """Whether it lies where a garment's or a bolt's file is written, and is called like one."""
    folder = path.parent.as_posix()
    return re.fullmatch(r"(\d{2,}|bolt-\d+)-[^/]+|bolts/[^/]+", folder) is not None and path.name in FILES


def read_kit_named(name: str, aside: list[Problem]) -> tuple[Kit, bytes]:
    """The kit and the bytes it was read from; “demo” is Marram Farm's. Raises BadInput."""
    if name == "demo":
        return demo_kit(), b""
    try:
        with Path(name).open("rb") as file:
            text = file.read(LARGEST_FILE + 1)  # a device has no end
        return read_kit(text, aside), text
    except OSError as error:
        raise BadInput([Problem(
            "file", f"{name} cannot be read: {error.strerror or error}. Give the path of a kit file."
        )]) from None


def _bolt_files(shopping: Shopping, kit: Kit, paper: str) -> dict[str, bytes]:
    """Each bolt's one lay and chalk plan for all that is cut from it, in a folder of the cloth's name."""
    files: dict[str, bytes] = {}
    for bolt in shopping.bolts:
        laid = bolt_files(bolt.lay, kit.unit, title=kit.title or "Kit", name=bolt.name, paper=paper)
        plain = folder = f"bolts/{safe_name(bolt.name)}"
        number = 2
        while f"{folder}/lay.json" in files:
            folder, number = f"{plain}-{number}", number + 1
        files |= {f"{folder}/{kind}": data for kind, data in laid.items()}
    return files


def safe_name(name: str) -> str:
    """A name as part of a folder's: letters and digits of any alphabet, nothing a shell would read."""
    return re.sub(r"[^\w]+", "-", name).strip("-_")[:40].lower() or "unnamed"
