"""Hose and stockings, measured from their pattern.json by shapely."""

from math import atan2, degrees

import pytest
from shapely.geometry import LineString, Polygon

from drafting.garments import GARMENTS
from drafting.pattern import as_json
from drafting.sewing.plan import sewing_plan
from drafting.words.problems import BadInput
from tests.bodies.survey import needs_survey
from tests.survey_rules import judged, stratified, worst_seam
from tests.wardrobe import ASTA, TAM, draft, failing


def lines(pattern):
    return {(piece["name"], edge["name"]): LineString(edge["line"])
            for piece in as_json(pattern)["pieces"] for edge in piece["edges"]}


@pytest.mark.parametrize("values", [ASTA, TAM])
@pytest.mark.parametrize("options", [{}, {"reach": "thigh"}, {"grain": "straight"}, {"foot": "open"}])
def test_all_is_true_and_every_seam_matches(values, options):
    pattern = draft("hose", options, values)
    assert not failing(pattern)
    assert worst_seam(pattern) <= 0.5
    assert all(Polygon(piece["cutting_line"]).is_valid for piece in as_json(pattern)["pieces"])


def test_the_heel_seam_is_as_long_on_the_leg_as_on_upper_and_sole_and_passes_the_heel():
    pattern = draft("hose", {"heel_ease": "1cm"}, heel_ankle_girth=330.0)
    found = lines(pattern)
    parts = ("upper", "rear"), ("sole", "left rear"), ("sole", "right rear")
    foot = sum(found[part].length for part in parts)
    assert found["leg", "heel"].length == pytest.approx(340, abs=0.2)
    assert foot == pytest.approx(340, abs=0.2)


def test_leg_and_foot_are_tubes_of_their_own_girths():
    """source: plane geometry: opened flat, a tube is as wide as it is round."""
    pattern = draft("hose", {"grain": "straight"}, calf_girth=360.0)
    (leg,) = (Polygon(p["sewing_line"]) for p in as_json(pattern)["pieces"] if p["name"] == "leg")
    widths = [leg.intersection(LineString([(-900, y), (900, y)])).length for y in range(1, 300, 2)]
    assert max(widths) == pytest.approx(370, abs=0.5)
    upper, sole = (Polygon(p["sewing_line"]) for p in as_json(pattern)["pieces"] if p["name"] != "leg")
    assert (upper.bounds[2] - upper.bounds[0]) * 2 == pytest.approx(pattern.finished["foot_girth"], abs=0.2)
    assert sole.bounds[3] - sole.bounds[1] == pytest.approx(pattern.finished["foot_length"], abs=0.2)


def test_on_the_bias_the_leg_lies_at_half_a_right_angle_to_its_grain():
    """The line from heel to heel crosses the leg; the grain is drawn down the page."""
    for grain, turned in (("bias", 45), ("straight", 0)):
        (leg,) = (p for p in as_json(draft("hose", {"grain": grain}))["pieces"] if p["name"] == "leg")
        (x0, y0), *_, (x1, y1) = next(e for e in leg["edges"] if e["name"] == "top")["line"]
        (gx0, _), (gx1, _) = leg["grain"]
        assert degrees(atan2(y1 - y0, x1 - x0)) == pytest.approx(turned) and gx0 == gx1
        assert Polygon(leg["sewing_line"]).contains(LineString(leg["grain"]))


def test_without_the_bias_the_ankle_is_wider():
    wide, close = (draft("hose", {"grain": grain}).finished["ankle_girth"] for grain in ("straight", "bias"))
    assert wide > close + 20


@pytest.mark.parametrize(("options", "values", "field", "says"), [
    ({"foot_length": "55cm"}, {}, "foot_length", "longer than the way from knee to floor"),
    ({"foot_length": "10cm"}, {}, "foot_length", "too short"),
    ({"foot_girth": "35cm"}, {}, "foot_girth", "leaves no heel"),
    ({"reach": "thigh"}, {"inside_leg_height": 480.0, "knee_height": 470.0}, "inside_leg_height",
     "hardly does"),
])
def test_what_no_leg_is_like_is_refused_in_a_sentence(options, values, field, says):
    with pytest.raises(BadInput) as refused:
        draft("hose", options, **values)
    (problem,) = refused.value.problems
    assert problem.field == field and says in problem.message and "give" in problem.message


def test_a_heel_without_room_fails_and_the_remedy_helps():
    pattern = draft("hose", {"heel_ease": "0", "leg_ease": "0"})
    assert "the heel seam goes over heel and instep" in failing(pattern)
    (remedy,) = next(c for c in pattern.clearances if "seam" in c.name).remedies
    assert not failing(draft("hose", {remedy.option: remedy.value}))


def test_the_foot_goes_on_while_the_leg_lies_flat_and_the_back_is_closed_last():
    joins = [step.seams for step in sewing_plan(draft("hose")).steps if step.kind == "join"]
    assert ["sole" in joins[0][0], "foot to leg" in joins[1][0], "back" in joins[2][0]] == [True] * 3


@needs_survey
@pytest.mark.parametrize(("name", "options", "fails"), [
    ("hose", {}, False), ("hose", {"heel_ease": "2mm"}, True),
    ("mittens", {}, False), ("mittens", {"girth_ease": "35mm"}, True),
])
def test_what_must_pass_passes_on_bodies_of_the_survey_and_what_cannot_is_told(name, options, fails):
    """source of the bodies: ANSUR II; the rule is worked out on the edges. `python -m tests.survey_rules hose
    mittens` does it for all 6,068."""
    tallies = judged(stratified(12), name, options)
    assert any(tally.fails for tally in tallies.values()) == fails
    for tally in tallies.values():
        assert tally.judged and not tally.refused and not tally.false_passes and not tally.false_fails


def test_it_cannot_be_shown_worn_yet():
    assert GARMENTS["hose"].worn is None
