"""Patterns on a bolt of cloth. Overlaps and areas are measured with shapely (GEOS)."""

from itertools import combinations

import pytest
from shapely.geometry import Polygon, box

from drafting.cloth import Cloth, read_cloth
from drafting.lay.bolt import Order, lay_on_bolt, shapes_of
from drafting.problems import BadInput
from tests.drafts import drafted

ROUNDS = 30


def laid(cloth=None, orders=None, **more):
    return lay_on_bolt(orders or [Order(drafted(), "Ada")], cloth or Cloth(), max_rounds=ROUNDS, **more)


def sound(bolt) -> None:
    outlines = [Polygon(p.outline) for p in bolt.layout.placements]
    whole = box(0, 0, bolt.layout.width, bolt.layout.length)
    for outline in outlines:
        assert outline.difference(whole).area < 0.01
    for a, b in combinations(outlines, 2):
        assert a.intersection(b).area < 0.01


CLOTHS = [
    Cloth(), Cloth(width=600), Cloth(width=450, nap=True), Cloth(width=900, two_sided=False),
    Cloth(folded=True), Cloth(shrinkage_warp=0.06, shrinkage_weft=0.03),
    Cloth(shrinkage_warp=0.06, shrinkage_weft=0.03, washed_first=False),
]


@pytest.mark.parametrize("cloth", CLOTHS)
@pytest.mark.parametrize("tearable", [False, True])
def test_every_piece_is_laid_once_and_none_overlap(cloth, tearable):
    bolt = laid(cloth, tearable=tearable)
    sound(bolt)
    wanted = sum(shape.quantity for shape in shapes_of(bolt.orders, cloth))
    assert len(bolt.layout.placements) == wanted


def test_no_lay_is_shorter_than_its_pieces_area():
    bolt = laid()
    area = sum(Polygon([(p.x, p.y) for p in piece.cutting_line]).area * piece.cut
               for piece in bolt.orders[0].pattern.pieces)
    assert bolt.layout.area_bound == pytest.approx(area / bolt.layout.width, rel=1e-4)
    assert bolt.cut_length >= bolt.layout.area_bound


def test_cloth_that_shrinks_after_washing_is_bought_longer():
    # source: plane arithmetic: 6 % shrinkage leaves 0.94 of the length
    bolt = laid(Cloth(shrinkage_warp=0.06))
    assert bolt.buy_length * 0.94 == pytest.approx(bolt.cut_length)


def test_pieces_cut_from_unwashed_cloth_come_right_after_the_wash():
    cloth = Cloth(shrinkage_warp=0.06, shrinkage_weft=0.03, washed_first=False)
    plain = {s.name: Polygon(s.outline) for s in shapes_of([Order(drafted())], Cloth())}
    for shape in shapes_of([Order(drafted())], cloth):
        cut, wanted = Polygon(shape.outline).bounds, plain[shape.name].bounds
        assert (cut[2] - cut[0]) * 0.97 == pytest.approx(wanted[2] - wanted[0])
        assert (cut[3] - cut[1]) * 0.94 == pytest.approx(wanted[3] - wanted[1])


def test_a_nap_keeps_every_piece_the_same_way_up():
    assert {p.rotation for p in laid(Cloth(nap=True)).layout.placements} == {0.0}


def test_front_and_back_alike_are_cut_together_from_folded_cloth():
    names = {shape.name for shape in shapes_of([Order(drafted())], Cloth(folded=True))}
    assert "front and back" in names


def test_shares_of_a_bolt_add_up_to_it():
    orders = [Order(drafted(), "Ada"), Order(drafted({"bust_girth": "110cm", "waist_girth": "95cm"}), "Bo")]
    bolt = laid(Cloth(price=24, weight=300), orders)
    shares = bolt.shares()
    assert [share.owner for share in shares] == ["Ada", "Bo"]
    assert sum(share.part for share in shares) == pytest.approx(1)
    assert sum(share.length for share in shares) == pytest.approx(bolt.buy_length)
    assert sum(share.price for share in shares) == pytest.approx(24 * bolt.buy_length / 1000)
    # source: plane arithmetic, g/m² × width × length
    assert sum(share.weight for share in shares) == pytest.approx(300 * 1.5 * bolt.buy_length / 1000)
    assert shares[1].part > shares[0].part
    sound(bolt)


def test_cloth_on_hand_that_is_too_short_says_by_how_much():
    short = laid(Cloth(on_hand=1500.0))
    assert short.missing == pytest.approx(short.cut_length - 1500)
    assert laid(Cloth(on_hand=4000.0)).missing is None


@pytest.mark.parametrize(
    ("texts", "field", "words"),
    [
        ({"width": "5cm"}, "cloth_width", "cannot be cut from"),
        ({"width": "8cm", "selvedge": "3cm"}, "cloth_width", "not even a strap"),
        ({"on_hand": "0"}, "cloth_on_hand", "cannot be cut from"),
        ({"shrinkage_warp": "100 %"}, "cloth_shrinkage_warp", "no cloth to trust"),
        ({"shrinkage_weft": "-3"}, "cloth_shrinkage_weft", "percentage"),
        ({"shrinkage_weft": "nan"}, "cloth_shrinkage_weft", "percentage"),
        ({"weight": "heavy"}, "cloth_weight", "amount"),
        ({"nap": "maybe"}, "cloth_nap", "neither"),
        ({"colour": "red"}, "cloth_colour", "no “colour”"),
    ],
)
def test_a_cloth_that_does_not_read_gets_a_sentence(texts, field, words):
    with pytest.raises(BadInput) as caught:
        read_cloth(texts)
    assert any(p.field == field and words in p.message for p in caught.value.problems)


def test_a_cloth_as_typed():
    cloth = read_cloth({"width": "140", "on_hand": "2,3 m", "shrinkage_warp": "6 %", "nap": "yes"})
    assert (cloth.width, cloth.on_hand, cloth.shrinkage_warp, cloth.nap) == (1400, 2300, 0.06, True)
