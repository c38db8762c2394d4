"""The mitten from Garðar in Iceland, and ours for hands of its size.

source: Pálsson 1895, Árbók Hins íslenzka fornleifafélags 10, page 35, as retold by a reader of it: what
remains is 28 cm long and 11 cm wide, palm and back apart, the thumb inset; longer once, as its wrist shows no
edge. Dated to 1310–1388 (Archaeological Textiles Review 66, 2024, by its abstract).
"""

import pytest

from tests.wardrobe import draft

LENGTH, WIDTH = 280.0, 110.0

MEN = {"stature": 1756.0, "hand_girth": 212.0}
WOMEN = {"stature": 1629.0, "hand_girth": 187.0}
"""source: ANSUR II, means (Gordon et al. 2014, NATICK/TR-15/007)."""


@pytest.mark.parametrize("hand", [MEN, WOMEN])
def test_it_is_as_long_and_as_wide_as_one_for_a_hand_of_either_size(hand):
    """Within 2.5 cm: it is shorter than it was, and nobody knows the hand."""
    finished = draft("mittens", values=hand).finished
    assert finished["length"] == pytest.approx(LENGTH, abs=25)
    assert finished["hand_girth"] / 2 == pytest.approx(WIDTH, abs=25)


def test_it_is_cut_as_the_find_is():
    pattern = draft("mittens", values=MEN)
    assert {piece.name: piece.cut for piece in pattern.pieces} == {"hand": 4, "thumb": 2}
