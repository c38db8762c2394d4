"""The kit of polygon helpers in drafting.geometry against shapely.

source, unless another is named: shapely (GEOS), given the same points.
"""

from math import cos, sin, tau

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as ShapelyPoint

from drafting.geometry import Path, Point, area, bounds
from drafting.geometry.polygon import (
    centroid,
    crossings,
    distance_to_line,
    holds_point,
    holds_polygon,
    is_simple,
    overlap,
    sides,
)

steady = settings(deadline=None, derandomize=True, max_examples=200)
"""The same examples on every run, however busy the machine."""

coordinates = st.floats(-900, 900, allow_nan=False).map(lambda v: round(v, 3))
points = st.builds(Point, coordinates, coordinates)


reaches = st.floats(40, 900)


@st.composite
def stars(draw, reach=reaches) -> list[Point]:
    """A simple polygon with dents, clockwise as seen on the page (y down), about some middle."""
    middle, size = draw(points), draw(reach)
    count = draw(st.integers(3, 12))
    angles = [tau * (i + draw(st.floats(0, 0.8))) / count for i in range(count)]
    found = [middle + Point(cos(a), sin(a)) * (size * draw(st.floats(0.2, 1))) for a in angles]
    assume(_shape(found).is_valid)
    return found


@steady
@given(stars())
def test_area_centroid_and_bounds_are_shapelys(polygon):
    shape = _shape(polygon)
    way_round = 1 if shape.exterior.is_ccw else -1  # clockwise with y down is anticlockwise with y up
    assert area(polygon) == pytest.approx(way_round * shape.area)
    assert tuple(centroid(polygon)) == pytest.approx(shape.centroid.coords[0], abs=1e-4)
    assert bounds(polygon) == shape.bounds


@steady
@given(stars(), points)
def test_a_point_is_inside_where_shapely_says_so(polygon, p):
    shape = _shape(polygon)
    assume(shape.exterior.distance(_shapely(p)) > 1e-6)
    assert holds_point(polygon, p) is shape.contains(_shapely(p))
    assert holds_point(polygon, p, 25.0) is (shape.distance(_shapely(p)) <= 25)


@steady
@given(stars(), st.floats(0.05, 0.95))
def test_a_level_line_crosses_a_polygon_where_shapely_cuts_it(polygon, part):
    left, top, right, bottom = bounds(polygon)
    y = top + part * (bottom - top)
    assume(min(abs(p.y - y) for p in polygon) > 1e-6)
    found = sorted(crossings(sides(polygon), y))
    within = sum(b - a for a, b in zip(found[::2], found[1::2], strict=True))
    level = LineString([(left - 1, y), (right + 1, y)])
    assert within == pytest.approx(_shape(polygon).intersection(level).length, abs=1e-6)


@steady
@given(st.lists(st.tuples(st.integers(0, 30), st.integers(0, 30)), min_size=3, max_size=8,
                unique=True))
def test_a_polygon_is_simple_where_shapely_says_it_is_valid(corners):
    # GEOS calls a ring with three corners in a line valid; one that touches itself it does not.
    assert is_simple([Point(*corner) for corner in corners]) is Polygon(corners).is_valid


@steady
@given(stars(), stars(st.floats(5, 200)))
def test_a_polygon_holds_another_where_shapely_says_it_covers_it(outer, inner):
    a, b = _shape(outer), _shape(inner)
    assume(a.exterior.distance(b.exterior) > 0.01)
    assert holds_polygon(outer, inner) is a.covers(b)


@steady
@given(stars(), stars())
def test_two_polygons_overlap_where_shapely_says_they_meet(one, other):
    a, b = _shape(one), _shape(other)
    assume(min(a.exterior.distance(_shapely(p)) for p in other) > 1e-6)
    assume(min(b.exterior.distance(_shapely(p)) for p in one) > 1e-6)
    assert overlap(one, other) is a.intersects(b)


def test_polygons_that_share_a_border_do_not_overlap():
    left = [Point(0, 0), Point(10, 0), Point(10, 10), Point(0, 10)]
    right = [Point(10, 2), Point(20, 2), Point(20, 8), Point(10, 8)]
    assert not overlap(left, right) and overlap(left, [p - Point(1, 0) for p in right])


@steady
@given(st.lists(points, min_size=2, max_size=9, unique=True), points)
def test_the_nearest_place_on_a_line_is_as_far_as_shapely_says(line, p):
    there = LineString([tuple(q) for q in line])
    assert distance_to_line(p, line) == pytest.approx(there.distance(_shapely(p)), abs=1e-6)
    along = Path.through(*line).distance_along_to(p)
    assert there.interpolate(along).distance(_shapely(p)) == pytest.approx(
        there.distance(_shapely(p)), abs=1e-6
    )


def _shape(polygon: list[Point]) -> Polygon:
    return Polygon([tuple(p) for p in polygon])


def _shapely(p: Point) -> ShapelyPoint:
    return ShapelyPoint(p.x, p.y)
