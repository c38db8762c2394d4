"""The caftan: its strips lie on its edges, and are sewn on before what runs over their ends."""

import pytest
from shapely.geometry import LineString

from drafting.pattern import as_json
from drafting.sewing.plan import sewing_plan
from tests.wardrobe import ASTA, TAM, draft, failing

CUFFS = {"strips": "fronts-and-cuffs"}


def lines(pattern, piece):
    """Each edge of a piece in pattern.json, as shapely measures it."""
    (found,) = (p for p in as_json(pattern)["pieces"] if p["name"] == piece)
    return {edge["name"]: LineString(edge["line"]).length for edge in found["edges"]}


@pytest.mark.parametrize(("options", "values"), [
    ({}, ASTA), ({"lap": "shaped", "neck_finish": "turned"}, ASTA), ({"lining": "full", **CUFFS}, ASTA),
    ({"growth_tuck": "4", **CUFFS}, TAM),
])
def test_each_strip_is_as_long_as_the_edge_it_covers(options, values):
    pattern = draft("caftan", options, values)
    assert not failing(pattern)
    front, strip = lines(pattern, "front")["front edge"], lines(pattern, "front strip")["sewn"]
    assert strip == pytest.approx(front, abs=0.5)
    if CUFFS.items() <= options.items():
        cuff, strip = lines(pattern, "sleeve")["cuff"], lines(pattern, "cuff strip")["sewn"]
        assert strip == pytest.approx(cuff, abs=0.5)


def test_a_strip_is_sewn_on_before_the_seams_and_hems_that_cross_its_ends():
    """common practice, no source: what a seam or a hem takes in must be there when it is sewn."""
    steps = sewing_plan(draft("caftan", CUFFS)).steps
    at = {seam: step.number for step in steps for seam in step.seams}
    hem = next(step.number for step in steps if step.kind == "hem")
    assert at["left front strip to front"] < at["neck band"] < hem
    assert at["left cuff strip to sleeve"] < at["left sleeve underarm"]
    (step,) = (step for step in steps if "left front strip to front" in step.seams)
    assert any("wrong side" in sentence for sentence in step.sentences)
    assert not any(step.kind == "fasten" for step in steps), "its fronts are no opening in a seam"


def test_a_turned_neck_is_hemmed_once_over_the_strips():
    steps = sewing_plan(draft("caftan", {"neck_finish": "turned"})).steps
    hemmed = [part for step in steps if step.kind in ("neck", "edge", "hem") for part in step.task.lines]
    assert len(hemmed) == len(set(hemmed)) and ("front", "neck") in {(p.piece, p.edge) for p in hemmed}


def test_fronts_that_lap_too_little_say_so():
    assert "fronts lie over each other" in failing(
        draft("caftan", {"overlap": "4", "chest_ease": "0", "hem_girth": "130"}))
