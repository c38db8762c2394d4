"""Laying pieces on a strip of cloth: the way in."""

from collections.abc import Callable, Generator, Iterator, Sequence
from time import perf_counter

import numpy as np

from ..words.problems import BadInput, Problem
from .compact import Packing
from .improve import Improver
from .layout import Layout, LayProgress, Placement
from .nofit import NoFits
from .orient import FIT, Along, Copies, Preparing, placed_outline
from .portions import MOST_TOGETHER, Portions
from .shape import Shape

FIRST_REPORT, REPORT_EVERY = 0.25, 0.08
"""Seconds until the first report, if the first lay takes long, and between reports."""

MOST_OVERLAP = 0.005
"""Overlap of two pieces taken for none, mm²."""

SIMPLIFICATION = 5e-4
"""How far a simplified curve may lie outside the true one, as a share of the cloth's width."""


def lay(
    shapes: Sequence[Shape],
    width: float,
    *,
    seconds: float = 5.0,
    seed: int = 0,
    gap: float = 0.0,
    along: Along = "y",
    max_rounds: int | None = None,
    progress: Callable[[LayProgress], bool | None] | None = None,
) -> Layout:
    """Lay every copy of every shape on a strip `width` mm wide, in as little length as found.

    shapes: what to cut. gap: mm to keep between pieces. along: the axis of the outlines that runs
    along the cloth: "y" for garment pieces, whose grain is drawn down the page; "x" for polygon files.
    progress: called with the best lay so far at least every 0.1 s or so; returning False stops.

    The search is one fixed sequence of steps for a kit, width, gap and seed; `seconds` and
    `max_rounds` only say how far along it to go. So the lay is the same wherever `max_rounds` ends
    it, and on a faster machine at least as short where `seconds` does.

    Raises BadInput when there is nothing to lay, a number makes no sense, or a piece is wider than
    the strip whichever way it may lie, naming the piece and by how much.
    """
    search = Search(shapes, width, seed=seed, gap=gap, along=along)
    shown: Layout | None = None
    while True:
        if progress and (search.constructed or search.seconds >= FIRST_REPORT):
            layout = search.layout
            going_on = progress(_report(layout, improved=shown is None or layout.length < shown.length))
            shown = layout
            if going_on is False:
                break
        left = seconds - search.seconds
        if left <= 0 or not search.advance(min(left, REPORT_EVERY), max_rounds):
            break
    return search.layout


class Search:
    """A lay in the making, for whoever wants to do something else in between.

    There is a lay at once, if only of pieces one after another; a good one is constructed first, and
    then improved. `rounds` counts the improving. Raises BadInput as `lay` does.
    """

    def __init__(
        self, shapes: Sequence[Shape], width: float, *, seed: int = 0, gap: float = 0.0,
        along: Along = "y",
    ) -> None:
        for _ in self._begin(tuple(shapes), width, seed, gap, along):
            pass

    @classmethod
    def in_steps(
        cls, shapes: Sequence[Shape], width: float, *, seed: int = 0
    ) -> Generator[None, None, "Search"]:
        """The same, begun piece by piece: of many it takes a while."""
        search = cls.__new__(cls)
        yield from search._begin(tuple(shapes), width, seed, 0.0, "y")
        return search

    def _begin(
        self, shapes: tuple[Shape, ...], width: float, seed: int, gap: float, along: Along
    ) -> Iterator[None]:
        self._began = perf_counter()
        problems = _problems(shapes, width, gap, along)
        if problems:
            raise BadInput(problems)
        yield
        preparing = Preparing(shapes, width, along, SIMPLIFICATION * width)
        yield from preparing.each()
        yield
        self._kit = preparing.made
        self._width, self._seed = width, seed
        search = Improver if len(self._kit.copies) <= MOST_TOGETHER else Portions
        nofits = NoFits(self._kit.forms, gap)
        self._improver = search(self._kit, width, nofits, seed, _slack(shapes, width))
        self._steps = self._improver.run()
        self.rounds = 0

    @property
    def seconds(self) -> float:
        """Since the search began."""
        return perf_counter() - self._began

    @property
    def constructed(self) -> bool:
        """Whether the first good lay is there."""
        return self._improver.constructed

    @property
    def length(self) -> float:
        """About how long the best lay so far is, mm: known at once, where `layout` may take a while."""
        return self._improver.known_length

    def settling(self) -> Iterator[None]:
        """Does in steps what `layout` would otherwise do at one go."""
        return self._improver.settling()

    @property
    def layout(self) -> Layout:
        """The best lay so far."""
        return _layout(self._kit, self._width, self._improver.best, self._began, self._seed, self.rounds)

    def advance(self, seconds: float, max_rounds: int | None = None) -> bool:
        """Search for so long. False when there is nothing left to find, or `max_rounds` is reached."""
        until = perf_counter() + seconds
        while not self.constructed or max_rounds is None or self.rounds < max_rounds:
            constructed = self.constructed
            if next(self._steps, self) is self:
                return False
            self.rounds += constructed
            if perf_counter() >= until:
                return True
        return False


def too_wide(shape: Shape, width: float, along: Along = "y") -> float:
    """By how much the shape is wider than `width` in the narrowest way it may lie, mm; 0 if every
    copy fits."""
    across = 0 if along == "y" else 1

    def extent(rotation: float, mirrored: bool) -> float:
        return float(np.ptp(placed_outline(shape, rotation, mirrored, along, 0, 0)[:, across]))

    narrowest = max(
        min(
            extent(rotation, mirrored) for rotation, mirrored in shape.ways(copy)
        )
        for copy in range(1, min(shape.quantity, 2) + 1)
    )
    return narrowest - width if narrowest > width * (1 + FIT) else 0.0


def _problems(
    shapes: tuple[Shape, ...], width: float, gap: float, along: Along
) -> list[Problem]:
    if not (np.isfinite(width) and width > 0):
        return [Problem("width", f"The cloth's usable width is {width:g} mm: it must be above 0.")]
    if not (np.isfinite(gap) and 0 <= gap < width):
        return [
            Problem(
                "gap",
                f"The gap between pieces is {gap:g} mm: it must be 0 or more, and less than the "
                f"cloth's {width:g} mm.",
            )
        ]
    if not shapes:
        return [Problem("pieces", "There is nothing to lay: give at least one piece.")]
    return width_problems(shapes, width, along)


def width_problems(shapes: Sequence[Shape], width: float, along: Along) -> list[Problem]:
    """A sentence for each shape that is wider than the strip whichever way it may lie."""
    problems = []
    for shape in shapes:
        excess = too_wide(shape, width, along)
        if excess:
            problems.append(
                Problem(
                    shape.name,
                    f"Piece “{shape.name}” is {excess + width:.1f} mm wide and the cloth "
                    f"{width:.1f} mm: {excess:.1f} mm too wide whichever way it may lie.",
                )
            )
    return problems


def _slack(shapes: tuple[Shape, ...], width: float) -> float:
    """How deep pieces may overlap so that those that fill the width exactly still do, mm; negative,
    a clearance, for pieces so large that any depth a computer can tell would make too much area."""
    contact = max(float(np.ptp(np.array(shape.outline), axis=0).sum()) for shape in shapes)
    slack = min(FIT * width, MOST_OVERLAP / contact)
    return slack if slack > 0.1 * FIT * width else -FIT * width


def _layout(
    kit: Copies, width: float, packing: Packing, began: float, seed: int, rounds: int
) -> Layout:
    decimals = 6 if 1 < width < 3000 else 9
    lengthwise = 0 if kit.along == "x" else 1
    placements = []
    length = 0.0
    for copy, form, corner in zip(kit.copies, packing.forms, packing.corners, strict=True):
        shape = kit.shapes[copy.shape]
        pose = next(pose for pose in copy.poses if pose.form == form)
        own = corner if kit.along == "x" else corner[::-1]
        x, y = (round(float(at - low), decimals) for at, low in zip(own, pose.corner, strict=True))
        outline = placed_outline(shape, pose.rotation, pose.mirrored, kit.along, x, y)
        outline = np.clip(np.round(outline, decimals), 0.0, None)
        np.minimum(outline[:, 1 - lengthwise], width, out=outline[:, 1 - lengthwise])
        length = max(length, float(outline[:, lengthwise].max()))
        placements.append(
            Placement(
                shape.name, copy.number, x, y, pose.rotation, pose.mirrored,
                tuple((float(px), float(py)) for px, py in outline), shape.group, shape.at_fold,
            )
        )
    bound = sum(shape.area * shape.quantity for shape in kit.shapes) / width
    return Layout(
        width=width,
        length=length,
        area_bound=bound,
        utilisation=bound / length,
        seconds=perf_counter() - began,
        seed=seed,
        rounds=rounds,
        along=kit.along,
        placements=tuple(placements),
    )


def _report(layout: Layout, improved: bool) -> LayProgress:
    return LayProgress(
        layout.seconds, layout.rounds, layout.length, layout.utilisation, improved, layout
    )
