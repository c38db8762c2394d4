"""The wearer's figure: superellipses along trunk, legs and arms, with the tape's girths exactly.

Breadths, and the heights no tape gives, are parts of girths and heights that hold for the adults of ANSUR
II (source: Gordon et al. 2014, NATICK/TR-15/007: means and least-squares fits over its 6,068 bodies); being
parts they serve a child as well, whose girths and heights are its own (body/children.py names the source
of those that are estimated). Millimetres; x to the wearer's left, y to the back, z up from the floor.

A plain tailor's figure: no face, no fingers; it stands with its legs apart and its arms held a little away.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from math import cos, radians, sin
from typing import Literal

import numpy as np

from ..body import Body
from ..garments.fit import ANKLE_HEIGHT
from ..garments.legs import CALF_HEIGHT, KNEE_GIRTH
from ..garments.sleeve import BICEPS, FOREARM, FOREARM_GIRTH
from .sections import Floats, Ints, SectionStack, with_girths

NEEDS = (
    "stature", "cervicale_height", "axilla_height", "waist_height", "inside_leg_height", "knee_height",
    "upper_chest_girth", "bust_girth", "waist_girth", "hip_girth", "neck_base_girth", "head_girth",
    "shoulder_width", "arm_length", "upper_arm_girth", "wrist_girth", "thigh_girth", "calf_girth",
    "ankle_girth",
)
"""The measures it is built from: those not taken are estimated, as everywhere."""

BREADTHS: Mapping[str, tuple[float, float, float, float, float, float]] = {
    "bust_girth": (0.2968, -0.0442, -0.0118, 0.1553, -0.1170, 0.0273),
    "waist_girth": (0.3753, 0.0212, -0.0611, -0.0021, -0.0270, 0.0124),
    "hip_girth": (0.4713, -0.0285, -0.0062, -0.0484, -0.1765, 0.0184),
}
"""A breadth over its girth: a constant, then by bust over hips, waist over hips, shoulder width over this
girth, thigh over hips, and stature over this girth. source: the survey, least squares; the errors left
are 11.6, 9.7 and 8.4 mm."""

BUST_HEIGHT, SHOULDER_HEIGHT, NECK_HEIGHT, HIP_HEIGHT = 0.82, 0.60, 0.74, 0.22
"""The fullest bust between waist and armpit, the shoulder point and the side of the neck between armpit and
the neck's knob, the fullest seat between crotch and waist. source: the survey's means of chest, acromial
and buttock height (0.730, 0.820 and 0.508 of stature; armpit 0.758, knob 0.862, waist 0.602, crotch
0.481); the neck's side is judged by eye."""

Arms = Literal["away", "beside", "under"]
ARM_AWAY: Mapping[Arms, tuple[float, float]] = {
    "away": (22.0, 42.0), "beside": (9.0, 42.0), "under": (9.0, 9.0)}
"""Degrees from the vertical at which the arms are held, at least and at most, as much as the trunk asks for:
in sleeves, beside a garment that has none, and under a cloak, where nobody sees them. Judged by eye."""

HAND_LENGTH, FOOT_LENGTH = 0.108, 0.151
"""Parts of stature. source: the survey's means: 0.108 and 0.151."""

DRAWN = 30.0
"""mm between sections of the figure in a picture."""

DENSITY = 1.01
"""kg per litre of a body at the end of a usual breath. from memory: Durnin & Womersley 1974 give 1.03 to
1.07 for the body without the air of its lungs."""


@dataclass(frozen=True, eq=False)
class Figure:
    """The stacks by name: trunk (with neck and head), left leg, right leg, left arm, right arm."""

    stacks: Mapping[str, SectionStack]
    heights: Mapping[str, float]
    stature: float

    @cached_property
    def surface(self) -> tuple[Floats, Ints]:
        """One mesh of all the stacks: points in mm, triangles."""
        return _together([stack.surface() for stack in self.stacks.values()])

    @cached_property
    def drawn(self) -> tuple[Floats, Ints]:
        """The same in triangles about as long as they are wide, for pictures."""
        return _together([stack.finer(DRAWN).surface(every_side=2) for stack in self.stacks.values()])

    @cached_property
    def turned(self) -> tuple[Floats, Ints]:
        """The same in few triangles, for a picture that is turned."""
        return _together([stack.finer(2 * DRAWN).surface(every_side=4) for stack in self.stacks.values()])

    @property
    def litres(self) -> float:
        return sum(stack.volume for stack in self.stacks.values()) / 1e6

    @property
    def weight(self) -> float:
        """kg."""
        return DENSITY * self.litres


def _together(surfaces: list[tuple[Floats, Ints]]) -> tuple[Floats, Ints]:
    starts = np.cumsum([0, *(len(points) for points, _ in surfaces)])
    return (np.concatenate([points for points, _ in surfaces]),
            np.concatenate([faces + start for (_, faces), start in zip(surfaces, starts, strict=False)]))


def figure(body: Body, arms: Arms = "away") -> Figure:
    """Raises BadInput naming a measure of NEEDS that the body has not got."""
    values = {name: body[name] for name in NEEDS}
    trunk, heights = _trunk(values)
    legs = {side: _leg(values, heights, sign) for side, sign in (("left leg", 1), ("right leg", -1))}
    both = {side: _arm(values, heights, trunk, sign, ARM_AWAY[arms])
            for side, sign in (("left arm", 1), ("right arm", -1))}
    return Figure({"trunk": trunk, **legs, **both}, heights, values["stature"])


def _breadth(values: Mapping[str, float], name: str) -> float:
    """mm across the section of that girth, arms apart."""
    girth, hips = values[name], values["hip_girth"]
    parts = (1.0, values["bust_girth"] / hips, values["waist_girth"] / hips,
             values["shoulder_width"] / girth, values["thigh_girth"] / hips, values["stature"] / girth)
    return girth * sum(c * p for c, p in zip(BREADTHS[name], parts, strict=True))


def _heights(values: Mapping[str, float]) -> dict[str, float]:
    """mm above the floor, in order from the crotch to the crown whatever was measured."""
    crotch, waist = values["inside_leg_height"], values["waist_height"]
    armpit, knob, crown = values["axilla_height"], values["cervicale_height"], values["stature"]
    head = 0.37 * values["head_girth"]
    found = {
        "crotch": crotch,
        "hips": crotch + HIP_HEIGHT * (waist - crotch),
        "waist": waist,
        "bust": waist + BUST_HEIGHT * (armpit - waist),
        "armpit": armpit,
        "shoulder": armpit + SHOULDER_HEIGHT * (knob - armpit),
        "neck": armpit + NECK_HEIGHT * (knob - armpit),
        "chin": crown - head,
        "crown": crown,
    }
    lowest, least = 0.0, 0.012 * crown
    for name, height in found.items():
        lowest = max(height, lowest + least)
        found[name] = lowest
    return found


def _trunk(values: Mapping[str, float]) -> tuple[SectionStack, dict[str, float]]:
    z = _heights(values)
    stature, head = values["stature"], values["head_girth"]
    bust, waist, hips = (values[f"{name}_girth"] for name in ("bust", "waist", "hip"))
    breadth = {name: _breadth(values, f"{name}_girth") for name in ("bust", "waist", "hip")}
    neck, shoulders = values["neck_base_girth"], values["shoulder_width"]
    upper = values["upper_chest_girth"]
    waist_breadth, bust_breadth, hip_breadth = breadth["waist"], breadth["bust"], breadth["hip"]
    under = z["waist"] + 0.55 * (z["bust"] - z["waist"])
    belly = (z["hips"] + z["waist"]) / 2
    under_girth = min(bust, waist + 0.45 * (bust - waist))
    # height, girth, breadth, power, how far back the middle lies over stature
    rows = [
        (z["crotch"], 0.85 * hips, 0.93 * hip_breadth, 2.4, 0.004),
        (z["hips"], hips, hip_breadth, 3.1, 0.004),
        (belly, min(hips, 0.5 * (waist + hips)), 0.5 * (waist_breadth + hip_breadth), 2.7, 0.001),
        (z["waist"], waist, waist_breadth, 2.6, -0.002),
        (under, under_girth, 0.5 * (waist_breadth + bust_breadth), 3.4, -0.003),
        (z["bust"], bust, bust_breadth, 5.0, -0.004),
        (z["armpit"], upper, bust_breadth, 5.0, 0.000),
        (z["shoulder"], 0.0, 0.94 * shoulders, 2.4, 0.010),
        (z["neck"], neck, 0.345 * neck, 2.1, 0.014),
        (z["chin"], 0.90 * neck, 0.31 * neck, 2.1, 0.006),
        (z["chin"] + 0.012 * stature, 0.86 * head, 0.24 * head, 2.1, -0.004),
        (z["crown"] - 0.19 * head, head, 0.27 * head, 2.1, -0.002),
        (z["crown"] - 0.08 * head, 0.88 * head, 0.235 * head, 2.1, 0.000),
        (z["crown"] - 0.03 * head, 0.62 * head, 0.165 * head, 2.1, 0.002),
        (z["crown"], 0.15 * head, 0.04 * head, 2.0, 0.002),
    ]
    table = np.array(rows)
    at, girth, broad, power, back = table.T
    at = _ascending(at)
    half = with_girths(broad, np.where(girth > 0, girth, broad * 2.5), power)
    shoulder = int(np.flatnonzero(girth == 0)[0])
    half[shoulder] = 0.47 * shoulders, 0.55 * half[shoulder - 1, 1]
    centre = np.stack([np.zeros(len(at)), back * stature], 1)
    return SectionStack(np.zeros(3), np.eye(3), at, centre, half, power), z


def _ascending(at: Floats) -> Floats:
    """Heights that rise by a millimetre at least, for measures that contradict each other."""
    found = at.copy()
    for i in range(1, len(found)):
        found[i] = max(found[i], found[i - 1] + 1.0)
    return found


def _leg(values: Mapping[str, float], z: Mapping[str, float], sign: int) -> SectionStack:
    crotch, stature, thigh = z["crotch"], values["stature"], values["thigh_girth"]
    knee = min(values["knee_height"], 0.9 * crotch)
    ankle, foot = ANKLE_HEIGHT * stature * 1.15, FOOT_LENGTH * stature
    calf, thin = values["calf_girth"], values["ankle_girth"]
    below = crotch - 0.02 * stature
    rows = np.array([
        (0.0, 1.72 * foot, 0.36 * foot, 2.6, -0.20 * foot),
        (0.25 * ankle, 1.72 * foot, 0.36 * foot, 2.4, -0.20 * foot),
        (0.6 * ankle, 1.22 * foot, 0.30 * foot, 2.2, -0.08 * foot),
        (ankle, thin, 0.27 * thin, 2.1, 0.004 * stature),
        (CALF_HEIGHT * knee, calf, 0.30 * calf, 2.1, 0.010 * stature),
        (knee, KNEE_GIRTH * thigh, 0.31 * KNEE_GIRTH * thigh, 2.1, 0.002 * stature),
        (0.5 * (knee + below), 0.86 * thigh, 0.265 * 0.86 * thigh, 2.1, 0.000),
        (below, thigh, 0.255 * thigh, 2.1, 0.002 * stature),
        (crotch, 0.98 * thigh, 0.255 * thigh, 2.1, 0.004 * stature),
    ])
    at, girth, broad, power, back = rows.T
    half = with_girths(broad, girth, power)
    top = 0.5 * 0.255 * thigh
    lean = np.interp(at, [0.0, crotch], [max(top, 0.05 * stature) + 0.015 * stature, top + 0.009 * stature])
    centre = np.stack([sign * lean, back], 1)
    return SectionStack(np.zeros(3), np.eye(3), _ascending(at), centre, half, power)


def _arm(values: Mapping[str, float], z: Mapping[str, float], trunk: SectionStack,
         sign: int, within: tuple[float, float]) -> SectionStack:
    """Down from the shoulder: its axis points to the hand, across it to the front."""
    length, upper, wrist = values["arm_length"], values["upper_arm_girth"], values["wrist_girth"]
    stature = values["stature"]
    hand, fore = HAND_LENGTH * stature, FOREARM_GIRTH * upper
    radius = upper / (2 * np.pi)
    rows = np.array([
        (-0.35 * radius, 0.55 * upper, 2.0),
        (0.0, 0.80 * upper, 2.0),
        (0.10 * length, 0.93 * upper, 2.0),
        (BICEPS * length, upper, 2.0),
        (0.47 * length, 0.85 * upper, 2.0),
        (FOREARM * length, fore, 2.0),
        (length, wrist, 2.1),
        (length + 0.45 * hand, 1.22 * wrist, 2.2),
        (length + 0.95 * hand, 0.7 * wrist, 2.2),
    ])
    at, girth, power = rows.T
    flat = np.interp(at, [0.7 * length, length, length + 0.3 * hand], [0.318, 0.335, 0.40])
    half = with_girths(flat * girth, girth, power)
    origin = np.array([sign * (values["shoulder_width"] / 2 - 0.45 * radius), 0.010 * stature,
                       z["shoulder"] - 0.55 * radius])
    away = _away(abs(origin[0]), origin[2], 1.1 * radius + 8.0, trunk, z, within)
    along = np.array([sign * sin(away), 0.0, -cos(away)])
    # Across is to the front for the left arm and to the back for the right, so that the three turn right.
    across = np.array([0.0, -1.0, 0.0]) if sign < 0 else np.array([0.0, 1.0, 0.0])
    through = np.cross(along, across)
    centre = np.zeros((len(at), 2))
    return SectionStack(origin, np.stack([across, through, along]), _ascending(at), centre, half, power)


def _away(x: float, top: float, radius: float, trunk: SectionStack, z: Mapping[str, float],
          within: tuple[float, float]) -> float:
    """The angle, in radians, at which an arm from (x, top) clears the trunk's side from the armpit down."""
    heights = np.linspace(z["hips"], z["armpit"] - 10.0, 12)
    sides = trunk.section(heights)[1][:, 0]
    needed = float(np.arctan2(sides + radius - x, top - heights).max())
    least, most = map(radians, within)
    return min(max(needed, least), most)
