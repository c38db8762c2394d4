"""How the cutting line goes round corners."""

import pytest

from drafting.geometry import Allowance, Edge, Outline, Path, Point, cutting_line
from drafting.geometry.polygon import holds_polygon, is_simple


def polygon(*corners: tuple[float, float]) -> Outline:
    points = [Point(*corner) for corner in corners]
    ends = zip(points, points[1:] + points[:1], strict=True)
    return Outline(tuple(Edge(f"e{i}", Path.through(a, b)) for i, (a, b) in enumerate(ends)))


def as_tuples(points):
    return [(round(p.x, 3), round(p.y, 3)) for p in points]


def test_a_square_gets_square_corners():
    square = polygon((0, 0), (100, 0), (100, 100), (0, 100))
    line = cutting_line(square, {f"e{i}": Allowance(10) for i in range(4)})
    assert sorted(as_tuples(line)) == [(-10, -10), (-10, 110), (110, -10), (110, 110)]


def test_a_cuff_that_widens_upwards_gets_a_hem_allowance_that_widens_downwards():
    # plane geometry: the allowance is the mirror image of the sleeve in its hem line.
    sleeve = polygon((0, 0), (200, 0), (150, 300), (50, 300))
    line = cutting_line(sleeve, {"e1": Allowance(0), "e3": Allowance(0), "e2": Allowance(30, fold=True)})
    corners = as_tuples(line)
    slope = 50 / 300
    assert (150, 300) in corners
    assert (round(150 + 30 * slope, 3), 330) in corners
    assert (round(50 - 30 * slope, 3), 330) in corners


def test_a_panel_that_narrows_upwards_gets_a_hem_allowance_that_narrows_downwards():
    panel = polygon((50, 0), (150, 0), (200, 300), (0, 300))
    line = cutting_line(panel, {"e2": Allowance(30, fold=True)})
    assert (round(200 - 30 * 50 / 300, 3), 330) in as_tuples(line)


def test_unequal_allowances_on_a_straight_run_meet_in_a_step():
    bar = polygon((0, 0), (100, 0), (200, 0), (200, 50), (0, 50))
    line = as_tuples(cutting_line(bar, {"e0": Allowance(10), "e1": Allowance(25)}))
    assert (100, -10) in line and (100, -25) in line


def test_a_sharp_point_is_cut_off_blunt():
    needle = polygon((0, 0), (200, 8), (0, 16))
    line = cutting_line(needle, {"e0": Allowance(10), "e1": Allowance(10)})
    assert max(p.x for p in line) == pytest.approx(210, abs=1)
    assert is_simple(line)


def test_a_hollow_corner_keeps_its_allowance_without_crossing_itself():
    ell = polygon((0, 0), (100, 0), (100, 50), (50, 50), (50, 100), (0, 100))
    line = cutting_line(ell, {f"e{i}": Allowance(10) for i in range(6)})
    assert (60, 60) in as_tuples(line)
    assert is_simple(line)
    assert holds_polygon(line, ell.polygon)


@pytest.mark.parametrize(
    ("corners", "simple"),
    [
        ([(0, 0), (10, 0), (10, 10), (0, 10)], True),
        ([(0, 0), (10, 10), (10, 0), (0, 10)], False),
        ([(0, 0), (10, 0), (5, 0), (5, 5)], False),
        ([(0, 0), (10, 0), (10, 10), (5, 0), (0, 10)], False),
        ([(0, 0), (10, 0)], False),
    ],
)
def test_polygons_that_touch_themselves_are_not_simple(corners, simple):
    assert is_simple([Point(*corner) for corner in corners]) is simple
