"""The mantle: woven to size or cut and hemmed."""

import pytest
from shapely.geometry import Polygon

from drafting.pattern import as_json
from drafting.sewing.plan import sewing_plan
from drafting.words.problems import BadInput
from tests.wardrobe import ASTA, TAM, draft, failing


def cut(pattern):
    (piece,) = as_json(pattern)["pieces"]
    x0, y0, x1, y1 = Polygon(piece["cutting_line"]).bounds
    return x1 - x0, y1 - y0


def test_woven_to_size_there_is_nothing_to_cut_off_or_to_hem():
    pattern = draft("mantle", {"length": "2m", "height": "1m"})
    assert cut(pattern) == (1000, 2000)
    assert [step.kind for step in sewing_plan(pattern).steps] == ["check"]
    # common practice, no source: a twelfth of the warp is taken up, 40 cm stay on the loom.
    assert pattern.finished["warp_length"] == pytest.approx(2000 * 1.08 + 400)


def test_cut_from_wider_cloth_it_is_hemmed_all_round():
    pattern = draft("mantle", {"length": "2m", "height": "1m", "edges": "hemmed", "hem_depth": "1cm"})
    assert cut(pattern) == (1040, 2040)
    assert sum(line.length for step in sewing_plan(pattern).steps if step.kind == "edge"
               for line in step.measures) == pytest.approx(6000)


def test_all_is_true_for_a_grown_body_and_a_childs_however_it_is_pinned():
    for values in (ASTA, TAM):
        for closure in ("brooch", "two-brooches", "none"):
            assert not failing(draft("mantle", {"closure": closure}, values))


def test_one_that_trails_or_does_not_go_round_says_so_and_how_long_it_may_be():
    assert failing(draft("mantle", {"height": "1.6m"})) == {"hem clears the ground"}
    pattern = draft("mantle", {"length": "80cm"})
    assert failing(pattern) == {"goes round the shoulders and laps"}
    (remedy,) = pattern.clearances[0].remedies
    assert not failing(draft("mantle", {remedy.option: remedy.value}))


@pytest.mark.parametrize(("options", "field", "says"), [
    ({"height": "2.6m"}, "height", "wider than any loom"),
    ({"fold_over": "90cm"}, "fold_over", "more above than below"),
    ({"height": "40cm", "border": "12cm"}, "border", "half the mantle"),
])
def test_what_could_not_be_woven_or_worn_is_refused_in_a_sentence(options, field, says):
    with pytest.raises(BadInput) as refused:
        draft("mantle", options)
    (problem,) = refused.value.problems
    assert problem.field == field and says in problem.message and "give" in problem.message


def test_a_small_child_is_told_of_a_button_in_place_of_the_pin():
    assert any("button" in note for note in draft("mantle", values=TAM).notes)
    assert not any("button" in note for note in draft("mantle", values=ASTA).notes)
