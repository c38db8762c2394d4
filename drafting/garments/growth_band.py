"""A growth tuck in a flared piece: a straight band let in, so that both rows of the tuck are equal.

Where a piece flares, a line lower down is longer, and the tuck's lower row would have to be gathered on to
its upper one. So the piece is cut apart along the upper row, its lower part moved along the grain by what
the tuck takes, and a band with upright sides let in between. The lower row is the upper one again, the
finished garment hangs as if it had no tuck, and every edge that the rows run to is longer by the same.
source: plane geometry (a translation keeps lengths).
"""

from collections.abc import Callable
from dataclasses import replace

from ..geometry import Arc, Edge, Line, Outline, Path, Point, Segment
from ..pattern import Hang, InnerLine, Piece
from ..words.problems import BadInput, Problem
from ..words.wording import said

ON_THE_ROW = 0.05
"""mm."""

LEAST = 10.0
"""mm of a tuck's depth under which it is not worth sewing. common practice, no source."""

Motion = Callable[[Point], Point]


def clear_of_the_hem(depth: float) -> float:
    """mm above the hem at which a tuck is stitched, so that its fold, laid down, stays clear of the hem."""
    return max(depth, 40.0) + 20.0


def check_tuck(depth: float, room: float, length: float) -> None:
    """Raises BadInput for a tuck too shallow to sew, or without `room` for its upper row.

    `room` is mm from what must lie above that row down to the row, in a garment of `length`.
    """
    if 0 < depth < LEAST:
        raise BadInput([Problem(
            "growth_tuck", f"A growth tuck {said(depth)} deep is too shallow to sew: give {said(LEAST)} or "
            "more, or 0 for none.")])
    if depth and room < 0:
        raise BadInput([Problem(
            "growth_tuck", f"A growth tuck {said(depth)} deep finds no room above the hem: give a shallower "
            f"one, or a length of {said(length - room)} or more.", also=("length",))])


def with_growth_tuck(piece: Piece, hang: Hang, above: float, depth: float, name: str = "") -> Piece:
    """The piece with a tuck `depth` mm deep, its upper row `above` mm of cloth above the hem of `hang`.

    The row crosses the piece from edge to edge. Where the hem is drawn above the level, as that of a back is
    which is in one with the front, all goes upwards. `name` tells the lines from those of another tuck.
    """
    row = _parallel_within(piece.outline[hang.hem].path, above)
    way = 1 if piece.outline[hang.hem].path.start.y > row.start.y else -1
    drop = Point(0.0, way * 2 * depth)

    def moved(p: Point) -> Point:
        return p + drop

    def moved_beyond(p: Point) -> Point:
        return moved(p) if way * p.y > furthest else p

    furthest = max(way * p.y for p in row.points())
    return replace(
        piece,
        outline=Outline(tuple(
            Edge(edge.name, edge.path.moved(moved) if edge.name == hang.hem
                 else _along_the_side(edge.path, row, way, moved))
            for edge in piece.outline.edges
        )),
        inner_lines=(
            *(replace(line, path=line.path.moved(moved_beyond)) for line in piece.inner_lines),
            InnerLine(f"{name}tuck, lower line", row.moved(moved), "tuck", "tuck foot"),
            InnerLine(f"{name}tuck, upper line", row, "tuck"),
        ),
        hangs=tuple(_from_the_foot(one, row.moved(moved), above, depth) if one == hang else one
                    for one in piece.hangs),
    )


def _parallel_within(hem: Path, above: float) -> Path:
    """The line of all points `above` mm of cloth above a hem, walked as the hem is: clockwise."""
    return Path(tuple(_moved_in(part, above) for part in hem.segments))


def _moved_in(part: Segment, above: float) -> Segment:
    """A line or an arc about a point within the piece, moved towards it. Cloth is on its right."""
    if isinstance(part, Arc):
        return replace(part, radius=part.radius - above)
    inwards = part.direction_at(0.5).outward * -above
    return part.moved(lambda p: p + inwards)


def _along_the_side(path: Path, row: Path, way: int, moved: Motion) -> Path:
    """An edge with the band's side let in where the row ends on it; moved where it lies beyond the row."""
    for end in (row.start, row.end):
        at = path.distance_along_to(end)
        if path.point_along(at).distance(end) < ON_THE_ROW and 0 < at < path.length:
            first, second = path.cut_at(at)
            if way * (path.end.y - path.start.y) > 0:
                return _through(first, second.moved(moved))
            return _through(first.moved(moved), second)
    beyond = min(way * (p.y - row.start.y) for p in (path.start, path.end)) > 0
    return path.moved(moved) if beyond else path


def _through(first: Path, second: Path) -> Path:
    return Path((*first.segments, Line(first.end, second.start), *second.segments))


def _from_the_foot(hang: Hang, foot: Path, above: float, depth: float) -> Hang:
    """The same hem measured from the tuck's foot: the way down the cloth goes straight through the band."""
    return Hang(hang.hem, foot, above, hang.below + hang.depth - above + 2 * depth)
