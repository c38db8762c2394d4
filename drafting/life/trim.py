"""Trimmings: for every edge the length of band, facing, embroidery or cord, with its corners and joins.

What lies side by side and runs on over the seams between is one edge: a hem all round is one ring.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import acos, degrees

from ..geometry import Path
from ..pattern import InnerLine, Pattern, Piece, SeamEdge
from ..sewing.finishing import is_strip
from ..sewing.graph import SeamGraph, parts_of
from ..sewing.tasks import INNER_LAYERS, QUILTED
from ..words.problems import BadInput, Problem
from ..words.units import Unit, format_length
from ..words.wording import said

CORNER = 30.0
"""Degrees from which a band is mitred and no longer eased round. common practice, no source."""

END = 10.0
"""mm turned in at each end of a band, or sewn where its ends meet. common practice, no source."""

TAKE_UP, LOOM_WASTE = 0.12, 600.0
"""Part of a tablet-woven band's length that its warp is longer for, and mm of warp lost at the loom, in knots
and beyond the last turn. common practice, no source."""

BAND = 20.0
"""mm of a band's width unless another is asked for. common practice, no source."""

WARP_SAID = ("A band or facing has its corners and ends in it; a tablet-woven one's warp is "
             f"{TAKE_UP:.0%} longer for what the weaving takes up, and {said(LOOM_WASTE)} for the loom.")


@dataclass(frozen=True)
class TrimEdge:
    """Everything that is one edge of the garment, mm: `bands` lie on it, `rings` of them closed; `corners`
    are mitred."""

    name: str
    length: float
    bands: int
    rings: int
    corners: int

    def band(self, width: float) -> float:
        """mm of a band so wide, facing likewise: a mitre takes twice the width, every end is turned in."""
        return self.length + 2 * width * self.corners + 2 * END * self.bands


@dataclass(frozen=True)
class WarpOptions:
    """For tablet weaving: what the weaving takes up, as a part, and mm that the loom wastes. Raises
    BadInput."""

    take_up: float = TAKE_UP
    waste: float = LOOM_WASTE

    def __post_init__(self) -> None:
        if not (0 <= self.take_up <= 0.5 and 0 <= self.waste <= 3000):
            raise BadInput([Problem("take_up", "A take-up lies between 0 and 50 %, a loom's waste "
                                    "between 0 and 3 m.")])

    def warp(self, band: float) -> float:
        """mm to which every warp thread is cut for a band so long."""
        return band * (1 + self.take_up) + self.waste


def trim_edges(pattern: Pattern) -> tuple[TrimEdge, ...]:
    """The garment's edges, the longest first."""
    found: dict[str, list[SeamEdge]] = {}
    graph = SeamGraph(pattern)
    for part in _trimmed(pattern, graph):
        found.setdefault(_called(pattern.piece(part.piece), part.edge), []).append(part)
    edges = [_edge(pattern, graph, name, parts) for name, parts in found.items()]
    return tuple(sorted(edges, key=lambda edge: -edge.length))


def _trimmed(pattern: Pattern, graph: SeamGraph) -> Iterator[SeamEdge]:
    """Edges that show: those that nothing is sewn to but a facing, and the neck's hole and slit."""
    for piece, copy in pattern.copies():
        if piece.cloth != "main" or is_strip(pattern, piece) or _is_layer(pattern, piece) or (
                _is_woven_to_width(piece)):
            continue
        names = [edge.name for edge in piece.outline.edges]
        names += [line.name for line in piece.inner_lines if line.kind in ("hole", "slit")]
        for name in names:
            part = SeamEdge(piece.name, name, copy)
            if all(seam.treatment in (*INNER_LAYERS, "felled lining") for seam in graph.seams_at(part)) and (
                    piece.line(name).length > 0):
                yield part


def _is_woven_to_width(piece: Piece) -> bool:
    """Whether its longest edges are the weaver's, or left raw: a belt, a leg wrap, a mantle."""
    longest = max(piece.outline.edges, key=lambda edge: edge.length)
    return piece.allowance(longest.name) == 0


def _is_layer(pattern: Pattern, piece: Piece) -> bool:
    """Whether it is no more than a facing or a binding of others, or a lining quilted to one."""
    seams = [seam for seam in pattern.seams if any(part.piece == piece.name for part in parts_of(seam))]
    return bool(seams) and all(seam.treatment in (*INNER_LAYERS, QUILTED) for seam in seams)


def _called(piece: Piece, edge: str) -> str:
    return piece.role(edge) or edge


def _edge(pattern: Pattern, graph: SeamGraph, name: str, parts: list[SeamEdge]) -> TrimEdge:
    length, corners, bands, rings = 0.0, 0, 0, 0
    outer = [part for part in parts if not _inner(pattern, part)]
    inner = [line for part in parts if (line := _inner(pattern, part))]
    for part in outer:
        length += pattern.piece(part.piece).line(part.edge).length
    corners += sum(_corners(pattern, graph, part, outer) for part in outer)
    for ring in _chains(graph, outer):
        bands, rings = bands + 1, rings + ring
    slits = [line for line in inner if line.kind == "slit"]
    holes = [line for line in inner if line.kind == "hole"]
    length += sum(line.path.length for line in holes) + 2 * sum(line.path.length for line in slits)
    corners += 3 * len(slits) if holes else len(slits)
    whole = len(holes) or (1 if slits and not outer else 0)
    return TrimEdge(name, length, bands + whole, rings + whole, corners)


def _inner(pattern: Pattern, part: SeamEdge) -> InnerLine | None:
    return next((line for line in pattern.piece(part.piece).inner_lines if line.name == part.edge), None)


def _corners(pattern: Pattern, graph: SeamGraph, part: SeamEdge, parts: list[SeamEdge]) -> int:
    """At its own end, where the next edge of the piece belongs to the same band and turns off; and its
    own."""
    piece = pattern.piece(part.piece)
    path = piece.outline[part.edge].path
    after = graph.neighbours(part)[1]
    turns = _bends(path)
    if after in parts and _turn(path, piece.outline[after.edge].path) > CORNER:
        turns += 1
    return turns


def _bends(path: Path) -> int:
    return sum(_turn(Path((a,)), Path((b,))) > CORNER
               for a, b in zip(path.segments, path.segments[1:], strict=False))


def _turn(arriving: Path, leaving: Path) -> float:
    return degrees(acos(max(-1.0, min(1.0, arriving.end_direction.dot(leaving.start_direction)))))


def _chains(graph: SeamGraph, parts: list[SeamEdge]) -> Iterator[bool]:
    """For each chain of edges that run on into each other, whether it closes to a ring."""
    ends: dict[object, list[SeamEdge]] = {}
    for part in parts:
        for number, neighbour in enumerate(graph.neighbours(part)):
            for key in _keys(graph, part, neighbour, number, parts):
                ends.setdefault(key, []).append(part)
    left = set(parts)
    while left:
        chain, waiting = set(), [next(part for part in parts if part in left)]
        while waiting:
            part = waiting.pop()
            if part not in chain:
                chain.add(part)
                waiting += [other for found in ends.values() if part in found for other in found]
        left -= chain
        touched = [found for found in ends.values() if chain & set(found)]
        yield all(len(found) > 1 for found in touched)


def _keys(
    graph: SeamGraph, part: SeamEdge, neighbour: SeamEdge, number: int, parts: list[SeamEdge]
) -> list[object]:
    """What an end of an edge runs into: its neighbour, a seam, or nothing."""
    if neighbour in parts:
        return [frozenset((part, neighbour, f"{min(part.edge, neighbour.edge)}"))]
    seams = [seam for seam in graph.seams_at(neighbour) if len(seam.a) == len(seam.b) == 1]
    return [seam.name for seam in seams] or [(part, number)]


def trim_lines(
    edges: tuple[TrimEdge, ...], width: float, unit: Unit, warp: WarpOptions | None = None
) -> Iterator[Mapping[str, str]]:
    """A row for each edge: `edge`, `length`, `how` with its corners and joins, `band`, `cord`, and `warp`."""
    warp = warp or WarpOptions()
    for edge in edges:
        how = [f"{edge.bands} {'piece' if edge.bands == 1 else 'pieces'}"]
        if edge.rings:
            how.append(f"{edge.rings} {'join' if edge.rings == 1 else 'joins'}")
        if edge.corners:
            how.append(f"{edge.corners} {'corner' if edge.corners == 1 else 'corners'}")
        yield {
            "edge": edge.name, "length": format_length(edge.length, unit), "how": ", ".join(how),
            "band": format_length(edge.band(width), unit),
            "cord": format_length(edge.length + 2 * END * edge.bands, unit),
            "warp": format_length(warp.warp(edge.band(width)), unit),
        }
