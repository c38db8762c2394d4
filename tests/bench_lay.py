"""Cloth length of our lays against `spyrrow`'s, given the same wall time on one thread, in one run.

    python tests/bench_lay.py [--seconds S] [--kits N | --instances N] [FILE.json …]

Without files: N invented garments at S = 5 s. With files: polygon files at S = 20 s. With
--instances N: N invented sets of polygons, of every class in turn, at S = 10 s.
"""

import argparse
import json
import math
from time import perf_counter

import spyrrow

from drafting.lay import Shape, lay
from tests.lay_kits import garment_kit, instance


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
    return ratio


def summary(ratios):
    mean = math.exp(sum(map(math.log, ratios)) / len(ratios))
    print(f"geometric mean {mean:.4f}, worst {max(ratios):.4f}, {len(ratios)} lays")


def main(arguments=None):
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("files", nargs="*")
    parser.add_argument("--seconds", type=float)
    parser.add_argument("--kits", type=int, default=10)
    parser.add_argument("--instances", type=int)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--seed", type=int, default=0)
    options = parser.parse_args(arguments)
    ratios = []
    if options.files:
        for path in options.files:
            with open(path) as file:
                given = json.load(file)
            shapes = [
                Shape(p["name"], tuple(map(tuple, p["outline"])), p["quantity"],
                      tuple(p["rotations"]))
                for p in given["pieces"]
            ]
            seconds = options.seconds or 20
            ratios.append(
                compare(given["name"], shapes, given["width"], seconds, "x", options.seed)
            )
    elif options.instances:
        for number in range(options.first, options.first + options.instances):
            name, shapes, width = instance(number)
            ratios.append(compare(name, shapes, width, options.seconds or 10, "x", options.seed))
    else:
        for kit in range(options.first, options.first + options.kits):
            name, shapes, width = garment_kit(kit)
            ratios.append(
                compare(f"{name} {kit}", shapes, width, options.seconds or 5, "y", options.seed)
            )
    summary(ratios)


if __name__ == "__main__":
    main()
