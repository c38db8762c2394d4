"""The command line's cloth: the flags of `draft` that lay a garment, and the verb `lay`."""

import argparse
import json
import re
import sys
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import Any

from ..cloth.cloth import PIECING, REMNANT
from ..cloth.in_the_shop import shop_length, shop_words
from ..desk.lay_results import counted_in, from_hand, size_of, tearing_costs
from ..desk.lay_search import LaySearch
from ..desk.lays import rounds_of
from ..desk.less_cloth import ways_to_save
from ..desk.takeaway import Takeaway
from ..lay.bolt import BoltLay
from ..period.things import read_thing
from ..sheets.text import clean
from ..words.problems import BadInput, Problem
from ..words.units import Unit, format_length
from ..words.wording import spell
from .cloths_verb import lay_on_cloths, seconds_of


def add_cloth_arguments(parser: argparse.ArgumentParser) -> None:
    """The flags that, when any is given, add a lay and a chalk plan to a draft."""
    group = parser.add_argument_group("cloth", "any of these adds lay.json, lay.svg and chalk-plan.pdf")
    group.add_argument("--cloth-width", metavar="LENGTH", help="between its outer edges (150 cm)")
    group.add_argument("--selvedge", metavar="LENGTH", help="to lose on each side (1 cm)")
    group.add_argument("--on-hand", metavar="LENGTH", help="cloth there is: says whether it is enough")
    group.add_argument("--shrinkage", metavar="WARP[,WEFT]",
                       help="per cent lost in the first wash along, and across, the cloth (0)")
    group.add_argument("--unwashed", action="store_true", default=None,
                       help="cut before that wash: the pieces are drawn larger")
    group.add_argument("--turn", action="store_true", default=None,
                       help="what does not hang, such as sleeves, may lie across the grain")
    group.add_argument("--nap", action="store_true", default=None,
                       help="a nap or a one-way pattern: no piece is turned round")
    group.add_argument("--fold", action="store_true", default=None,
                       help="folded selvedge to selvedge, two layers cut at once")
    group.add_argument("--tearable", action="store_true", default=None,
                       help="full-width strips that can be torn along the thread")
    group.add_argument("--lining-width", metavar="LENGTH",
                       help="of the cloth that lines it, between its outer edges (140 cm)")
    group.add_argument("--lining-on-hand", metavar="LENGTH", help="of the cloth that lines it")
    group.add_argument("--lining-shrinkage", metavar="WARP[,WEFT]", help="of the cloth that lines it (0)")
    group.add_argument("--remnants", metavar="FILE",
                       help="pieces of it that are there already: each its corners line by line, across and "
                       "down, or “60 × 90”; an empty line between two")
    group.add_argument("--piecing", choices=tuple(PIECING),
                       help="no piece wider than this part of the cloth, or than what there is of it "
                       "(when-needed)")
    group.add_argument("--save-cloth", action="store_true", default=None,
                       help="also tries what would save cloth: each trial takes as long as the lay")
    group.add_argument("--seconds", type=float, default=5.0, help="to search for a shorter lay (5)")
    group.add_argument("--seed", type=int, default=0, help="of the search (0)")


LONGEST_FILE = 100_000
"""Bytes of a file of pieces of cloth; what comes after is not read."""

LAY_FLAGS = ("cloth_width", "selvedge", "on_hand", "shrinkage", "unwashed", "turn", "nap", "fold",
             "tearable", "lining_width", "lining_on_hand", "lining_shrinkage", "piecing", "save_cloth",
             "remnants")


def wants_a_lay(given: argparse.Namespace) -> bool:
    return any(getattr(given, name) is not None for name in LAY_FLAGS)


def cloth_texts(given: argparse.Namespace) -> dict[str, dict[str, Any]]:
    """`cloth` and `cloths` as a request gives them; empty when no flag speaks of one."""
    if not wants_a_lay(given):
        return {}
    warp, _, weft = (given.shrinkage or "").partition(",")
    main = {
        "width": given.cloth_width or "",
        "selvedge": given.selvedge or "",
        "on_hand": given.on_hand or "",
        "shrinkage_warp": warp,
        "shrinkage_weft": weft,
        "washed_first": "no" if given.unwashed else "yes",
        "turned": "yes" if given.turn else "no",
        "nap": "yes" if given.nap else "no",
        "folded": "yes" if given.fold else "no",
        "piecing": given.piecing or "",
        "fibre": _fibre(given.fibre),
        **(_remnants(given.remnants) if given.remnants else {}),
    }
    warp, _, weft = (given.lining_shrinkage or "").partition(",")
    lining = {
        "width": given.lining_width or "",
        "on_hand": given.lining_on_hand or "",
        "shrinkage_warp": warp,
        "shrinkage_weft": weft,
    }
    return {"cloth": main, "cloths": {"lining": lining}}


def _remnants(name: str) -> dict[str, str]:
    """The pieces of cloth in a file. Raises BadInput for one that cannot be read, or has none."""
    try:
        with Path(name).open("rb") as file:
            text = file.read(LONGEST_FILE).decode("utf-8-sig")
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) else "it is not text in UTF-8"
        raise BadInput([Problem("remnants", f"Cannot read {name[:80]}: {reason}.")]) from None
    pieces = [piece for piece in re.split(r"\n\s*\n", text.strip()) if piece.strip()]
    if not pieces:
        raise BadInput([Problem("remnants", f"{name[:80]} is empty: give the corners of a piece of cloth.")])
    return {f"{REMNANT}{number}": piece for number, piece in enumerate(pieces, 1)}


def _fibre(text: str | None) -> str:
    """By its own name where it is known by another; what is no fibre is told where it is advised on."""
    with suppress(BadInput):
        return read_thing("fibre", text or "")
    return text or ""


def lay_search(given: argparse.Namespace) -> LaySearch:
    """Raises BadInput."""
    return LaySearch(seconds=seconds_of(given), seed=given.seed, tearable=bool(given.tearable))


def about_the_lays(given: argparse.Namespace, taken: Takeaway, search: LaySearch) -> str:
    """A few lines about each lay, found by that search. Raises BadInput.

    What would save cloth is tried when it is asked for, or when there is too little on hand.
    """
    bolts, unit = taken.lays, taken.drafted.order.unit
    lines = [line for bolt in bolts for line in _about(bolt, unit, torn=bool(given.tearable))]
    if given.lining_width and all(bolt.part != "lining" for bolt in bolts):
        lines.append("Nothing here has a lining: the lining's cloth is left aside.")
    short = any(bolt.missing is not None for bolt in bolts)
    if given.save_cloth or short:
        rounds = {} if given.tearable else rounds_of(bolts)
        ways = ways_to_save(taken.drafted, replace(search, rounds=rounds, may_turn=True))
        lines += [spell(way.sentence, unit) for way in ways]
        if not ways:
            lines.append("Nothing that was tried makes it fit." if short else
                         "Nothing that was tried saves cloth worth speaking of.")
    return "\n".join(lines)


def _about(bolt: BoltLay, unit: Unit, torn: bool) -> Iterator[str]:
    what = "Cloth" if bolt.part == "main" else f"{bolt.part.capitalize()} cloth"
    yield from from_hand(bolt)
    for lay in bolt.on_hand:
        sizes = [" × ".join(format_length(mm, unit) for mm in size_of(corners)) for corners in lay.left_over]
        yield f"Left over of {clean(lay.cloth.name)}: {', '.join(sizes) or 'nothing'}."
    if not bolt.cut_length:
        yield f"{what} is not to be bought."
        return
    yield (f"{what} {format_length(bolt.cloth.width, unit)} wide: "
           f"{format_length(bolt.cut_length, unit)} to cut, {format_length(bolt.buy_length, unit)} to "
           f"buy; {bolt.layout.utilisation:.1%} of it used.")
    yield (f"In a shop ask for {shop_words(shop_length(bolt.cloth, bolt.cut_length, unit), unit)}: "
           f"{spell(counted_in(bolt), unit)}.")
    if bolt.missing is not None:
        yield f"The cloth on hand is {format_length(bolt.missing, unit)} too short."
    if not torn:
        yield spell(tearing_costs(bolt), unit)
    yield from (spell(note, unit) for note in bolt.notes)


def add_lay_verb(verbs: Any) -> None:
    """`lay FILE`: any polygons on a strip."""
    parser = verbs.add_parser("lay", help="lay the polygons of a file on a strip, in little length")
    parser.add_argument("file", help='{"width": W, "pieces": [{"name", "quantity", "rotations", '
                        '"outline"}]}; and for cloth as one has it "cloths": [{"name", "outline", "holes", '
                        '"grain"}]')
    parser.add_argument("--seconds", type=float, default=5.0, help="to search for (5)")
    parser.add_argument("--seed", type=int, default=0, help="of the search (0)")
    parser.add_argument("--json", action="store_true", help="print the lay as lay.json")
    parser.set_defaults(act=_lay_file)


def _lay_file(given: argparse.Namespace) -> int:
    from ..lay.cloth_file import names_cloths
    from ..lay.engine import lay as lay_shapes
    from ..lay.instances import MOST_CHARACTERS, read_polygon_file

    path = Path(given.file)
    try:
        with path.open("rb") as file:
            text = file.read(MOST_CHARACTERS + 1).decode()  # a device has no end
    except UnicodeDecodeError:
        raise BadInput([
            Problem("file", f"{path} is not a text file: give a JSON file of polygons.")
        ]) from None
    except OSError as error:
        raise BadInput([Problem(
            "file", f"{path} cannot be read: {error.strerror or error}. Give the path of a polygon file."
        )]) from None
    if names_cloths(text):
        return lay_on_cloths(given, text)
    shapes, width = read_polygon_file(text)
    layout = lay_shapes(shapes, width, seconds=seconds_of(given), seed=given.seed, along="x")
    if given.json:
        json.dump(layout.to_json(), sys.stdout, ensure_ascii=False)
        print()
        return 0
    print(f"{sum(s.quantity for s in shapes)} pieces on a strip {width:g} wide: length "
          f"{layout.length:.1f}, used {layout.utilisation:.1%} (no lay is shorter than "
          f"{layout.area_bound:.1f}); {layout.seconds:.1f} s, seed {layout.seed}.")
    for p in layout.placements:
        turned = f", turned {p.rotation:g}°" if p.rotation else ""
        mirrored = ", mirrored" if p.mirrored else ""
        print(f"  {clean(p.piece)} {p.copy}: {p.x:.1f}, {p.y:.1f}{turned}{mirrored}")
    return 0
