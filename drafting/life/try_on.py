"""What to ask at a try-on of this garment: its own places, how each may feel, and where the tape would lie
there."""

from dataclasses import dataclass

from ..body import MEASURES
from ..body.figure import figure_svg
from ..garments import Garment
from ..pattern import Pattern
from .felt import ASKED, OF_KIND, FeltWord
from .fits import kind_of, places_of

SHOWN_BY = {
    "chest": "bust_girth", "top": "upper_chest_girth", "waist": "waist_girth", "hips": "hip_girth",
    "thigh": "thigh_girth", "rise": "crotch_length", "hem": "knee_height", "length": "cervicale_height",
    "back-length": "back_waist_length", "shoulder": "shoulder_width", "sleeve-length": "arm_length",
    "sleeve-width": "upper_arm_girth", "cuff": "wrist_girth", "armhole": "upper_arm_girth",
    "neck": "neck_base_girth", "straps": "brooch_strap_length", "face": "face_length",
    "front-edge": "face_length", "depth": "crown_to_nape_length", "height": "crown_to_shoulder_length",
    "hand": "hand_girth", "calf": "calf_girth", "heel": "heel_ankle_girth",
}
"""The measure whose drawing shows where a place is."""


@dataclass(frozen=True)
class TryOnQuestion:
    """A place, how it may feel there with what is then asked, and an SVG of where it is; "" where none shows
    it."""

    place: str
    title: str
    feels: tuple[tuple[FeltWord, str], ...]
    drawing: str


def questions(garment: Garment, pattern: Pattern) -> tuple[TryOnQuestion, ...]:
    """In the order in which a fitter looks, from the neck down as the table of places has them."""
    return tuple(
        TryOnQuestion(place.name, place.title, tuple((word, ASKED[word]) for word in OF_KIND[kind_of(place)]),
                      _drawing(place.name))
        for place in places_of(garment, pattern)
    )


def _drawing(place: str) -> str:
    measure = MEASURES.get(SHOWN_BY.get(place, ""))
    return figure_svg(measure) if measure else ""
