"""Front, side and back of a garment on its figure, as one SVG file, written by svgwrite."""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from .cloth_forces import scattered
from .hanging import Worn
from .sections import Floats, Ints
from .seen import figure_seen, frame, lines_on

VIEWS = (("Front", (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)), ("Left side", (0.0, 1.0, 0.0), (-1.0, 0.0, 0.0)),
         ("Back", (-1.0, 0.0, 0.0), (0.0, -1.0, 0.0)))
"""Their names, what points to the right of the picture, and what points away from whoever looks."""

TONES = 24
DARKEST, LIGHTEST = 0.45, 1.18
"""Of the cloth's colour, in the deepest shade and in full light. Judged by eye."""

FIGURE_COLOUR = "#d9c9b6"
BEHIND, BEFORE = 28.0, 14.0
"""mm by which the figure is drawn behind where it is, and seams before, so that cloth that lies on it and
threads that lie on cloth are seen."""

COVERED = 40.0
"""mm that something nearer lies before what is left out for it."""

CELL, SAMPLED = 6.0, 8
"""mm of the picture within which what is nearest is told, and steps along a triangle's side."""

MARGIN, WORDS = 60.0, 70.0
LIGHT = np.array([-0.35, -0.75, 0.56])
"""Where the light comes from: to the right, away, up, of whoever looks."""


def svg(worn: Worn, colour: str, title: str, about: str) -> str:
    """The file's text; `colour` is the cloth's, #rrggbb; `about` says in words what is shown."""
    from svgwrite import Drawing

    figure_points, figure_faces = figure_seen(worn)
    everything = np.concatenate([figure_points, worn.points])
    reach = np.linalg.norm(everything[:, :2], axis=1).max() * 2 + MARGIN
    low, high = frame(worn)
    top = high + MARGIN
    foot = top - low
    width, height = reach * len(VIEWS), foot + WORDS
    drawing = Drawing(size=(f"{width / 10:.1f}mm", f"{height / 10:.1f}mm"),
                      viewBox=f"0 0 {width:.0f} {height:.0f}", debug=False)
    drawing.set_desc(title=title, desc=about)
    drawing.defs.add(drawing.style(style(colour)))
    for k, (name, right, away) in enumerate(VIEWS):
        group = drawing.g(id=name.lower().replace(" ", "-"))
        group.set_desc(title=name)
        middle = reach * (k + 0.5)
        for path, look in painted(worn, figure_points, figure_faces, np.array(right), np.array(away),
                                   middle, top):
            group.add(drawing.path(d=path, class_=look))
        group.add(drawing.text(name, insert=(f"{middle:.0f}", f"{foot + WORDS - 20:.0f}"), class_="w"))
        drawing.add(group)
    return '<?xml version="1.0" encoding="utf-8"?>\n' + str(drawing.tostring())


def style(colour: str) -> str:
    rules = [f".{letter}{i}{{fill:{tone};stroke:{tone}}}"
             for letter, base in (("c", colour), ("f", FIGURE_COLOUR))
             for i, tone in enumerate(_tones(base))]
    return ("path{stroke-width:1.2;stroke-linejoin:round}"
            ".s,.h{fill:none;stroke:#000;stroke-opacity:.45;stroke-width:2.4}"
            ".h{stroke-opacity:.7;stroke-width:3}"
            f".t{{fill:none;stroke:{list(_tones(colour))[TONES // 3]};stroke-width:14;stroke-linecap:round}}"
            ".w{font:46px DejaVu Sans,Verdana,Arial,sans-serif;text-anchor:middle}" + "".join(rules))


def _tones(colour: str) -> Iterator[str]:
    base = [int(colour[i:i + 2], 16) for i in (1, 3, 5)]
    for i in range(TONES):
        factor = DARKEST + (LIGHTEST - DARKEST) * i / (TONES - 1)
        yield "#" + "".join(f"{min(255, round(part * factor)):02x}" for part in base)


def painted(worn: Worn, figure_points: Floats, figure_faces: Ints, right: Floats, away: Floats,
             middle: float, top: float) -> Iterator[tuple[str, str]]:
    """Paths and their looks from the farthest to the nearest; what is wholly covered is left out."""
    light = LIGHT @ np.stack([right, away, np.array([0.0, 0.0, 1.0])])
    found: list[tuple[float, str, str]] = []

    def seen(points: Floats) -> Floats:
        return np.stack([middle + points @ right, top - points[:, 2], points @ away], 1)

    body, cloth = seen(figure_points), seen(worn.points)
    nearest = {"f": Nearest(body, figure_faces), "c": Nearest(cloth, worn.mesh.corners)}
    for letter, points, at, faces in (("f", figure_points, body, figure_faces),
                                      ("c", worn.points, cloth, worn.mesh.corners)):
        normals = smoothed(corner_normals(points, faces), faces)[faces].mean(1)
        towards = -(normals @ away)
        lit = np.where(towards[:, None] < 0, -normals, normals) @ light
        tone = np.clip((0.5 + 0.5 * lit) * (TONES - 1), 0, TONES - 1).astype(int)
        shows = ~nearest["c"].covers(at[faces], BEHIND if letter == "f" else -COVERED)
        shows &= ~nearest["f"].covers(at[faces], -COVERED)
        if letter == "f":
            shows &= _facing(at[faces])
        depth = at[faces][:, :, 2].mean(1) + (BEHIND if letter == "f" else 0.0)
        flat = np.rint(at[:, :2]).astype(int)
        for k in np.flatnonzero(shows):
            (ax, ay), (bx, by), (cx, cy) = flat[faces[k]]
            found.append((float(depth[k]), f"M{ax} {ay} {bx} {by} {cx} {cy}z", f"{letter}{tone[k]}"))
    for look, line in lines_on(worn):
        at = seen(line)
        shows = ~nearest["c"].covers(at[:, None], -COVERED) & ~nearest["f"].covers(at[:, None], -COVERED)
        for k in range(len(at) - 1):
            if shows[k] and shows[k + 1]:
                (ax, ay, near), (bx, by, far) = at[k], at[k + 1]
                found.append(((near + far) / 2 - BEFORE, f"M{ax:.0f} {ay:.0f} {bx:.0f} {by:.0f}", look))
    found.sort(key=lambda one: -one[0])
    for _, path, look in found:
        yield path, look


def _facing(corners: Floats) -> NDArray[np.bool_]:
    """Which triangles turn their outside to whoever looks: on the page theirs run clockwise."""
    one, two = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    return np.asarray(one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0] < 0)


class Nearest:
    """How far away the nearest of some triangles is, in cells of CELL mm of the picture."""

    def __init__(self, at: Floats, faces: Ints) -> None:
        steps = [(i, j, SAMPLED - i - j) for i in range(SAMPLED + 1) for j in range(SAMPLED + 1 - i)]
        inside = np.einsum("sk,fkc->sfc", np.array(steps) / SAMPLED, at[faces]).reshape(-1, 3)
        self._low = inside[:, :2].min(0)
        self._size = tuple(((inside[:, :2].max(0) - self._low) / CELL).astype(int) + 1)
        self._depth = np.full(self._size, np.inf)
        np.minimum.at(self._depth, self._cells(inside), inside[:, 2])

    def _cells(self, at: Floats) -> tuple[Ints, ...]:
        cells = ((at[..., :2] - self._low) / CELL).astype(int)
        return cells[..., 0], cells[..., 1]

    def covers(self, corners: Floats, by: float) -> NDArray[np.bool_]:
        """Which things (n × corners × 3) have these triangles nearer than themselves and `by` at all their
        corners and in their middle."""
        at = np.concatenate([corners, corners.mean(1, keepdims=True)], 1)
        x, y = self._cells(at)
        within = (x >= 0) & (y >= 0) & (x < self._size[0]) & (y < self._size[1])
        depth = np.where(within, self._depth[tuple(np.where(within, one, 0) for one in (x, y))], np.inf)
        return np.asarray((depth < at[..., 2] + by).all(1))


def smoothed(normals: Floats, faces: Ints) -> Floats:
    """Unit normals at points, each the mean of those of its triangles' corners."""
    of = np.repeat(normals[faces].sum(1), 3, axis=0)
    found = scattered(faces.ravel(), of, len(normals))
    return np.asarray(found / np.maximum(np.linalg.norm(found, axis=1), 1e-9)[:, None])


def corner_normals(points: Floats, faces: Ints) -> Floats:
    """For each point the mean of its triangles' normals, each by its area."""
    a, b, c = (points[faces[:, k]] for k in range(3))
    found = scattered(faces.ravel(), np.repeat(np.cross(b - a, c - a), 3, axis=0), len(points))
    return np.asarray(found / np.maximum(np.linalg.norm(found, axis=1), 1e-9)[:, None])
