"""Trimmings and patches, measured on the pieces of pattern.json.

source: plane geometry, on the edges of pattern.json
"""

from math import hypot

import pytest
from shapely.geometry import LineString, box

from drafting.life.mend import OVERLAP, TURNED, Scrap, patch
from drafting.life.trim import END, WarpOptions, trim_edges
from drafting.pattern import as_json
from drafting.sewing.cloths import WOOL
from drafting.words.problems import BadInput
from tests.reference.test_life_fits import made
from tests.terminal import run


def edges_of(name, options=None):
    return {edge.name: edge for edge in trim_edges(made(name, options).pattern)}


def measured(pattern, *, edge_contains: str) -> float:
    """mm of all edges so called, copy by copy, as shapely measures their lines."""
    return sum(piece["cut"] * LineString(edge["line"]).length for piece in as_json(pattern)["pieces"]
               for edge in piece["edges"] if edge_contains in edge["name"])


@pytest.mark.parametrize("name", ("tunic", "underdress", "apron-dress", "wrap-coat"))
def test_the_hem_is_as_long_as_the_pieces_hems_and_as_its_finished_girth(name):
    pattern, hem = made(name).pattern, edges_of(name)["hem"]
    assert hem.length == pytest.approx(measured(pattern, edge_contains="hem"), abs=0.5)
    if name != "wrap-coat":  # whose fronts overlap
        assert hem.length == pytest.approx(pattern.finished["hem_girth"], abs=1.0)


def test_a_closed_hem_is_a_ring_and_an_open_one_is_not():
    assert (edges_of("tunic")["hem"].bands, edges_of("tunic")["hem"].rings) == (1, 1)
    assert (edges_of("wrap-coat")["hem"].bands, edges_of("wrap-coat")["hem"].rings) == (1, 0)
    assert (edges_of("tunic")["cuff"].bands, edges_of("tunic")["cuff"].rings) == (2, 2)
    assert (edges_of("wrap-coat")["front edge"].bands, edges_of("wrap-coat")["front edge"].rings) == (2, 0)


def test_a_keyhole_is_trimmed_round_its_hole_and_down_and_up_its_slit():
    pattern = made("tunic").pattern
    neck = edges_of("tunic")["neck"]
    assert neck.length == pytest.approx(
        pattern.finished["neck_girth"] + 2 * pattern.finished["neck_slit"], abs=0.5)
    assert neck.corners == 3
    assert edges_of("tunic", {"neckline": "round"})["neck"].corners == 0


def test_a_mitre_takes_twice_the_width_and_each_end_its_turning():
    neck = edges_of("tunic")["neck"]
    assert neck.band(20.0) == pytest.approx(neck.length + 3 * 2 * 20.0 + 2 * END)
    assert neck.band(20.0) > neck.length


def test_a_warp_is_longer_by_take_up_and_waste():
    assert WarpOptions(0.10, 500.0).warp(1000.0) == pytest.approx(1600.0)
    with pytest.raises(BadInput, match="between 0 and 50 %"):
        WarpOptions(take_up=3.0)


def test_a_patch_covers_the_tear_and_sound_cloth_all_round():
    """source: shapely (GEOS): the tear buffered by what is covered, with mitred corners"""
    made_for = patch(60.0, 20.0, WOOL)
    covered = box(0, 0, 60, 20).buffer(OVERLAP, join_style="mitre").bounds
    assert (made_for.along, made_for.across) == (covered[2] - covered[0], covered[3] - covered[1])
    assert made_for.cut_along == pytest.approx(made_for.along + 2 * TURNED)
    assert made_for.rows[0].length == pytest.approx(box(0, 0, made_for.along, made_for.across).length)


def test_the_thread_of_a_patch_is_reckoned_stitch_by_stitch():
    """source: plane geometry, as test_thread.py has it: b + 2f + 2g + the slanting way back"""
    (outer, _) = patch(60.0, 20.0, WOOL).rows
    g = WOOL.thickness
    stitch = 1.5 + 2 * 2 * g + 2 * g + hypot(5.0, 1.5)
    assert outer.path == pytest.approx(outer.length / 5.0 * stitch)


def test_the_smallest_remnant_that_holds_a_patch_with_its_grain_is_chosen():
    scraps = (Scrap("large", 300, 200), Scrap("across", 70, 110), Scrap("small", 110, 70))
    assert patch(60.0, 20.0, WOOL, scraps).scrap.name == "small"
    assert patch(60.0, 20.0, WOOL, scraps[1:2]).scrap is None


def test_no_tear_and_one_too_long_are_sentences():
    for along, across, says in ((0.0, 0.0, "has a length"), (900.0, 10.0, "too long for a patch")):
        with pytest.raises(BadInput, match=says):
            patch(along, across, WOOL)


def test_the_command_line_mends_and_trims():
    done = run("mend", "--tear", "6cmx2cm", "--remnant", "small=11x7")
    assert done.returncode == 0 and "Cut a patch of 10.6 cm along the grain by 6.6 cm" in done.stdout
    assert "“small”" in done.stdout
    assert "write it as LENGTHxWIDTH" in run("mend", "--tear", "6cm").stderr
    assert "No cloth of “fur”" in run("mend", "--tear", "6x2", "--fibre", "fur").stderr
    trimmed = run("trim", "cap", "-m", "face_length=56", "-m", "crown_to_nape_length=30",
                  "-m", "head_girth=56", "-m", "stature=160")
    assert trimmed.returncode == 0 and "tablet warp" in trimmed.stdout, trimmed.stderr


def test_what_is_woven_to_its_width_is_trimmed_no_more():
    assert trim_edges(made("woven-belt").pattern) == trim_edges(made("mantle").pattern) == ()
