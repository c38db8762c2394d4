"""Every distinct way a piece can lie, in the strip's own coordinates.

Inside the engine x runs along the length of the strip and y across it, from 0 to its width. A piece
is held by the lower left corner of its bounding box.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from .convex import convex_parts
from .corners import Points, cleaned, counter_clockwise, exact_cos_sin, rotated, signed_area
from .shape import Shape
from .simplify import outer_simplified

Along = Literal["x", "y"]
"""The axis of the outlines that runs along the length of the strip."""

FIT = 1e-9
"""Share of the width taken for none when pieces fill it exactly: 1.5 nm on 1.5 m."""

CORNERS_IN_ALL, FEWEST_CORNERS, MOST_CORNERS = 600, 16, 48
"""Corners of all shapes together, and of one, beyond which outlines are simplified further: the work
for a pair of forms grows with the corners of both, and the pairs with the square of the shapes."""


@dataclass(frozen=True, eq=False)
class Form:
    """An outline turned as it will lie, its box's corner at the origin; shared by equal pieces.

    size: extent along and across the strip, mm.
    parts: convex polygons (counter-clockwise) that cover it.
    """

    outline: Points
    parts: tuple[Points, ...]
    size: tuple[float, float]
    area: float


@dataclass(frozen=True)
class Pose:
    """One way a piece may lie: which form that is, and how it came about.

    corner: the box's lower left corner in the piece's own axes after mirroring and turning.
    """

    form: int
    rotation: float
    mirrored: bool
    corner: tuple[float, float]


@dataclass(frozen=True)
class Copy:
    """One piece to be laid and the ways it may lie."""

    shape: int
    number: int
    poses: tuple[Pose, ...]
    at_fold: bool


@dataclass(frozen=True)
class Copies:
    """All copies to be laid on one strip and the forms they take."""

    shapes: tuple[Shape, ...]
    copies: tuple[Copy, ...]
    forms: tuple[Form, ...]
    along: Along


def placed_outline(
    shape: Shape, rotation: float, mirrored: bool, along: Along, x: float, y: float
) -> Points:
    """The outline as it lies: mirrored across the grain, then turned, then moved by (x, y)."""
    points = np.array(shape.outline, dtype=float)
    if mirrored:
        points = points * ((-1.0, 1.0) if along == "y" else (1.0, -1.0))
    return rotated(points, rotation) + (x, y)


def prepared(shapes: tuple[Shape, ...], width: float, along: Along, tolerance: float) -> Copies:
    """The kit of `shapes`, each copy with the poses that fit the strip's width.

    Curved outlines are simplified outwards by at most about `tolerance` mm.
    """
    preparing = Preparing(shapes, width, along, tolerance)
    for _ in preparing.each():
        pass
    return preparing.made


class Preparing:
    """What `prepared` makes, one shape after another."""

    def __init__(self, shapes: tuple[Shape, ...], width: float, along: Along, tolerance: float) -> None:
        self._shapes, self._width, self._along, self._tolerance = shapes, width, along, tolerance
        self._most = min(max(CORNERS_IN_ALL // len(shapes), FEWEST_CORNERS), MOST_CORNERS)
        self._forms: list[Form] = []
        self._known: dict[bytes, int] = {}
        self._copies: list[Copy] = []

    def each(self) -> Iterator[None]:
        for index, shape in enumerate(self._shapes):
            self._take(index, shape)
            yield

    @property
    def made(self) -> Copies:
        return Copies(self._shapes, tuple(self._copies), tuple(self._forms), self._along)

    def _take(self, index: int, shape: Shape) -> None:
        forms, width = self._forms, self._width
        rough, parts = _simpler(shape.outline, shape.rotations, self._tolerance, self._most)
        poses: dict[tuple[float, bool], Pose] = {}
        for number in range(1, shape.quantity + 1):
            allowed: list[Pose] = []
            for way in shape.ways(number):
                if way not in poses:
                    poses[way] = _pose(rough, parts, *way, self._along, FIT * width, forms, self._known)
                allowed.append(poses[way])
            allowed = [pose for pose in allowed if forms[pose.form].size[1] <= width * (1 + 2 * FIT)]
            first = {pose.form: pose for pose in reversed(allowed)}
            ways = tuple(sorted(first.values(), key=allowed.index))
            self._copies.append(Copy(index, number, ways, shape.at_fold))


@lru_cache(maxsize=512)
def _simpler(
    outline: tuple[tuple[float, float], ...], rotations: tuple[float, ...], tolerance: float, most: int
) -> tuple[Points, list[Points]]:
    """The outline with fewer corners and its convex parts, which nobody changes: garments alike have pieces
    alike, and so has one that is cut another way to save cloth."""
    exact = counter_clockwise(cleaned(np.array(outline, dtype=float)))
    rough = outer_simplified(exact, tolerance, _axes(rotations), most)
    return rough, convex_parts(rough)


Twins = list[tuple[tuple[bool, int, int], list[int | None]]]


def twins(forms: tuple[Form, ...]) -> Twins:
    """The quarter turns and reflections, and for each which form every form becomes by it.

    One is told by whether x and y change places and by the signs that x and y then take; the first is
    the identity. None where the kit has no such form.
    """
    step = FIT * max(max(form.size) for form in forms)
    known = {_fingerprint(form.outline, step): k for k, form in enumerate(forms)}
    found = []
    for swap in (False, True):
        for flip_x in (1, -1):
            for flip_y in (1, -1):
                become = []
                for form in forms:
                    turned = (form.outline[:, ::-1] if swap else form.outline) * (flip_x, flip_y)
                    become.append(known.get(_fingerprint(turned - turned.min(axis=0), step)))
                found.append(((swap, flip_x, flip_y), become))
    return found


def _axes(rotations: tuple[float, ...]) -> Points:
    """Directions in the piece that may come to lie along or across the strip."""
    found = {(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)}
    for rotation in rotations:
        cos, sin = exact_cos_sin(rotation)
        for sign in (1.0, -1.0):
            found |= {(cos, sign * sin), (-cos, -sign * sin)}
            found |= {(-sign * sin, cos), (sign * sin, -cos)}
    return np.array(sorted(found))


def _pose(
    rough: Points,
    parts: list[Points],
    rotation: float,
    mirrored: bool,
    along: Along,
    step: float,
    forms: list[Form],
    known: dict[bytes, int],
) -> Pose:
    turned = _turned(rough, rotation, mirrored, along)
    corner = turned.min(axis=0)
    outline = turned - corner
    size = outline.max(axis=0)
    key = _fingerprint(outline, step)
    if key not in known:
        known[key] = len(forms)
        moved = tuple(
            counter_clockwise(_turned(part, rotation, mirrored, along) - corner) for part in parts
        )
        area = signed_area(counter_clockwise(outline))
        forms.append(
            Form(counter_clockwise(outline), moved, (float(size[0]), float(size[1])), area)
        )
    own = corner if along == "x" else corner[::-1]
    return Pose(known[key], rotation, mirrored, (float(own[0]), float(own[1])))


def _turned(points: Points, rotation: float, mirrored: bool, along: Along) -> Points:
    """As `placed_outline`, in the strip's coordinates."""
    if mirrored:
        points = points * ((-1.0, 1.0) if along == "y" else (1.0, -1.0))
    turned = rotated(points, rotation)
    return turned if along == "x" else turned[:, ::-1]


def _fingerprint(outline: Points, step: float) -> bytes:
    """The same bytes for the same set of corners, told apart by `step` mm."""
    steps: NDArray[np.int64] = np.rint(outline / step).astype(np.int64)
    return np.unique(steps, axis=0).tobytes()
