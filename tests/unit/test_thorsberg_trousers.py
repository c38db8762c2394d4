"""Thorsberg trousers: seat and crotch piece fit between the legs, and the waist lies level round them."""

from math import acos, degrees, hypot

import pytest
from shapely.geometry import LineString, Polygon

from drafting.pattern import as_json
from drafting.sewing.plan import sewing_plan
from drafting.words.problems import BadInput
from tests.wardrobe import ASTA, TAM, draft, failing


def lines(pattern):
    return {(piece["name"], edge["name"]): LineString(edge["line"])
            for piece in as_json(pattern)["pieces"] for edge in piece["edges"]}


@pytest.mark.parametrize("values", [ASTA, TAM, {**ASTA, "thigh_girth": 680.0}])
def test_seat_and_crotch_piece_lie_between_the_legs(values):
    """source: plane geometry: a triangle's side is the hypotenuse of its height and half its base."""
    pattern = draft("thorsberg-trousers", {"seat_width": "20cm", "crotch_piece": "22cm"}, values)
    found = lines(pattern)
    assert found["leg", "back seam"].length == pytest.approx(found["seat", "right leg"].length, abs=0.5)
    side = found["leg", "front gusset"].length + found["leg", "back gusset"].length
    assert side == pytest.approx(hypot(220, 100), abs=0.5)
    (crotch,) = (Polygon(p["sewing_line"]) for p in as_json(pattern)["pieces"] if p["name"] == "crotch piece")
    assert crotch.area == pytest.approx(200 * 220 / 2, rel=1e-4)
    way = found["leg", "front seam"].length + 220 + found["seat", "right leg"].length
    assert way == pytest.approx(pattern.finished["crotch_length"], abs=0.5)
    assert not failing(pattern)


def angle(one, other):
    (ax, ay), (bx, by) = one, other
    return degrees(acos((ax * bx + ay * by) / (hypot(ax, ay) * hypot(bx, by))))


def test_the_waist_meets_the_leaning_seams_square_and_is_as_wide_as_hips_and_ease():
    pattern = draft("thorsberg-trousers", values={**ASTA, "thigh_girth": 660.0})
    waist, back, front = (lines(pattern)["leg", name] for name in ("waist", "back seam", "front seam"))
    (x0, y0), (x1, y1) = waist.coords[0], waist.coords[1]
    (u0, v0), (u1, v1) = back.coords[0], back.coords[-1]
    assert angle((x1 - x0, y1 - y0), (u1 - u0, v1 - v0)) == pytest.approx(90, abs=3)
    assert back.coords[-1][0] > back.coords[0][0] and front.coords[0][0] < front.coords[-1][0], "they lean in"
    straight = 2 * (front.coords[0][0] - back.coords[-1][0])
    assert straight + pattern.piece("seat").outline["waist"].length == pytest.approx(
        pattern.finished["waist_girth"], abs=1)
    assert pattern.finished["waist_girth"] >= ASTA["hip_girth"] + 40


def test_the_small_pieces_are_joined_first_and_the_inseams_last():
    """common practice, no source; folded from paper."""
    at = {seam: step.number for step in sewing_plan(draft("thorsberg-trousers")).steps for seam in step.seams}
    assert at["crotch piece to seat"] < at["right leg to seat"] < at["right leg's front to crotch piece"]
    assert at["front seam"] < at["right inseam"]


@pytest.mark.parametrize(("options", "says"), [
    ({"crotch_piece": "40cm", "front_slit": "25cm"}, "give a crotch piece of"),
    ({"length": "40cm"}, "end above the foot of the crotch piece"),
])
def test_what_cannot_be_cut_is_refused_in_a_sentence(options, says):
    with pytest.raises(BadInput, match=says):
        draft("thorsberg-trousers", options)


def test_what_is_too_tight_says_so_and_that_the_find_is_older_is_told():
    assert "room to squat" in failing(draft("thorsberg-trousers", {"rise_ease": "0"}))
    assert any("feet" in note for note in draft("thorsberg-trousers").notes)
