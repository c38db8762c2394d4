"""Cloth length of our lays against `spyrrow`'s, given the same wall time on one thread, in one run.

    python -m tests.bench_lay [--seconds S] [--kits N | --instances N] [FILE.json …]

Without files: N invented garments at S = 5 s. With files: polygon files at S = 20 s. With
--instances N: N invented sets of polygons, of every class in turn, at S = 10 s. `rows` are what
`python tests/bench.py lay` keeps of them.
"""

import argparse
import json
import math
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from time import perf_counter

import spyrrow

from drafting.lay import Shape, lay
from drafting.lay.remnants import fill
from tests.bench_results import Row
from tests.lay_kits import CLASSES, as_rectangle, garment_kit, household, instance, rag, rag_kit

GARMENTS_AT, FILES_AT, INSTANCES_AT, RAGS_AT = 5.0, 20.0, 10.0, 5.0
"""Seconds of search, for either."""

RAGS = 6

RAG_LIMIT = 1 / 0.95
"""Of the rectangle's utilisation over the rag's. source: issue 16."""

GARMENT_LIMIT, POLYGON_LIMIT = 1.02, 1.06
"""source: issue 4."""

LARGE = ((50, 5.0, 1.05), (150, 5.0, 1.05), (500, 5.0, 1.05), (500, 30.0, 1.02))
"""Pieces, seconds of search, limit. source: issue 16."""


@dataclass(frozen=True)
class Compared:
    """mm or the file's own unit, and its ratio to spyrrow's length."""

    length: float
    ratio: float


def by_spyrrow(shapes, width, seconds, along, seed):
    """Length of spyrrow's lay. Mirror images are given to it as pieces of their own, so kits with
    free mirroring cannot be compared."""
    items = []
    for shape in shapes:
        assert shape.mirroring != "free"
        for mirrored in (False, True) if shape.mirroring == "pairs" else (False,):
            count = shape.quantity
            if shape.mirroring == "pairs":
                count = shape.quantity // 2 if mirrored else (shape.quantity + 1) // 2
            if not count:
                continue
            outline = [((-x if along == "y" else x), (-y if along == "x" else y))
                       for x, y in shape.outline] if mirrored else list(shape.outline)
            if along == "y":
                outline = [(y, -x) for x, y in outline]
            items.append(
                spyrrow.Item(f"{shape.name}{mirrored}", outline, demand=count,
                             allowed_orientations=list(shape.rotations))
            )
    instance = spyrrow.StripPackingInstance("bench", strip_height=width, items=items)
    config = spyrrow.StripPackingConfig(
        early_termination=False, total_computation_time=round(seconds), num_workers=1, seed=seed
    )
    began = perf_counter()
    solution = instance.solve(config)
    return solution.width, perf_counter() - began


def compare(label, shapes, width, seconds, along, seed):
    theirs, their_time = by_spyrrow(shapes, width, seconds, along, seed)
    ours = lay(shapes, width, seconds=their_time, along=along, seed=seed)
    ratio = ours.length / theirs
    print(
        f"{label:32} width {width:6.0f}  pieces {sum(s.quantity for s in shapes):3}  "
        f"ours {ours.length:9.2f} ({ours.utilisation:.3f}, {ours.seconds:4.1f} s, "
        f"{ours.rounds} rounds)  spyrrow {theirs:9.2f} ({their_time:4.1f} s)  ratio {ratio:.4f}",
        flush=True,
    )
    return Compared(ours.length, ratio)


def mean_ratio(found: list[Compared]) -> float:
    """Geometric."""
    return math.exp(sum(math.log(one.ratio) for one in found) / len(found))


def garments(kits: Iterable[int], seconds: float = GARMENTS_AT, seed: int = 0) -> list[Compared]:
    found = []
    for kit in kits:
        name, shapes, width = garment_kit(kit)
        found.append(compare(f"{name} {kit}", shapes, width, seconds, "y", seed))
    return found


def large(pieces: int, seconds: float = GARMENTS_AT, seed: int = 0) -> Compared:
    """A household's garments on one bolt, so many pieces of them or somewhat more."""
    shapes, width = household(1)
    whole = sum(shape.quantity for shape in shapes)
    if pieces < whole:
        shapes = shapes[:: round(whole / pieces)]
    else:
        shapes, _ = household(round(pieces / whole))
    return compare(f"household {pieces}", shapes, width, seconds, "y", seed)


def instances(numbers: Iterable[int], seconds: float = INSTANCES_AT, seed: int = 0) -> list[Compared]:
    found = []
    for number in numbers:
        name, shapes, width = instance(number)
        found.append(compare(name, shapes, width, seconds, "x", seed))
    return found


def rags(numbers: Iterable[int], seconds: float = RAGS_AT) -> list[float]:
    """How much more of a rectangle of its area is used than of a rag, by the same engine in the same time."""
    found = []
    for number in numbers:
        cloth = rag(number)
        shapes = rag_kit(number, cloth.area)
        used = [fill(shapes, [one], seconds=seconds).filled[0].utilisation
                for one in (cloth, as_rectangle(cloth))]
        print(f"rag {number}: {used[0]:.3f} used, of a rectangle {used[1]:.3f}: {used[0] / used[1]:.3f}",
              flush=True)
        found.append(used[1] / used[0])
    return found


def file(path: Path, seconds: float = FILES_AT, seed: int = 0) -> Compared:
    given = json.loads(path.read_text(encoding="utf-8"))
    shapes = [
        Shape(p["name"], tuple(map(tuple, p["outline"])), p["quantity"], tuple(p["rotations"]))
        for p in given["pieces"]
    ]
    return compare(given["name"], shapes, given["width"], seconds, "x", seed)


def rows(files: Iterable[Path]) -> list[Row]:
    """Every kind of lay in some five minutes: garments, published polygons, invented ones of each class."""
    found = {
        (f"10 garments at {GARMENTS_AT:g} s", "mm", GARMENT_LIMIT): garments(range(10)),
        **{(f"{path.stem} at {FILES_AT:g} s", "", POLYGON_LIMIT): [file(path)] for path in files},
        (f"{2 * len(CLASSES)} sets of polygons at {INSTANCES_AT:g} s", "mm", POLYGON_LIMIT):
            instances(range(2 * len(CLASSES))),
    }
    for pieces, seconds, limit in LARGE:
        found[f"a household's {pieces} pieces at {seconds:g} s", "mm", limit] = [large(pieces, seconds)]
    used = rags(range(RAGS))
    return [
        *(Row(what, [one.length for one in compared], unit, mean_ratio(compared), limit)
          for (what, unit, limit), compared in found.items()),
        Row(f"{RAGS} rags at {RAGS_AT:g} s, a rectangle's use over theirs", [100 * one for one in used], "%",
            sum(used) / len(used), RAG_LIMIT),
    ]


def main(arguments=None):
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("files", nargs="*")
    parser.add_argument("--seconds", type=float)
    parser.add_argument("--kits", type=int, default=10)
    parser.add_argument("--instances", type=int)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--seed", type=int, default=0)
    options = parser.parse_args(arguments)
    if options.files:
        found = [file(Path(path), options.seconds or FILES_AT, options.seed) for path in options.files]
    elif options.instances:
        numbers = range(options.first, options.first + options.instances)
        found = instances(numbers, options.seconds or INSTANCES_AT, options.seed)
    else:
        kits = range(options.first, options.first + options.kits)
        found = garments(kits, options.seconds or GARMENTS_AT, options.seed)
    worst = max(one.ratio for one in found)
    print(f"geometric mean {mean_ratio(found):.4f}, worst {worst:.4f}, {len(found)} lays")


if __name__ == "__main__":
    main()
