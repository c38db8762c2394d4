"""The child's gown: what it keeps to grow into, measured in pattern.json by shapely."""

import pytest
from shapely.geometry import LineString, Polygon

from drafting.checks.truing import true_up
from drafting.garments import GARMENTS
from drafting.pattern import as_json
from drafting.sewing.materials import materials
from drafting.sewing.plan import sewing_plan
from tests.survey_rules import worst_hem, worst_seam
from tests.wardrobe import ASTA, TAM, draft, failing


def edges(pattern, name):
    (piece,) = (p for p in as_json(pattern)["pieces"] if p["name"] == name)
    return piece, {edge["name"]: edge for edge in piece["edges"]}


def test_every_edge_has_something_to_grow_into():
    """common practice, no source: a tuck of 50 mm, edges turned twice 25 mm deep, seams of 25 mm."""
    pattern = draft("childs-gown", values=TAM)
    body, lines = edges(pattern, "body")
    sleeve, cuff = edges(pattern, "sleeve")
    assert {lines[name]["allowance"] for name in lines if "hem" in name} == {50.0}
    assert cuff["cuff"]["allowance"] == 50.0
    assert all(edge["allowance"] == 25.0 for name, edge in cuff.items() if name != "cuff")
    rows = [LineString(line["line"]) for line in body["inner_lines"] if line["kind"] == "tuck"]
    front = sorted(rows, key=lambda row: row.centroid.y)[-2:]
    assert front[0].distance(front[1]) == pytest.approx(2 * 50)
    assert front[0].length == pytest.approx(front[1].length, abs=0.5)
    assert Polygon(body["cutting_line"]).is_valid and Polygon(sleeve["cutting_line"]).is_valid


@pytest.mark.parametrize("values", [TAM, ASTA, {**TAM, "stature": 860.0, "bust_girth": 510.0,
                                               "waist_girth": 490.0, "hip_girth": 515.0, "arm_length": 278.0,
                                               "crotch_length": 365.0}])
@pytest.mark.parametrize("options", [{}, {"gores": "all"}, {"body_width": "narrow"}, {"growth_tuck": "0"}])
def test_it_is_true_for_a_small_child_and_for_a_grown_one(values, options):
    pattern = draft("childs-gown", options, values)
    assert not failing(pattern)
    assert worst_seam(pattern) <= 0.5 and worst_hem(pattern) <= 3


def test_it_outlasts_the_underdress_by_its_room():
    """It goes over a chest 50 mm larger than the underdress that is cut for the same child would."""
    gown, dress = (draft(name, values=TAM) for name in ("childs-gown", "underdress"))
    assert gown.finished["bust_girth"] >= dress.finished["bust_girth"] + 40
    assert gown.finished["length"] < dress.finished["length"]


def test_the_tuck_is_sewn_before_the_hem_and_no_seam_is_trimmed_for_good():
    pattern = draft("childs-gown", values=TAM)
    kinds = [step.kind for step in sewing_plan(pattern).steps]
    assert "tuck" in kinds and kinds.index("tuck") < len(kinds) - 1 - kinds[::-1].index("hem")
    assert any("trim none" in note for note in pattern.notes)


def test_one_too_narrow_to_be_pulled_on_says_so():
    assert "a way in" in failing(draft("childs-gown", {"chest_ease": "0"}, TAM))
    assert all(check.name for check in true_up(draft("childs-gown", values=TAM)))


def test_no_child_is_told_to_close_the_neck_with_a_brooch():
    """source: EN 14682 as the cautions quote it: nothing at a small child's neck that pricks or catches."""
    for name in ("childs-gown", "underdress", "tunic"):
        assert not any("brooch" in note for note in draft(name, values=TAM).notes)
        assert any("brooch" in note for note in draft(name, values=ASTA).notes)
        for values, told in ((TAM, False), (ASTA, True)):
            pattern = draft(name, values=values)
            bought = " ".join(thing.what for thing in materials(sewing_plan(pattern)))
            assert ("brooch" in bought) == told


def test_it_is_hung_as_the_underdress_is():
    assert GARMENTS["childs-gown"].worn == GARMENTS["underdress"].worn is not None
