"""Patterns on a bolt of cloth. Overlaps and areas are measured with shapely (GEOS)."""

from itertools import combinations

import pytest
from shapely.affinity import scale, translate
from shapely.geometry import Polygon, box
from shapely.ops import unary_union

from drafting.cloth.cloth import Cloth, read_cloth
from drafting.desk.lay_results import plan_of
from drafting.kit.marram_farm import VOLUNTEERS
from drafting.lay.bolt import ToCut, lay_on_bolt, shapes_of
from drafting.sheets.chalk_words import before_you_start, piece_words
from drafting.words.problems import BadInput
from tests.drafts import draft_of, drafted

ROUNDS = 30


def laid(cloth=None, orders=None, **more):
    return lay_on_bolt(orders or [ToCut(drafted(), "Ada")], cloth or Cloth(), max_rounds=ROUNDS, **more)


def of_hild(garment, options):
    who = VOLUNTEERS[0]
    return draft_of({"garment": garment, "measurements": who.measurements, "sex": who.sex,
                     "options": options}).pattern


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
    plain = {s.name: Polygon(s.outline) for s in shapes_of([ToCut(drafted())], Cloth())}
    for shape in shapes_of([ToCut(drafted())], cloth):
        cut, wanted = Polygon(shape.outline).bounds, plain[shape.name].bounds
        assert (cut[2] - cut[0]) * 0.97 == pytest.approx(wanted[2] - wanted[0])
        assert (cut[3] - cut[1]) * 0.94 == pytest.approx(wanted[3] - wanted[1])


def test_a_nap_keeps_every_piece_the_same_way_up():
    assert {p.rotation for p in laid(Cloth(nap=True)).layout.placements} == {0.0}


def test_front_and_back_alike_are_cut_together_from_folded_cloth():
    names = {shape.name for shape in shapes_of([ToCut(drafted())], Cloth(folded=True, width=2000))}
    assert "front and back" in names


FOLDED = [("tunic", {}), ("underdress", {"neckline": "boat"}), ("wrap-coat", {}), ("apron-dress", {}),
          ("cap", {}), ("head-scarf", {})]


@pytest.mark.parametrize("cloth", [Cloth(folded=True), Cloth(folded=True, width=1300, nap=True)])
@pytest.mark.parametrize("name", FOLDED, ids=lambda n: n[0])
def test_on_folded_cloth_every_piece_comes_out_as_often_as_it_is_wanted(name, cloth):
    garment, options = name
    whole = of_hild(garment, options)
    bolt = laid(cloth, [ToCut(whole)])
    sound(bolt)
    ready = bolt.orders[0].pattern
    wanted = sum(Polygon([(p.x, p.y) for p in piece.cutting_line]).area * piece.cut
                 for piece in ready.pieces)
    # source: plane arithmetic: both layers give every outline, and the fold joins two halves
    assert 2 * sum(Polygon(p.outline).area for p in bolt.layout.placements) == pytest.approx(
        wanted, rel=1e-6)
    assert bolt.notes == ready.notes[len(whole.notes):]


@pytest.mark.parametrize("nap", [False, True])
def test_half_a_piece_on_the_fold_opens_out_to_the_piece(nap):
    pattern = of_hild("tunic", {})
    bolt = laid(Cloth(folded=True, nap=nap), [ToCut(pattern)])
    halves = {p.piece: p for p in bolt.layout.placements if p.at_fold}
    assert set(halves) == {"body on the fold", "neck facing on the fold"}
    fold = bolt.layout.width
    for piece in pattern.pieces:
        placed = halves.get(f"{piece.title} on the fold")
        if placed:
            half = Polygon(placed.outline)
            assert half.bounds[2] == pytest.approx(fold, abs=1e-6)
            assert not (nap and placed.rotation)
            opened = unary_union([half, scale(half, -1, 1, origin=(fold, 0))])
            cut = Polygon([(p.x, p.y) for p in piece.cutting_line])
            if placed.rotation:
                cut = scale(cut, 1, -1)
            left, top = opened.bounds[0] - cut.bounds[0], opened.bounds[1] - cut.bounds[1]
            assert translate(cut, left, top).symmetric_difference(opened).area < 0.1 * cut.length


def test_what_is_wider_than_a_layer_lies_on_the_fold_rather_than_being_pieced():
    bolt = laid(Cloth(folded=True))
    assert not [p.piece for p in bolt.layout.placements if "piecing" in p.piece]
    assert sum(p.piece == "front and back on the fold" for p in bolt.layout.placements) == 2
    plain = drafted(cloth={"folded": "yes"})
    assert plain.pieces == drafted().pieces


def test_an_odd_piece_that_no_fold_mirrors_comes_out_twice_and_that_is_said():
    bolt = laid(Cloth(folded=True, width=3000), [ToCut(of_hild("cloak", {"shape": "half-circle"}))])
    assert any("come out twice: cloak." in note for note in bolt.notes)


def test_the_chalk_plan_of_folded_cloth_says_what_lies_on_the_fold():
    bolt = laid(Cloth(folded=True), [ToCut(of_hild("tunic", {}))])
    plan = plan_of(bolt, "cm")
    assert plan.width == pytest.approx(750)
    assert "Fold the cloth" in before_you_start(plan)[0]
    for piece, words in zip(plan.pieces, piece_words(plan), strict=True):
        assert piece.on_fold == ("on the fold" in piece.title)
        if piece.on_fold and not piece.twin:
            assert piece.middle == plan.width
            assert "Half of it lies on the fold" in words.before[0]
            assert words.columns[0] == "out from fold"
            assert all(at.x <= plan.width for _, at in piece.rings)


def test_shares_of_a_bolt_add_up_to_it():
    orders = [ToCut(drafted(), "Ada"), ToCut(drafted({"bust_girth": "110cm", "waist_girth": "95cm"}), "Bo")]
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
        ({"sheen": "high"}, "cloth_sheen", "no “sheen”"),
    ],
)
def test_a_cloth_that_does_not_read_gets_a_sentence(texts, field, words):
    with pytest.raises(BadInput) as caught:
        read_cloth(texts)
    assert any(p.field == field and words in p.message for p in caught.value.problems)


def test_a_cloth_as_typed():
    cloth = read_cloth({"width": "140", "on_hand": "2,3 m", "shrinkage_warp": "6 %", "nap": "yes"})
    assert (cloth.width, cloth.on_hand, cloth.shrinkage_warp, cloth.nap) == (1400, 2300, 0.06, True)
