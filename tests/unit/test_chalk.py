"""The chalk plan: as few numbers as a hand can follow, each where the cutter looks for it.

That what is drawn from them is the lay is in tests/reference/test_chalk_plan_alone.py.
"""

import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LinearRing, LineString

from drafting.cloth.chalk import ChalkPiece, Inside, Spot, ToChalk, drawn
from drafting.cloth.chalk_curve import astray, by_eye
from drafting.cloth.chalk_pieces import chalk_plan
from drafting.cloth.chalk_runs import GAP
from drafting.cloth.cloth import Cloth
from drafting.desk.lay_results import plan_of
from drafting.geometry import Point
from drafting.kit.marram_farm import HILD
from drafting.lay.bolt import ToCut, lay_on_bolt
from drafting.sheets.chalk_words import piece_words
from drafting.sheets.lay_picture import close_ups_svg
from drafting.words.units import format_finely
from tests.drafts import draft_of, drafted
from tests.wardrobe import draft

MOST = {"apron-dress": 24, "tunic": 40, "underdress": 48, "mittens": 48, "hose": 48}
"""Marks in a default garment's plan. source: the project's own limits for a hand at the cloth."""


def plan_for(pattern, unit="cm", **cloth):
    return plan_of(lay_on_bolt([ToCut(pattern, "Ada")], Cloth(**cloth), max_rounds=4), unit)


def points(*corners):
    return tuple(Point(float(x), float(y)) for x, y in corners)


def rectangle(title, x, y, width, height, **more):
    return ToChalk(title, points((x, y), (x + width, y), (x + width, y + height), (x, y + height)), **more)


def numbers(piece: ChalkPiece) -> int:
    """Places that someone goes to with a tape, counted one by one."""
    return len(piece.marks) + (1 if piece.twin else 0)


@pytest.mark.parametrize("name", MOST)
def test_a_default_garment_is_chalked_in_few_marks(name):
    for pattern in (draft(name), draft_of({"garment": name, "measurements": HILD.measurements}).pattern):
        plan = plan_for(pattern)
        assert sum(map(numbers, plan.pieces)) == plan.count <= MOST[name]


def test_one_of_a_pair_is_the_template_of_the_other():
    plan = plan_for(drafted())
    twins = {piece.title: piece.twin.of for piece in plan.pieces if piece.twin}
    assert twins["side 2"] == "side 1" or twins["side 1"] == "side 2"
    assert {twins.get("back"), twins.get("front")} == {None, "front"}, "the front has the opening's mark"
    seen = set()
    for piece in plan.pieces:
        assert piece.twin is None or piece.twin.of in seen
        seen.add(piece.title)
    words = {w.title: w for w in piece_words(plan)}
    assert "Cut round front, its template" in words["back"].before[0]
    assert words["back"].joins == ("Copy its marks, but not J, end of the opening, left side only.",)


def test_pieces_that_differ_in_what_is_cut_inside_are_no_twins():
    hole = Inside("hole", "hole", points((40, 40), (60, 40), (60, 60), (40, 60)))
    plan = chalk_plan([rectangle("a", 0, 0, 100, 200, insides=(hole,)), rectangle("b", 0, 200, 100, 200)],
                      1500, 400)
    assert not any(piece.twin for piece in plan.pieces)


def test_a_twin_may_lie_head_down_or_turned_over():
    def bent(title, flip, turn, x, y):
        corners = [(0, 0), (100, 0), (60, 200), (0, 150)]
        return ToChalk(title, points(*((flip * turn * p + x, turn * q + y) for p, q in corners)))

    pieces = [bent("a", 1, 1, 0, 0), bent("b", -1, 1, 400, 0), bent("c", 1, -1, 600, 300)]
    plan = chalk_plan(pieces, 1500, 400)
    assert [(p.twin.over, p.twin.turned) for p in plan.pieces if p.twin] == [(True, False), (False, True)]


def test_a_symmetrical_piece_is_its_middle_line_and_half_widths():
    (piece,) = chalk_plan([rectangle("body", 7, 11, 300, 400)], 1500, 500).pieces
    assert piece.middle == 157.0
    assert [(mark.sides, mark.across) for mark in piece.marks] == [("both", 150.0)] * 2
    assert set(piece.places) == {"A", "a", "B", "b"}


def test_a_narrow_rectangle_is_drawn_with_a_square_from_its_two_upper_corners():
    # source: plane arithmetic; 22 from the middle line to both sides at 104 down, and 644 long from there
    fold = Inside("fold", "fold", points((330, 104), (330, 748)))
    strap = rectangle("strap", 308, 104, 44, 644, insides=(fold,))
    wide = rectangle("panel", 0, 800, 440, 600)
    marked = rectangle("facing", 600, 104, 44, 600, spots=(Spot("end", Point(600, 304)),))
    plan = chalk_plan([strap, wide, marked], 1500, 1400)
    counts = {piece.title: numbers(piece) for piece in plan.pieces}
    assert counts == {"strap": 1, "panel": 2, "facing": 3}, "what is wide, or marked on its side, is not"
    (drawn_so,) = next(p for p in plan.pieces if p.title == "strap").lines[0].strokes
    assert (drawn_so.how, drawn_so.marks, drawn_so.down) == ("box", ("a", "A"), 644.0)
    words = next(w for w in piece_words(plan) if w.title == "strap")
    assert "Draw a rectangle with a square: from a and A 64.4 cm straight down the cloth." in words.joins
    assert "Fold: along the middle line." in words.joins
    assert words.check == "Check: each way from corner to corner it is 64.6 cm."


def test_a_line_that_rises_less_than_two_millimetres_is_straight():
    def bowed(rise):
        # a circle's segment: its middle stands `rise` over the straight line between two corners 400 apart
        radius = (200**2 + rise**2) / (2 * rise)
        bow = [(200 + x, 100 + radius - rise - math.sqrt(radius**2 - x**2)) for x in range(-200, 201, 10)]
        return ToChalk("bowed", points(*bow, (390, 300), (0, 300)))

    flat, round_ = (chalk_plan([bowed(rise)], 1500, 400).pieces[0] for rise in (1.8, 6.0))
    assert {stroke.how for stroke in flat.lines[0].strokes} == {"straight"}
    assert "curve" in {stroke.how for stroke in round_.lines[0].strokes}


def test_a_corner_rounded_off_between_two_straight_lines_is_one_mark():
    """A seam drawn in at the waist: two lines that meet at 20°, and a circle that touches both."""
    before, after, corner, reach = math.radians(-10), math.radians(10), Point(300.0, 400.0), 50.0
    radius = reach / math.tan((after - before) / 2)
    centre = Point(corner.x + radius / math.cos((after - before) / 2), corner.y)
    curve = [(centre.x - radius * math.cos(angle), centre.y + radius * math.sin(angle))
             for angle in (before + (after - before) * i / 12 for i in range(13))]
    ends = [(corner.x + away * math.sin(angle), corner.y + away * math.cos(angle))
            for angle, away in ((before, -390), (after, 390))]
    seam = ToChalk("seam", points((0, 15), ends[0], *curve, ends[1], (0, 785)))
    (piece,) = chalk_plan([seam], 1500, 800).pieces
    (bend,) = (stroke for stroke in piece.lines[0].strokes if stroke.how == "bend")
    assert len(piece.marks) == 5 and abs(bend.reach - reach) <= 2
    assert piece.places[bend.marks[1]].distance(corner) < 2
    (words,) = piece_words(chalk_plan([seam], 1500, 800))
    assert any(f"the corner at {bend.marks[1]} rounded off by eye from 5 cm" in join for join in words.joins)


def test_what_is_marked_on_both_sides_is_one_number():
    spots = (Spot("gusset", Point(10, 60)), Spot("gusset", Point(90, 60)), Spot("opening", Point(10, 90)))
    (piece,) = chalk_plan([rectangle("body", 0, 0, 100, 200, spots=spots)], 1500, 200).pieces
    marked = {mark.notes[0]: mark for mark in piece.marks if mark.notes}
    assert (marked["gusset"].sides, marked["opening"].sides) == ("both", "left")
    assert len(piece.marks) == 4
    (words,) = piece_words(chalk_plan([piece.true], 1500, 200))
    assert ("D", "opening, at the left only") in {(m.label.upper(), m.note) for m in words.marks}


def test_a_neck_hole_is_drawn_from_a_few_crosswise_widths_and_the_facing_from_what_is_cut_out():
    plan = plan_for(draft("tunic"))
    pieces = {piece.title: piece for piece in plan.pieces}
    (hole,) = [line for line in pieces["body"].lines if line.kind == "hole"]
    widths = {label.upper() for stroke in hole.strokes for label in stroke.marks}
    widths = [m for m in pieces["body"].marks if m.label in widths and m.across]
    assert 3 <= len(widths) <= 5
    (inner,) = [line for line in pieces["neck facing"].lines if line.kind == "hole"]
    assert (inner.twin.of, inner.twin.line) == ("body", "neck")
    said = " ".join(next(w.joins for w in piece_words(plan) if w.title == "neck facing"))
    assert "as cut out of body" in said and "Neck slit: as in body" in said


def test_every_garment_s_sewing_marks_and_folds_are_chalked():
    words = {w.title: w for w in piece_words(plan_for(draft("tunic")))}
    notes = {mark.note for mark in words["body"].marks}
    assert {"gusset", "gore", "shoulder"} <= notes
    joins = " ".join(words["body"].joins)
    assert "Shoulder fold: " in joins and "Front waist line: " in joins and "Neck slit: " in joins
    strap = {w.title: w for w in piece_words(plan_for(draft("apron-dress")))}["back strap 1"]
    assert "Fold: along the middle line." in strap.joins


@settings(max_examples=30, deadline=None)
@given(
    st.floats(0, 1000), st.floats(0, 3000), st.floats(100, 900), st.floats(0.3, 5.5),
    st.sampled_from(["cm", "in"]),
)
def test_a_sector_anywhere_on_the_cloth_is_drawn_within_three_millimetres(x, y, radius, sweep, unit):
    # source: plane geometry, a circular sector
    arc = [(x + radius * (1 + math.cos(sweep * i / 60)), y + radius * (1 + math.sin(sweep * i / 60)))
           for i in range(61)]
    corners = [(x + radius, y + radius), *arc]
    (piece,) = chalk_plan([ToChalk("sector", points(*corners))], 3000, 6000, unit).pieces
    at = piece.places
    line = [p for stroke in piece.lines[0].strokes for p in drawn(stroke, at)]
    ring = LinearRing([(p.x, p.y) for p in line])
    assert ring.hausdorff_distance(LinearRing(corners)) <= 3.0


def test_marks_on_a_circle_are_joined_by_that_circle_and_marks_on_a_line_by_the_line():
    # source: plane geometry
    circle = [Point(300 + 100 * math.cos(t), 400 + 100 * math.sin(t)) for t in (0.0, 0.7, 1.1, 2.0, 3.0)]
    assert max(abs(p.distance(Point(300, 400)) - 100) for p in by_eye(circle)) < 1e-9
    row = points((0, 0), (10, 10), (40, 40), (50, 50))
    assert max(abs(p.x - p.y) for p in by_eye(row)) < 1e-9
    assert by_eye([*row, row[-1]]) == by_eye(row)


def test_how_far_two_lines_miss_each_other_is_as_shapely_has_it():
    # source: shapely (GEOS), the lines' corners against the other line
    one, other = points((0, 0), (50, 8), (100, 0)), points((0, 3), (100, 1))
    far = max(*(LineString([(q.x, q.y) for q in b]).distance(LineString([(p.x, p.y)] * 2))
                for a, b in ((one, other), (other, one)) for p in a))
    assert astray(one, other) == pytest.approx(far)


def test_marks_along_a_curve_stand_where_an_eye_still_joins_them():
    plan = plan_for(draft("cloak", {"shape": "half-circle"}))
    for piece in plan.pieces:
        for line in piece.lines:
            for stroke in line.strokes:
                if stroke.how == "curve":
                    at = [piece.places[label] for label in stroke.marks]
                    assert all(p.distance(q) <= GAP + 10 for p, q in zip(at, at[1:], strict=False))


def test_a_half_circle_is_a_string_s_from_mark_to_mark():
    ring = [Point(500 + 300 * math.cos(t / 50 * math.pi), 400 + 300 * math.sin(t / 50 * math.pi))
            for t in range(51)]
    (piece,) = chalk_plan([ToChalk("half", tuple(ring))], 1500, 900).pieces
    strings = [stroke for stroke in piece.lines[0].strokes if stroke.how == "string"]
    assert [stroke.radius for stroke in strings] == [300.0]
    (words,) = piece_words(chalk_plan([piece.true], 1500, 900))
    assert any("a string of 30 cm, held at" in join for join in words.joins)


def test_the_diagonal_is_what_a_tape_reads_between_two_marks():
    (piece,) = chalk_plan([rectangle("square", 0, 0, 300, 400)], 1500, 500).pieces
    label_a, label_b, size = piece.diagonal
    assert size == pytest.approx(500)
    assert {label_a, label_b} in ({"a", "B"}, {"A", "b"})


def test_templates_are_cut_from_the_cut_end_on():
    pieces = [rectangle("far", 0, 50, 10, 15), rectangle("right", 40, 0, 12, 15),
              rectangle("left", 0, 0, 14, 15)]
    assert [piece.title for piece in chalk_plan(pieces, 100, 65).pieces] == ["left", "right", "far"]


@pytest.mark.parametrize("unit", ["cm", "in", "mm", "m"])
def test_what_is_printed_is_the_number_itself(unit):
    steps = {"in": 25.4 / 16}
    plan = plan_for(draft("underdress"), unit)
    for piece in plan.pieces:
        for mark in piece.marks:
            for value in (mark.across, mark.down):
                step = steps.get(unit, 1.0)
                assert value / step == pytest.approx(round(value / step), abs=1e-3)
                assert format_finely(value, unit) == format_finely(value + 0.04 * step, unit)


def test_a_bend_that_rounding_the_marks_takes_up_is_drawn_straight():
    """All of its points lie beyond the marks, so there is no height to give."""
    corner, bend, end = (60.94, 1500.94), (60.94, 1454.9), (60.77, 1453.63)
    outline = [corner, bend, end, (303.0, 1453.63), (303.0, 1500.94)]
    (piece,) = chalk_plan([ToChalk("gusset", points(*outline))], 1500, 2000).pieces
    assert {stroke.how for stroke in piece.lines[0].strokes} == {"straight"}


def test_an_outline_of_two_corners_is_refused_by_name():
    with pytest.raises(ValueError, match="gore"):
        chalk_plan([ToChalk("gore", points((0, 0), (1, 1)))], 1500, 2000)


def letters_of(picture):
    """Each letter of an SVG, where it stands, and its size."""
    letter = r'<text class="mark" x="([-\d.]+)" y="([-\d.]+)" font-size="([\d.]+)"[^>]*>(.*?)<'
    found = re.findall(letter, picture)
    return [(letter, (float(x), float(y)), float(size)) for x, y, size, letter in found]


def test_letters_in_a_close_up_do_not_run_into_each_other_where_many_are_together():
    """source for what is seen: the pictures' own numbers, read from their SVG."""
    plan = plan_for(draft("underdress"), width=1500)
    body = next(piece for piece in plan.pieces if "body" in piece.title)
    whole, *larger = re.findall(r"<svg.*?</svg>", close_ups_svg(body, plan.width))
    assert larger, "the neck has a picture of its own"
    shown = [letter for picture in (whole, *larger) for letter, _, _ in letters_of(picture)]
    assert sorted(shown) == sorted(letter for letter, _ in body.rings)
    for picture in larger:
        found = letters_of(picture)
        for n, (_, at, size) in enumerate(found):
            for _, other, _ in found[n + 1:]:
                assert math.dist(at, other) > 0.6 * size
