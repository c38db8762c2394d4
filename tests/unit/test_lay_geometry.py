"""The lay's geometry against shapely and facts of plane geometry."""

from random import Random

import numpy as np
import pytest
from shapely.affinity import translate
from shapely.geometry import Polygon
from shapely.ops import unary_union

from drafting.lay.convex import convex_parts
from drafting.lay.corners import cleaned, counter_clockwise, self_contact, signed_area, turns
from drafting.lay.nofit import NoFits
from drafting.lay.orient import prepared
from drafting.lay.penetration import DepthMaps
from drafting.lay.simplify import outer_simplified
from tests.lay_kits import random_kit

AXES = np.array([[1.0, 0.0], [0.0, 1.0], [-1.0, 0.0], [0.0, -1.0]])


def outlines(count):
    for seed in range(count):
        for shape in random_kit(seed)[0]:
            yield counter_clockwise(cleaned(np.array(shape.outline)))


def test_area_and_simplicity_agree_with_shapely():
    random = np.random.default_rng(5)
    simple = 0
    for _ in range(300):
        points = random.uniform(0, 100, (random.integers(3, 8), 2))
        polygon = Polygon(points)
        assert (self_contact(points) is None) == polygon.is_valid
        if polygon.is_valid:
            simple += 1
            assert abs(signed_area(points)) == pytest.approx(polygon.area)
    assert simple > 50


def test_cleaning_drops_repeats_straight_corners_and_spikes_only():
    square = [(0, 0), (0, 0), (5, 0), (10, 0), (10, 10), (10, 15), (10, 10), (0, 10), (0, 0)]
    tidy = cleaned(np.array(square, dtype=float))
    assert sorted(map(tuple, tidy)) == [(0, 0), (0, 10), (10, 0), (10, 10)]
    assert len(cleaned(np.array([(0, 0), (1, 1), (2, 2), (3, 3.0)]))) < 3


def test_a_simplified_outline_contains_the_true_one_and_stays_close():
    for points in outlines(60):
        # The true outline here is a curve: each edge bulges by up to 1 % of its length.
        steps = np.linspace(0, 1, 9)[:-1, None]
        ends = np.roll(points, -1, axis=0)
        curve = np.concatenate(
            [
                a + steps * (b - a) + 0.04 * steps * (1 - steps) * (b - a)[::-1] * (1, -1)
                for a, b in zip(points, ends, strict=True)
            ]
        )
        if self_contact(curve):
            continue
        true = Polygon(curve)
        rough_points = outer_simplified(counter_clockwise(curve), 1.0, AXES, 1000)
        rough = Polygon(rough_points)
        assert rough.is_valid
        assert true.difference(rough).area < 1e-6
        assert rough.difference(true.buffer(1.001)).area < 1e-6
        assert rough.bounds == pytest.approx(true.bounds, abs=1e-6)
        assert len(rough_points) < len(curve)


def test_an_outline_of_very_many_teeth_is_filled_in_rather_than_refused():
    angles = np.linspace(0, 2 * np.pi, 800, endpoint=False)
    radii = 500 * (1 + 0.3 * (np.arange(800) % 2))
    saw = np.column_stack((radii * np.cos(angles), radii * np.sin(angles)))
    rough = Polygon(outer_simplified(saw, 1.0, AXES, 40))
    assert rough.is_valid and len(rough.exterior.coords) <= 81
    assert Polygon(saw).difference(rough).area < 1e-3


def test_convex_parts_are_convex_and_cover_the_polygon_exactly():
    for points in outlines(60):
        parts = convex_parts(points)
        whole = Polygon(points)
        assert all((turns(part) > -1e-6).all() for part in parts)
        assert sum(Polygon(part).area for part in parts) == pytest.approx(whole.area)
        assert unary_union([Polygon(part) for part in parts]).symmetric_difference(
            whole
        ).area == pytest.approx(0, abs=1e-6 * whole.area)


def test_depth_is_zero_exactly_where_shapely_finds_no_overlap_and_moving_by_it_clears():
    random = Random(3)
    checked = 0
    for seed in range(25):
        shapes, width = random_kit(seed)
        kit = prepared(tuple(shapes), width, "x", 5e-4 * width)
        step = width / 60
        maps = DepthMaps(NoFits(kit.forms), step, forgiven=0.0)
        for _ in range(30):
            a, b = random.randrange(len(kit.forms)), random.randrange(len(kit.forms))
            depths, ox, oy, nx, ny = maps.of(a, b)
            k, m = random.randrange(nx), random.randrange(ny)
            moving, rest = (
                translate(Polygon(form.outline), -form.size[0] / 2, -form.size[1] / 2)
                for form in (kit.forms[a], kit.forms[b])
            )
            moving = translate(moving, (k - ox) * step, (m - oy) * step)
            depth = float(depths[k, m]) * step
            overlap = moving.intersection(rest).area
            if overlap > 1e-6:
                assert depth > 0
                checked += 1
                assert any(
                    translate(moving, depth * np.cos(turn), depth * np.sin(turn)).intersection(rest).area
                    < 0.05 * depth**2 + 1e-3
                    for turn in np.linspace(0, 2 * np.pi, 241)[:-1]
                )
            else:
                assert depth < 1e-3
    assert checked > 200
