"""Lengths as typed on the page, and the entries of a kit's lists."""

import pytest

from entries import entry, new_id
from lengths import is_bare, with_unit, without_unit


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


def test_an_entry_is_known_by_its_id_and_a_new_one_takes_the_first_that_is_free():
    kit = {"cloths": [{"id": "c1"}, {"id": "c3"}]}
    assert entry(kit["cloths"], "c3") is kit["cloths"][1] and entry(kit["cloths"], "c2") is None
    assert new_id(kit, "cloths") == "c2"
