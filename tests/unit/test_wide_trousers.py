"""Wide trousers: broad legs on to narrow bands, sewn in an order in which all lies flat that must."""

import pytest
from shapely.geometry import LineString, Polygon

from drafting.pattern import as_json
from drafting.sewing.plan import sewing_plan
from drafting.words.problems import BadInput
from tests.wardrobe import ASTA, TAM, draft, failing


def test_the_bands_go_on_while_the_legs_are_flat_and_the_inseams_run_through_them():
    """common practice, no source."""
    steps = sewing_plan(draft("wide-trousers")).steps
    at = {seam: step.number for step in steps for seam in step.seams}
    assert max(at["right leg to knee band"], at["left leg to knee band"]) < at["right inseam"]
    (step,) = (step for step in steps if "right leg to knee band" in step.seams)
    assert any("gathering threads" in sentence for sentence in step.sentences)
    hem = next(step for step in steps if step.kind == "edge" and "hem" in step.title)
    assert hem.number > at["left inseam"]


def test_the_inseam_is_as_long_before_as_behind_and_takes_the_band_in():
    pattern = draft("wide-trousers")
    written = as_json(pattern)
    line = {(piece["name"], edge["name"]): LineString(edge["line"]).length
            for piece in written["pieces"] for edge in piece["edges"]}
    assert line["leg", "front inseam"] == pytest.approx(line["leg", "back inseam"], abs=0.5)
    band = Polygon(next(p for p in written["pieces"] if p["name"] == "knee band")["sewing_line"])
    assert band.area == pytest.approx(pattern.finished["leg_hem_girth"] * 40)
    assert pattern.finished["inseam"] == pytest.approx(
        line["leg", "front gusset"] + line["leg", "front inseam"] + line["knee band", "front end"], abs=0.5)


@pytest.mark.parametrize(("options", "named"), [
    ({"band_girth": "30cm"}, "band round the leg"), ({"rise_ease": "0"}, "room to squat"),
])
def test_what_is_too_tight_says_so(options, named):
    assert named in failing(draft("wide-trousers", options))


def test_legs_no_wider_than_their_bands_are_refused_in_a_sentence():
    with pytest.raises(BadInput, match="nothing to pleat"):
        draft("wide-trousers", {"leg_width": "40cm", "band_girth": "38cm"})


def test_a_cord_in_the_waist_is_cautioned_of_for_a_child_alone():
    assert any("EN 14682" in caution for caution in draft("wide-trousers", values=TAM).cautions)
    assert not draft("wide-trousers", {"waist": "belt-loops"}, TAM).cautions
    assert not draft("wide-trousers", values=ASTA).cautions
