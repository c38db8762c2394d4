"""What leg wraps must do: lap, lie close where the calf widens, and reach under the knee."""

from ..body import Body
from ..pattern import Clearance, Remedy
from ..words.wording import said
from .leg_wraps_shape import LEAST_OVERLAP, LEAST_TUCK, Leg, Strip, least_overlap, strip_for, wrapped_leg
from .options import Options


def wrap_clearances(body: Body, options: Options) -> tuple[Clearance, ...]:
    leg = wrapped_leg(body, options)
    strip, _ = strip_for(options, leg)
    guessed = any(map(body.is_estimated, ("ankle_girth", "calf_girth", "under_knee_girth")))
    return _lap(strip), _follows(leg, strip, guessed), _reaches(strip, guessed)


def _lap(strip: Strip) -> Clearance:
    lap = strip.overlap * strip.ankle_width / strip.width
    wanted = least_overlap(strip.width, strip.ankle_width)
    return Clearance(
        "turns lap", lap, LEAST_OVERLAP,
        f"Each turn covers at least {said(lap)} of the one before.",
        f"Turns that lap only {said(lap)} slip apart when you walk.",
        (Remedy(f"An overlap of {said(wanted)}", "overlap", f"{wanted:g} mm"),
         Remedy("Work the overlap out from the width", "overlap", "0 mm"),
         Remedy("A straight strip", "shape", "straight")),
    )


def _follows(leg: Leg, strip: Strip, guessed: bool) -> Clearance:
    widest = min(leg.widest_strip, 2 * strip.width)
    narrower = widest // 5 * 5
    return Clearance(
        "strip follows the calf", widest, strip.width,
        "Narrow enough for both edges of a wool twill to lie close.",
        f"Where the calf widens, the edges of so wide a strip gape: at most {said(widest)} "
        "lies close.",
        (Remedy(f"A strip {said(narrower)} wide", "width", f"{narrower:g} mm"),
         Remedy("A strip that need not use up the cloth", "loom_width", "0 mm")),
        guessed,
    )


def _reaches(strip: Strip, guessed: bool) -> Clearance:
    return Clearance(
        "strip is long enough", strip.length, strip.needed,
        f"{said(strip.start)} to start, {said(strip.wound)} in the turns, "
        f"{said(strip.length - strip.start - strip.wound)} to tuck in.",
        f"The turns need {said(strip.start + strip.wound)}; at least {said(LEAST_TUCK)} more "
        "is wanted to tuck in.",
        (Remedy("Weave or cut it as long as it must be", "band_length", "0 mm"),),
        guessed,
    )
