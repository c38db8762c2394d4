"""Mittens, measured from their pattern.json by shapely."""

from math import pi

import pytest
from shapely.geometry import LineString, Polygon

from drafting.garments import GARMENTS
from drafting.pattern import as_json
from drafting.sewing.plan import sewing_plan
from drafting.words.problems import BadInput
from tests.wardrobe import ASTA, TAM, draft, failing


def lines(pattern):
    return {(piece["name"], edge["name"]): LineString(edge["line"])
            for piece in as_json(pattern)["pieces"] for edge in piece["edges"]}


@pytest.mark.parametrize("values", [ASTA, TAM])
def test_the_thumbs_base_goes_once_round_its_opening(values):
    """source: plane geometry: two equal edges, opened, are a ring of twice their length."""
    found = lines(draft("mittens", values=values))
    opening = found["hand", "thumb opening"].length
    base = found["thumb", "left base"].length + found["thumb", "right base"].length
    assert base == pytest.approx(2 * opening, abs=0.1)
    assert found["thumb", "left side"].length == pytest.approx(found["thumb", "right side"].length, abs=0.1)


def test_it_is_half_a_circle_over_the_fingers_and_straight_below():
    """source: plane geometry: a rectangle with half a circle on it."""
    pattern = draft("mittens")
    (hand,) = (p for p in as_json(pattern)["pieces"] if p["name"] == "hand")
    width, length = pattern.finished["hand_girth"] / 2, pattern.finished["length"]
    r = width / 2
    assert Polygon(hand["sewing_line"]).area == pytest.approx(width * (length - r) + pi * r * r / 2, rel=1e-3)
    assert hand["cut"] == 4 and hand["mirrored"]


def test_all_is_true_for_a_grown_hand_and_a_childs():
    plump = {"stature": 927.0, "hand_girth": 143.0}
    for values in (ASTA, TAM, {"stature": 860.0}, {"stature": 1980.0}, plump):
        assert not failing(draft("mittens", values=values))


def test_a_mitten_that_the_hand_does_not_pass_says_so():
    assert failing(draft("mittens", {"girth_ease": "0"})) == {"the hand passes the edge"}


@pytest.mark.parametrize(("options", "field", "says"), [
    ({"thumb_length": "20cm"}, "thumb_length", "is as long as the whole hand"),
    ({"thumb_length": "2cm"}, "thumb_length", "is too short for"),
    ({"hand_length": "10cm"}, "hand_length", "is too wide for a hand"),
])
def test_what_no_hand_is_like_is_refused_in_a_sentence(options, field, says):
    with pytest.raises(BadInput) as refused:
        draft("mittens", options)
    (problem,) = refused.value.problems
    assert problem.field == field and says in problem.message and "give" in problem.message


def test_the_thumb_is_set_in_while_palm_and_back_lie_flat_and_the_edge_is_hemmed_last():
    steps = sewing_plan(draft("mittens")).steps
    joined = [seam for step in steps if step.kind == "join" for seam in step.seams]
    first = {seam.rpartition(" ")[2] for seam in joined[:4]}
    assert all("thumb to" in seam for seam in joined[:4]) and first == {"palm", "back"}
    assert steps[-2].kind == "edge"


def test_it_cannot_be_shown_worn_yet():
    assert GARMENTS["mittens"].worn is None
