"""The caftan against the one it follows: New York, Metropolitan Museum 1996.78.1, northern Caucasus."""

from tests.wardrobe import draft

FOUND = 1420.0
"""mm long; “must originally have come down to the mid-calves of a tall male”. source: Knauer 2001,
Metropolitan Museum Journal 36, page 125."""

TALL = {"stature": 1850.0, "bust_girth": 1000.0, "waist_girth": 870.0, "hip_girth": 1010.0,
        "arm_length": 620.0}
"""An invented body, for a tall man."""

APART = 150.0
"""mm. common practice, no source: where on the calf a hem lies, and how it was measured, is not told."""


def test_a_tall_mans_caftan_is_as_long_as_the_found_one():
    """source: Knauer 2001: about 142 cm, down to a tall man's mid-calf."""
    calf, ankle = (draft("caftan", {"length_to": name}, TALL).finished["length"]
                   for name in ("mid-calf", "ankle"))
    assert abs(calf - FOUND) <= APART
    assert calf < FOUND < ankle
