"""What trousers must clear: the hips, a squat, the leg all the way down, and the heel."""

from math import ceil

from ..body import Body
from ..pattern import (
    Clearance,
    Remedy,
)
from ..words.wording import said
from .fit import room
from .layers import OVER
from .legs import (
    CALF_HEIGHT,
    FOOT_EASE,
    LEAST_CALF_EASE,
    Legs,
    leg_girth,
    legs_for,
    thigh_below_crotch,
)
from .options import Options

SQUAT_EASE = 0.05
"""Least ease on the crotch length, over stature, to squat: 60–100 mm for adults. common practice, no
source."""

LEAST_HIP_EASE, LEAST_THIGH_EASE, LEAST_KNEE_EASE = 40.0, 30.0, 50.0
"""mm. common practice, no source; at the knee enough to bend it."""


def trouser_clearances(body: Body, options: Options) -> tuple[Clearance, ...]:
    return leg_clearances(body, options, legs_for(body, options))


def leg_clearances(body: Body, options: Options, legs: Legs) -> tuple[Clearance, ...]:
    """What legs of any cut must clear."""
    leg = options.pick("over", OVER).leg
    widest = max(body["hip_girth"], body["waist_girth"])
    hip_ease = ceil((LEAST_HIP_EASE + 5) / 10) * 10.0
    more_hip = Remedy(f"Ease of {said(hip_ease)} at the hips", "hip_ease", f"{hip_ease:g} mm")
    around, ease = legs.around, LEAST_HIP_EASE + 2 * leg
    top = legs.around + 2 * (legs.waist_edge - legs.width)
    found = [
        Clearance("the top passes the hips", top, widest + 20.0,
                  f"Drawn open the top is {said(top)}, and passes {said(widest)}.",
                  f"Drawn open the top is {said(top)}; it must pass {said(widest)}.", (more_hip,),
                  body.is_estimated("hip_girth")),
        room("room at the hips", body, "hip_girth", around, ease, (more_hip,)),
        _squat(body, legs),
        _thigh(body, legs, leg),
    ]
    found += _lower_leg(body, options, legs, leg)
    foot = body["heel_ankle_girth"] + FOOT_EASE
    slit = max(10.0, ceil((foot - legs.hem) / 20) * 10.0)
    through = legs.hem + 2 * options["ankle_slit"]
    found.append(Clearance(
        "heel through the leg", through, foot,
        f"The hem lets {said(through)} through; heel and instep are {said(body['heel_ankle_girth'])}.",
        f"The hem lets only {said(through)} through; heel and instep are "
        f"{said(body['heel_ankle_girth'])}, and {said(FOOT_EASE)} more is wanted.",
        (Remedy(f"A slit of {said(slit)} at the hem", "ankle_slit", f"{slit:g} mm"),
         Remedy("A hem as wide as the foot needs", "leg_hem", "0 mm")),
        body.is_estimated("heel_ankle_girth")))
    return tuple(found)


def _squat(body: Body, legs: Legs) -> Clearance:
    ease = SQUAT_EASE * body["stature"]
    wanted = ceil((ease + 2) / 10) * 10.0
    way = f"Between the legs the way is {said(legs.crotch_way)}, the body's {said(body['crotch_length'])}"
    return Clearance(
        "room to squat", legs.crotch_way, body["crotch_length"] + ease,
        f"{way}.", f"{way}; {said(ease)} more is wanted to squat.",
        (Remedy(f"Ease of {said(wanted)} through the crotch", "rise_ease", f"{wanted:g} mm"),),
        body.is_estimated("crotch_length"))


def _thigh(body: Body, legs: Legs, leg: float) -> Clearance:
    thigh = thigh_below_crotch(body, legs.below_crotch)
    at_foot = f"Where the gusset ends the leg is {said(legs.width)} wide and the thigh about {said(thigh)}"
    return Clearance(
        "room for the thigh", legs.width, thigh + LEAST_THIGH_EASE + leg,
        f"{at_foot}.", f"{at_foot}: at least {said(LEAST_THIGH_EASE + leg)} more is wanted.",
        (Remedy(f"Ease of {said(LEAST_THIGH_EASE)} round the thigh", "thigh_ease",
                f"{LEAST_THIGH_EASE:g} mm"),),
        body.is_estimated("thigh_girth"))


def _lower_leg(body: Body, options: Options, legs: Legs, leg: float) -> list[Clearance]:
    """Room at knee, calf and hem, as far as the leg reaches."""
    found = []
    knee = body["knee_height"]
    at_hem = body["waist_height"] - legs.length
    wide = ceil((legs.width + 2) / 5) * 5.0
    for name, height, ease in (
        ("room at the knee", knee, LEAST_KNEE_EASE),
        ("room at the calf", CALF_HEIGHT * knee, LEAST_CALF_EASE),
        ("room at the hem", at_hem, LEAST_CALF_EASE),
    ):
        if height < at_hem:
            continue
        girth, body_girth = legs.girth_at(body["waist_height"] - height), leg_girth(body, height)
        around = f"The leg is {said(girth)} round, the body about {said(body_girth)}"
        found.append(Clearance(
            name, girth, body_girth + ease + leg,
            f"{around}.", f"{around}; {said(ease + leg)} more is wanted.",
            (Remedy("A hem as wide as foot and leg need", "leg_hem", "0 mm"),
             Remedy(f"A straight leg of {said(wide)}", "leg_hem", f"{wide:g} mm")),
            body.is_estimated("calf_girth")))
    return found
