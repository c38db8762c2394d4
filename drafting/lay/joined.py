"""Pieces joined where no remnant holds them whole: parted along the grain, each part with its allowance."""

from collections.abc import Sequence, Set
from dataclasses import dataclass, replace
from time import perf_counter

import numpy as np

from ..cloth.cut_in_two import PIECING_ALLOWANCE
from ..words.problems import BadInput
from .remnant import Remnant, clipped
from .remnants import RemnantLay, fill
from .shape import Shape

MOST_PARTS = 4
"""Of one piece: more are not worth the sewing. common practice, no source."""


@dataclass(frozen=True)
class JoinedFilling:
    """A filling, and in how many parts each piece is that was parted, by its name."""

    filling: RemnantLay
    parts: dict[str, int]


def fill_joined(
    shapes: Sequence[Shape], remnants: Sequence[Remnant], may_be_pieced: Set[str] = frozenset(), *,
    seconds: float = 5.0, seed: int = 0, max_rounds: int | None = None,
) -> JoinedFilling:
    """As `fill`; what finds no place whole and may be pieced is tried in two parts, three and four.

    A piece is parted only when all of its parts find a place and nothing loses the one it had.
    Raises BadInput as `fill` does.
    """
    began = perf_counter()
    wanted = list(shapes)
    share = seconds / 2 if may_be_pieced else seconds
    best = fill(wanted, remnants, seconds=share, seed=seed, max_rounds=max_rounds)
    joined: dict[str, int] = {}
    for name in [shape.name for shape, _ in best.left if shape.name in may_be_pieced]:
        for parts in range(2, MOST_PARTS + 1):
            left = seconds - (perf_counter() - began)
            if left <= 0 or name in joined or not any(shape.name == name for shape, _ in best.left):
                break
            tried = _parted(wanted, name, parts)
            if tried is None:
                continue
            filling = fill(tried, remnants, seconds=left / 2, seed=seed, max_rounds=max_rounds)
            if len(filling.left) < len(best.left):
                best, wanted, joined = filling, tried, {**joined, name: parts}
    return JoinedFilling(replace(best, seconds=perf_counter() - began), joined)


def _parted(shapes: Sequence[Shape], name: str, parts: int) -> list[Shape] | None:
    """The shapes with one copy of the one so named in parts; None where its outline cannot be so parted."""
    whole = next(shape for shape in shapes if shape.name == name)
    rest = [shape for shape in shapes if shape.name != name]
    if whole.quantity > 1:
        rest.append(replace(whole, quantity=whole.quantity - 1))
    outline = np.array(whole.outline)
    low, high = float(outline[:, 1].min()), float(outline[:, 1].max())
    lines = np.linspace(low, high, parts + 1).tolist()
    try:
        for number, (a, b) in enumerate(zip(lines, lines[1:], strict=False), 1):
            ring = outline
            if number > 1:
                start = a - PIECING_ALLOWANCE
                ring = clipped(ring, np.array((0.0, start)), np.array((1.0, start)))
            if number < parts:
                end = b + PIECING_ALLOWANCE
                ring = clipped(ring, np.array((1.0, end)), np.array((0.0, end)))
            corners = tuple((float(x), float(y)) for x, y in ring)
            rest.append(Shape(f"{name}, part {number} of {parts}", corners, 1, whole.rotations,
                              whole.mirroring, whole.group))
    except BadInput:
        return None
    return rest
