"""The cloak: radii, quarters, whole widths of cloth, and what it must clear."""

from math import pi

import pytest
from shapely.geometry import Polygon

from drafting.checks.truing import true_up
from drafting.words.problems import BadInput
from tests.sewn import sewn


def cloak(**options):
    return sewn("cloak", **options)


def checks(**options):
    return {check.name: check for check in true_up(cloak(**options))}


@pytest.mark.parametrize(
    ("shape", "angle"), [("half-circle", pi), ("three-quarter-circle", 3 * pi / 2)]
)
@pytest.mark.parametrize("cut", ["whole", "quarters"])
def test_neck_and_hem_have_the_lengths_asked_for_however_it_is_cut(shape, angle, cut):
    pattern = cloak(shape=shape, cut=cut, neck_length="54cm", length="1m", scoop="5cm")
    (piece,) = (p for p in pattern.pieces if p.name in ("cloak", "quarter"))
    along = piece.cut * piece.outline["neck"].length
    assert along == pytest.approx(angle * 50)
    # Down one front from its clasp, along the scoop, up the other front to its clasp.
    assert along + sum(notch.distance for notch in piece.notches) == pytest.approx(540)
    assert piece.cut * piece.outline["hem"].length == pytest.approx(angle * (50 + 1000))
    assert piece.outline["left"].length == piece.outline["right"].length == pytest.approx(1000)


def test_a_three_quarter_circle_is_three_quarters_sewn_in_a_row():
    pattern = cloak(shape="three-quarter-circle")
    joins = [seam for seam in pattern.seams if "to" in seam.name and "quarter" in seam.name]
    assert [(s.a[0].copy, s.a[0].edge, s.b[0].copy, s.b[0].edge) for s in joins] == [
        (1, "left", 2, "right"), (2, "left", 3, "right")]


def test_the_neck_worked_out_closes_and_the_cloak_reaches_over_the_shoulders():
    for shape in ("half-circle", "three-quarter-circle"):
        found = checks(shape=shape)
        assert found["closes round the neck"].passed and found["reaches over the shoulders"].passed


def test_more_of_a_circle_closes_higher_up_its_fronts():
    half, three = cloak(shape="half-circle"), cloak(shape="three-quarter-circle")
    assert three.finished["neck_length"] == half.finished["neck_length"]
    assert three.finished["clasp_down_the_front"] < half.finished["clasp_down_the_front"]


def test_the_binding_is_as_long_as_the_scoop():
    pattern = cloak(shape="three-quarter-circle", scoop="4cm")
    (seam,) = (seam for seam in pattern.seams if seam.treatment == "bound")
    assert pattern.side_length(seam.a) == pytest.approx(3 * pi / 2 * 40)
    assert pattern.side_length(seam.b) == pytest.approx(3 * pi / 2 * 40)


def test_what_a_rectangle_has_beyond_its_length_is_folded_over():
    pattern = cloak(length="1m", fold_over="25cm")
    piece = pattern.piece("cloak")
    left, _, right, _ = piece.outline.bounds
    assert right - left == pytest.approx(1250)
    (fold,) = piece.inner_lines
    assert fold.path.start.x == pytest.approx(250)
    assert fold.path.length == pytest.approx(pattern.finished["width"])
    assert all(notch.distance > 250 for notch in piece.notches)
    assert not cloak(fold_over="0").piece("cloak").inner_lines


def test_a_rectangle_is_whole_widths_of_a_narrow_cloth_joined_by_their_selvedges():
    pattern = cloak(shape="rectangle", loom_width="60cm", length="115cm", fold_over="0")
    piece = pattern.piece("width")
    assert piece.cut == 2
    assert pattern.finished["length"] == 2 * (600 - 2 * 10)
    (seam,) = pattern.seams
    assert seam.treatment == "butted selvedges" and seam.allowance == 0
    assert piece.allowance("top") == piece.allowance("bottom") == 0
    assert any("116" in note or "instead" in note for note in pattern.notes)


def test_a_lined_rectangle_loses_its_seam_allowances_from_each_width():
    pattern = cloak(shape="rectangle", loom_width="60cm", length="115cm", lining="full", fold_over="0",
                    seam_allowance="2cm")
    assert pattern.finished["length"] == pytest.approx(2 * (600 - 2 * 10 - 40))


def test_a_half_circle_reaches_from_one_lost_selvedge_to_the_other():
    pattern = cloak(shape="half-circle", loom_width="130cm")
    left, top, right, bottom = pattern.piece("cloak").outline.bounds
    xs = [p.x for p in pattern.piece("cloak").cutting_line]
    assert max(xs) - min(xs) == pytest.approx(1300 - 2 * 10, abs=0.1)


def test_the_lining_meets_every_edge():
    for shape in ("rectangle", "half-circle", "three-quarter-circle"):
        pattern = cloak(shape=shape, lining="full")
        felled = {s.name for s in pattern.seams if s.treatment == "felled lining"}
        assert felled == {f"lining, {side}" for side in ("left front", "right front", "hem", "neck")}
        assert all(c.passed for c in true_up(pattern))


def test_a_toggle_brings_a_loop_near_the_neck_and_a_brooch_brings_its_caution():
    pattern = cloak(closure="toggle")
    (end,) = pattern.attachments
    (fold,) = pattern.piece("cloak").inner_lines
    assert end.piece == "loop" and 0 < end.distance - fold.path.start.x < 50
    assert any("sharp" in c for c in cloak(closure="brooch").cautions)
    assert any("child" in c for c in pattern.cautions)


@pytest.mark.parametrize("allowance", [{"hem_depth": "3cm"}, {"lining": "full", "seam_allowance": "6cm"}])
def test_two_fronts_cut_in_one_piece_keep_their_allowances_apart_or_are_refused(allowance):
    # Round a quarter's gap, allowances w wide meet where the radius is w. source: plane geometry.
    options = {"shape": "three-quarter-circle", "cut": "whole", "neck_length": "60cm", **allowance}
    tightest = 60 + 2
    for piece in cloak(**options, scoop=f"{tightest + 0.1:.2f}mm").pieces:
        assert Polygon([tuple(p) for p in piece.cutting_line]).is_valid
    with pytest.raises(BadInput, match="run into each other"):
        cloak(**options, scoop=f"{tightest - 0.1:.2f}mm")
    assert cloak(**{**options, "cut": "quarters"}, scoop="3cm")


@pytest.mark.parametrize(
    ("options", "fields"),
    [
        ({"shape": "rectangle", "cut": "quarters"}, {"cut", "shape"}),
        ({"shape": "rectangle", "neck_length": "50cm"}, {"neck_length", "shape"}),
        ({"loom_width": "2cm"}, {"loom_width"}),
        ({"shape": "three-quarter-circle", "cut": "whole", "scoop": "20mm", "width": "1560mm",
          "lining": "full"}, {"seam_allowance", "cut", "scoop"}),
        ({"shape": "three-quarter-circle", "cut": "whole", "scoop": "40mm", "hem_depth": "4cm"},
         {"hem_depth", "cut", "scoop"}),
        ({"shape": "half-circle", "scoop": "15cm", "neck_length": "40cm"}, {"scoop", "neck_length"}),
    ],
)
def test_options_that_contradict_are_named_together(options, fields):
    with pytest.raises(BadInput) as caught:
        cloak(**options)
    (problem,) = caught.value.problems
    assert {problem.field, *problem.also} == fields


@pytest.mark.parametrize(
    ("options", "failing"),
    [
        ({"shape": "half-circle", "neck_length": "36cm"}, "closes round the neck"),
        ({"shape": "rectangle", "width": "1m"}, "laps round the shoulders"),
        ({"length": "150cm"}, "hem clears the ground"),
    ],
)
def test_what_fails_says_what_would_do_and_that_does(options, failing):
    check = checks(**options)[failing]
    assert not check.passed and check.remedies
    for remedy in check.remedies:
        assert checks(**{**options, remedy.option: remedy.value})[failing].passed


def test_a_cloak_within_a_twentieth_of_a_millimetre_of_its_limit_does_not_trail():
    usual = checks()["hem clears the ground"]
    longest = cloak().finished["length"] + usual.value - usual.limit
    check = checks(length=f"{longest + 0.04:.2f} mm")["hem clears the ground"]
    assert check.value < check.limit and check.passed
    assert check.advice.startswith("The hem hangs about")
