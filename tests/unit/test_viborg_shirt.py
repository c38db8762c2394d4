"""The Viborg shirt: its rows are in the thread, its skirts lap, and its order can be folded from paper."""

import pytest
from shapely.geometry import LineString, Polygon

from drafting.life.trim import trim_edges
from drafting.pattern import as_json
from drafting.sewing.plan import sewing_plan
from drafting.words.problems import BadInput
from tests.wardrobe import ASTA, TAM, draft, failing


def written(pattern):
    return {piece["name"]: piece for piece in as_json(pattern)["pieces"]}


def test_the_rows_of_quilting_are_sewn_their_whole_length_through_both_layers():
    pattern = draft("viborg-shirt")
    rows = [LineString(line["line"]) for line in written(pattern)["body"]["inner_lines"]
            if line["kind"] == "row"]
    first = sewing_plan(pattern).steps[0]
    assert first.seams == ("quilting",)
    assert sum(row.length for row in first.rows) == pytest.approx(sum(row.length for row in rows), abs=1)
    outline = Polygon(written(pattern)["body"]["sewing_line"])
    hole = Polygon(written(pattern)["body"]["holes"][0])
    assert all(outline.contains(row) and not hole.intersects(row) for row in rows)
    thicker = sewing_plan(draft("viborg-shirt", {"row_spacing": "3.5cm"})).steps[0]
    assert thicker.work.thread > 1.5 * first.work.thread, "twice as many rows take more thread"


def test_the_slit_is_cut_before_the_neck_is_bound_and_skirts_are_hemmed_before_the_waist_takes_them_in():
    """common practice, no source; folded from paper."""
    steps = sewing_plan(draft("viborg-shirt")).steps
    at = {name: step.number for step in steps for name in step.seams}
    slit = next(step.number for step in steps if step.kind == "vent")
    sides = next(step.number for step in steps
                 if {part.edge for part in step.task.lines} == {"left edge", "right edge"})
    assert at["quilting"] < slit < at["neck band"]
    assert sides < at["left lap of the skirts"] < at["skirts to the waist"]
    assert max(at["left side seam"], at["right side seam"]) < at["skirts to the waist"]


def test_the_skirts_lie_over_each_other_by_the_lap_at_each_side():
    pattern = draft("viborg-shirt", {"skirt_lap": "12cm"})
    skirt = Polygon(written(pattern)["skirt"]["sewing_line"]).bounds
    assert skirt[2] - skirt[0] == pytest.approx(pattern.finished["body_width"] + 120)
    edges = {edge["name"]: edge["length"] for edge in written(pattern)["skirt"]["edges"]}
    assert edges["left lap"] == edges["right lap"] == pytest.approx(120)
    assert not failing(pattern)


def test_skirts_that_do_not_meet_at_the_hips_say_so_and_the_advice_helps():
    values = {**ASTA, "hip_girth": 1240.0}
    pattern = draft("viborg-shirt", {"skirt_lap": "6cm"}, values)
    assert "skirts lie over each other" in failing(pattern)
    (clearance,) = (c for c in pattern.clearances if c.name == "skirts lie over each other")
    assert "skirts lie over each other" not in failing(
        draft("viborg-shirt", {"skirt_lap": clearance.remedies[0].value}, values))


def test_a_child_gets_no_ties_at_the_neck_and_the_caution():
    """source: EN 14682 as the cautions quote it."""
    small, grown = draft("viborg-shirt", values=TAM), draft("viborg-shirt")
    assert {edge.name for edge in small.piece("neck band").outline.edges} & {"one tie", "other tie"} == set()
    assert any("EN 14682" in caution for caution in small.cautions) and not grown.cautions
    assert grown.piece("neck band").outline["one tie"].length == pytest.approx(250)


@pytest.mark.parametrize(("options", "says"), [
    ({"length": "45cm"}, "leaves no skirt below its waist"), ({"skirt_lap": "29cm"}, "Skirts cannot lap by"),
])
def test_what_cannot_be_cut_is_refused_in_a_sentence(options, says):
    with pytest.raises(BadInput, match=says):
        draft("viborg-shirt", options)


def test_a_quilted_lining_has_no_edges_to_trim():
    pattern = draft("viborg-shirt")
    edges = {edge.name: edge.length for edge in trim_edges(pattern)}
    assert set(edges) == {"hem", "right edge", "left edge", "neck", "cuff", "neck slit"}
    assert edges["neck"] == pytest.approx(pattern.finished["neck_girth"], abs=0.5), "once, not once a layer"
