"""Patterns to sew in tests: every garment of the wardrobe for a volunteer of Marram Farm."""

from functools import cache

from hypothesis import assume
from hypothesis import strategies as st

from drafting.body import complete
from drafting.cloth.piecing import fit_to_width
from drafting.garments import GARMENTS, ChoiceOption, CountOption, read_options
from drafting.pattern import Pattern
from drafting.words.problems import BadInput

VOLUNTEER = {
    "stature": 1660.0, "bust_girth": 920.0, "waist_girth": 780.0, "hip_girth": 1000.0,
    "torso_length": 380.0, "head_girth": 560.0, "calf_girth": 360.0,
}
"""An invented body, for demo drafts, mm."""

TURNED_ON = {
    "growth_tuck": ("40mm",), "front_slit": ("0", "15cm"), "cuff_slit": ("0", "8cm"),
    "ankle_slit": ("0", "10cm"), "hem_depth": ("0", "4mm", "12mm"), "tail_length": ("0", "60cm"),
    "scoop": ("0", "3cm"),
}
"""Lengths that add something to sew, beside their default."""


@cache
def _body(garment: str, stature: float):
    """The volunteer, or a wearer of another stature of the same build."""
    measures = {name: mm * stature / VOLUNTEER["stature"] for name, mm in VOLUNTEER.items()}
    wanted = GARMENTS[garment].needs + GARMENTS[garment].uses
    return complete({**measures, "stature": stature}, wanted)


def sewn(garment: str = "apron-dress", *, stature: float = 1660.0, **options: str) -> Pattern:
    """The garment drafted for the volunteer, options as they would be typed."""
    body = _body(garment, stature)
    return GARMENTS[garment].draft(body, read_options(GARMENTS[garment], options, body))


@st.composite
def garments(draw: st.DrawFn, garment: str | None = None) -> Pattern:
    """Any garment with any of its choices, for an adult or a child, whole or pieced for a loom."""
    name = garment or draw(st.sampled_from(sorted(GARMENTS)))
    options = {}
    for option in GARMENTS[name].options:
        if isinstance(option, ChoiceOption):
            options[option.name] = draw(st.sampled_from(sorted(option.choices)))
        elif isinstance(option, CountOption):
            options[option.name] = str(draw(st.integers(option.least, min(option.most, option.least + 4))))
        elif option.name in TURNED_ON:
            chosen = draw(st.sampled_from(("", *TURNED_ON[option.name])))
            if chosen:
                options[option.name] = chosen
    stature = draw(st.sampled_from((1660.0, 1660.0, 1180.0)))
    width = draw(st.sampled_from((None, None, 1400.0, 600.0)))
    try:
        pattern = sewn(name, stature=stature, **options)
        return fit_to_width(pattern, width) if width else pattern
    except BadInput:
        assume(False)
        raise
