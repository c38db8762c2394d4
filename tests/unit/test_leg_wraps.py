"""Leg wraps: long enough, wide enough, narrow enough, and two of them."""

import pytest
from shapely.geometry import LineString

from drafting.checks.truing import true_up
from drafting.pattern import as_json
from drafting.sewing.plan import sewing_plan
from drafting.words.problems import BadInput
from tests.sewn import sewn


def wraps(**options):
    return sewn("leg-wraps", **options)


def checks(**options):
    return {check.name: check for check in true_up(wraps(**options))}


def test_there_are_two_and_they_are_alike():
    piece = wraps(joins="one").piece("wrap")
    assert piece.cut == 2 and not piece.mirrored
    assert piece.copies == ("left leg wrap", "right leg wrap")


def test_a_longer_leg_a_thicker_layer_and_a_wider_overlap_each_take_a_longer_strip():
    plain = wraps().finished["strip_length"]
    for more in ({"leg_length": "42cm"}, {"room_beneath": "8cm"}, {"overlap": "5cm"}):
        assert wraps(**more).finished["strip_length"] > plain


def test_what_is_tucked_in_lies_above_the_turns_and_is_marked():
    piece = wraps(tuck="40cm", joins="one").piece("wrap")
    (begin, knee) = piece.notches
    length = piece.outline["left"].length
    assert length - knee.distance == pytest.approx(400)
    # common practice, no source: one and a half turns to start
    assert begin.distance == pytest.approx(1.5 * (wraps().measurements["ankle_girth"] + 30))


def test_a_tapered_strip_has_the_widths_asked_for_at_its_ends():
    outline = wraps(shape="tapered", width="9cm", ankle_width="6cm", joins="one").piece("wrap").outline
    assert outline["upper end"].length == pytest.approx(90)
    assert outline["start"].length == pytest.approx(60)


def test_a_tapered_strip_covers_the_leg_as_a_straight_one_of_its_width_there_does():
    straight = wraps(width="8cm", overlap="2cm").finished["strip_length"]
    narrow = wraps(width="6cm", overlap="15mm").finished["strip_length"]
    tapered = wraps(shape="tapered", width="8cm", ankle_width="6cm", overlap="2cm")
    assert straight < tapered.finished["strip_length"] < narrow


def test_a_pointed_end_is_part_of_what_is_tucked_in():
    square, pointed = wraps(joins="one"), wraps(joins="one", ends="pointed")
    assert pointed.finished["strip_length"] == square.finished["strip_length"]
    _, top, _, bottom = pointed.piece("wrap").outline.bounds
    assert bottom - top == pytest.approx(pointed.finished["strip_length"])


def test_strips_side_by_side_use_up_the_cloth():
    pattern = wraps(loom_width="70cm", width="9cm", hem_depth="6mm")
    each = pattern.finished["strip_width"] + 4 * 6
    assert 680 / each == pytest.approx(round(680 / each))
    assert any("side by side" in note for note in pattern.notes)


def test_a_band_at_hand_that_is_too_short_is_found_out_and_the_remedy_does():
    check = checks(band_length="150cm")["strip is long enough"]
    assert not check.passed
    (remedy,) = check.remedies
    assert checks(**{remedy.option: remedy.value})["strip is long enough"].passed


@pytest.mark.parametrize(
    ("options", "failing"),
    [
        ({"overlap": "8mm"}, "turns lap"),
        ({"shape": "tapered", "overlap": "16mm", "ankle_width": "5cm"}, "turns lap"),
        ({"width": "19cm", "overlap": "9cm"}, "strip follows the calf"),
    ],
)
def test_what_fails_says_what_would_do_and_that_does(options, failing):
    check = checks(**options)[failing]
    assert not check.passed and check.remedies
    for remedy in check.remedies:
        assert checks(**{**options, remedy.option: remedy.value})[failing].passed


@pytest.mark.parametrize(
    ("options", "fields"),
    [
        ({"width": "6cm", "overlap": "5cm"}, {"overlap", "width"}),
        ({"shape": "tapered", "width": "6cm", "ankle_width": "9cm"},
         {"ankle_width", "width", "shape"}),
        ({"width": "20cm", "overlap": "1cm"}, {"width", "overlap"}),
        ({"ends": "pointed", "band_length": "9cm"}, {"band_length", "ends"}),
        ({"loom_width": "1cm"}, {"loom_width"}),
    ],
)
def test_options_that_contradict_are_named_together(options, fields):
    with pytest.raises(BadInput) as caught:
        wraps(**options)
    (problem,) = caught.value.problems
    assert {problem.field, *problem.also} == fields


def test_the_caution_is_about_blood_as_well_as_fire():
    assert any("toes" in caution for caution in wraps().cautions)


@pytest.mark.parametrize(("length", "parts"), [("24cm", 2), ("60cm", 3)])
def test_a_strip_is_joined_from_two_or_three_lengths_unless_one_is_asked_for(length, parts):
    # common practice, no source: the cutter's corrections, one or two joins
    whole, joined = wraps(leg_length=length, joins="one"), wraps(leg_length=length)
    assert len(whole.pieces) == 1 and len(joined.pieces) == parts
    lengths = [LineString(p["line"]).length for piece in as_json(joined)["pieces"]
               for p in piece["edges"] if p["name"] == "left"]
    assert sum(lengths) == pytest.approx(joined.finished["strip_length"], abs=0.01)
    assert len(joined.seams) == 2 * (parts - 1)
    assert not [check for check in true_up(joined) if not check.passed]


def test_the_turns_and_the_knee_are_marked_where_they_come_on_joined_lengths():
    joined = wraps()
    below = 0.0
    found = {}
    for piece in joined.pieces:
        found |= {notch.label: below + notch.distance for notch in piece.notches}
        below += piece.outline["left"].length
    (whole,) = wraps(joins="one").pieces
    assert found == pytest.approx({notch.label: notch.distance for notch in whole.notches})


def test_joins_are_felled_before_the_long_edges_are_hemmed_and_nothing_is_tried_on_for_them():
    kinds = [step.kind for step in sewing_plan(wraps(edges="hemmed")).steps]
    assert kinds == ["join", "fell", "edge", "check"]


def test_the_long_edges_are_selvedges_and_have_no_hem():
    for piece in wraps().pieces:
        assert piece.allowance("left") == piece.allowance("right") == 0
    ends = [wraps().pieces[0].allowance("start"), wraps().pieces[-1].allowance("upper end")]
    assert ends == [12, 12]


@pytest.mark.parametrize("options", [{"shape": "tapered"}, {"loom_width": "70cm"}, {"edges": "hemmed"}])
def test_a_strip_that_is_cut_has_no_selvedges(options):
    assert {p.allowance("left") for p in wraps(**options).pieces} == {12}


def test_a_band_as_wide_as_its_loom_uses_all_of_it():
    pattern = wraps(width="9cm", loom_width="8cm")
    assert pattern.finished["strip_width"] == 80
    assert not any("pieced" in note for note in pattern.notes)
