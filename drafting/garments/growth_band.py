"""A growth tuck in a flared piece: a straight band let in, so that both rows of the tuck are equal.

Where a piece flares, a line lower down is longer, and the tuck's lower row would have to be gathered on to
its upper one. So the piece is cut apart along the upper row, its lower part moved down along the grain by
what the tuck takes, and a band with upright sides let in between. The lower row is the upper one again, the
finished garment hangs as if it had no tuck, and every slanted edge is longer by the same.
source: plane geometry (a translation keeps lengths).
"""

from dataclasses import replace

from ..geometry import Edge, Line, Outline, Path, Point
from ..pattern import Hang, InnerLine, Piece

ON_THE_ROW = 0.05
"""mm."""


def with_growth_tuck(piece: Piece, upper: Path, below: float, depth: float) -> Piece:
    """The piece with a tuck `depth` mm deep: `upper` is its upper row, `below` mm under the flare's start.

    `upper` runs across the piece from edge to edge.
    """
    drop = Point(0.0, 2 * depth)
    lower = upper.moved(lambda p: p + drop)
    hems = {hang.hem for hang in piece.hangs}
    lowest = max(p.y for p in upper.points())

    def moved_below(p: Point) -> Point:
        return p + drop if p.y > lowest else p

    return replace(
        piece,
        outline=Outline(tuple(
            Edge(edge.name, edge.path.moved(lambda p: p + drop) if edge.name in hems
                 else _lengthened(edge.path, upper, drop))
            for edge in piece.outline.edges
        )),
        inner_lines=(
            *(replace(line, path=line.path.moved(moved_below)) if line.kind == "slit" else line
              for line in piece.inner_lines),
            InnerLine("tuck, lower line", lower, "tuck", "tuck foot"),
            InnerLine("tuck, upper line", upper, "tuck"),
        ),
        hangs=tuple(_from_the_foot(hang, lower, below, depth) for hang in piece.hangs),
    )


def _lengthened(path: Path, row: Path, drop: Point) -> Path:
    """An edge with the band's side let in where the row ends on it."""
    for end in (row.start, row.end):
        at = path.distance_along_to(end)
        if path.point_along(at).distance(end) < ON_THE_ROW and 0 < at < path.length:
            first, second = path.cut_at(at)
            if path.start.y < path.end.y:
                return _through(first, second.moved(lambda p: p + drop))
            return _through(first.moved(lambda p: p + drop), second)
    return path


def _through(first: Path, second: Path) -> Path:
    return Path((*first.segments, Line(first.end, second.start), *second.segments))


def _from_the_foot(hang: Hang, foot: Path, below: float, depth: float) -> Hang:
    """The same hem measured from the tuck's foot: the way down the cloth goes straight through the band."""
    return Hang(hang.hem, foot, hang.depth - below, hang.below + below + 2 * depth)

