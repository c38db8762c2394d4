"""What every lay promises, measured by shapely."""

import json
from collections import Counter
from itertools import combinations
from time import process_time

import pytest
from shapely.affinity import rotate, scale, translate
from shapely.geometry import Polygon
from shapely.strtree import STRtree

from drafting.lay import Shape, lay
from drafting.lay.orient import prepared
from drafting.lay.portions import dealt_out
from drafting.words.problems import BadInput
from tests.lay_kits import garment_kit, household, random_kit, rectangle
from tests.sampling import some


def assert_sound(layout, shapes, width, along="y", gap=0.0):
    across, lengthwise = (0, 1) if along == "y" else (1, 0)
    polygons = [Polygon(placement.outline) for placement in layout.placements]
    for polygon in polygons:
        low, high = polygon.bounds[across], polygon.bounds[2 + across]
        assert low >= 0 and high <= width
        assert polygon.bounds[lengthwise] >= 0
    assert layout.length == max(polygon.bounds[2 + lengthwise] for polygon in polygons)
    tree = STRtree(polygons)
    for i, j in tree.query(polygons, predicate="intersects").T:
        if i < j:
            assert polygons[i].intersection(polygons[j]).area <= 0.01
    if gap:
        for one, other in combinations(polygons, 2):
            assert one.distance(other) >= gap - 1e-3
    assert Counter((p.piece, p.copy) for p in layout.placements) == Counter(
        (shape.name, copy) for shape in shapes for copy in range(1, shape.quantity + 1)
    )
    by_name = {shape.name: shape for shape in shapes}
    for placement, polygon in zip(layout.placements, polygons, strict=True):
        shape = by_name[placement.piece]
        assert placement.rotation in shape.rotations
        if shape.mirroring != "free" and not shape.at_fold:
            assert placement.mirrored == (shape.mirroring == "pairs" and placement.copy % 2 == 0)
        own = Polygon(shape.outline)
        if placement.mirrored:
            own = scale(own, *((-1, 1) if along == "y" else (1, -1)), origin=(0, 0))
        own = rotate(own, placement.rotation, origin=(0, 0))
        own = translate(own, placement.x, placement.y)
        assert own.symmetric_difference(polygon).area <= 1e-3 * own.length
        assert own.hausdorff_distance(polygon) <= 0.01
    area = sum(Polygon(shape.outline).area * shape.quantity for shape in shapes)
    assert layout.area_bound == pytest.approx(area / width)
    assert layout.utilisation == pytest.approx(area / width / layout.length)
    assert layout.utilisation <= 1 + 1e-9


@pytest.mark.parametrize("hundred", range(10))
def test_no_overlap_inside_the_width_quantities_exact_on_a_thousand_random_kits(hundred):
    for seed in some(range(100 * hundred, 100 * hundred + 100), 3):
        shapes, width = random_kit(seed)
        along = "x" if seed % 2 else "y"
        layout = lay(shapes, width, max_rounds=15, seconds=60, seed=seed, along=along)
        assert_sound(layout, shapes, width, along)


@pytest.mark.parametrize("seed", range(10))
def test_a_garments_lay_is_sound_and_uses_the_cloth_well(seed):
    _, shapes, width = garment_kit(seed)
    layout = lay(shapes, width, max_rounds=3000, seconds=60)
    assert_sound(layout, shapes, width)
    assert layout.utilisation > 0.6


@pytest.mark.parametrize("seed", range(3))
def test_the_gap_is_kept_between_any_two_pieces(seed):
    _, shapes, width = garment_kit(seed)
    shapes = [Shape(s.name, s.outline, s.quantity, s.rotations, s.mirroring) for s in shapes]
    layout = lay(shapes, width, max_rounds=300, seconds=60, gap=6.0)
    assert_sound(layout, shapes, width, gap=6.0)


@pytest.mark.parametrize("seed", range(20))
def test_a_piece_on_the_fold_reaches_the_far_edge_whatever_else_is_laid(seed):
    shapes, width = random_kit(seed)
    half = ((0.0, 0.0), (0.3 * width, -20.0), (0.3 * width, 0.4 * width), (0.1 * width, 0.5 * width))
    for rotations in ((0.0,), (0.0, 180.0)):
        folded = [*shapes, Shape("half", half, 2, rotations, at_fold=True),
                  Shape("other", half, 1, rotations)]
        layout = lay(folded, width, max_rounds=60, seconds=60, seed=seed)
        assert_sound(layout, folded, width)
        laid = [p for p in layout.placements if p.at_fold]
        assert {p.piece for p in laid} == {"half"}
        for placement in laid:
            assert max(x for x, _ in placement.outline) == pytest.approx(width, abs=1e-5)
            assert placement.mirrored == (placement.rotation == 180)


def test_pieces_a_little_too_wide_to_lie_beside_each_other_do_not_hold_up_the_rest():
    shapes, width = household()
    some = shapes[::2]
    layout = lay(some, width, max_rounds=600, seconds=600)
    assert_sound(layout, some, width)
    assert layout.utilisation > 0.72  # 0.66 in rows, which was the best that was found while two such lay so


def test_a_large_kit_is_laid_in_portions_that_leave_nothing_out_and_use_the_cloth():
    shapes, width = household(4)
    layout = lay(shapes, width, max_rounds=400, seconds=600)
    assert_sound(layout, shapes, width)
    assert layout.utilisation > 0.8  # 0.79 after as much time while such kits were searched as a whole
    again = lay(shapes, width, max_rounds=400, seconds=600)
    assert again.placements == layout.placements


@pytest.mark.parametrize("counts", [(4,) * 30, (1,) * 100, (3, 5, 7) * 20, (90,), (2,) * 40 + (61,)])
def test_portions_hold_every_copy_once_and_those_that_share_a_lay_hold_the_same(counts):
    shapes = tuple(
        Shape(f"{n}", rectangle(100 + n, 200), count, mirroring="pairs" if n % 2 else "none")
        for n, count in enumerate(counts)
    )
    kit = prepared(shapes, 1000, "y", tolerance=0.5)
    portions = dealt_out(kit)
    dealt = [i for alike in portions for copies in alike for i in copies]
    assert sorted(dealt) == list(range(len(kit.copies)))
    for alike in portions:
        held = [[(kit.copies[i].shape, kit.copies[i].poses) for i in copies] for copies in alike]
        assert all(each == held[0] for each in held)
    assert sum(len(alike[0]) for alike in portions) <= sum(counts)


def test_a_kit_that_repeats_is_searched_once():
    shapes = tuple(Shape(f"{n}", rectangle(100 + n, 200), 4) for n in range(60))
    kit = prepared(shapes, 1000, "y", tolerance=0.5)
    assert [len(alike) for alike in dealt_out(kit)] == [4]


def test_the_same_seed_and_rounds_give_the_same_lay_and_more_rounds_no_longer_one():
    _, shapes, width = garment_kit(2)
    one, other = (lay(shapes, width, max_rounds=400, seconds=60, seed=7) for _ in range(2))
    assert one.placements == other.placements
    longer = lay(shapes, width, max_rounds=2000, seconds=60, seed=7)
    assert longer.length <= one.length


def test_the_first_lay_comes_at_once_reports_keep_coming_and_stop_is_obeyed():
    _, shapes, width = garment_kit(4)
    reports = []

    def stop_after_ten(progress):
        reports.append((process_time(), progress.length))
        return len(reports) < 10

    began = process_time()
    layout = lay(shapes, width, seconds=30, progress=stop_after_ten)
    assert len(reports) == 10
    assert reports[0][0] - began < 2
    assert process_time() - began < 10
    lengths = [length for _, length in reports]
    assert lengths == sorted(lengths, reverse=True)
    assert layout.length <= lengths[-1]
    assert_sound(layout, shapes, width)


def test_pieces_that_tile_the_cloth_reach_the_area_bound_and_the_search_ends_by_itself():
    shapes = [Shape("half", rectangle(500, 700), 2), Shape("whole", rectangle(1000, 300))]
    layout = lay(shapes, 1000, seconds=60)
    assert layout.length == pytest.approx(1000, abs=0.05)
    assert layout.seconds < 30


def test_pieces_alike_but_for_their_size_are_told_apart():
    shapes = [Shape(f"square {side}", rectangle(side, side), 2) for side in (100, 140, 141)]
    assert_sound(lay(shapes, 400, seconds=60, max_rounds=50), shapes, 400)


def test_gores_lie_head_to_tail_unless_the_nap_forbids_it():
    triangle = ((0.0, 0.0), (300.0, 600.0), (0.0, 600.0))
    free = lay([Shape("gore", triangle, 2)], 300, seconds=2)
    assert free.length == pytest.approx(600, abs=0.1)
    assert {p.rotation for p in free.placements} == {0.0, 180.0}
    nap = lay([Shape("gore", triangle, 2, (0.0,))], 300, seconds=2)
    assert {p.rotation for p in nap.placements} == {0.0}
    assert nap.length > 1100


def test_lay_json_has_the_outside_contracts_fields():
    shapes = [Shape("front", rectangle(400, 600), 2, group="Ada")]
    content = json.loads(json.dumps(lay(shapes, 900, seconds=0.2).to_json(cloth_width=940.0)))
    assert content["cloth"] == {"width": 940.0, "usable_width": 900}
    assert {"length", "area_bound", "utilisation", "seconds", "seed"} <= set(content)
    first = content["placements"][0]
    assert {"piece", "copy", "x", "y", "rotation", "mirrored", "outline"} <= set(first)
    assert (first["piece"], first["copy"], first["group"]) == ("front", 1, "Ada")


def test_a_piece_too_wide_is_named_with_the_excess():
    with pytest.raises(BadInput, match=r"“cloak”.*1600\.0 mm wide.*1480\.0 mm: 120\.0 mm"):
        lay([Shape("cloak", rectangle(1600, 900))], 1480)
    turned = lay([Shape("cloak", rectangle(1600, 900), 1, (0.0, 90.0))], 1480, seconds=0.2)
    assert turned.length == pytest.approx(1600, abs=0.01)


@pytest.mark.parametrize("width", [0.0, -5.0, float("nan"), float("inf")])
def test_a_cloth_of_no_width_is_refused(width):
    with pytest.raises(BadInput, match="width"):
        lay([Shape("a", rectangle(10, 10))], width)


def test_nothing_to_lay_and_a_senseless_gap_are_refused():
    with pytest.raises(BadInput, match="nothing to lay"):
        lay([], 1000)
    with pytest.raises(BadInput, match="gap"):
        lay([Shape("a", rectangle(10, 10))], 1000, gap=-1)
