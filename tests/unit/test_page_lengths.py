"""Lengths as typed on the page, and the entries of a kit's lists."""

import pytest

from entries import entry, new_id
from lengths import is_bare, price_kept, price_shown, with_unit, without_unit


@pytest.mark.parametrize("text", ["92", "36 1/4", "¾", " 1'200 ", "92,5", "1’200"])
def test_a_number_alone_is_bare(text):
    assert is_bare(text)


@pytest.mark.parametrize("text", ["", "cm", "92 cm", "5'4", "36\"", "5′ 6″", "3 m", "1'2000", "'200", "-"])
def test_a_number_with_its_unit_or_none_at_all_is_not(text):
    assert not is_bare(text)


def test_a_bare_number_gets_its_unit_and_loses_it_again():
    assert with_unit(" 92 ", "cm") == "92 cm" and with_unit("92", "cm", "") == "92cm"
    assert with_unit("36 in", "cm") == "36 in"
    assert without_unit("92 cm", "cm") == "92" and without_unit("92cm", "cm") == "92"
    assert without_unit("92 cm", "in") == "92 cm" and without_unit("wide cm", "cm") == "wide cm"


@pytest.mark.parametrize(("typed", "unit", "kept", "in_cm", "in_inches"), [
    ("24", "cm", "24", "24", "24 a metre"), ("22", "in", "22 a yard", "22 a yard", "22"),
    ("24 a metre", "in", "24 a metre", "24", "24 a metre"), ("8/ft", "in", "8/ft", "8/ft", "8/ft"),
    ("22 a", "in", "22 a", "22 a", "22 a"), ("", "in", "", "", ""),
])
def test_a_price_is_of_a_yard_under_an_inch_tape_and_keeps_its_meaning_under_the_other(
        typed, unit, kept, in_cm, in_inches):
    assert price_kept(typed, unit) == kept
    assert (price_shown(kept, "cm"), price_shown(kept, "in")) == (in_cm, in_inches)


def test_an_entry_is_known_by_its_id_and_a_new_one_takes_the_first_that_is_free():
    kit = {"cloths": [{"id": "c1"}, {"id": "c3"}]}
    assert entry(kit["cloths"], "c3") is kit["cloths"][1] and entry(kit["cloths"], "c2") is None
    assert new_id(kit, "cloths") == "c2"
