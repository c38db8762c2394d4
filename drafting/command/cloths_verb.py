"""The command line's `lay FILE` where the file names cloths: pieces on cloth as one has it."""

import argparse
import json
from collections import Counter
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from ..desk.lay_search import LONGEST_SEARCH
from ..sheets.text import clean
from ..words.problems import BadInput, Problem

if TYPE_CHECKING:
    from ..lay.layout import Layout
    from ..lay.remnants import Filled


def seconds_of(given: argparse.Namespace) -> float:
    """What --seconds says. Raises BadInput."""
    if not 0 < given.seconds <= LONGEST_SEARCH:
        raise BadInput([Problem(
            "--seconds", f"--seconds {given.seconds:g}: give more than 0 and up to {LONGEST_SEARCH:g}."
        )])
    return float(given.seconds)


def lay_on_cloths(given: argparse.Namespace, text: str) -> int:
    """0 when every piece found a place. Raises BadInput."""
    from ..lay.cloth_file import read_cloth_file
    from ..lay.engine import lay
    from ..lay.joined import fill_joined

    asked = read_cloth_file(text)
    seconds = seconds_of(given) / (2 if asked.width else 1)
    made = fill_joined(asked.shapes, asked.remnants, asked.may_be_pieced, seconds=seconds, seed=given.seed)
    left = Counter(shape for shape, _ in made.filling.left)
    bolt = None
    if asked.width and left:
        from dataclasses import replace

        rest = [replace(shape, quantity=count) for shape, count in left.items()]
        bolt, left = lay(rest, asked.width, seconds=seconds, seed=given.seed, along="x"), Counter()
    without = {shape.name: count for shape, count in left.items()}
    if given.json:
        print(json.dumps(_as_json(made.filling.filled, bolt, without, made.parts), ensure_ascii=False))
    else:
        print("\n".join(_lines(made.filling.filled, bolt, without, made.parts)))
    return 1 if without else 0


def _as_json(
    filled: "tuple[Filled, ...]", bolt: "Layout | None", without: dict[str, int], parts: dict[str, int]
) -> dict[str, Any]:
    from ..lay.left_over import left_of

    return {
        "cloths": [{
            "name": each.remnant.name, "utilisation": each.utilisation,
            "placements": [placement.to_json() for placement in each.placements],
            "left_over": [{"length": it.length, "width": it.width, "outline": outline}
                          for it, outline in left_of(each)],
        } for each in filled],
        "bolt": bolt.to_json() if bolt else None,
        "in_parts": parts,
        "without_a_place": without,
    }


def _lines(
    filled: "tuple[Filled, ...]", bolt: "Layout | None", without: dict[str, int], parts: dict[str, int]
) -> Iterator[str]:
    from ..lay.left_over import left_of

    for each in filled:
        name = clean(each.remnant.name)
        if not each.placements:
            yield f"{name}: nothing is cut from it; no piece that is left fits."
        else:
            yield f"{name}: {len(each.placements)} pieces, {each.utilisation:.1%} of it used."
        for placed in each.placements:
            turned = f", turned {placed.rotation:g}°" if placed.rotation else ""
            yield f"  {clean(placed.piece)} {placed.copy}: at {placed.x:.1f}, {placed.y:.1f}{turned}"
        sizes = [f"{it.length:.0f} × {it.width:.0f}" for it, _ in left_of(each)]
        yield f"  left over, along the grain × across: {', '.join(sizes)}" if sizes else "  nothing left over"
    for piece, number in parts.items():
        yield f"{clean(piece)} is joined from {number} parts."
    if bolt:
        yield (f"On a bolt {bolt.width:g} wide: {len(bolt.placements)} pieces in {bolt.length:.1f} of "
               f"length, used {bolt.utilisation:.1%}.")
        for placed in bolt.placements:
            turned = f", turned {placed.rotation:g}°" if placed.rotation else ""
            yield f"  {clean(placed.piece)} {placed.copy}: at {placed.x:.1f}, {placed.y:.1f}{turned}"
    for piece, count in without.items():
        yield f"Without a place: {clean(piece)}{f', {count} times' if count > 1 else ''}."
