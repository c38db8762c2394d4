"""Patterns to sew in tests: every garment of the wardrobe for a volunteer of Marram Farm."""

from functools import cache

from drafting.body import complete
from drafting.garments import GARMENTS, read_options
from drafting.pattern import Pattern

VOLUNTEER = {
    "stature": 1660.0, "bust_girth": 920.0, "waist_girth": 780.0, "hip_girth": 1000.0,
    "torso_length": 380.0, "head_girth": 560.0, "calf_girth": 360.0,
}
"""An invented body, for demo drafts, mm."""


@cache
def _body(garment: str, stature: float):
    """The volunteer, or a wearer of another stature of the same build."""
    measures = {name: mm * stature / VOLUNTEER["stature"] for name, mm in VOLUNTEER.items()}
    wanted = GARMENTS[garment].needs + GARMENTS[garment].uses
    return complete({**measures, "stature": stature}, wanted)


def sewn(garment: str = "apron-dress", *, stature: float = 1660.0, **options: str) -> Pattern:
    body = _body(garment, stature)
    return GARMENTS[garment].draft(body, read_options(GARMENTS[garment], options, body))
