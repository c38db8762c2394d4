"""Every garment hung on bodies of ANSUR II and on made-up children: what does not hang as cloth does.

    python -m tests.sweep_worn [--bodies 200] [--children 20] [--seed 1] [GARMENT ...]

Prints for each garment how many hang and in what time, and each body on which one does not rest, is
stretched, lies in the body, has fallen off, or is not a number. A garment refused with a sentence is counted,
not a fault.
"""

import argparse
from collections.abc import Iterator
from dataclasses import dataclass, field
from random import Random
from statistics import median
from time import perf_counter

import numpy as np

from drafting.body import Body, complete
from drafting.garments import GARMENTS, Garment
from drafting.garments.garment import read_options
from drafting.words.problems import BadInput
from drafting.worn.cloth_forces import ClothFeel
from drafting.worn.figure import NEEDS
from drafting.worn.hanging import Worn, hang_in_steps
from tests.bodies.made_up import made_up_children
from tests.bodies.survey import ansur_bodies

WOOL = ClothFeel(250.0, 20.0)
MEAN, HUNDREDTH, DEEP, RESIDUAL = 0.01, 0.035, 3.0, 0.02
"""Stretch in the mean and in all but a hundredth of it, mm in the body, and the largest force left over the
weight. common practice, no source."""

FALLEN = 150.0
"""mm below the highest place of its own start that the top of one that has fallen off is at least. Judged by
eye."""


@dataclass
class Hung:
    """How a garment fared over some bodies."""

    seconds: list[float] = field(default_factory=list)
    refused: list[str] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)


def bodies(garment: Garment, adults: int, children: int, seed: int) -> Iterator[Body]:
    """Some of the survey and some children, the same for the same seed."""
    measures = tuple(dict.fromkeys(garment.needs + garment.uses + NEEDS))
    for one in Random(seed).sample(ansur_bodies(), adults):
        yield complete(one.values, measures, sex=one.sex)
    for child in made_up_children(children):
        yield complete(child.values, measures, age_months=child.age_months)


def hang(garment: Garment, body: Body, feel: ClothFeel = WOOL) -> tuple[float, Worn]:
    """Its highest place at the first report, and how it hangs in the end. Raises BadInput."""
    options = read_options(garment, {}, body)
    for choice, shown in (garment.worn.shown_as if garment.worn else {}).items():
        name, _, value = choice.partition("=")
        if options.is_(name, value):
            options = options.changed(name, shown)
    coming = hang_in_steps(garment, garment.draft(body, options), body, feel)
    top = float(next(coming).points[:, 2].max())
    while True:
        try:
            next(coming)
        except StopIteration as end:
            return top, end.value


def faults(top: float, worn: Worn) -> Iterator[str]:
    if not np.isfinite(worn.points).all():
        yield "not a number"
        return
    corners = worn.points[worn.mesh.corners]
    pairs = ((0, 1), (1, 2), (2, 0))
    now, flat = (np.concatenate([np.linalg.norm(of[:, a] - of[:, b], axis=1) for a, b in pairs])
                 for of in (corners, worn.mesh.flat))
    stretch = now / flat - 1
    mean, hundredth = float(np.maximum(stretch, 0).mean()), float(np.percentile(stretch, 99))
    deep = -min(float(stack.distance(worn.points)[0].min()) for stack in worn.figure.stacks.values())
    if worn.residual > RESIDUAL:
        yield f"a residual of {worn.residual:.3f}"
    if mean > MEAN or hundredth > HUNDREDTH:
        yield f"stretched by {mean:.3f}, {hundredth:.3f}"
    if deep > DEEP:
        yield f"{deep:.1f} mm in the body"
    if top - float(worn.points[:, 2].max()) > FALLEN:
        yield "fallen off"


def sweep(garment: Garment, adults: int, children: int, seed: int) -> Hung:
    """Hangs the garment, as its options default, on each body."""
    found = Hung()
    for body in bodies(garment, adults, children, seed):
        began = perf_counter()
        try:
            top, worn = hang(garment, body)
        except BadInput as refusal:
            found.refused.append(str(refusal))
            continue
        found.seconds.append(perf_counter() - began)
        measured = {name: round(body[name]) for name in ("stature", "bust_girth", "waist_girth", "hip_girth")}
        found.faults += [f"{fault} {measured}" for fault in faults(top, worn)]
    return found


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("garments", nargs="*")
    parser.add_argument("--bodies", type=int, default=200)
    parser.add_argument("--children", type=int, default=20)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    for name in asked.garments or GARMENTS:
        found = sweep(GARMENTS[name], asked.bodies, asked.children, asked.seed)
        each = f"{median(found.seconds):.1f} s each" if found.seconds else "none"
        print(f"{name}: {len(found.seconds)} hung, {each}, {len(found.refused)} refused, "
              f"{len(found.faults)} faults", flush=True)
        for line in (*found.refused[:3], *found.faults[:12]):
            print(f"    {line}")


if __name__ == "__main__":
    main()
