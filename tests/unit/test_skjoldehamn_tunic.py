"""The Skjoldehamn tunic: its collar goes round the neck, its middle gores begin above the waist."""

import pytest
from shapely.geometry import LineString

from drafting.pattern import as_json
from drafting.sewing.plan import sewing_plan
from tests.wardrobe import ASTA, TAM, draft, failing


def lines(pattern):
    return {(piece["name"], edge["name"]): LineString(edge["line"])
            for piece in as_json(pattern)["pieces"] for edge in piece["edges"]}


@pytest.mark.parametrize(("options", "values"), [({}, ASTA), ({}, TAM), ({"shoulder": "seam"}, ASTA)])
def test_the_collar_goes_from_one_side_of_the_slit_round_to_the_other(options, values):
    pattern = draft("skjoldehamn-tunic", options, values)
    found = lines(pattern)
    hole = sum(line.length for (piece, edge), line in found.items() if edge == "neck" and piece != "collar")
    assert found["collar", "neck"].length == pytest.approx(hole, abs=0.5)
    assert not failing(pattern)


@pytest.mark.parametrize("values", [ASTA, TAM])
def test_the_middle_gores_begin_above_the_waist_and_below_the_slit(values):
    pattern = draft("skjoldehamn-tunic", {}, values)
    depths = {level.name: level.depth for level in pattern.levels}
    slit = max(y for _, y in lines(pattern)["body", "neck slit"].coords)
    assert slit + 40 <= depths["start of the middle gores"] < depths["waist"]
    lower = draft("skjoldehamn-tunic", {"middle_gore_length": "30cm"}, values)
    assert lines(lower)["body", "front slit"].length == pytest.approx(300)


def test_the_slit_is_cut_and_rolled_before_the_collar_closes_over_its_top():
    """common practice, no source; folded from paper."""
    steps = sewing_plan(draft("skjoldehamn-tunic")).steps
    slit = next(step for step in steps if step.kind == "neck")
    assert any(sentence.startswith("Cut the neck slit") for sentence in slit.sentences)
    assert slit.number < next(step.number for step in steps if "collar" in step.seams)


def test_without_a_collar_the_neck_is_turned_in():
    pattern = draft("skjoldehamn-tunic", {"collar_height": "0"})
    assert all(piece.name != "collar" for piece in pattern.pieces) and not failing(pattern)
    collared = draft("skjoldehamn-tunic")
    assert pattern.piece("body").allowance("neck") > collared.piece("body").allowance("neck")


def test_a_neck_that_does_not_let_the_head_through_says_so_and_offers_a_longer_slit():
    pattern = draft("skjoldehamn-tunic", {"neck_slit": "2cm"})
    assert "head through the neck" in failing(pattern)
    (clearance,) = (c for c in pattern.clearances if c.name == "head through the neck")
    assert [remedy.option for remedy in clearance.remedies] == ["neck_slit"]
