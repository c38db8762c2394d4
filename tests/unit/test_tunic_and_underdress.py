"""Tunic and underdress: what sets the one apart from the other, and from other cuts."""

import pytest

from drafting.garments import GARMENTS
from tests.wardrobe import ASTA, body_for, checks, draft


def test_the_underdress_hangs_to_the_ankle_and_the_tunic_to_the_knee():
    body = body_for(GARMENTS["underdress"])
    ankle = body["cervicale_height"] - 0.05 * body["stature"]
    assert draft("underdress").finished["length"] == pytest.approx(ankle, abs=3)
    knee = body["cervicale_height"] - body["knee_height"]
    assert draft("tunic").finished["length"] == pytest.approx(knee, abs=3)


def test_the_tunic_is_roomier_since_it_goes_over_linen():
    under, over = draft("underdress").finished, draft("tunic").finished
    assert over["bust_girth"] - under["bust_girth"] == pytest.approx(40)


def test_a_body_folded_over_the_shoulders_is_one_rectangle():
    outline = draft("tunic").piece("body").outline
    left, top, right, bottom = outline.bounds
    assert outline.area == pytest.approx((right - left) * (bottom - top))
    assert bottom == pytest.approx(-top) == pytest.approx(draft("tunic").finished["length"])


def test_a_narrow_hem_for_an_ankle_length_dress_is_found_out_by_the_stride():
    # common practice, no source: 1.2 × stature at the ankle
    found = checks("underdress", {"hem_girth": "180"})["room to stride"]
    assert not found.passed
    assert found.limit == pytest.approx(1.2 * ASTA["stature"], rel=0.01)


def test_shoulders_that_do_not_pass_are_found_out():
    found = checks("underdress", {"chest_ease": "0"}, shoulder_girth=1040.0)["a way in"]
    assert not found.passed
    assert found.value == pytest.approx(940)


def test_a_hand_that_does_not_pass_the_cuff_is_found_out_and_a_slit_helps():
    tight = {"cuff_girth": "17"}
    found = checks("tunic", tight, folded_hand_girth=215.0)["fist through the cuff"]
    assert not found.passed
    slit = {**tight, "cuff_slit": "5"}
    assert checks("tunic", slit, folded_hand_girth=215.0)["fist through the cuff"].passed


def test_a_wing_like_armhole_keeps_the_arm_from_being_raised():
    winged = {"arm_ease": "40", "chest_ease": "50", "sleeve": "straight", "body_width": "wide"}
    assert not checks("tunic", winged)["room to raise the arm"].passed


def test_left_and_right_are_the_wearers_on_the_outside_of_each_panel():
    pattern = draft("tunic", {"shoulder": "seam"})
    front, back = pattern.piece("front").outline, pattern.piece("back").outline
    assert front["left armhole"].path.start.x > 0 > back["left armhole"].path.start.x
    folded = draft("tunic").piece("body").outline
    assert folded["left armhole"].path.start.x > 0


@pytest.mark.parametrize("name", ["underdress", "tunic"])
def test_what_it_needs_is_taken_and_what_it_uses_is_estimated(name):
    pattern = draft(name, values={k: ASTA[k] for k in GARMENTS[name].needs})
    assert set(pattern.estimated) == set(GARMENTS[name].uses)
