"""A garment hung on its wearer: coarse first, then finer, told as it comes to rest."""

from collections.abc import Callable, Generator
from dataclasses import dataclass, replace
from functools import cached_property
from math import sqrt
from time import perf_counter
from typing import Any, NamedTuple

import numpy as np

from ..body import Body
from ..garments.garment import Garment
from ..pattern import Pattern
from ..words.problems import BadInput, Problem
from .assembly import Assembly, assembled, fastened, finer, hung_copies, over_the_shoulder
from .cloth_forces import ClothFeel
from .drape import Hanging
from .figure import Figure, figure
from .mesh import Mesh, sewn
from .sections import Floats, Ints
from .sewing_lines import Copy
from .touching import FRICTION

SIDE, SMALLEST_SIDE, FEWEST = 40.0, 15.0, 700
"""mm of the finer mesh's triangles: less where that would be fewer points."""


class Pass(NamedTuple):
    """One of the two meshes it is hung in: rounds at most, the residual at which it rests, what cloth rubs,
    and its share of the whole time."""

    most_rounds: int
    at_rest: float
    friction: float
    share: float


PASSES = (Pass(150, 0.03, 0.0, 0.3), Pass(900, 0.019, FRICTION, 0.7))
"""First in triangles twice as large and without friction: as one shakes a garment down before it hangs, but
for one that lies on the shoulders only because it rubs on them."""

RUBBED_ON = ("pin", "head", "winding")
"""What lies where it is only because it rubs there."""

CLOTH_THICKNESS = 1.0
"""mm between the figure, with what is worn beneath, and the middle of the cloth."""

REPORT_EVERY = 25
"""Rounds between reports."""


@dataclass(frozen=True, eq=False)
class Worn:
    """Cloth hung on a figure: where its points are (n × 3, mm), how long that took, the largest force
    left on a point over the garment's weight, and whether it is at rest in larger triangles."""

    pattern: Pattern
    figure: Figure
    mesh: Mesh
    points: Floats
    seconds: float
    rounds: int
    residual: float
    done: float
    strap_ends: tuple[tuple[int, int], ...] = ()
    rests: bool = False

    @property
    def straps(self) -> tuple[Floats, ...]:
        """The way of each strap over the shoulder."""
        return tuple(over_the_shoulder(self.figure, self.points[front], self.points[back])
                     for front, back in self.strap_ends)

    @cached_property
    def hems(self) -> tuple[Ints, ...]:
        """The garment's points along each edge that is a hem, one run an edge of a copy."""
        found = []
        for cut in self.mesh.pieces:
            piece = self.pattern.piece(cut.copy[0])
            for edge in piece.outline.edges:
                if piece.role(edge.name) == "hem":
                    found.append(self.mesh.points_of(*cut.copy, edge.name))
        return tuple(found)

    @cached_property
    def free_edges(self) -> tuple[Ints, ...]:
        """Its points along each edge, hole and slit that is not sewn to another."""
        return tuple(joint[own] for cut, joint in zip(self.mesh.pieces, self.mesh.joint, strict=True)
                     for line, own in cut.lines.items() if line not in cut.sewn)

    @cached_property
    def stretches(self) -> Floats:
        """How much longer each triangle is in its most stretched direction than on the uncut cloth, as a
        part; below 0 where it is gathered."""
        flat, corners = self.mesh.flat, self.mesh.corners
        u, v = flat[:, 1] - flat[:, 0], flat[:, 2] - flat[:, 0]
        turn = np.linalg.inv(np.stack([u, v], 2))
        a, b, c = (self.points[corners[:, k]] for k in range(3))
        deformed = np.stack([b - a, c - a], 2) @ turn
        return np.asarray(np.linalg.svd(deformed, compute_uv=False)[:, 0] - 1)


def hang_in_steps(garment: Garment, pattern: Pattern, body: Body, feel: ClothFeel,
                  side: float | None = None) -> Generator[Worn, bool | None, Worn]:
    """The garment as it comes to rest on the body, which knows all of the figure's measures, in triangles of
    `side` mm, which are those of half as many where it first rests.

    Whoever sends True has seen enough: the last picture is what there is. The same each time, but for the
    seconds. Raises BadInput where the garment cannot be shown worn.
    """
    began = perf_counter()
    worn = garment.worn
    copies = hung_copies(garment, pattern)
    assert worn is not None
    pattern = fastened(garment, pattern)
    shown = figure(body, "away" if "arms" in worn.lies.values() else "under" if worn.hangs_from == "pin"
                   else "beside")
    stacks = tuple(stack.grown(worn.beneath + CLOTH_THICKNESS) for stack in shown.stacks.values())
    side = side or usual_side(pattern, copies)
    made = assembled(garment, pattern, shown, sewn(pattern, copies, 2 * side, fastened=worn.fastened))
    x, rounds, done = made.start, 0, 0.0
    for k, one in enumerate(PASSES):
        if k:
            made, x = finer(made, garment, pattern, shown, x)
        rubs = FRICTION if worn.hangs_from in RUBBED_ON else one.friction
        hanging = Hanging(made.mesh, x, feel, stacks, made.hold, rubs)
        now = _teller(pattern, shown, made, hanging, began, rounds, (done, one.share), one.most_rounds)
        enough = False
        for _ in hanging.come_to_rest(one.most_rounds, one.at_rest):
            if hanging.rounds % REPORT_EVERY == 0:
                _must_be_somewhere(garment, hanging.x)
                enough = bool((yield now()))
                if enough:
                    break
        _must_be_somewhere(garment, hanging.x)
        rounds, x, done = rounds + hanging.rounds, hanging.x, done + one.share
        if enough or k + 1 < len(PASSES) and (yield replace(now(), done=done, rests=True)):
            break
    return replace(now(), rounds=rounds)


def usual_side(pattern: Pattern, copies: tuple[Copy, ...]) -> float:
    """mm of the finer mesh's triangles."""
    cloth = sum(pattern.piece(name).outline.area for name, _ in copies)
    even = sqrt(cloth / FEWEST / (sqrt(3) / 2))
    return min(SIDE, max(SMALLEST_SIDE, even))


def _teller(
    pattern: Pattern, shown: Figure, made: Assembly, hanging: Hanging, began: float, before: int,
    share: tuple[float, float], most: int,
) -> Callable[[], Worn]:
    """What there is at any moment of one mesh's way to rest, which has this share of the whole."""
    def now() -> Worn:
        done = share[0] + share[1] * hanging.rounds / most
        return Worn(pattern, shown, hanging.mesh, hanging.x, perf_counter() - began, before + hanging.rounds,
                    hanging.residual, done, made.straps)

    return now


def _must_be_somewhere(garment: Garment, x: Floats) -> None:
    if not (np.isfinite(x).all() and np.abs(x).max() < 1e5):
        raise BadInput([Problem("garment", f"{garment.title}: on this body it does not come to rest. Look at "
                                "the checks: its measurements may contradict each other.")])


def as_json(worn: Worn, hem: list[tuple[float, float]]) -> dict[str, Any]:
    """worn.json: mm, z up, the floor at 0; `flat` are each triangle's corners on the uncut cloth."""
    points, triangles = worn.figure.surface
    return {
        "points": np.round(worn.points, 2).tolist(),
        "triangles": worn.mesh.corners.tolist(),
        "flat": np.round(worn.mesh.flat, 2).tolist(),
        "figure": {"points": np.round(points, 2).tolist(), "triangles": triangles.tolist()},
        "hem": [[round(angle, 1), round(height, 1)] for angle, height in hem],
        "seconds": round(worn.seconds, 3),
        "rounds": worn.rounds,
        "residual": round(worn.residual, 5),
    }
