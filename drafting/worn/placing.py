"""Where each piece lies round the figure at the start, by what its garment says (garments/wearing.py)."""

from collections.abc import Callable, Mapping

import numpy as np

from ..garments.wearing import Lies
from ..pattern import Pattern
from .figure import Figure
from .holding import clasp_marks, is_sheet, way_to_pin
from .mesh import CutPiece, Mesh
from .placing_head import HeadPlacing, front_edge
from .sections import Floats, SectionStack
from .sewing_lines import Copy
from .winding import Winding

APART = 25.0
"""mm between the figure and the cloth at the start."""


class Placing:
    """Each piece's points in space, by where it lies."""

    def __init__(self, pattern: Pattern, figure: Figure, mesh: Mesh, lies: Mapping[str, Lies],
                 beneath: float = 0.0) -> None:
        self.pattern, self.figure, self.mesh, self.lies = pattern, figure, mesh, lies
        self.beneath = beneath
        self.trunk, self.z = figure.stacks["trunk"], figure.heights

    def of(self, cut: CutPiece, lies: Lies) -> Floats:
        place: Callable[[CutPiece], Floats] = {
            "front": self._panel, "back": self._panel, "sides": self._panel,
            "over the shoulders": self._folded, "arms": self._sleeve, "legs": self._leg,
            "round the neck": self._cloak, "over the head": self._over_the_head,
            "beside the head": self._hood, "down from the hood": self._tail,
            "wound": lambda cut: Winding(self.pattern, self.figure, self.mesh, self.beneath).of(cut),
        }[lies]
        return place(cut)

    def ellipse(self, z: Floats, apart: float = APART) -> tuple[Floats, Floats, Floats]:
        """The trunk's half-axes and the middle's y at heights, `apart` outside of it; below the crotch
        those of the hips."""
        inside = np.clip(z, self.z["hips"], self.z["shoulder"])
        centre, half = self.trunk.section(inside)[:2]
        return half[:, 0] + apart, half[:, 1] + apart, centre[:, 1]

    def _ring(self) -> list[Copy]:
        """The copies that go round the trunk, from the front to the wearer's left and on."""
        order = {"front": 0, "left": 1, "back": 2, "right": 3}
        found = []
        for cut in self.mesh.pieces:
            lies = self.lies.get(cut.copy[0])
            if lies == "sides":
                found.append((order["left" if cut.copy[1] == 1 else "right"], cut.copy))
            elif lies in ("front", "back"):
                found.append((order[lies], cut.copy))
        return [copy for _, copy in sorted(found)]

    def _panel(self, cut: CutPiece) -> Floats:
        if any(where == "arms" for where in self.lies.values()):
            return self._flat_panel(cut)
        x, y = cut.points.T
        z = self.z["armpit"] - y + min(float(self._cut(c).points[:, 1].min()) for c in self._ring())
        widths = {copy: _width(self._cut(copy), y) for copy in self._ring()}
        around = sum(widths.values(), np.zeros(len(y)))
        # Where its ends lie over each other, the front's lies on the back's.
        lap = self.pattern.finished.get("lap", 0.0)
        around = around - lap
        middle, at = np.zeros(len(y)), -widths[self._ring()[0]] / 2 + lap / 4
        for copy in self._ring():
            if copy == cut.copy:
                middle = at + widths[copy] / 2
            at = at + widths[copy] - lap
        angle = 2 * np.pi * (middle + x - _middle(cut, y)) / around
        a, b, back = self.ellipse(z)
        wide = np.maximum(1.0, around / (np.pi * (a + b)))
        return np.stack([a * wide * np.sin(angle), back - b * wide * np.cos(angle), z], 1)

    def _cut(self, copy: Copy) -> CutPiece:
        return next(cut for cut in self.mesh.pieces if cut.copy == copy)

    def _flat_panel(self, cut: CutPiece) -> Floats:
        """A panel of a garment with sleeves whose shoulders are sewn: as one half of one that is folded."""
        where = self.lies[cut.copy[0]]
        if where == "sides":
            x, y = cut.points.T
            sign = 1.0 if cut.copy[1] == 1 else -1.0
            reach = self._shoulder_reach()
            # Seen from outside, +x goes to the back on the left side and to the front on the right one.
            return np.stack([np.full(len(x), sign * (reach + 10)), sign * x,
                             self.z["shoulder"] - self._fold_depth() * 0.3 - self._armhole() - y], 1)
        points = cut.points.copy()
        if where == "back":
            points = -points
        return self._over(points)

    def _armhole(self) -> float:
        for name in ("left armhole", "armhole"):
            for piece in self.pattern.pieces:
                if any(edge.name == name for edge in piece.outline.edges):
                    return piece.outline[name].length / (2 if piece.name == "body" else 1)
        return 0.0

    def _folded(self, cut: CutPiece) -> Floats:
        return self._over(cut.points)

    def _fold_depth(self) -> float:
        z = np.linspace(self.z["hips"], self.z["shoulder"], 12)
        _, b, back = self.ellipse(z)
        return float((b + np.abs(back)).max())

    def _over(self, points: Floats) -> Floats:
        """Over the shoulders: y > 0 falls in front, y < 0 behind."""
        x, y = points.T
        left = self.figure.stacks["left arm"]
        top = self.z["neck"] + 8.0
        down = np.abs(y)
        # What lies past the shoulder goes down the arm.
        past = np.maximum(np.abs(x) - left.origin[0], 0.0) * np.exp(-down / 250.0)
        slope = 0.35 * np.maximum(np.minimum(np.abs(x), left.origin[0]) - 70, 0) * np.exp(-down / 250.0)
        x = x - np.sign(x) * past * (1 - left.axes[2, 0])
        z = top - np.maximum(down - 0.5 * np.minimum(down, 90.0), 0.0) - slope + past * left.axes[2, 2]
        a, b, back = self.ellipse(np.minimum(z, self.z["armpit"]))
        arm = left.half.max() + APART
        # Below the armhole it lies between the arm and the body.
        within = np.maximum(a - APART + 8.0, _inside_of(left, z))
        x = np.where(down > self._armhole(), np.sign(x) * np.minimum(np.abs(x), within), x)
        deep = np.maximum(b * np.sqrt(np.maximum(0.0, 1 - (x / (1.25 * a)) ** 2)), arm)
        away = deep * np.minimum(1.0, down / 140.0)
        return np.stack([x, back * np.minimum(1.0, down / 140.0) - np.sign(y) * away, z], 1)

    def _sleeve(self, cut: CutPiece) -> Floats:
        left = cut.copy[1] == 1
        arm = self.figure.stacks["left arm" if left else "right arm"]
        x, y = cut.points.T
        sign = 1.0 if left else -1.0
        outside = sign * np.array([-arm.axes[2, 2], 0.0, arm.axes[2, 0]])
        behind = np.array([0.0, sign, 0.0])
        width = _width(cut, y)
        radius = np.maximum(width / (2 * np.pi), 0.0)
        angle = 2 * np.pi * (x - _middle(cut, y)) / width
        drop = max(40.0, self._shoulder_reach() - abs(float(arm.origin[0])))
        along = (y - y.min() + drop)[:, None] * arm.axes[2]
        return np.asarray(arm.origin + along + radius[:, None] * (
            np.cos(angle)[:, None] * outside + np.sin(angle)[:, None] * behind))

    def _shoulder_reach(self) -> float:
        """mm from the middle to where the sleeves are sewn on."""
        over = [cut for cut in self.mesh.pieces
                if self.lies.get(cut.copy[0]) in ("over the shoulders", "front", "back")]
        return max((float(np.abs(cut.points[:, 0]).max()) for cut in over), default=0.0)

    def _leg(self, cut: CutPiece) -> Floats:
        x, y = cut.points.T
        right = cut.copy[1] == 1
        sign = -1.0 if right else 1.0
        leg = self.figure.stacks["right leg" if right else "left leg"]
        z = self.z["waist"] - y
        crotch = self.z["crotch"]
        width = _width(cut, y)
        part = (x - _middle(cut, y)) / width
        a, b, back = self.ellipse(z, 12.0)
        upper = np.stack([sign * a * np.cos(np.pi * part), back + sign * b * np.sin(np.pi * part), z], 1)
        centre, half = leg.section(np.clip(z, 0.0, crotch))[:2]
        r = np.maximum(width / (2 * np.pi), half.max(1) + 8.0)
        turn = 2 * np.pi * part
        out, aside = sign * r * np.cos(turn), sign * r * np.sin(turn)
        lower = np.stack([centre[:, 0] + out, centre[:, 1] + aside, z], 1)
        mixed = np.clip((crotch + 20.0 - z) / 60.0, 0.0, 1.0)[:, None]
        return np.asarray(upper * (1 - mixed) + lower * mixed)

    def _cloak(self, cut: CutPiece) -> Floats:
        """Round the neck from the right front to the left, the clasps under the throat, and down from there
        over shoulders and arms."""
        along, down = self._spread_out(cut)
        if is_sheet(self.pattern.piece(cut.copy[0])):
            return self._pinned_on_a_shoulder((along - 0.5) * float(np.ptp(cut.points[:, 1])), down)
        # Its fronts are clasped some way down: there the way round the neck begins.
        away = down - self._clasp() * (2 * along - 1) ** 2
        return self._down_from_neck(away, 2 * np.pi * (0.98 - 0.96 * along))

    def _pinned_on_a_shoulder(self, aside: Floats, down: Floats) -> Floats:
        """Round the neck and the left shoulder to a pin on the right one, what is folded over outside; the
        fronts past the pin hang before and behind the right arm."""
        away = np.abs(down)
        broad, deep = self._round_from_neck(away)[:2]
        # Further down it leaves the right arm free.
        turns = np.pi * (1 - 0.16 * np.clip(away / 200.0, 0.0, 1.0))
        half = np.maximum(way_to_pin(self.figure), turns * (broad + deep) / 2)
        half = np.minimum(half, float(np.abs(aside).max()))
        round_ = np.pi / 2 - turns * np.clip(aside / half, -1.0, 1.0)
        found = self._down_from_neck(away, round_)
        past = np.maximum(np.abs(aside) - half, 0.0)
        found[:, 0] -= 0.6 * past
        found[:, 1] -= np.sign(aside) * 0.75 * past
        found[:, 2] -= 0.25 * past
        folded = 10.0 * (down < 0)
        out = np.stack([np.sin(round_), -np.cos(round_), np.ones_like(round_)], 1)
        return np.asarray(found + folded[:, None] * out)

    def _over_the_head(self, cut: CutPiece) -> Floats:
        head, piece = HeadPlacing(self.figure), self.pattern.piece(cut.copy[0])
        return head.round(cut, piece) if front_edge(piece) == "long side" else head.over(cut, piece)

    def _hood(self, cut: CutPiece) -> Floats:
        found, round_, below = HeadPlacing(self.figure).hood(cut, self.pattern.piece(cut.copy[0]))
        cape = self._down_from_neck(np.maximum(below, 0.0), round_)
        return np.asarray(np.where((below > 0)[:, None], cape, found))

    def _tail(self, cut: CutPiece) -> Floats:
        return HeadPlacing(self.figure).tail(cut, self.pattern.finished["depth"])

    def _down_from_neck(self, away: Floats, round_: Floats) -> Floats:
        """So many mm from the neck over shoulders and arms, at angles from the front to the wearer's left."""
        a, b, z, middle = self._round_from_neck(away)
        return np.stack([a * np.sin(round_), middle - b * np.cos(round_), z], 1)

    def _round_from_neck(self, away: Floats) -> tuple[Floats, Floats, Floats, float]:
        """The half-axes of what goes round so many mm from the neck, its height and its middle's y."""
        neck, shoulder = self.z["neck"], self.z["shoulder"]
        arm = self.figure.stacks["left arm"]
        reach = arm.origin[0] + 1.2 * arm.half.max() + APART
        centre, half = self.trunk.section(np.array([neck]))[:2]
        deep = max(self._fold_depth() + 15.0, 130.0)
        over = reach - half[0, 0]
        out = np.clip(away / (1.15 * over), 0.0, 1.0)
        z = neck + 5.0 - 0.7 * np.minimum(away, 0.0) - out * (neck - shoulder)
        z = z - np.maximum(away - 1.1 * over, 0.0) * 0.97
        low_down = np.maximum(shoulder - z, 0.0) * (arm.axes[2, 0] / -arm.axes[2, 2])
        a = half[0, 0] + 6 + out * over + np.minimum(low_down, 200.0)
        b = half[0, 1] + 6 + out * (deep - half[0, 1])
        return a, b, z, float(centre[0, 1])

    def _spread_out(self, cut: CutPiece) -> tuple[Floats, Floats]:
        """For each point how far it is from the right front to the left, 0 to 1, and mm from the neck."""
        places = {(place.piece, place.copy): place.turn for place in self.pattern.schematic}
        x, y = cut.points.T
        if is_sheet(self.pattern.piece(cut.copy[0])):
            tall = float(np.ptp(x))
            folded = [inner.path.start.x for inner in self.pattern.piece(cut.copy[0]).inner_lines]
            return (y - y.min()) / np.ptp(y), x - x.min() + (cut.copy[1] - 1) * tall - sum(folded[:1])
        angles = np.concatenate([np.arctan2(*one.points.T[::-1]) + np.radians(places.get(one.copy, 0.0))
                                 for one in self.mesh.pieces])
        low, high = float(angles.min()), float(angles.max())
        inner = min(float(np.hypot(*one.points.T).min()) for one in self.mesh.pieces)
        own = np.arctan2(y, x) + np.radians(places.get(cut.copy, 0.0))
        return (own - low) / (high - low), np.hypot(x, y) - inner

    def _clasp(self) -> float:
        """mm down a front to where it is clasped; 0 where it is at the neck's edge."""
        marks = [notch.distance for cut in self.mesh.pieces
                 for notch in clasp_marks(self.pattern.piece(cut.copy[0]))]
        return min(marks, default=0.0)


def _inside_of(arm: SectionStack, z: Floats) -> Floats:
    """How far from the middle the left arm's inner side is at heights."""
    axis = arm.origin[0] + (arm.origin[2] - z) * arm.axes[2, 0] / -arm.axes[2, 2]
    return np.asarray(axis - arm.half.max() - 8.0)


def _profile(cut: CutPiece, y: Floats) -> tuple[Floats, Floats]:
    """The left and right end of the piece at heights of its drawing, from the points of its border."""
    own = np.concatenate([line for (_, lip), line in cut.lines.items() if lip == 0])
    x, down = cut.points[own].T
    levels = np.linspace(down.min(), down.max(), 60)
    middle = float((x.min() + x.max()) / 2)
    near = max(float(np.ptp(down)) / 30, 45.0)
    left, right = np.empty(60), np.empty(60)
    for i, level in enumerate(levels):
        close = np.abs(down - level) < near
        left[i] = x[close].min() if close.any() else middle - 1
        right[i] = x[close].max() if close.any() else middle + 1
    return np.interp(y, levels, left), np.interp(y, levels, right)


def _width(cut: CutPiece, y: Floats) -> Floats:
    left, right = _profile(cut, y)
    return np.maximum(right - left, 1.0)


def _middle(cut: CutPiece, y: Floats) -> Floats:
    left, right = _profile(cut, y)
    return (left + right) / 2
