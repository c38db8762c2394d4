"""A lay for tearing: full-width strips torn across the cloth, pieces side by side in each.

Wool and linen tear straight along a thread. The strips come off first; within a strip the pieces
stand next to each other, wedges head to tail, and are cut or torn down the grain. No numpy: this lay
is made while one waits, to compare with the free one.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import inf
from time import perf_counter

from ..words.problems import BadInput, Problem
from ..words.wording import said
from .layout import Layout, Placement
from .shape import Shape

XY = tuple[float, float]

NEAR = 1e-9
"""mm within which two heights are one."""


@dataclass(frozen=True)
class _Item:
    """One way a copy may stand in a strip: its outline with its box's corner at the origin."""

    shape: Shape
    copy: int
    rotation: float
    mirrored: bool
    outline: tuple[XY, ...]
    width: float
    height: float
    origin: XY


@dataclass
class _Strip:
    """A strip across the cloth, `height` mm of its length, with what stands in it, left to right."""

    height: float
    placed: list[tuple[_Item, float]]


def tearable_lay(shapes: Sequence[Shape], width: float) -> Layout:
    """Every copy of every shape in strips as wide as the cloth, in few mm of length.

    Tallest first, each into the first strip where it fits (first fit, decreasing height: Coffman,
    Garey, Johnson & Tarjan 1980, SIAM J. Comput. 9:808), as close to its neighbour as their outlines
    allow. Raises BadInput when a piece is wider than the cloth.
    """
    began = perf_counter()
    copies = [_ways(shape, copy) for shape in shapes for copy in range(1, shape.quantity + 1)]
    for ways in copies:
        if min(way.width for way in ways) > width + 1e-6:
            shape, least = ways[0].shape, min(way.width for way in ways)
            raise BadInput([Problem(
                shape.name,
                f"Piece “{shape.name}” is {said(least)} wide, {said(least - width)} more than the cloth.",
            )])
    copies.sort(key=lambda ways: (-ways[0].height, -ways[0].width, ways[0].shape.name, ways[0].copy))
    strips: list[_Strip] = []
    for ways in copies:
        if not any(_stand(strip, ways, width) for strip in strips):
            strip = _Strip(ways[0].height, [])
            strips.append(strip)
            _stand(strip, ways, width)
    return _layout(shapes, strips, width, perf_counter() - began)


def _ways(shape: Shape, copy: int) -> list[_Item]:
    found = []
    for rotation, mirrored in shape.ways(copy):
        if rotation % 180:
            continue
        flip, turn = (-1 if mirrored else 1), (-1 if rotation % 360 else 1)
        points = [(x * flip * turn, y * turn) for x, y in shape.outline]
        left, top = min(x for x, _ in points), min(y for _, y in points)
        outline = tuple((x - left, y - top) for x, y in points)
        size = max(x for x, _ in outline), max(y for _, y in outline)
        found.append(_Item(shape, copy, rotation, mirrored, outline, *size, (-left, -top)))
    return found


def _stand(strip: _Strip, ways: list[_Item], width: float) -> bool:
    """Stand a copy at the right of the strip in whichever way ends furthest left; False if none fits."""
    best: tuple[float, float, _Item] | None = None
    for item in ways:
        if item.height > strip.height + 1e-6:
            continue
        x = 0.0
        for other, at in strip.placed:
            x = max(x, at + _apart(other.outline, item.outline))
        if item.shape.at_fold:
            x = max(x, width - item.width)
        end = x + item.width
        if end <= width + 1e-6 and (best is None or end < best[0] - 1e-6):
            best = (end, x, item)
    if best is None:
        return False
    strip.placed.append((best[2], best[1]))
    return True


@lru_cache(maxsize=4096)
def _apart(a: tuple[XY, ...], b: tuple[XY, ...]) -> float:
    """How far right of `a` must `b` stand, both from their own corners, so that they only touch.

    The gap between two polygons along x is piecewise linear in y, so corners of either decide.
    """
    ys = sorted({y for _, y in a} | {y for _, y in b})
    right, left = _reach(a, ys, 1), _reach(b, ys, -1)
    gaps = [r + x for r, x in zip(right, left, strict=True) if r + x > -inf]
    return max(gaps, default=0.0)


def _reach(polygon: tuple[XY, ...], ys: list[float], side: int) -> list[float]:
    """At each height the polygon's outermost x, times `side`: 1 for the right, -1 for the left; -inf
    where it does not reach."""
    found = [-inf] * len(ys)
    for (x0, y0), (x1, y1) in zip(polygon, (*polygon[1:], polygon[0]), strict=True):
        low, high = min(y0, y1), max(y0, y1)
        for i in range(bisect_left(ys, low - NEAR), bisect_right(ys, high + NEAR)):
            if high - low < NEAR:
                x = max(side * x0, side * x1)
            else:
                x = side * (x0 + (ys[i] - y0) * (x1 - x0) / (y1 - y0))
            if x > found[i]:
                found[i] = x
    return found


def _layout(shapes: Sequence[Shape], strips: list[_Strip], width: float, seconds: float) -> Layout:
    placements = []
    top = 0.0
    for strip in strips:
        for item, x in strip.placed:
            placements.append(Placement(
                item.shape.name, item.copy, x + item.origin[0], top + item.origin[1],
                item.rotation, item.mirrored,
                tuple((x + px, top + py) for px, py in item.outline), item.shape.group,
                item.shape.at_fold,
            ))
        top += strip.height
    area = sum(shape.area * shape.quantity for shape in shapes)
    return Layout(
        width=width, length=top, area_bound=area / width, utilisation=area / width / top,
        seconds=seconds, seed=0, rounds=0, along="y", placements=tuple(placements),
    )
