"""What holds a garment on its wearer: straps, a drawstring, a clasp, and ties at the neck's slit."""

import numpy as np

from ..garments.wearing import HangsFrom
from ..pattern import Notch, Pattern, Piece
from .drape import NOTHING_HELD, Hold
from .figure import Figure
from .mesh import Mesh
from .sections import Floats, Ints

CLASP = "clasp"
"""How the marks at a cloak's fronts are labelled."""


def held(hangs_from: HangsFrom, pattern: Pattern, figure: Figure, mesh: Mesh, start: Floats) -> Hold:
    """The points that are held, of a garment whose points start there."""
    hold = {"straps": _straps, "shoulders": _nothing, "drawstring": _drawstring, "pin": _pin}[hangs_from](
        pattern, figure, mesh, start)
    return Hold(hold.points, hold.at, np.concatenate([hold.pairs, _closed_slits(pattern, mesh)]))


def clasp_marks(piece: Piece) -> list[Notch]:
    """Where a cloak's piece is marked to be clasped."""
    return [notch for notch in piece.notches if notch.label.startswith(CLASP)]


def _nothing(pattern: Pattern, figure: Figure, mesh: Mesh, start: Floats) -> Hold:
    return NOTHING_HELD


def _straps(pattern: Pattern, figure: Figure, mesh: Mesh, start: Floats) -> Hold:
    """Each strap's end, kept at the height of the armpit on the body's front or back."""
    trunk, z = figure.stacks["trunk"], figure.heights["armpit"]
    centre, half = trunk.section(np.array([z]))[:2]
    points, at = [], []
    for end in pattern.attachments:
        line = mesh.points_of(end.to.piece, end.to.copy, end.to.edge)
        if not len(line):
            continue
        path = pattern.piece(end.to.piece).line(end.to.edge)
        own = np.linspace(0, path.length, len(line))
        nearest = np.argsort(np.abs(own - end.distance))[:2]
        first = line[nearest[0]]
        front = start[first, 1] < centre[0, 1]
        y = centre[0, 1] + (-1 if front else 1) * (half[0, 1] + 8.0)
        x = float(np.clip(start[first, 0], -0.75 * half[0, 0], 0.75 * half[0, 0]))
        for k in nearest:
            points.append(int(line[k]))
            beside = abs(own[k] - own[nearest[0]]) * np.sign(start[line[k], 0] - start[first, 0])
            at.append((x + beside, y, z))
    return Hold(np.array(points, np.int64), np.array(at).reshape(-1, 3), np.zeros((0, 2), np.int64))


def strap_ends(figure: Figure, hold: Hold) -> tuple[tuple[int, int], ...]:
    """Front and back of each strap, by the side of the body; `hold` is what _straps made."""
    ends, at = hold.points[::2], hold.at[::2]
    middle = figure.stacks["trunk"].section(at[:, 2])[0][:, 1]
    front, back = (np.flatnonzero(which) for which in (at[:, 1] < middle, at[:, 1] >= middle))
    if not len(back):
        return ()
    return tuple((int(ends[i]), int(ends[back[np.argmin(np.abs(at[back, 0] - at[i, 0]))]])) for i in front)


def _drawstring(pattern: Pattern, figure: Figure, mesh: Mesh, start: Floats) -> Hold:
    """The waist's edge drawn in to the body at its own heights."""
    found = [mesh.points_of(cut.copy[0], cut.copy[1], edge.name)
             for cut in mesh.pieces for edge in pattern.piece(cut.copy[0]).outline.edges
             if pattern.piece(cut.copy[0]).role(edge.name) == "waist"]
    points = np.unique(np.concatenate(found))
    at = start[points].copy()
    trunk = figure.stacks["trunk"]
    for _ in range(4):
        distance, normal = trunk.distance(at)
        at -= (distance - 5.0)[:, None] * normal * np.array([1.0, 1.0, 0.0])
    return Hold(points, at, np.zeros((0, 2), np.int64))


def _pin(pattern: Pattern, figure: Figure, mesh: Mesh, start: Floats) -> Hold:
    """The two fronts clasped together where they are marked for it."""
    ends: dict[str, int] = {}
    for cut in mesh.pieces:
        piece = pattern.piece(cut.copy[0])
        for notch in clasp_marks(piece):
            line = mesh.points_of(*cut.copy, notch.edge)
            length = piece.line(notch.edge).length
            at = length - notch.distance if notch.from_end else notch.distance
            nearest = int(line[np.argmin(np.abs(np.linspace(0, length, len(line)) - at))])
            # Of several parts the first has the right front, and the last the left.
            ends[notch.edge] = ends.get(notch.edge, nearest) if notch.edge == "right" else nearest
    first, last = ends.get("right"), ends.get("left")
    if first is None or last is None:
        return NOTHING_HELD
    return Hold(NOTHING_HELD.points, NOTHING_HELD.at, np.array([[first, last]], np.int64))


def _closed_slits(pattern: Pattern, mesh: Mesh) -> Ints:
    """The pairs of points, at the open ends of slits in a neck, that a brooch or a tie holds together."""
    pairs = []
    for cut in mesh.pieces:
        piece = pattern.piece(cut.copy[0])
        for inner in piece.inner_lines:
            if inner.kind != "slit" or inner.role != "neck" or (inner.name, 1) not in cut.lines:
                continue
            right, left = (mesh.points_of(*cut.copy, inner.name, lip) for lip in (1, -1))
            if (right[0] != left[0]) != (right[-1] != left[-1]):
                end = 0 if right[0] != left[0] else -1
                pairs.append((int(right[end]), int(left[end])))
    return np.array(pairs, np.int64).reshape(-1, 2)
