"""Slotted handles from Hedeby, read as those of bags, and our pouch between two handles.

source: Westphal, on the wooden finds from Hedeby, plate 59, as quoted in a study of 2016: the shortest is 181
mm long, the longest 495.
"""

from tests.wardrobe import ASTA, draft

SHORTEST, LONGEST = 181.0, 495.0

MAN = {"stature": 1756.0, "hand_girth": 212.0}
"""source: ANSUR II, men's means (Gordon et al. 2014, NATICK/TR-15/007)."""


def test_a_mouth_that_a_hand_goes_into_is_as_wide_as_the_shorter_handles():
    for values in (ASTA, MAN):
        width = draft("pouch", {"closes": "frame"}, values).finished["width"]
        assert SHORTEST <= width <= (SHORTEST + LONGEST) / 2
