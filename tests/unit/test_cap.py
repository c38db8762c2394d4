"""The cap: from jaw to jaw, from hairline to nape, and no ties on a small child."""

from math import hypot, pi

import pytest

from drafting.checks.truing import true_up
from drafting.words.problems import BadInput
from tests.sewn import sewn


def cap(**options):
    return sewn("cap", **options)


def checks(**options):
    return {check.name: check for check in true_up(cap(**options))}


def test_the_front_edge_is_the_width_of_the_rectangle():
    piece = cap(front_edge="50cm", depth="18cm").piece("cap")
    left, top, right, bottom = piece.outline.bounds
    assert (right - left, bottom - top) == pytest.approx((500, 180))
    assert piece.outline["front"].length == pytest.approx(500)


@pytest.mark.parametrize(
    ("back", "taken_off"),
    # source: plane geometry: a quarter circle of 60 in place of two sides of 60; a dart of 60 by 30
    [("shaped", 120 - 30 * pi), ("darted", 90 - hypot(60, 30)), ("plain", 0.0)],
)
def test_the_way_from_hairline_to_nape_is_what_fold_and_seam_measure(back, taken_off):
    pattern = cap(back=back, rounding="6cm", front_edge="48cm", depth="18cm")
    piece = pattern.piece("cap")
    fold = next(line for line in piece.inner_lines if line.kind == "fold").path.length
    seam = sum(e.length for e in piece.outline.edges if e.name in ("back left", "dart left"))
    assert fold + seam == pytest.approx(180 + 240 - taken_off)
    check = {c.name: c for c in true_up(pattern)}["back reaches the nape"]
    assert check.value == pytest.approx(fold + seam)


def test_a_dart_is_sewn_before_the_back_seam():
    dart, back = cap(back="darted").seams
    assert (dart.name, back.name) == ("dart", "back seam") and dart.order < back.order


def test_ties_are_left_off_for_a_small_child():
    # from memory: EN 14682, children under 7 years, up to 1,340 mm
    assert len(cap().attachments) == 2
    small = sewn("cap", stature=1100.0)
    assert not small.attachments and [p.name for p in small.pieces] == ["cap"]
    assert any("small child" in note for note in small.notes)


def test_ties_can_be_had_or_left_off_by_choice_and_the_caution_is_always_there():
    assert not cap(ties="none").attachments
    assert sewn("cap", stature=1100.0, ties="tapes").attachments
    for pattern in (cap(), cap(ties="none")):
        assert any("strangle" in caution for caution in pattern.cautions)


def test_the_ties_end_at_the_two_jaws():
    pattern = cap(front_edge="48cm")
    assert sorted(end.distance for end in pattern.attachments) == [0, 480]


@pytest.mark.parametrize(
    ("options", "failing"),
    [
        ({"front_edge": "36cm"}, "front edge reaches the jaws"),
        ({"depth": "12cm", "rounding": "4cm"}, "back reaches the nape"),
        ({"depth": "14cm"}, "cap holds the back of the head"),
    ],
)
def test_what_is_too_small_says_what_would_do_and_that_does(options, failing):
    check = checks(**options)[failing]
    assert not check.passed and check.remedies
    for remedy in check.remedies:
        assert checks(**{**options, remedy.option: remedy.value})[failing].passed


@pytest.mark.parametrize(
    ("options", "fields"),
    [
        ({"rounding": "13cm"}, {"rounding", "depth", "front_edge", "back"}),
        ({"rounding": "3cm", "seam_allowance": "2cm"}, {"rounding", "seam_allowance", "back"}),
    ],
)
def test_options_that_contradict_are_named_together(options, fields):
    with pytest.raises(BadInput) as caught:
        cap(**options)
    (problem,) = caught.value.problems
    assert {problem.field, *problem.also} == fields


def test_a_peak_may_be_left_whatever_the_curve_would_be():
    assert all(c.passed for c in checks(back="plain", rounding="15cm").values())
