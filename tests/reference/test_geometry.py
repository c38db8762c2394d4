"""Lengths, areas and offsets of drafting.geometry against shapely (GEOS), numpy and closed forms.

source, unless another is named: shapely (GEOS) and numpy, given the same points.
"""

from math import asin, atan2, cos, hypot, pi, sin, sqrt, tau

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry import LineString, Polygon, box

from drafting.garments.panels import ConePanel
from drafting.geometry import (
    Allowance,
    Arc,
    Cubic,
    Edge,
    Line,
    Outline,
    Path,
    Point,
    cutting_line,
    meet,
    polar,
)
from drafting.geometry.polygon import holds_polygon, is_simple

steady = settings(deadline=None, derandomize=True, max_examples=100)
"""The same examples on every run, however busy the machine."""

coordinates = st.floats(-2000, 2000, allow_nan=False).map(lambda v: round(v, 3))
points = st.builds(Point, coordinates, coordinates)
radii = st.floats(1, 3000)
sweeps = st.floats(-6.2, 6.2).filter(lambda s: abs(s) > 0.01)
arcs = st.builds(Arc, points, radii, st.floats(-pi, pi), sweeps)
cubics = st.builds(Cubic, points, points, points, points)
segments = st.one_of(st.builds(Line, points, points), arcs, cubics)


class Recorder:
    """A pen that keeps what it is told, as cubics and lines."""

    def __init__(self, start: Point) -> None:
        self.at = start
        self.pieces: list[Line | Cubic] = []

    def move_to(self, p):
        self.at = p

    def line_to(self, p):
        self.pieces.append(Line(self.at, p))
        self.at = p

    def curve_to(self, c1, c2, p):
        self.pieces.append(Cubic(self.at, c1, c2, p))
        self.at = p

    def close(self):
        pass


def bernstein(cubic: Cubic, count: int = 20_000) -> LineString:
    """A fine polyline. source: the curve's definition by Bernstein polynomials of degree 3."""
    t = np.linspace(0, 1, count + 1)[:, None]
    corners = np.array([tuple(p) for p in (cubic.start, cubic.control1, cubic.control2, cubic.end)])
    weights = np.hstack([(1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t**2 * (1 - t), t**3])
    return LineString(weights @ corners)


def slowest(cubic: Cubic) -> float:
    """Least speed along the curve over its mean speed: near nought where it has a cusp."""
    steps = np.hypot(*np.diff(np.array(bernstein(cubic, 400).coords), axis=0).T)
    return float(steps.min() / steps.mean()) if steps.mean() else 0.0


@steady
@given(cubics)
def test_a_cubic_is_as_long_as_a_fine_polyline_along_it(cubic):
    # A cusp is no edge of a garment.
    assume(slowest(cubic) > 0.15)
    assert cubic.length == pytest.approx(bernstein(cubic).length, rel=1e-5, abs=1e-3)


@steady
@given(cubics, st.floats(0.05, 0.95))
def test_a_distance_along_a_cubic_is_found_where_it_lies(cubic, part):
    assume(slowest(cubic) > 0.15)
    line = bernstein(cubic)
    expected = line.interpolate(part, normalized=True)
    found = Path((cubic,)).point_along(part * cubic.length)
    assert found.distance(Point(expected.x, expected.y)) < 0.05


@steady
@given(st.floats(100, 1000), st.floats(0.02, 0.5), st.floats(0.2, 0.45))
def test_the_length_of_a_scoop_is_exact_to_a_micrometre(width, dip, reach):
    scoop = Cubic(Point(0, 0), Point(width * reach, 0), Point(width * (1 - reach), width * dip),
                  Point(width, width * dip))
    assert scoop.length == pytest.approx(bernstein(scoop).length, abs=1e-3)


@steady
@given(arcs)
def test_an_arc_is_as_long_as_its_angle_times_its_radius(arc):
    # source: plane geometry; and the length GEOS gives a fine polyline on the circle.
    assert arc.length == pytest.approx(arc.radius * abs(arc.sweep))
    fine = LineString([tuple(arc.point_at(i / 4000)) for i in range(4001)])
    assert arc.length == pytest.approx(fine.length, rel=1e-6)


@steady
@given(arcs)
def test_an_arc_drawn_as_cubics_stays_on_its_circle_and_keeps_its_length(arc):
    pen = Recorder(arc.start)
    arc.draw(pen)
    assert pen.at.distance(arc.end) < 1e-6 * max(1, arc.radius)
    assert sum(piece.length for piece in pen.pieces) == pytest.approx(arc.length, rel=1e-7)
    for piece in pen.pieces:
        for i in range(11):
            off = piece.point_at(i / 10).distance(arc.centre) - arc.radius
            assert abs(off) < 1e-6 * arc.radius


@steady
@given(segments, st.floats(0.01, 2.0))
def test_a_polyline_strays_no_further_than_its_tolerance(segment, tolerance):
    assume(segment.length > 1)
    line = LineString([tuple(p) for p in segment.points(tolerance)])
    fine = LineString([tuple(segment.point_at(i / 500)) for i in range(501)])
    assert line.hausdorff_distance(fine) <= tolerance + max(0.02, fine.length * 1e-4)
    for i in range(0, 501, 7):
        p = segment.point_at(i / 500)
        assert line.distance(_shapely(p)) <= tolerance * 1.0001 + 1e-6


@steady
@given(segments, st.floats(0.05, 0.95))
def test_a_path_is_cut_at_the_distance_asked_for(segment, part):
    assume(segment.length > 10)
    assume(not isinstance(segment, Cubic) or slowest(segment) > 0.15)
    path = Path((segment,))
    first, second = path.cut_at(part * path.length)
    assert first.length == pytest.approx(part * path.length, abs=0.02)
    assert first.length + second.length == pytest.approx(path.length, abs=0.02)
    assert first.end.distance(path.point_along(part * path.length)) < 0.02


@steady
@given(segments, st.floats(-pi, pi), points, st.booleans())
def test_moving_a_segment_changes_neither_its_length_nor_where_its_points_go(
    segment, angle, shift, turned_over
):
    def motion(p: Point) -> Point:
        q = Point(-p.x, p.y) if turned_over else p
        return q.turned(angle) + shift

    moved = segment.moved(motion)
    assert moved.length == pytest.approx(segment.length, abs=1e-3)
    for t in (0, 0.3, 1):
        assert moved.point_at(t).distance(motion(segment.point_at(t))) < 1e-6 * 3000


@steady
@given(arcs, st.floats(-200, 200))
def test_an_arc_set_off_is_a_parallel_of_itself(arc, distance):
    for parallel in arc.offset(distance):
        line = LineString([tuple(parallel.point_at(i / 200)) for i in range(201)])
        assert abs(parallel.radius - arc.radius) == pytest.approx(abs(distance))
        for t in (0, 0.4, 1):
            way = arc.direction_at(t)
            expected = arc.point_at(t) + way.outward * distance
            assert line.distance(_shapely(expected)) < 1e-3 * arc.radius


@steady
@given(points, points, points, points)
def test_two_lines_meet_where_shapely_says(a, b, c, d):
    first, second = LineString([tuple(a), tuple(b)]), LineString([tuple(c), tuple(d)])
    assume(first.length > 1 and second.length > 1)
    found = meet(a, b - a, c, d - c)
    crossing = first.intersection(second)
    if crossing.geom_type == "Point" and not crossing.is_empty:
        turn = abs((b - a).unit().cross((d - c).unit()))
        assume(turn > 1e-3)
        assert found is not None
        assert found.distance(Point(crossing.x, crossing.y)) < 1e-4


# The area of a sector. source: plane geometry, A = θr²/2.
@steady
@given(st.floats(100, 2000), st.floats(0.2, 3.1))
def test_the_area_of_a_cloaks_sector_is_half_its_angle_times_its_radius_squared(radius, angle):
    apex = Point(0, 0)
    a, b = polar(radius, 0), polar(radius, angle)
    sector = Outline((
        Edge("front", Path.through(apex, a)),
        Edge("hem", Path((Arc(apex, radius, 0, angle),))),
        Edge("other front", Path.through(b, apex)),
    ))
    assert sector.area == pytest.approx(angle * radius**2 / 2, rel=1e-3)
    assert sector["hem"].length == pytest.approx(angle * radius)
    assert Polygon([tuple(p) for p in sector.polygon]).area == pytest.approx(sector.area)


# source: check-values: frustum unrolled, sector angle 360° × (R − r) / s, radii s·r/(R − r) and
# s·R/(R − r); plane geometry (developable cone).
@steady
@given(st.floats(80, 250), st.floats(1.2, 3.0), st.floats(300, 1300), st.sampled_from([3, 6]))
def test_a_panel_flared_from_the_top_is_a_part_of_an_unrolled_frustum(r, flare, s, part):
    R = r * flare
    assume(R - r < 0.8 * s)
    panel = ConePanel(tau * r / part, tau * R / part, s)
    angle = tau * (R - r) / s
    inner, outer = s * r / (R - r), s * R / (R - r)
    outline = panel.outline("left", "right")
    assert outline["top"].length == pytest.approx(angle / part * inner)
    assert outline["hem"].length == pytest.approx(angle / part * outer)
    assert outline["left"].length == pytest.approx(s)
    assert outline["right"].length == pytest.approx(s)
    # Lateral area of the frustum over the number of panels. source: π(r + R)s.
    assert outline.area == pytest.approx(pi * (r + R) * s / part, rel=1e-3)
    left, right = outline["left"].path, outline["right"].path
    lean_left = atan2(left.start.x - left.end.x, left.start.y - left.end.y)
    lean_right = atan2(right.end.x - right.start.x, right.end.y - right.start.y)
    assert lean_right - lean_left == pytest.approx(angle / part)


def regular_outline(corners: list[tuple[float, float]]) -> Outline:
    found = [Point(*corner) for corner in corners]
    ends = zip(found, found[1:] + found[:1], strict=True)
    return Outline(tuple(Edge(f"e{i}", Path.through(a, b)) for i, (a, b) in enumerate(ends)))


@st.composite
def convex(draw) -> list[tuple[float, float]]:
    """Corners on an ellipse, clockwise as seen on the page (y down)."""
    count = draw(st.integers(3, 9))
    steps = [draw(st.floats(0.35, 1.0)) for _ in range(count)]
    total, at, found = sum(steps), draw(st.floats(0, 6)), []
    wide, tall = draw(st.floats(150, 900)), draw(st.floats(150, 900))
    for step in steps:
        at += step / total * tau
        found.append((wide * cos(at), tall * sin(at)))
    return found


@steady
@given(convex(), st.floats(1, 40))
def test_equal_allowances_give_what_shapely_buffers_with_mitred_joins(corners, width):
    outline = regular_outline(corners)
    expected = Polygon(corners).buffer(width, join_style="mitre", mitre_limit=50)
    assume(max(_sharpness(corners)) < 4.0)
    allowances = {edge.name: Allowance(width) for edge in outline.edges}
    assert_same_area(cutting_line(outline, allowances), expected)


@steady
@given(convex(), st.data())
def test_each_edge_is_set_off_by_its_own_allowance(corners, data):
    # The cutting line of a convex piece encloses what lies on the inner side of every edge's
    # parallel. source: plane geometry, half-planes intersected by GEOS.
    outline = regular_outline(corners)
    widths = [data.draw(st.floats(0, 40)) for _ in corners]
    reach = 1e5
    expected = box(-reach, -reach, reach, reach)
    for (ax, ay), (bx, by), width in zip(corners, corners[1:] + corners[:1], widths, strict=True):
        size = hypot(bx - ax, by - ay)
        ux, uy = (bx - ax) / size, (by - ay) / size
        x, y = ax + uy * width, ay - ux * width
        inner = [(x - ux * reach, y - uy * reach), (x + ux * reach, y + uy * reach)]
        inner += [(px - uy * 2 * reach, py + ux * 2 * reach) for px, py in reversed(inner)]
        expected = expected.intersection(Polygon(inner))
    # Apart from corners so sharp that they are cut off blunt, so flat that they get a step, and
    # edges so short that their neighbours' allowances swallow them.
    assume(len(expected.exterior.coords) == len(corners) + 1)
    assume(max(_sharpness(corners)) < 3.9)
    for i, ((ax, ay), (bx, by)) in enumerate(zip(corners, corners[1:] + corners[:1], strict=True)):
        wider = max(widths)
        assume(hypot(bx - ax, by - ay) > 2 * wider)
        before, after = widths[i - 1], widths[i]
        turn = _turns(corners)[i]
        longest_cut = max(before * cos(turn) - after, after * cos(turn) - before) / sin(turn)
        assume(longest_cut < max(before, after))
    allowances = {f"e{i}": Allowance(width) for i, width in enumerate(widths)}
    assert_same_area(cutting_line(outline, allowances), expected)


def test_a_wide_allowance_does_not_stand_out_over_an_edge_that_has_none():
    # An edge on the selvedge, say, with a seam that leaves it at 60°: plane geometry.
    corners = [(0, 0), (300, 0), (300 + 200 * cos(pi / 3), 200 * sin(pi / 3)), (0, 200 * sin(pi / 3))]
    line = cutting_line(regular_outline(corners), {"e1": Allowance(25)})
    assert min(p.y for p in line) == pytest.approx(0)
    assert max(p.x for p in line if p.y < 1) == pytest.approx(300 + 25 / sin(pi / 3))


@steady
@given(
    st.floats(150, 600), st.floats(200, 900), st.floats(-0.35, 0.6), st.floats(-0.35, 0.6),
    st.floats(0, 35), st.floats(0, 35), st.floats(5, 45),
)
def test_a_hems_allowance_is_the_piece_above_the_fold_mirrored(
    top, tall, left_lean, right_lean, left, right, hem
):
    # source: plane geometry; shapely mirrors and cuts.
    corners = [(0, 0), (top, 0), (top + tall * right_lean, tall), (-tall * left_lean, tall)]
    assume(corners[2][0] - corners[3][0] > 100)
    outline = regular_outline(corners)
    allowances = {"e1": Allowance(right), "e2": Allowance(hem, fold=True), "e3": Allowance(left)}
    without_hem = Polygon([tuple(p) for p in cutting_line(
        regular_outline([corners[0], corners[1],
                         (top + (tall + 99) * right_lean, tall + 99),
                         (-(tall + 99) * left_lean, tall + 99)]),
        {"e1": Allowance(right), "e3": Allowance(left)},
    )])
    above = without_hem.intersection(box(-1e4, -1e4, 1e4, tall))
    mirrored = affinity.scale(above, 1, -1, origin=(0, tall))
    expected = above.union(mirrored.intersection(box(-1e4, tall, 1e4, tall + hem)))
    assert_same_area(cutting_line(outline, allowances), expected, slack=0.05)


@steady
@given(st.floats(300, 1500), st.floats(0.1, 1.4), st.floats(1, 40))
def test_the_allowance_round_a_gore_is_everywhere_as_wide_as_it_should_be(side, angle, width):
    # A gore: two straight sides from an apex and an arc about it. GEOS buffers a fine polygon of it.
    apex = Point(0, 0)
    first = pi / 2 - angle / 2
    hem = Arc(apex, side, first, angle)
    gore = Outline((
        Edge("right", Path.through(apex, hem.start)),
        Edge("hem", Path((hem,))),
        Edge("left", Path.through(hem.end, apex)),
    ))
    cut = cutting_line(gore, {edge.name: Allowance(width) for edge in gore.edges})
    fine = Polygon([(0, 0)] + [tuple(hem.point_at(i / 3000)) for i in range(3001)])
    expected = fine.buffer(width, join_style="mitre", mitre_limit=50)
    # At the apex a mitre longer than 4 widths is cut off blunt: compare below it.
    below = box(-1e4, min(5 * width, side / 2), 1e4, 1e4)
    assert_same_area(Polygon([tuple(p) for p in cut]).intersection(below).exterior.coords[:-1],
                     expected.intersection(below), slack=0.06)
    assert is_simple(cut)
    assert holds_polygon(cut, gore.polygon)


def _shapely(p: Point):
    from shapely.geometry import Point as ShapelyPoint

    return ShapelyPoint(p.x, p.y)


def _turns(corners: list[tuple[float, float]]) -> list[float]:
    """By how many radians the way round turns at each corner."""
    return [pi - 2 * asin(1 / mitre) for mitre in _sharpness(corners)]


def _sharpness(corners: list[tuple[float, float]]) -> list[float]:
    """Length of each corner's mitre over the allowance: 1 / sin(half the inner angle)."""
    found = []
    for a, b, c in zip(corners[-1:] + corners[:-1], corners, corners[1:] + corners[:1], strict=True):
        u, v = (a[0] - b[0], a[1] - b[1]), (c[0] - b[0], c[1] - b[1])
        cosine = (u[0] * v[0] + u[1] * v[1]) / hypot(*u) / hypot(*v)
        found.append(1 / sqrt(max(1e-12, (1 - cosine) / 2)))
    return found


def assert_same_area(line, expected, slack: float = 1e-3) -> None:
    """`slack` is mean mm between the two along the boundary."""
    found = Polygon([tuple(p) for p in line])
    assert found.is_valid
    assert found.symmetric_difference(expected).area <= slack * expected.length
