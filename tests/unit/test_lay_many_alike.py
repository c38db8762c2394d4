"""A lay of many garments: what is alike is worked out once, and it is told how far it is."""

from dataclasses import replace

import pytest
from shapely.geometry import Polygon
from shapely.ops import unary_union

from drafting.desk import drafts
from drafting.kit import shopping
from drafting.kit.marram_farm import demo_kit
from drafting.lay import orient
from drafting.lay.engine import Search
from drafting.lay.penetration import DepthMaps
from drafting.lay.shape import Shape

GORE = ((0.0, 0.0), (300.0, 0.0), (240.0, 700.0), (60.0, 720.0))


def many(count):
    """Pieces alike of as many garments."""
    return tuple(Shape(f"gore {number}", GORE, 2) for number in range(count))


def test_an_outline_that_comes_again_is_made_simpler_once(monkeypatch):
    made, plain = [], orient.outer_simplified
    monkeypatch.setattr(orient, "outer_simplified", lambda *given: (made.append(1), plain(*given))[1])
    band = Shape("band", ((0, 0), (900, 0), (900, 60), (0, 60)))
    kit = orient.prepared((*many(50), band), 1480.0, "y", 0.5)
    assert len(made) == 2 and len(kit.copies) == 101


@pytest.mark.parametrize("count", [20, 40])
def test_a_first_lay_looks_at_each_piece_a_few_times_and_not_once_for_each_other(monkeypatch, count):
    asked, plain = [], DepthMaps.of
    monkeypatch.setattr(DepthMaps, "of", lambda maps, *pair: (asked.append(pair), plain(maps, *pair))[1])
    search = Search(many(count), 1480.0)
    while not search.constructed:
        next(search._steps)
    poses = 2  # as drawn, and head down
    # Grown twice in the making of a lay, what is barred is worked out anew; one by one there would be
    # pieces × pieces / 2 of each pose.
    assert len(asked) < 16 * poses * 2 * count


def test_it_is_told_while_the_first_lay_is_made():
    told = [step.doing for step in _steps(demo_kit())]
    assert any(": laying " in doing for doing in told)


def _steps(kit):
    going = shopping.shop_in_steps(kit, 0.0)
    try:
        while True:
            yield next(going)
    except StopIteration:
        return


def test_a_search_begun_in_steps_is_the_one_begun_at_once():
    told, steps = 0, Search.in_steps(many(50), 1480.0)
    while True:
        try:
            next(steps)
            told += 1
        except StopIteration as end:
            search = end.value
            break
    assert told > 50, "a word for each shape"
    assert search.layout.placements == Search(many(50), 1480.0).layout.placements


def test_portions_in_a_row_and_joined_do_not_overlap_and_joined_are_shorter():
    search = Search(many(50), 1480.0)
    in_a_row = search.layout
    while not search.constructed:
        next(search._steps)
    before = search.length
    assert len(list(search.settling())) > 1, "joined step by step"
    assert search.length < before
    joined = search.layout
    assert joined.length == pytest.approx(search.length, abs=0.01)
    for layout in (in_a_row, joined):
        pieces = [Polygon(placement.outline) for placement in layout.placements]
        # source: shapely (GEOS): a union of what nowhere overlaps is as large as its parts
        assert unary_union(pieces).area == pytest.approx(sum(piece.area for piece in pieces), rel=1e-6)


def test_a_list_of_what_to_buy_makes_no_checks(monkeypatch):
    made, plain = [], drafts.true_up
    monkeypatch.setattr(drafts, "true_up", lambda pattern: (made.append(pattern), plain(pattern))[1])
    farm = demo_kit()
    (drafted,) = shopping.shop(replace(farm, garments=farm.garments[:1]), seconds=0.0).drafted
    assert made == []
    assert drafted.draft.passed and drafted.draft.checks and len(made) == 1
