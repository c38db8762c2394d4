"""Facts about fit that every garment states: room round the body, a way in, room to stride."""

from dataclasses import dataclass

from ..body import Body
from ..pattern import Clearance, Level, Remedy
from ..words.wording import said

ANKLE_HEIGHT = 0.05
HIP_JOINT_HEIGHT = 0.53
"""Parts of stature. from memory: Drillis & Contini 1966, Body Segment Parameters (0.039, 0.530);
the ankle is taken at the top of the foot's bones, where an ankle-length hem hangs."""

WAIST_TO_HIP = 0.09
"""Part of stature from the waist, the top of the pelvis, down to the fullest hips. common practice, no
source."""

STRIDE_GIRTH = 1.2
"""Hem girth of an ankle-length dress over stature. common practice, no source."""


ARMS_UP = 0.93
"""Part of the shoulder girth, taken with the arms hanging, that is left when they are raised.
common practice, no source."""

SPARE_OVER_THE_HEAD, SPARE_OVER_THE_HIPS = 30.0, 40.0
"""mm over the underdress that a closed ring needs to be pulled over the head, or stepped into. common
practice, no source."""


@dataclass(frozen=True)
class WayIn:
    """How a closed ring is put on: the girth it must have, mm, and the part of the body that asks it."""

    girth: float
    passes: str
    estimated: bool


def over_the_head(body: Body) -> WayIn:
    """Arms first, one after the other, then the shoulders, then the fullest bust. common practice, no
    source."""
    shoulders = ARMS_UP * body["shoulder_girth"]
    by_bust = body["bust_girth"] >= shoulders
    part = "bust" if by_bust else "shoulders with the arms raised"
    widest = max(body["bust_girth"], shoulders)
    return WayIn(
        widest + SPARE_OVER_THE_HEAD,
        f"pulled over the head, past the {part} ({said(widest)}, and {said(SPARE_OVER_THE_HEAD)} to spare)",
        body.is_estimated("bust_girth" if by_bust else "shoulder_girth"),
    )


def over_the_hips(body: Body) -> WayIn:
    """Stepped into. common practice, no source."""
    return WayIn(
        body["hip_girth"] + SPARE_OVER_THE_HIPS,
        f"stepped into, over the hips ({said(body['hip_girth'])}, and {said(SPARE_OVER_THE_HIPS)} to spare)",
        body.is_estimated("hip_girth"),
    )


def room(
    name: str,
    body: Body,
    measure: str,
    girth: float,
    least_ease: float,
    remedies: tuple[Remedy, ...] = (),
) -> Clearance:
    """A finished girth must clear a body girth and its least ease."""
    spare = girth - body[measure]
    return Clearance(
        name, girth, body[measure] + least_ease,
        f"{said(spare)} of room over the body's {said(body[measure])}.",
        f"Only {said(spare)} over the body's {said(body[measure])}: "
        f"at least {said(least_ease)} is wanted."
        if spare >= 0
        else f"{said(-spare)} smaller than the body's {said(body[measure])}.",
        remedies, body.is_estimated(measure), at_side_seams=True,
    )


def stride_girth_needed(body: Body, hem_height: float) -> float:
    """Least hem girth, mm, for a walking step when the hem hangs `hem_height` mm from the ground.

    The common rule asks 1.2 × stature of an ankle-length hem. Two legs stepping apart from the hip
    joint make a triangle, so a hem nearer the hip needs less, in proportion to the triangle's width
    there; never less than will let the knees pass each other (0.45 × stature).
    common practice, no source, for both numbers; the triangle is plane geometry.
    """
    stature = body["stature"]
    apex, ankle = HIP_JOINT_HEIGHT * stature, ANKLE_HEIGHT * stature
    part = (apex - max(hem_height, ankle)) / (apex - ankle)
    return stature * max(0.45, STRIDE_GIRTH * part)


def stride(
    body: Body, hem_girth: float, hem_height: float, remedies: tuple[Remedy, ...] = ()
) -> Clearance:
    """The hem must allow a walking step."""
    needed = stride_girth_needed(body, hem_height)
    rule = "the rule is 1.2 × stature at the ankle, less higher up"
    return Clearance(
        "room to stride", hem_girth, needed,
        f"Wide enough to walk in ({rule}).",
        f"Too narrow for a walking step: {said(needed)} is wanted ({rule}).",
        remedies, body.is_estimated("stature"),
    )


def girth_at(levels: tuple[Level, ...], depth: float) -> float:
    """Girth, mm, `depth` mm below the top, taken straight between the levels (ordered downwards)."""
    if depth <= levels[0].depth:
        return levels[0].girth
    for above, below in zip(levels, levels[1:], strict=False):
        if depth <= below.depth:
            part = (depth - above.depth) / (below.depth - above.depth)
            return above.girth + (below.girth - above.girth) * part
    return levels[-1].girth


def depth_where_clear(levels: tuple[Level, ...], girth: float) -> float:
    """How far an opening must reach from the top so that all that stays closed clears `girth`.

    Nought when nothing is narrower; the garment's whole length when the hem itself is.
    """
    if levels[-1].girth < girth:
        return levels[-1].depth
    for above, below in zip(levels[-2::-1], levels[:0:-1], strict=False):
        if above.girth < girth:
            part = (girth - above.girth) / (below.girth - above.girth)
            return above.depth + (below.depth - above.depth) * part
    return 0.0
