"""What holds a garment on its wearer: straps, a drawstring, a clasp, and ties at the neck's slit."""

import numpy as np

from ..garments.wearing import Wearing
from ..pattern import Notch, Pattern, Piece
from .drape import NOTHING_HELD, Hold
from .figure import Figure
from .mesh import CutPiece, Mesh
from .placing_head import HeadPlacing, front_edge, spread
from .sections import Floats, Ints
from .winding import held_by_winding

CLASP = "clasp"
"""How the marks at a cloak's fronts are labelled."""

TO_THE_PIN, BELOW_FOLD = 90.0, 30.0
"""mm from the side of the neck to a cloak's pin on the shoulder, and from the fold to it. common practice, no
source."""

CLOSE = 5.0
"""mm from the body to what is drawn in or pinned to lie close on it."""

EVERY_WAY, LEVEL = np.ones(3), np.array([1.0, 1.0, 0.0])

SCARF = "scarf"
"""A piece that is tied to itself."""


def held(worn: Wearing, pattern: Pattern, figure: Figure, mesh: Mesh, start: Floats) -> Hold:
    """The points that are held, of a garment whose points start there."""
    hold = {"straps": _straps, "shoulders": _nothing, "drawstring": _drawstring, "pin": _pin,
            "head": _on_the_head, "winding": _wound}[worn.hangs_from](pattern, figure, mesh, start)
    laid, shares = _lapped(worn, figure, mesh, start)
    return Hold(hold.points, hold.at, np.concatenate([hold.pairs, _closed_slits(pattern, mesh)]), laid,
    shares)


def clasp_marks(piece: Piece) -> list[Notch]:
    """Where a cloak's piece is marked to be clasped."""
    return [notch for notch in piece.notches if notch.label.startswith(CLASP)]


def is_sheet(piece: Piece) -> bool:
    """Whether a cloak's piece is a rectangle, or a width of one."""
    return any(edge.name == "bottom" for edge in piece.outline.edges)


def way_to_pin(figure: Figure) -> float:
    """mm along a rectangular cloak from the middle of its fold, on the left shoulder, to the pin on the
    right."""
    return figure.stacks["trunk"].girth(figure.heights["neck"]) / 2 + TO_THE_PIN


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
    at = _against(figure, start[points], CLOSE, LEVEL)
    return Hold(points, at, np.zeros((0, 2), np.int64))


def _pin(pattern: Pattern, figure: Figure, mesh: Mesh, start: Floats) -> Hold:
    """The two fronts clasped together where they are marked for it; of a rectangle the cloth round neck and
    shoulder pinned through all its layers, just below the fold."""
    if any(is_sheet(pattern.piece(cut.copy[0])) for cut in mesh.pieces):
        return _pinned_through(pattern, figure, mesh)
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


def _pinned_through(pattern: Pattern, figure: Figure, mesh: Mesh) -> Hold:
    """The upper width is the first; its fold is where its cloth is folded over, or its top."""
    cut, joint = mesh.pieces[0], mesh.joint[0]
    folds = [inner.path.start.x for inner in pattern.piece(cut.copy[0]).inner_lines]
    down, aside = cut.points.T
    down = down - (folds[0] if folds else down.min())
    aside = aside - (aside.min() + aside.max()) / 2
    half = min(way_to_pin(figure), float(aside.max()))
    layers = (BELOW_FOLD, -BELOW_FOLD) if folds else (BELOW_FOLD,)
    pinned = [int(joint[np.argmin(np.hypot(down - at, aside - side * half))])
              for side in (1, -1) for at in layers]
    pairs = np.array([(pinned[0], other) for other in pinned[1:]], np.int64)
    return Hold(NOTHING_HELD.points, NOTHING_HELD.at, pairs)


def _on_the_head(pattern: Pattern, figure: Figure, mesh: Mesh, start: Floats) -> Hold:
    """A scarf pinned at the forehead and tied where its front edge meets itself, at the nape or under the
    chin; what is sewn to lie on the head rubs there."""
    held: list[int] = []
    pairs = []
    for cut, joint in zip(mesh.pieces, mesh.joint, strict=True):
        piece = pattern.piece(cut.copy[0])
        if piece.name != SCARF:
            continue
        edge = front_edge(piece)
        line = cut.lines[edge, 0]
        aside = spread(cut, piece)[0][line]
        head = HeadPlacing(figure)
        half = head.half_way_round() if edge == "long side" else head.way_under_the_chin()
        ends = [int(joint[line[np.argmin(np.abs(aside - side * half))]]) for side in (1, -1)]
        pairs.append(ends)
        held.append(int(joint[line[np.argmin(np.abs(aside))]]))
    points = np.array(held, np.int64)
    return Hold(points, _against(figure, start[points], CLOSE), np.array(pairs, np.int64).reshape(-1, 2))


def _against(figure: Figure, at: Floats, off: float, along: Floats = EVERY_WAY) -> Floats:
    """Places moved to so many mm from the trunk, along those axes alone."""
    found = at.copy()
    for _ in range(4):
        distance, normal = figure.stacks["trunk"].distance(found)
        found -= (distance - off)[:, None] * normal * along
    return found


def _wound(pattern: Pattern, figure: Figure, mesh: Mesh, start: Floats) -> Hold:
    points = held_by_winding(mesh)
    return Hold(points, start[points], np.zeros((0, 2), np.int64))


def _lapped(worn: Wearing, figure: Figure, mesh: Mesh, start: Floats) -> tuple[Ints, Floats]:
    """The points of edges that lap, above the waist, each on the other's piece: a point and three corners,
    and the corners' shares. Edges that are sewn do not lap."""
    cut = {one.copy: (one, joint) for one, joint in zip(mesh.pieces, mesh.joint, strict=True)}
    laid, shares = [np.zeros((0, 4), np.int64)], [np.zeros((0, 3))]
    for lap in worn.laps:
        for (piece, edge, copy), (other, _, its_copy) in (lap, lap[::-1]):
            own, on = cut.get((piece, copy)), cut.get((other, its_copy))
            if own is None or on is None or not _is_free(own[0], edge):
                continue
            points = mesh.points_of(piece, copy, edge)
            points = points[start[points, 2] >= figure.heights["waist"]]
            corners = on[1][on[0].corners]
            which, share = nearest_on(start[points], start[corners])
            laid.append(np.concatenate([points[:, None], corners[which]], 1))
            shares.append(share)
    return np.concatenate(laid), np.concatenate(shares)


def _is_free(cut: CutPiece, edge: str) -> bool:
    return (edge, 0) in cut.lines and (edge, 0) not in cut.sewn


def nearest_on(points: Floats, triangles: Floats) -> tuple[Ints, Floats]:
    """For each point (n × 3) the triangle (of t × 3 × 3) it lies nearest to, and the corners' shares in that
    place."""
    a, u, v = triangles[:, 0], triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0]
    uu, uv, vv = ((p * q).sum(1) for p, q in ((u, u), (u, v), (v, v)))
    off = points[:, None] - a
    by_u, by_v = (off * u).sum(2), (off * v).sum(2)
    flat = np.maximum(uu * vv - uv * uv, 1e-9)
    second, third = (vv * by_u - uv * by_v) / flat, (uu * by_v - uv * by_u) / flat
    shares = np.maximum(np.stack([1 - second - third, second, third], 2), 0.0)
    shares /= shares.sum(2, keepdims=True)
    away = np.linalg.norm(np.einsum("ntk,tkc->ntc", shares, triangles) - points[:, None], axis=2)
    which = away.argmin(1)
    return which, shares[np.arange(len(points)), which]


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
