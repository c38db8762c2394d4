"""The sock from Coppergate in York, looped and not sewn, and the foot of our stockings.

source: Glover 1989, report on the sock 1309, as quoted in a published catalogue of looped finds: 260 mm
from toe to heel, 325 mm round the ankle, 270 mm round the broadest part of the foot.
"""

import pytest

from tests.wardrobe import draft

TOE_TO_HEEL, ROUND_THE_ANKLE, ROUND_THE_FOOT = 260.0, 325.0, 270.0

WEARER = {"stature": 1629.0, "calf_girth": 372.0, "heel_ankle_girth": 311.0}
"""source: ANSUR II, women's means (Gordon et al. 2014, NATICK/TR-15/007): a foot of 246 mm, to which a sock
of 260 belongs."""


def test_the_foot_is_as_large_and_what_must_pass_the_heel_is_as_wide():
    """Length within 1 cm; round the foot within 3 cm and over the heel within 2, since looped wool gives and
    was stretched at its conservation."""
    finished = draft("hose", values=WEARER).finished
    assert finished["foot_length"] == pytest.approx(TOE_TO_HEEL, abs=10)
    assert finished["foot_girth"] == pytest.approx(ROUND_THE_FOOT, abs=30)
    assert finished["heel_seam"] == pytest.approx(ROUND_THE_ANKLE, abs=20)
