"""A garment worn, as what shows it needs to know: what is drawn of it, and the same as text for the page."""

import json
from collections.abc import Iterator
from typing import Any

import numpy as np

from .hanging import Worn
from .sections import Floats, Ints
from .sewing_lines import sides_of

ABOUT = 0.13
"""Of stature: what of the wearer is shown above and below a garment that covers a part of them."""

LEGS_STAND_OUT = 60.0
"""mm that legs and feet reach at most beside what is worn on them."""

HIGH_UP, LOW_DOWN = 0.42, 0.45
"""Of stature: a garment all above the one, or below the other, is shown with that part of the wearer
alone."""


def frame(worn: Worn) -> tuple[float, float]:
    """Between which heights it is shown, mm."""
    low, high = float(worn.points[:, 2].min()), float(worn.points[:, 2].max())
    stature, top = worn.figure.stature, max(high, worn.figure.stature)
    return (low - ABOUT * stature if low > HIGH_UP * stature else 0.0,
            high + ABOUT * stature if high < LOW_DOWN * stature else top)


def figure_seen(worn: Worn, *, coarse: bool = False) -> tuple[Floats, Ints]:
    """The part of the figure that is shown: its points, and triangles."""
    points, faces = worn.figure.turned if coarse else worn.figure.drawn
    low, high = frame(worn)
    shown = (points[:, 2] >= low - 1) & (points[:, 2] <= high + 1)
    if high < worn.figure.stature:
        # Of the arms no more than fingertips would be seen.
        shown &= np.abs(points[:, 0]) < np.abs(worn.points[:, 0]).max() + LEGS_STAND_OUT
    within = shown[faces].all(1)
    used, back = np.unique(faces[within], return_inverse=True)
    return points[used], back.reshape(-1, 3)


def lines_on(worn: Worn) -> Iterator[tuple[str, Floats]]:
    """Seams (s), edges and hems (h) and straps (t) as places one after another, each with its look."""
    hung = {cut.copy for cut in worn.mesh.pieces}
    for seam in worn.pattern.seams:
        if all((part.piece, part.copy) in hung for part in (*seam.a, *seam.b)):
            for part in sides_of(worn.pattern, seam).a:
                yield "s", worn.points[worn.mesh.points_of(*part.line, part.lip)]
    for edge in worn.free_edges:
        yield "h", worn.points[edge]
    for strap in worn.straps:
        yield "t", strap


def as_seen(worn: Worn, colour: str) -> str:
    """JSON: `cloth` and `figure` as flat lists of points (x, y, z to the mm) and triangles, `lines` with
    their looks, the heights between which it is shown, and the cloth's colour, #rrggbb."""
    return json.dumps({
        "cloth": _surface(worn.points, worn.mesh.corners),
        "figure": _surface(*figure_seen(worn, coarse=True)),
        "lines": [{"look": look, "points": _flat(line)} for look, line in lines_on(worn)],
        "frame": [round(height) for height in frame(worn)],
        "colour": colour,
    }, separators=(",", ":"))


def _surface(points: Floats, triangles: Ints) -> dict[str, Any]:
    return {"points": _flat(points), "triangles": triangles.ravel().tolist()}


def _flat(points: Floats) -> list[int]:
    return [int(one) for one in np.rint(points).ravel()]
