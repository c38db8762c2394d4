"""The chalk plan: the pieces rebuilt from its rounded marks alone.

The limits (corners within half a rounding step, curves within 3 mm) are the project's own contract;
common practice, no source. The rebuilding and measuring here is done with shapely.
"""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from drafting.cloth.chalk import chalk_plan
from drafting.kit.marram_farm import HILD
from tests.drafts import draft_of, drafted

STEP = {"cm": 5.0, "in": 6.35}


def rebuilt(piece) -> list[tuple[float, float]]:
    """The outline someone draws who has nothing but the marks, the strings and the stations."""
    marks = {mark.label: (mark.x, mark.y) for mark in piece.marks}
    line = []
    for side in piece.sides:
        (ax, ay), (bx, by) = marks[side.start], marks[side.end]
        line.append((ax, ay))
        chord = math.hypot(bx - ax, by - ay)
        ux, uy = (bx - ax) / chord, (by - ay) / chord
        if side.kind == "curve":
            for along, height in side.stations:
                line.append((ax + ux * along + uy * height, ay + uy * along - ux * height))
        elif side.kind == "string":
            cx, cy = side.centre
            start, end = math.atan2(ay - cy, ax - cx), math.atan2(by - cy, bx - cx)
            sweep = (end - start + math.pi) % (2 * math.pi) - math.pi
            line += [
                (cx + side.radius * math.cos(start + sweep * i / 40),
                 cy + side.radius * math.sin(start + sweep * i / 40))
                for i in range(1, 40)
            ]
    return line


def placed(pattern, x=37.3, y=12.8):
    """Pieces in a row along the cloth, off the rounding grid."""
    outlines = []
    for piece, copy in pattern.copies():
        left = min(p.x for p in piece.cutting_line)
        top = min(p.y for p in piece.cutting_line)
        outline = [(p.x - left + x, p.y - top + y) for p in piece.cutting_line]
        outlines.append((piece.copy_name(copy), outline))
        y = max(q for _, q in outline) + 1.7
    return outlines, y


@pytest.mark.parametrize("unit", ["cm", "in"])
@pytest.mark.parametrize(
    "options",
    [{}, {"scoop": "4cm"}, {"shaping": "a-line"}, {"shaping": "straight"}, {"hem_girth": "400cm"},
     {"hem_girth": "130cm", "length": "70cm"}],
)
def test_the_pieces_rebuilt_from_the_rounded_marks_are_the_pieces(options, unit):
    outlines, length = placed(drafted(options=options))
    plan = chalk_plan(outlines, 1500, length, unit)
    true = dict(outlines)
    assert [piece.title for piece in plan.pieces] == [title for title, _ in outlines]
    for piece in plan.pieces:
        for mark in piece.marks:
            assert abs(mark.x - mark.true[0]) <= STEP[unit] / 2 + 1e-6
            assert abs(mark.y - mark.true[1]) <= STEP[unit] / 2 + 1e-6
        drawn = LineString([*rebuilt(piece), rebuilt(piece)[0]])
        marks = {mark.label: mark for mark in piece.marks}
        ring = true[piece.title]
        for side in piece.sides:
            if side.kind == "straight":
                continue
            for point in between(ring, marks[side.start].true, marks[side.end].true):
                assert drawn.distance(point) <= 3.0, (piece.title, side)
        assert Polygon(rebuilt(piece)).is_valid


def between(ring, start, end):
    """The ring's points from one corner to the next, whichever way round the plan walked."""
    from shapely.geometry import Point

    count = len(ring)
    i = min(range(count), key=lambda k: math.dist(ring[k], start))
    j = min(range(count), key=lambda k: math.dist(ring[k], end))
    return [Point(ring[(i + k) % count]) for k in range((j - i) % count + 1)]


@settings(max_examples=200, deadline=None)
@given(
    st.floats(0, 1000), st.floats(0, 3000), st.floats(100, 900), st.floats(0.3, 1.5),
    st.sampled_from(["cm", "in"]),
)
def test_a_sector_anywhere_on_the_cloth_is_drawn_within_three_millimetres(x, y, radius, sweep, unit):
    # source: plane geometry, a circular sector
    arc = [(x + radius * math.cos(sweep * i / 60), y + radius * math.sin(sweep * i / 60))
           for i in range(61)]
    (piece,) = chalk_plan([("sector", [(x, y), *arc])], 2000, 4000, unit).pieces
    drawn = LineString([*rebuilt(piece), rebuilt(piece)[0]])
    off = [drawn.distance(p) for p in map(lambda q: LineString([q, q]), arc)]
    assert max(off) <= 3.0


@pytest.mark.parametrize("unit", ["cm", "in"])
@pytest.mark.parametrize("garment", ["underdress", "wrap-coat", "hood", "cloak", "cap", "trousers"])
def test_every_garment_can_be_chalked(garment, unit):
    pattern = draft_of({"garment": garment, "measurements": dict(HILD.measurements)}).pattern
    outlines, length = placed(pattern)
    for piece in chalk_plan(outlines, 4000, length, unit).pieces:
        drawn = LineString([*rebuilt(piece), rebuilt(piece)[0]])
        ring = LineString([*dict(outlines)[piece.title], dict(outlines)[piece.title][0]])
        # Half a rounding step each way at a corner, 3 mm along a curve.
        assert ring.hausdorff_distance(drawn) <= math.hypot(STEP[unit] / 2, STEP[unit] / 2) + 0.1
        assert all(len(side.stations) < 40 for side in piece.sides)


def test_a_circle_has_marks_though_it_has_no_corner():
    ring = [(500 + 300 * math.cos(t / 50 * math.pi), 400 + 300 * math.sin(t / 50 * math.pi))
            for t in range(100)]
    (piece,) = chalk_plan([("disc", ring)], 1500, 900).pieces
    assert len(piece.marks) == 4
    assert {side.kind for side in piece.sides} == {"string"}


def test_the_diagonal_is_what_a_tape_reads_between_two_marks():
    (piece,) = chalk_plan([("square", [(0, 0), (301, 0), (301, 402), (0, 402)])], 1500, 500).pieces
    label_a, label_b, size = piece.diagonal
    assert size == pytest.approx(500)
    assert {label_a, label_b} in ({"A", "C"}, {"B", "D"})


def test_pieces_are_cut_from_the_cut_end_on():
    def square(x, y):
        return [(x, y), (x + 10, y), (x + 10, y + 10), (x, y + 10)]

    plan = chalk_plan([("far", square(0, 50)), ("right", square(40, 0)), ("left", square(0, 0))], 100, 60)
    assert [piece.title for piece in plan.pieces] == ["left", "right", "far"]


def test_a_bend_that_rounding_the_marks_takes_up_is_drawn_straight():
    """All of its points lie beyond the marks, so there is no height to give."""
    corner, bend, end = (60.94, 1500.94), (60.94, 1454.9), (60.77, 1453.63)
    outline = [corner, bend, end, (303.0, 1453.63), (303.0, 1500.94)]
    (piece,) = chalk_plan([("gusset", outline)], 1500, 2000).pieces
    # source: the contract of the chalk plan, as above
    assert Polygon(rebuilt(piece)).symmetric_difference(Polygon(outline)).area < 300 * STEP["cm"]
