"""Pieces that are alike: how one, cut out, must be laid on the cloth to be the template of another."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from ..geometry import Point, area, bounds
from ..geometry.polygon import nearest
from .chalk import Inside, Spot, ToChalk

ALIKE = 0.1
"""mm by which two outlines may differ and still be one template's: less than a tape shows."""

SAME_SPOT = 1.0


@dataclass(frozen=True)
class Motion:
    """Turned over left to right if `over`, then head down if `turned`, then moved by (x, y) mm."""

    over: bool
    turned: bool
    x: float = 0.0
    y: float = 0.0

    def of(self, p: Point) -> Point:
        across = -p.x if self.over != self.turned else p.x
        return Point(across + self.x, (-p.y if self.turned else p.y) + self.y)

    def makes(self, points: Sequence[Point], others: Sequence[Point], *, closed: bool) -> bool:
        """Whether it lays the one polyline on the other."""
        moved = [self.of(p) for p in points]
        return _on(moved, others, closed) and _on(others, moved, closed)


def motions(template: Sequence[Point], outline: Sequence[Point]) -> Iterator[Motion]:
    """The ways to lay a closed outline on another that is the same, as they lie first."""
    one, other = bounds(template), bounds(outline)
    if any(abs((one[k + 2] - one[k]) - (other[k + 2] - other[k])) > ALIKE for k in (0, 1)):
        return
    if abs(abs(area(list(template))) - abs(area(list(outline)))) > ALIKE * sum(
            one[k + 2] - one[k] for k in (0, 1)):
        return
    for turned, over in product((False, True), repeat=2):
        plain = Motion(over, turned)
        left, top, _, _ = bounds([plain.of(p) for p in template])
        motion = Motion(over, turned, other[0] - left, other[1] - top)
        if motion.makes(template, outline, closed=True):
            yield motion


def motion_of_line(hole: Sequence[Point], other: Sequence[Point]) -> Motion | None:
    return next(motions(hole, other), None)


def holds_all_of(template: ToChalk, piece: ToChalk, motion: Motion) -> bool:
    """Whether what is cut inside the piece is cut inside the template too, no less and no more, and all
    that is marked in it is marked there."""
    def there(line: Inside) -> bool:
        return any(
            line.kind == other.kind and motion.makes(other.points, line.points, closed=line.kind == "hole")
            for other in template.insides
        )

    def marked(spot: Spot) -> bool:
        return any(spot.label == other.label and motion.of(other.at).distance(spot.at) <= SAME_SPOT
                   for other in template.spots)

    cut = [sum(line.kind in ("hole", "slit") for line in p.insides) for p in (template, piece)]
    return cut[0] == cut[1] and all(map(there, piece.insides)) and all(map(marked, piece.spots))


def _on(points: Sequence[Point], line: Sequence[Point], closed: bool) -> bool:
    ends = [*line[1:], line[0]] if closed else line[1:]
    sides = [(a.x, a.y, b.x, b.y) for a, b in zip(line, ends, strict=False)]
    corners = {(round(p.x, 1), round(p.y, 1)) for p in line}
    return all(
        (round(p.x, 1), round(p.y, 1)) in corners or nearest(sides, p.x, p.y)[0] <= ALIKE for p in points
    )
