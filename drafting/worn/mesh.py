"""The garment as triangles: each copy of a piece cut into them, and all sewn together.

Points lie in columns along the grain, so that folds can fall along it; edges of a seam have theirs alike and
are welded; holes, slits and vents at a hem stay open.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from math import sqrt

import numpy as np

from ..pattern import InnerLine, Pattern, Piece
from .delaunay import inside, triangles
from .sections import Floats, Ints
from .sewing_lines import Copy, Line, Part, SeamSides, SewingLines, is_vent, on_outline, turned

LipLine = tuple[str, int]
"""A line of a piece, and which lip of it where it is a slit."""

CLEAR = 0.55
"""Of a triangle's side: how near a point inside may lie to an edge."""


@dataclass(frozen=True, eq=False)
class CutPiece:
    """One copy flat, right side up: points, triangles, the points of each of its lines along its path (for a
    slit by its lips, 1 and −1) and how many mm along it each is, which way its grain runs, and which lines
    are sewn."""

    copy: Copy
    points: Floats
    corners: Ints
    lines: Mapping[LipLine, Ints]
    grain: Floats = field(default_factory=lambda: np.array([0.0, 1.0]))
    places: Mapping[LipLine, Floats] = field(default_factory=dict)
    sewn: frozenset[LipLine] = frozenset()


@dataclass(frozen=True, eq=False)
class Mesh:
    """All copies sewn. `joint` gives for each copy's points the garment's; `flat` the corners of every
    triangle on the uncut cloth, t × 3 × 2 mm."""

    pieces: tuple[CutPiece, ...]
    joint: tuple[Ints, ...]
    count: int

    @cached_property
    def corners(self) -> Ints:
        return np.concatenate([j[p.corners] for p, j in zip(self.pieces, self.joint, strict=True)])

    @cached_property
    def flat(self) -> Floats:
        return np.concatenate([p.points[p.corners] for p in self.pieces])

    @cached_property
    def on_threads(self) -> Floats:
        """As `flat`, turned so that the grain runs along the second axis."""
        found = []
        for piece in self.pieces:
            along = piece.grain / np.linalg.norm(piece.grain)
            across = np.array([along[1], -along[0]])
            found.append(piece.points[piece.corners] @ np.stack([across, along], 1))
        return np.concatenate(found)

    @cached_property
    def edges(self) -> tuple[Ints, Floats, Ints]:
        """Unique pairs of points, their lengths on the cloth, and of how many triangles each is an edge."""
        ends = np.concatenate([self.corners[:, (a, b)] for a, b in ((0, 1), (1, 2), (2, 0))])
        length = np.concatenate([
            np.linalg.norm(self.flat[:, a] - self.flat[:, b], axis=1) for a, b in ((0, 1), (1, 2), (2, 0))])
        ends = np.sort(ends, 1)
        keys, back, times = np.unique(ends[:, 0] * self.count + ends[:, 1], return_inverse=True,
                                      return_counts=True)
        mean = np.bincount(back, length) / times
        return np.stack([keys // self.count, keys % self.count], 1), mean, times

    @cached_property
    def areas(self) -> Floats:
        u, v = self.flat[:, 1] - self.flat[:, 0], self.flat[:, 2] - self.flat[:, 0]
        return np.asarray(np.abs(u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]) / 2)

    def points_of(self, piece: str, copy: int, line: str, lip: int = 0) -> Ints:
        """The garment's points along a copy's line; none where that copy is not hung."""
        for cut, joint in zip(self.pieces, self.joint, strict=True):
            if cut.copy == (piece, copy) and (line, lip) in cut.lines:
                return np.asarray(joint[cut.lines[line, lip]])
        return np.zeros(0, np.int64)


def sewn(pattern: Pattern, copies: tuple[Copy, ...], side: float, *, fastened: bool = False) -> Mesh:
    """The copies in triangles of about `side` mm, sewn to each other; `fastened` where what is left open to
    get into the garment is closed as it is worn."""
    lines = SewingLines(pattern, side, copies)
    made: dict[tuple[object, ...], CutPiece] = {}
    cut = tuple(_copy(pattern.piece(name), copy, lines, made) for name, copy in copies)
    first, total = {}, 0
    for one in cut:
        first[one.copy] = total
        total += len(one.points)
    leader = np.arange(total)
    by_copy = {one.copy: one for one in cut}

    def root(i: int) -> int:
        while leader[i] != i:
            leader[i] = leader[leader[i]]
            i = int(leader[i])
        return i

    for seam in lines.joined:
        for i, j in _welds(seam, lines, by_copy, first, fastened):
            a, b = root(i), root(j)
            leader[max(a, b)] = min(a, b)
    roots = np.array([root(i) for i in range(total)])
    used = np.zeros(total, bool)
    for one in cut:
        used[first[one.copy] + np.unique(one.corners)] = True
    keep = np.unique(roots[used])
    number = np.full(total, -1)
    number[keep] = np.arange(len(keep))
    joint = tuple(
        np.maximum(number[roots[first[one.copy]:first[one.copy] + len(one.points)]], 0) for one in cut)
    return Mesh(cut, joint, len(keep))


def _welds(seam: SeamSides, lines: SewingLines, cut: Mapping[Copy, CutPiece], first: Mapping[Copy, int],
           fastened: bool) -> list[tuple[int, int]]:
    """Pairs of points that a seam makes one: nearest along it, from where it is sewn."""
    la, lb = seam.lengths
    a, b = (_along(parts, length, lines, cut, first) for parts, length in ((seam.a, la), (seam.b, lb)))
    closed = fastened and not is_vent(lines.pattern, seam.seam)
    opening = 0.0 if closed else seam.seam.open_from_top / la
    near = 0.5 * lines.side / max(la, lb)
    pairs = []
    for at, i in a:
        if at < opening - 1e-6 + (1e-3 if opening else 0.0):
            continue
        other, j = min(b, key=lambda one: abs(one[0] - at))
        if abs(other - at) <= near:
            pairs.append((i, j))
    return pairs


def _along(parts: tuple[Part, ...], length: float, lines: SewingLines, cut: Mapping[Copy, CutPiece],
           first: Mapping[Copy, int]) -> list[tuple[float, int]]:
    found = []
    for part in parts:
        piece, copy, name = part.line
        own = cut[piece, copy].lines[name, part.lip]
        for at, i in zip(lines.points[part.line], own, strict=True):
            here = part.length - at if part.backwards else at
            found.append(((part.start + here) / length, first[piece, copy] + int(i)))
    return found


def _copy(piece: Piece, copy: int, lines: SewingLines, made: dict[tuple[object, ...], CutPiece]) -> CutPiece:
    """One copy in triangles, as one made before where its lines have the same points; turned over where the
    copy is."""
    key = (piece.name, *((line[2], *(round(at, 6) for at in points)) for line, points in
                         sorted(lines.points.items()) if line[:2] == (piece.name, copy)))
    if key not in made:
        made[key] = _cut(piece, copy, lines)
    own = made[key]
    sewn = frozenset((part.line[2], part.lip) for seam in lines.joined for part in (*seam.a, *seam.b)
                     if part.line[:2] == (piece.name, copy))
    if not turned(piece, copy):
        return replace(own, copy=(piece.name, copy), sewn=sewn)
    flip = np.array([-1.0, 1.0])
    return replace(own, copy=(piece.name, copy), sewn=sewn, points=own.points * flip, grain=own.grain * flip,
                   corners=own.corners[:, ::-1])


def _cut(piece: Piece, copy: int, lines: SewingLines) -> CutPiece:
    """One copy in triangles, drawn as the piece is."""
    side = lines.side_of((piece.name, copy))
    points: list[tuple[float, float]] = []
    on_line: dict[str, list[int]] = {}

    def add(x: float, y: float) -> int:
        for i, (px, py) in enumerate(points):
            if abs(px - x) + abs(py - y) < 1e-3 * side:
                return i
        points.append((x, y))
        return len(points) - 1

    def sampled(line: Line) -> list[int]:
        path = lines.path(line)
        return [add(p.x, p.y) for p in map(path.point_along, lines.points[line])]

    outline: list[int] = []
    for edge in piece.outline.edges:
        on_line[edge.name] = sampled((piece.name, copy, edge.name))
        outline += on_line[edge.name][:-1]
    holes: list[InnerLine] = []
    slits: list[InnerLine] = []
    for inner in piece.inner_lines:
        if inner.kind in ("hole", "slit"):
            on_line[inner.name] = sampled((piece.name, copy, inner.name))
            (holes if inner.kind == "hole" else slits).append(inner)
    border = np.array(points)
    ring = border[outline]
    open_rings = [border[on_line[hole.name][:-1]] for hole in holes]
    lattice = _lattice(ring, side)
    lattice = lattice[inside(lattice, ring)]
    for hole in open_rings:
        lattice = lattice[~inside(lattice, hole)]
    chains = [*((r, True) for r in (ring, *open_rings)), *((border[on_line[s.name]], False) for s in slits)]
    for chain, closed in chains:
        lattice = lattice[_far(lattice, chain, closed) > CLEAR * side]
    everything = np.concatenate([border, lattice])
    corners = triangles(everything)
    middle = everything[corners].mean(1)
    kept = inside(middle, ring)
    for hole in open_rings:
        kept &= ~inside(middle, hole)
    u, v = (everything[corners[:, k]] - everything[corners[:, 0]] for k in (1, 2))
    kept &= np.abs(u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]) > 0.004 * side * side
    corners = corners[kept]
    lipped: dict[tuple[str, int], Ints] = {
        (name, 0): np.array(own) for name, own in on_line.items() if name not in {s.name for s in slits}}
    for slit in slits:
        everything, corners, lips = _slit(piece, slit, everything, corners, np.array(on_line[slit.name]))
        lipped |= {(slit.name, lip): own for lip, own in lips.items()}
    start, end = piece.grain_line
    grain = np.array([end.x - start.x, end.y - start.y])
    places = {(name, lip): np.array(lines.points[piece.name, copy, name]) for name, lip in lipped}
    return CutPiece((piece.name, copy), everything, corners, lipped, grain, places)


def _slit(piece: Piece, slit: InnerLine, points: Floats, corners: Ints, own: Ints
          ) -> tuple[Floats, Ints, dict[int, Ints]]:
    """Cut along a straight slit: what touches it on the left gets points of its own, but at a tip inside.

    A slit that starts on another is cut after it, into the cloth on the other's right."""
    start, end = slit.path.start, slit.path.end
    ends = {int(own[0]): start, int(own[-1]): end}
    split = np.array([i for i in own if int(i) not in ends
                      or on_outline(piece, ends[int(i)], slits_but=slit.name)])
    number = np.arange(len(points))
    number[split] = len(points) + np.arange(len(split))
    way = np.array([end.x - start.x, end.y - start.y])
    off = points[corners].mean(1) - np.array([start.x, start.y])
    # y runs down: what lies to the left of the way has a negative cross product.
    left = way[0] * off[:, 1] - way[1] * off[:, 0] < 0
    corners = corners.copy()
    corners[left] = number[corners[left]]
    return np.concatenate([points, points[split]]), corners, {1: own, -1: number[own]}


def _lattice(ring: Floats, side: float) -> Floats:
    """Points of equilateral triangles, in columns along y, the middle column in the middle."""
    low, high = ring.min(0), ring.max(0)
    step = side * sqrt(3) / 2
    columns = int((high[0] - low[0]) / 2 / step) + 1
    rows = int((high[1] - low[1]) / side) + 2
    i, j = np.meshgrid(np.arange(-columns, columns + 1), np.arange(-1, rows + 1), indexing="ij")
    x = (low[0] + high[0]) / 2 + i * step
    y = low[1] + (j + 0.5 * (i % 2)) * side
    return np.stack([x.ravel(), y.ravel()], 1)


def _far(points: Floats, chain: Floats, closed: bool) -> Floats:
    """How far each point is from the nearest place of a chain of lines."""
    a, b = (chain, np.roll(chain, -1, 0)) if closed else (chain[:-1], chain[1:])
    best = np.full(len(points), np.inf)
    for p, q in zip(a, b, strict=True):
        way = q - p
        part = np.clip(((points - p) @ way) / max(float(way @ way), 1e-12), 0, 1)
        best = np.minimum(best, np.linalg.norm(points - p - part[:, None] * way, axis=1))
    return best
