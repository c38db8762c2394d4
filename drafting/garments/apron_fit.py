"""What an apron dress must clear: chest, waist, hips, a walking step, and a way in."""

from ..body import Body
from ..pattern import Clearance, Remedy
from ..words.wording import said
from .apron_girths import Tube
from .apron_tube import LEAST_BUST_EASE, bust_depth, tube_for, way_in
from .fit import (
    WAIST_TO_HIP,
    depth_where_clear,
    girth_at,
    room,
    stride,
    stride_girth_needed,
)
from .options import Options
from .rounding import round_to, up_to

AXILLA_HEIGHT = 0.761
"""Part of stature. source: Gordon et al. 2014, NATICK/TR-15/007, women: 1239 / 1628.5."""

LEAST_TOP_EASE, LEAST_WAIST_EASE, LEAST_HIP_EASE = 20.0, 20.0, 30.0
"""mm to breathe, to sit, to step. common practice, no source."""

SHORTEST_OPENING = 60.0
"""mm of side opening that is worth its finishing. common practice, no source."""

OPEN_ABOVE_THE_GORES = 0.6
"""Of the way down to the waist, that the side of straight panels is left open. common practice, no source."""

CLEAR_OF_THE_WAIST = 30.0
"""mm from the end of an opening to the corner of its seam at the waist, where its facings could not be
turned; where that is a curve, no less than the curve's half. common practice, no source."""

LEAST_LAP = 0.15
"""Part of the top girth that a wrapped dress must lap, or it gapes at every step. common practice, no
source."""


def hip_depth(body: Body) -> float:
    """mm from the top edge down to the fullest hips."""
    return body["torso_length"] + WAIST_TO_HIP * body["stature"]


def side_opening(body: Body, options: Options, tube: Tube) -> float:
    """mm of side seam left open from the top; 0 for none, and for a wrapped dress, which is all open."""
    if options.is_("style", "wrapped"):
        return 0.0
    levels = tube.levels
    wanted = min(depth_where_clear(levels, way_in(body).girth), levels[-1].depth * 0.8)
    clear = max(CLEAR_OF_THE_WAIST, options["seam_allowance"], tube.rounding)
    if options.is_("style", "straight-panels"):
        above = round_to(min(OPEN_ABOVE_THE_GORES * tube.waist_depth, tube.waist_depth - clear), 10)
        return above if options.is_("opening", "side") else 0.0
    if options.is_("opening", "side"):
        return _clear_of(tube.waist_depth, max(wanted, 0.35 * body["torso_length"]), clear)
    needed = options.is_("opening", "as-needed") and wanted > 0
    return _clear_of(tube.waist_depth, max(wanted, SHORTEST_OPENING), clear) if needed else 0.0


def _clear_of(corner: float, opening: float, clear: float) -> float:
    """The opening, to the next 10 mm; one that would end by the seam's corner goes on past it. All mm."""
    rounded = up_to(opening, 10)
    return rounded if not corner or abs(rounded - corner) >= clear else up_to(corner + clear, 10)


def apron_clearances(body: Body, options: Options) -> tuple[Clearance, ...]:
    tube = tube_for(body, options)
    rooms = _rooms(body, options, tube, hip_depth(body))
    wrapped = options.is_("style", "wrapped")
    entry = _lap(options, tube) if wrapped else _entry(body, options, tube)
    return (*rooms, entry, _held_up(options))


def _held_up(options: Options) -> Clearance:
    return Clearance(
        "held up", 0 if options.is_("strap_style", "none") else 2, 1,
        "It hangs from the shoulders by its straps.",
        "Nothing holds it up: a tube of these girths slides down without straps.",
        (Remedy("Long loops behind, short loops in front", "strap_style", "loops"),
         Remedy("Single straps, sewn at both ends", "strap_style", "single")),
        unit="straps",
    )


def _lap(options: Options, tube: Tube) -> Clearance:
    lap, least = 2 * options["wrap_overlap"], LEAST_LAP * tube.top
    each = up_to(least / 2, 10)
    return Clearance(
        "laps at the open side", lap, least,
        f"Front and back lap by {said(lap)} at the left side, and it is put on like a coat.",
        f"A lap of {said(lap)} gapes at every step.",
        (Remedy(f"Reach {said(each)} past the side", "wrap_overlap", f"{each:g} mm"),),
    )


def _entry(body: Body, options: Options, tube: Tube) -> Clearance:
    way = way_in(body)
    levels, opening = tube.levels, side_opening(body, options, tube)
    narrowest = min(level.girth for level in levels)
    below = [level.girth for level in levels if level.depth >= opening]
    closed = min(girth_at(levels, opening), *below)
    passes = (
        f"With a side opening of {said(opening)} it can be {way.passes}; the narrowest girth is "
        f"{said(narrowest)}."
        if opening else f"It can be {way.passes} without an opening."
    )
    ease, hem = up_to(way.girth - body["upper_chest_girth"], 10), up_to(1.1 * way.girth, 10)
    remedies = (
        *((Remedy("Panels wide enough to be put on", "opening", "as-needed"),)
          if options.is_("style", "straight-panels") else ()),
        Remedy("Leave a side seam open at the top", "opening", "side"),
        Remedy("No shaping at the waist", "shaping", "straight"),
        Remedy(f"More ease at the top: {said(ease)}", "bust_ease", f"{ease:g} mm"),
        Remedy(f"A hem girth of {said(hem)}", "hem_girth", f"{hem:g} mm"),
    )
    return Clearance(
        "a way in", closed, way.girth, passes,
        f"The narrowest closed girth, {said(closed)}, is too tight to be {way.passes}.",
        remedies, way.estimated, at_side_seams=True,
    )


def _rooms(
    body: Body, options: Options, tube: Tube, hip_depth: float
) -> tuple[Clearance, ...]:
    levels = tube.levels
    straight = Remedy("No shaping at the waist", "shaping", "straight")
    more_top = Remedy(f"Ease of {said(50)} at the top", "bust_ease", "50 mm")
    more_waist = Remedy(f"Ease of {said(50)} at the waist", "waist_ease", "50 mm")
    hem_height = AXILLA_HEIGHT * body["stature"] - options["length"]
    found = [
        room("room at the top", body, "upper_chest_girth", tube.top, LEAST_TOP_EASE, (more_top,)),
        room("room at the bust", body, "bust_girth", girth_at(levels, bust_depth(body)), LEAST_BUST_EASE,
             (more_top, straight)),
        room("room at the waist", body, "waist_girth",
             min(tube.narrowest_at_the_waist, girth_at(levels, body["torso_length"])),
             LEAST_WAIST_EASE, (more_waist, straight)),
    ]
    if hip_depth < options["length"]:
        wider = up_to(_hem_that_clears_the_hips(body, tube, hip_depth), 10)
        found.append(room(
            "room at the hips", body, "hip_girth", girth_at(levels, hip_depth), LEAST_HIP_EASE,
            (Remedy(f"A hem girth of {said(wider)}", "hem_girth", f"{wider:g} mm"), straight),
        ))
    wider = up_to(stride_girth_needed(body, hem_height), 10)
    found.append(stride(
        body, tube.hem, hem_height,
        (Remedy(f"A hem girth of {said(wider)}", "hem_girth", f"{wider:g} mm"),),
    ))
    return tuple(found)


def _hem_that_clears_the_hips(body: Body, tube: Tube, hip_depth: float) -> float:
    start = tube.waist if tube.waist_depth else tube.levels[-2].girth
    depth = tube.waist_depth or tube.levels[-2].depth
    part = (hip_depth - depth) / (tube.length - depth)
    needed = start + (body["hip_girth"] + LEAST_HIP_EASE - start) / part
    return max(needed, tube.hem)
