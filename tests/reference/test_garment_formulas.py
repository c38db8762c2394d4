"""The wardrobe's formulas against plane geometry, an elliptic integral, shapely and the survey itself."""

import json
from math import cos, degrees, hypot, pi, radians, sin, sqrt
from statistics import mean

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, Polygon

from drafting.checks.truing import true_up
from drafting.garments import GARMENTS
from drafting.garments.gore import Gore
from drafting.garments.legs import KNEE_GIRTH
from drafting.garments.neck import half_ellipse
from drafting.garments.sleeve import ARMPIT_DEPTH, ELBOW, FOREARM_GIRTH, arm_raise, square_gusset
from drafting.garments.taper import Taper
from drafting.geometry import Allowance
from drafting.pattern import Pattern, as_json
from drafting.words.problems import BadInput
from tests.bodies.survey import ansur_bodies, needs_survey
from tests.wardrobe import ASTA, TAM, body_for, draft, geometry_failing, option_values

steady = settings(deadline=None, derandomize=True, max_examples=60,
                  suppress_health_check=[HealthCheck.too_slow])
NAMES = ("underdress", "tunic", "wrap-coat", "trousers")


@given(st.floats(30, 400))
@steady
def test_a_square_gussets_diagonal_is_its_side_times_root_two(side):
    # source: plane geometry (Pythagoras)
    corners = ("back sleeve", "back body", "front body", "front sleeve")
    piece = square_gusset("gusset", side, corners, Allowance(15.0), ("gusset",),
                          ("back", "back", "front", "front"))
    a, _, c, _ = piece.outline.polygon
    assert a.distance(c) == pytest.approx(side * sqrt(2))
    assert Polygon([tuple(p) for p in piece.outline.polygon]).area == pytest.approx(side * side)


@given(st.floats(150, 1500), st.floats(0.05, 1.3))
@steady
def test_a_gore_is_a_sector_of_a_circle(length, angle):
    # source: plane geometry: arc = r·θ, area = r²·θ/2, chord = 2r·sin(θ/2)
    gore = Gore(length, length * angle)
    outline = gore.whole(("left", "right"))
    assert radians(gore.angle) == pytest.approx(angle)
    assert outline["hem"].length == pytest.approx(length * angle)
    assert Polygon([tuple(p) for p in outline.polygon]).area == pytest.approx(
        length * length * angle / 2, rel=1e-3)
    hem = outline["hem"].path
    assert hem.start.distance(hem.end) == pytest.approx(2 * length * sin(angle / 2))


def elliptic_perimeter(a: float, b: float) -> float:
    """source: the arithmetic-geometric mean, e.g. Abramowitz & Stegun 1964, 17.6: perimeter =
    2π/AGM(a, b) · (a² − Σ 2ⁿ⁻¹ cₙ²), c₀² = a² − b².
    """
    a, b = max(a, b), min(a, b)
    x, y, first, total, power = a, b, a * a, (a * a - b * b) / 2, 0.5
    while abs(x - y) > 1e-12 * a:
        x, y, c = (x + y) / 2, sqrt(x * y), (x - y) / 2
        power *= 2
        total += power * c * c
    return 2 * pi / x * (first - total)


def test_the_elliptic_perimeter_agrees_with_a_circle_and_a_summed_ellipse():
    assert elliptic_perimeter(70, 70) == pytest.approx(2 * pi * 70)
    steps = [2 * pi * i / 100_000 for i in range(100_001)]
    points = [(70 * cos(t), 25 * sin(t)) for t in steps]
    summed = sum(hypot(x1 - x0, y1 - y0) for (x0, y0), (x1, y1) in zip(points, points[1:]))  # noqa: B905
    assert elliptic_perimeter(70, 25) == pytest.approx(summed, abs=1e-4)


@given(st.floats(40, 180), st.floats(0.25, 2.5))
@steady
def test_a_neck_half_is_half_an_ellipse_to_a_thousandth(half_width, ratio):
    length = half_ellipse(half_width, half_width * ratio).length
    assert length == pytest.approx(elliptic_perimeter(half_width, half_width * ratio) / 2, rel=1e-3)


@given(st.floats(150, 800), st.floats(0.3, 2.0), st.floats(100, 900))
@steady
def test_a_tapered_sleeve_ends_in_the_arc_of_an_unrolled_frustum(top, ratio, length):
    # source: plane geometry (developable cone): the sector's angle is 360° × (R − r)/s, and its inner
    # radius s·r/(R − r), with girths 2πR and 2πr at its ends and slant s. Our top is straight, not an
    # arc, so only the end is compared: its radius over its angle, and that it is square to both sides.
    shape = Taper(top, top * ratio, length)
    assume(shape.can_be_cut and abs(ratio - 1) > 0.01)
    end = shape.end_edge
    assert end.length == pytest.approx(shape.end)
    (arc,) = end.segments
    assert abs(shape.lean) < 0.8
    assert degrees(abs(arc.sweep)) == pytest.approx(degrees(shape.end / arc.radius))
    side = shape.corner - shape.on_side(0.0)
    assert side.dot(end.start_direction) == pytest.approx(0, abs=1e-6)
    assert side.length == pytest.approx(shape.side_length)
    assert end.point_along(end.length / 2).y == pytest.approx(length, abs=1e-6)


def test_the_way_a_raised_arm_needs_is_a_rotation_about_the_shoulder():
    # source: plane geometry; here with complex numbers instead of our own points.
    body = body_for(GARMENTS["tunic"])
    half, armhole, gusset = 270.0, 210.0, 100.0
    joint = complex(body["shoulder_width"] / 2, body["upper_arm_girth"] / (2 * pi))
    corner = complex(half, armhole)
    turned = (corner - joint) * complex(cos(radians(90)), -sin(radians(90))) + joint
    apart = abs(turned - corner) - ELBOW * body["stature"]
    for side_panel, gives in ((0.0, hypot(gusset, gusset)), (90.0, 90.0)):
        found = arm_raise(body, half, armhole, gusset, side_panel, 110.0)
        assert found.limit == pytest.approx(apart)
        assert found.value == pytest.approx(gives + 100)


@needs_survey
@pytest.mark.parametrize("sex", ["woman", "man"])
def test_constants_taken_from_the_survey_are_its_means(sex):
    # source: Gordon et al. 2014, NATICK/TR-15/007, computed from the survey's own file
    rows = [body.row for body in ansur_bodies() if body.sex == sex]
    elbow = mean(r["sleeve_spine_to_wrist"] - r["biacromial_breadth"] / 2 - r["sleeve_outseam"]
                 for r in rows) / mean(r["stature"] for r in rows)
    assert elbow == pytest.approx(ELBOW, abs=0.005)
    forearm = mean(r["forearm_girth_flexed"] / r["upper_arm_girth_flexed"] for r in rows)
    assert forearm == pytest.approx(FOREARM_GIRTH, abs=0.005)
    armpit = mean((r["acromial_height"] - r["axilla_height"]) / r["stature"] for r in rows)
    assert armpit == pytest.approx(ARMPIT_DEPTH, abs=0.004)
    knee = mean(r["lower_thigh_girth"] / r["thigh_girth"] for r in rows)
    assert knee == pytest.approx(KNEE_GIRTH, abs=0.007)


@needs_survey
def test_a_default_sleeve_reaches_the_wrist_of_a_bent_arm_of_the_average_body():
    # source: the same: the way from the spine over the bent elbow to the wrist, against the half
    # shoulders and the default sleeve.
    short = mean(
        body.row["sleeve_spine_to_wrist"]
        - (body.values["shoulder_width"] / 2 + body.values["arm_length"] + ELBOW * body.values["stature"])
        for body in ansur_bodies()
    )
    assert abs(short) <= 10


@pytest.mark.parametrize("name", NAMES)
@given(data=st.data())
@steady
def test_whatever_the_options_a_draft_is_sound_or_refused_in_sentences(name, data):
    garment = GARMENTS[name]
    body = body_for(garment, data.draw(st.sampled_from([ASTA, TAM])))
    options = data.draw(option_values(garment, body))
    try:
        pattern = garment.draft(body, options)
    except BadInput as refusal:
        for problem in refusal.problems:
            assert problem.field in options.values
            assert problem.message.endswith(".")
        return
    assert not geometry_failing(pattern)
    assert garment.draft(body, options) == pattern
    measured_by_shapely(pattern)


def measured_by_shapely(pattern: Pattern) -> None:
    """Seams, hems, cutting lines and holes of pattern.json, measured by GEOS."""
    written = json.loads(json.dumps(as_json(pattern, true_up(pattern))))
    pieces = {piece["name"]: piece for piece in written["pieces"]}
    lines = {(name, edge["name"]): LineString(edge["line"])
             for name, piece in pieces.items() for edge in piece["edges"]}
    for seam in written["seams"]:
        a, b = (sum(lines[tuple(part)].length for part in seam[side]) for side in "ab")
        assert abs(a - b - seam["ease"]) <= 0.5, seam["name"]
        assert a == pytest.approx(seam["length_a"], abs=0.2)
    for name, piece in pieces.items():
        cut, sewn = Polygon(piece["cutting_line"]), Polygon(piece["sewing_line"])
        assert cut.is_valid and sewn.is_valid, name
        assert sewn.difference(cut).area < 0.5, name
        for hole in piece["holes"]:
            inside = Polygon(hole)
            around = Polygon(lines[name, "neck"].coords)
            assert inside.is_valid and around.buffer(1e-3).contains(inside), name
            assert sewn.contains(around), name


@pytest.mark.parametrize("name", NAMES)
def test_plain_edges_are_cut_their_allowance_away_as_geos_offsets_them(name):
    # source: shapely (GEOS) mitred buffer, where every edge of the piece has one allowance.
    for piece in draft(name).pieces:
        widths = {allowance.width for allowance in piece.allowances.values()}
        folds = any(allowance.fold for allowance in piece.allowances.values())
        if folds or len(widths) > 1 or "facing" in piece.name:
            continue
        (width,) = widths
        grown = Polygon([tuple(p) for p in piece.outline.polygon]).buffer(
            width, join_style="mitre", mitre_limit=4.0)
        cut = Polygon([tuple(p) for p in piece.cutting_line])
        assert grown.symmetric_difference(cut).area < 1e-3 * cut.area, piece.name


def test_a_neck_hole_is_cut_its_allowance_inside_as_geos_offsets_it():
    # source: shapely (GEOS) buffer inwards, round joins (the hole has no corners).
    for line in ("round", "keyhole", "boat"):
        piece = draft("tunic", {"neckline": line}).piece("body")
        around = Polygon([tuple(p) for p in piece.line("neck").points()])
        width = piece.allowance("neck")
        (hole,) = piece.hole_cutting_lines.values()
        inside = around.buffer(-width)
        other = Polygon([tuple(p) for p in hole])
        assert inside.symmetric_difference(other).area < 1e-3 * inside.area, line


@pytest.mark.parametrize("options", [{}, {"gores": "all"}, {"body_width": "narrow"},
                                     {"gore_start": "waist", "growth_tuck": "4"}], ids=str)
def test_the_hem_is_level_all_round_as_shapely_measures_it(options):
    written = as_json(draft("tunic", options))
    pattern = draft("tunic", options)
    ways = []
    for piece in pattern.pieces:
        for hang in piece.hangs:
            (hem,) = [e["line"] for p in written["pieces"] if p["name"] == piece.name
                      for e in p["edges"] if e["name"] == hang.hem]
            level = (LineString([tuple(p) for p in hang.level.points()])
                     if hasattr(hang.level, "points") else Point(*hang.level))
            ways += [level.distance(Point(p)) + hang.below for p in hem]
    assert max(ways) - min(ways) <= 3.0
    assert max(ways) == pytest.approx(
        pattern.finished["length"] + 2 * float(options.get("growth_tuck", 0)) * 10, abs=0.1)
