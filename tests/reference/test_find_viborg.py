"""The Viborg shirt against the find from Viborg Søndersø, Jutland, 11th century."""

from tests.wardrobe import draft

SLIM = {"stature": 1720.0, "bust_girth": 980.0, "waist_girth": 820.0, "hip_girth": 960.0, "arm_length": 580.0}
"""An invented body, for a slim man: Fentz 1987 calls the shirt rather close-fitting."""

BODY_WIDTH, PIECES, CLOTH = 571.0, 10, 950.0
"""mm across the upper body (22½ in); pieces it was sewn of; mm between the selvedges, about."""

APART = 50.0
"""mm. common practice, no source: what a slim man measured is a guess, and the find shrank in the ground."""


def test_the_upper_body_is_about_as_wide_as_the_found_one():
    """from memory: Fentz 1987, Kuml, by way of readers of its drawings: the body is 22½ in wide."""
    assert abs(draft("viborg-shirt", {}, SLIM).finished["body_width"] - BODY_WIDTH) <= APART


def test_it_is_sewn_of_as_many_pieces_as_the_found_one_but_for_a_pieced_lining():
    """from memory: Fentz 1987: ten pieces; the lining of its front is of more than one."""
    assert sum(1 for _ in draft("viborg-shirt", {}, SLIM).copies()) == PIECES - 1


def test_no_piece_is_wider_than_the_cloth_it_was_cut_from():
    """from memory: Burnham 1973, Cut My Cote: a loom about 95 cm wide."""
    for piece in draft("viborg-shirt", {}, SLIM).pieces:
        across = [point.x for point in piece.cutting_line]
        assert max(across) - min(across) <= CLOTH


def test_gusset_and_neck_are_nearly_of_one_size():
    """from memory: readers of Fentz 1987 remark that the gussets are almost as large as the neck's hole."""
    pattern = draft("viborg-shirt", {}, SLIM)
    gusset = pattern.piece("gusset").outline["front body"].length
    hole = pattern.piece("body").line("neck").points()
    across, down = (max(at) - min(at) for at in ([p.x for p in hole], [p.y for p in hole]))
    assert abs(gusset - (across + down) / 2) <= 30
