"""A chalk plan drawn again by somebody who has nothing but chalk-plan.json; numpy and shapely alone.

The format is read as the docstring of drafting/cloth/chalk_json.py tells it; nothing of `drafting` is used.
"""

from typing import Any

import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]
FINE = np.linspace(0.0, 1.0, 33)


class Redrawn:
    """The lines of every piece of one plan: `lines[title][kind, name]` are points along it."""

    def __init__(self, plan: dict[str, Any]) -> None:
        self.pieces = {piece["title"]: piece for piece in plan["pieces"]}
        self.lines = {title: self._piece(piece) for title, piece in self.pieces.items()}

    def _piece(self, piece: dict[str, Any]) -> dict[tuple[str, str], Points]:
        twin = piece.get("twin")
        if twin:
            template = self.pieces[twin["of"]]
            return {key: self._laid(points, twin) for key, points in self._piece(template).items()}
        at = places(piece)
        found = {}
        for line in piece["lines"]:
            twin = line.get("twin")
            if twin:
                template = self._piece(self.pieces[twin["of"]])
                points = self._laid(template[line["kind"], twin["line"]], twin, at[twin["at"]])
            else:
                points = join([stroke(s, at) for s in line["strokes"]])
            found[line["kind"], line["name"]] = points
        return found | self._along(piece, found["outline", ""])

    def _along(self, piece: dict[str, Any], outline: Points) -> dict[tuple[str, str], Points]:
        """Folds down the whole piece."""
        top, bottom = outline[:, 1].min(), outline[:, 1].max()
        return {
            ("fold", f"{sign * out:g} from the middle"): np.array([[x, top], [x, bottom]])
            for out in piece["along"] for sign in (-1, 1) for x in [piece["middle"] + sign * out]
        }

    def spots(self, title: str) -> list[tuple[str, Points]]:
        """What each mark with a note is for, and where it is."""
        piece = self.pieces[title]
        twin = piece.get("twin")
        if twin:
            notes = {m["label"]: m["label"] in twin["without"] for m in self.pieces[twin["of"]]["marks"]}
            at = places(self.pieces[twin["of"]])
            return [(note, self._laid(at[label][None], twin)[0])
                    for mark in self.pieces[twin["of"]]["marks"] if not notes[mark["label"]]
                    for note in mark["notes"] for label in letters(mark, at)]
        at = places(piece)
        return [(note, at[label]) for mark in piece["marks"] for note in mark["notes"]
                for label in letters(mark, at)]

    def _laid(self, points: Points, twin: dict[str, Any], to: Points | None = None) -> Points:
        sign = np.array([-1.0 if twin["over"] else 1.0, 1.0]) * (-1.0 if twin["turned"] else 1.0)
        mark = places(self.pieces[twin["of"]])[twin["mark"]]
        return (points - mark) * sign + (np.array([twin["x"], twin["y"]]) if to is None else to)


def letters(mark: dict[str, Any], at: dict[str, Points]) -> list[str]:
    both = [mark["label"], mark["label"].lower()]
    wanted = {"right": both[:1], "left": both[1:]}.get(mark["sides"], both)
    return [label for label in wanted if label in at]


def places(piece: dict[str, Any]) -> dict[str, Points]:
    found = {}
    for mark in piece["marks"]:
        label, across, down = mark["label"], mark["across"], mark["down"]
        if piece["middle"] is None:
            found[label] = np.array([across, down])
            continue
        if mark["sides"] in ("right", "both"):
            found[label] = np.array([piece["middle"] + across, down])
        if mark["sides"] == "left" or (mark["sides"] == "both" and across):
            found[label.lower()] = np.array([piece["middle"] - across, down])
    return found


def stroke(told: dict[str, Any], at: dict[str, Points]) -> Points:
    marks = np.array([at[label] for label in told["marks"]])
    if told["how"] == "straight":
        return marks
    if told["how"] == "box":
        below = marks[::-1] + np.array([0.0, told["down"]])
        return np.vstack([marks, below, marks[:1]])
    if told["how"] == "string":
        return join([_round(at[told["held"]], told["radius"], p, q)
                     for p, q in zip(marks, marks[1:], strict=False)])
    if told["how"] == "bend":
        return _rounded_off(*marks, told["reach"])
    return by_eye(marks, closed=told["how"] == "loop")


def by_eye(marks: Points, closed: bool) -> Points:
    count = len(marks)
    if count < 3:
        return marks
    parts = []
    for i in range(count if closed else count - 1):
        p, q = marks[i], marks[(i + 1) % count]
        arcs = []
        if closed or i > 0:
            arcs.append(_arc(marks[i - 1], p, q, from_second=True))
        if closed or i + 2 < count:
            arcs.append(_arc(p, q, marks[(i + 2) % count], from_second=False))
        weight = FINE[:, None]
        parts.append(arcs[0] * (1 - weight) + arcs[-1] * weight)
    return join(parts)


def _arc(a: Points, b: Points, c: Points, *, from_second: bool) -> Points:
    """The part of the circle through a, b, c from b to c, or from a to b: a complex number has the angle."""
    p, q = (b, c) if from_second else (a, b)
    matrix = 2 * np.array([b - a, c - a])
    if abs(np.linalg.det(matrix)) < 1e-6 * np.linalg.norm(matrix[0]) * np.linalg.norm(matrix[1]):
        return p + FINE[:, None] * (q - p)
    centre = np.linalg.solve(matrix, [b @ b - a @ a, c @ c - a @ a])
    za, zb, zc = (complex(*(point - centre)) for point in (a, b, c))
    sweep = [np.angle(zb / za), np.angle(zc / zb)]
    way = np.sign(np.linalg.det([b - a, c - b]))
    sweep = [angle if angle * way > 0 else angle + way * 2 * np.pi for angle in sweep]
    start, turn = (zb, sweep[1]) if from_second else (za, sweep[0])
    points = start * np.exp(1j * turn * FINE)
    return np.column_stack([points.real, points.imag]) + centre


def _round(centre: Points, radius: float, p: Points, q: Points) -> Points:
    a, b = complex(*(p - centre)), complex(*(q - centre))
    arc = radius * a / abs(a) * np.exp(1j * np.angle(b / a) * FINE)
    return np.vstack([p, np.column_stack([arc.real, arc.imag])[1:-1] + centre, q])


def _rounded_off(before: Points, corner: Points, after: Points, reach: float) -> Points:
    """Straight lines, and the circle that touches both `reach` mm from their corner: its centre lies square
    to each there."""
    to_before, to_after = ((p - corner) / np.linalg.norm(p - corner) for p in (before, after))
    begins, ends = corner + reach * to_before, corner + reach * to_after
    square = np.array([to_before, to_after])
    centre = np.linalg.solve(square, [to_before @ begins, to_after @ ends])
    return np.vstack([before, _round(centre, float(np.linalg.norm(begins - centre)), begins, ends), after])


def join(parts: list[Points]) -> Points:
    return np.vstack([parts[0], *(part[1:] for part in parts[1:])])
