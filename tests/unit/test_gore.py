"""A gore fills an edge on both sides and hangs level; two halves of one hand make a whole."""

from math import radians

import pytest

from drafting.garments.gore import Gore, Gores
from drafting.geometry import Allowance
from drafting.pattern import SeamEdge

SEAM, HEM = Allowance(15.0), Allowance(24.0, fold=True)
SLIT = (SeamEdge("front", "front slit"),)


def test_both_sides_are_as_long_as_the_edge_they_fill_and_the_hem_is_an_arc_about_the_apex():
    outline = Gore(700.0, 400.0).whole(("front", "back"))
    assert outline["front"].length == pytest.approx(700)
    assert outline["back"].length == pytest.approx(700)
    assert outline["hem"].length == pytest.approx(400)
    assert all(p.length == pytest.approx(700) for p in outline["hem"].path.points())


def test_a_half_has_half_the_angle_and_its_straight_edge_lies_on_the_grain():
    gore = Gore(700.0, 400.0)
    half = gore.half()
    assert half["straight"].path.start.x == pytest.approx(0, abs=1e-9)
    assert half["hem"].length == pytest.approx(200)
    assert half.area == pytest.approx(gore.whole(("a", "b")).area / 2, rel=1e-4)


def test_the_width_grows_in_proportion_from_the_apex():
    assert Gore(800.0, 400.0).width_at(200.0) == pytest.approx(100)


def test_the_angle_at_the_apex_is_the_arc_over_the_radius():
    # source: plane geometry
    assert radians(Gore(500.0, 250.0).angle) == pytest.approx(0.5)


def test_a_gore_in_a_slit_is_sewn_to_both_of_its_sides():
    gores = Gores("front gore", Gore(500.0, 200.0), ("right", "left"), ("front gore",))
    seams = gores.seams(0, SLIT, SLIT, 15.0)
    assert [seam.b for seam in seams] == [SLIT, SLIT]
    assert {seam.a[0].edge for seam in seams} == {"right", "left"}


def test_halves_are_joined_slant_to_straight_before_they_are_set_in():
    gores = Gores("side gore", Gore(700.0, 300.0), ("front", "back"), ("left gore", "right gore"),
                  halves=True, mirrored=True)
    piece = gores.piece(SEAM, HEM)
    assert piece.cut == 4
    assert piece.copies == ("left gore, front half", "right gore, front half",
                            "left gore, back half", "right gore, back half")
    for index in (0, 1):
        middle, front, back = gores.seams(index, SLIT, SLIT, 15.0)
        assert (middle.a[0].edge, middle.b[0].edge) == ("slant", "straight")
        # Mirrored copies alternate, so both halves of one gore are of one hand.
        assert middle.a[0].copy % 2 == middle.b[0].copy % 2
        assert front.a[0].copy == middle.a[0].copy
        assert back.a[0].copy == middle.b[0].copy


def test_the_hem_falls_from_the_apex():
    piece = Gores("gore", Gore(700.0, 300.0), ("a", "b"), ("gore",)).piece(SEAM, HEM, below=250.0)
    (hang,) = piece.hangs
    assert hang.below + hang.depth == 950
