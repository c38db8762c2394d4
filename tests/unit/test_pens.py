"""Path data as SVG pens write it, read back as numbers."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drafting.geometry import Point
from drafting.geometry.pens import SvgPen, draw_line, number, path_data, polygon_data

coordinates = st.floats(-1e5, 1e5)
points = st.builds(Point, coordinates, coordinates)
NUMBER = r"-?\d+(?:\.\d+)?"


def numbers(data: str) -> list[float]:
    return [float(found) for found in re.findall(NUMBER, data)]


@given(st.lists(points, min_size=2), st.integers(0, 4))
def test_a_polygon_is_every_corner_once_and_closed(corners, decimals):
    data = polygon_data(corners, decimals)
    assert re.fullmatch(rf"M{NUMBER} {NUMBER}(?:L{NUMBER} {NUMBER})+Z", data)
    there = [value for p in corners for value in p]
    assert numbers(data) == pytest.approx(there, abs=0.5001 * 10**-decimals)


@given(st.lists(points, min_size=4, max_size=4), st.integers(0, 4))
def test_the_shortest_way_to_write_it_says_the_same(corners, decimals):
    pen = SvgPen(decimals)
    draw_line(pen, corners[:2])
    pen.curve_to(*corners[1:])
    assert numbers(pen.shortest) == numbers(pen.d) and len(pen.shortest) <= len(pen.d)
    assert not re.search(r"\.\d*0(?!\d)|\.(?!\d)", pen.shortest)


def test_noughts_before_the_point_are_kept():
    pen = SvgPen(2)
    draw_line(pen, [Point(100, 20.5), Point(0, -10)])
    assert pen.shortest == "M100 20.5L0 -10"
    assert [number(value, 2) for value in (100, 20.5, 0.004, 1.005e3)] == ["100", "20.5", "0", "1005"]
    assert number(100, 0) == "100"


def test_what_draws_with_any_pen_can_be_written():
    line = path_data(lambda pen: draw_line(pen, [Point(0, 0), Point(1, 2)]), 1)
    assert line == "M0.0 0.0L1.0 2.0"
