"""The tunic and hood against the find from Skjoldehamn, northern Norway, about 1000 or later 11th century."""

from tests.wardrobe import draft

SLIGHT = {"stature": 1600.0, "bust_girth": 860.0, "waist_girth": 720.0, "hip_girth": 900.0,
          "arm_length": 540.0}
"""An invented body: the wearer is described as slight."""

GORES = {"front": 1, "back": 1, "sides": 5}


def test_the_tunic_has_its_gores_where_the_find_has_them_but_fewer_at_the_sides():
    """from memory: Nockert 1997, as retold by a reader: one in front, one behind, two on the right and three
    on the left. Ours has one at each side, and as much of the flare."""
    pattern = draft("skjoldehamn-tunic", {}, SLIGHT)
    cut = {piece.name: piece.cut for piece in pattern.pieces if "gore" in piece.name}
    assert cut == {"front gore": GORES["front"], "back gore": GORES["back"], "side gore": 2}
    assert GORES["sides"] - cut["side gore"] == 3


def test_the_hood_has_a_square_gore_in_front_and_one_behind():
    """from memory: Løvlid 2009: a hood of a rectangle with square gores in front and behind."""
    pattern = draft("hood", {}, SLIGHT)
    squares = {piece.name: piece.outline.bounds for piece in pattern.pieces if "gore" in piece.name}
    assert set(squares) == {"front gore", "back gore"}
    for left, top, right, bottom in squares.values():
        assert abs((right - left) - (bottom - top)) < 1
