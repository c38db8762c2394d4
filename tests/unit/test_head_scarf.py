"""The head-scarf: square, triangle and long rectangle."""

from math import sqrt

import pytest

from drafting.checks.truing import true_up
from drafting.words.problems import BadInput
from tests.sewn import sewn


def scarf(**options):
    return sewn("head-scarf", **options)


def checks(**options):
    return {check.name: check for check in true_up(scarf(**options))}


def test_the_side_is_about_one_and_a_half_times_the_head():
    # common practice, no source
    assert scarf().finished["side"] == pytest.approx(1.5 * 560, abs=10)


def test_a_triangle_is_half_the_square_and_its_long_side_the_square_s_fold():
    square, triangle = scarf(side="90cm"), scarf(shape="triangle", side="90cm")
    (fold,) = square.piece("scarf").inner_lines
    outline = triangle.piece("scarf").outline
    assert outline.area == pytest.approx(square.piece("scarf").outline.area / 2)
    # source: Pythagoras
    assert outline["long side"].length == pytest.approx(fold.path.length) == pytest.approx(900 * sqrt(2))


def test_a_square_uses_up_a_cloth_a_little_wider_than_it_was_to_be():
    pattern = scarf(side="85cm", loom_width="90cm", hem_depth="5mm")
    assert pattern.finished["side"] == pytest.approx(900 - 2 * 10 - 20)
    assert any("instead of" in note for note in pattern.notes)


def test_pins_and_cords_are_cautioned_against():
    assert len(scarf().cautions) == 2


@pytest.mark.parametrize(
    ("options", "failing"),
    [
        ({"side": "50cm"}, "goes round the head and ties"),
        ({"side": "50cm"}, "covers the head down to the nape"),
        ({"shape": "rectangle", "length": "60cm"}, "goes round the head and ties"),
        ({"shape": "rectangle", "width": "20cm"}, "covers the head down to the nape"),
        ({"shape": "triangle", "side": "50cm", "loom_width": "70cm"}, "goes round the head and ties"),
    ],
)
def test_what_is_too_small_says_what_would_do_and_that_does(options, failing):
    check = checks(**options)[failing]
    assert not check.passed and check.remedies
    for remedy in check.remedies:
        assert checks(**{**options, remedy.option: remedy.value})[failing].passed


def test_a_scarf_wider_than_long_is_refused_and_both_are_named():
    with pytest.raises(BadInput) as caught:
        scarf(shape="rectangle", width="90cm", length="60cm")
    (problem,) = caught.value.problems
    assert {problem.field, *problem.also} == {"width", "length"}
