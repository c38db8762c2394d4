"""Step pictures and the girth profile: what they show, without colour, small and well-formed."""

import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon, box, unary_union
from shapely.affinity import rotate

from drafting.cloth.piecing import fit_to_width
from drafting.geometry import Point
from drafting.geometry.clipping import clipped_lines, clipped_polygon
from drafting.geometry.polygon import simplified
from drafting.pattern import Level
from drafting.sewing import girth_profile, plan_json, sewing_plan, step_pictures, together_picture
from drafting.sewing.picture import Caption, PictureLine, hatched, svg
from drafting.sewing.placing import Shapes, Table
from drafting.sewing.profile import rooms
from drafting.sheets.text import text_width
from drafting.words.wording import spell
from tests.sewn import garments, sewn
from tests.wardrobe import draft

slow = settings(max_examples=60, deadline=None,
                suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
DRAWN = {"strip", "eyelet", "baste", "reinforce", "neck", "pleat", "join", "face", "catch", "let-out", "fell",
         "opening", "vent", "edge", "fasten", "attach", "tuck", "hem", "lining"}


@slow
@given(garments(), st.sampled_from(["cm", "in"]))
def test_every_step_at_the_cloth_has_a_picture_that_a_browser_can_read(pattern, unit):
    plan = sewing_plan(pattern)
    for step, picture in zip(plan.steps, step_pictures(plan), strict=True):
        assert (picture is not None) == (step.kind in DRAWN), step.kind
        if picture is None:
            continue
        text = svg(picture, unit)
        root = ET.fromstring(text)
        assert root.tag.endswith("svg") and "⟨" not in text
        assert len(text) < 40_000, step.title
        width, height = (float(n) for n in root.get("viewBox").split()[2:])
        numbers = [float(n) for path in root.iter() if path.get("d")
                   for n in re.findall(r"-?\d+\.?\d*", path.get("d"))]
        assert min(numbers, default=0) > -30 and max(numbers, default=0) < max(width, height) + 30


@slow
@given(garments())
def test_what_is_sewn_is_thick_and_what_is_seen_from_inside_is_hatched(pattern):
    plan = sewing_plan(pattern)
    for step, picture in zip(plan.steps, step_pictures(plan), strict=True):
        if picture is None:
            continue
        styles = {item.style for item in picture.items if isinstance(item, PictureLine)}
        told = " ".join(item.text for item in picture.items if isinstance(item, Caption))
        if step.kind in ("join", "fell", "hem", "edge", "face"):
            assert "seam" in styles, step.title
        if step.kind in ("fell", "hem", "edge"):
            assert "hatch" in styles and "hatched: wrong side" in told


def test_a_legend_names_every_piece_of_the_picture():
    plan = sewing_plan(sewn("tunic"))
    step = next(step for step in plan.steps if "left sleeve to armhole" in step.seams)
    picture = step_pictures(plan)[step.number - 1]
    told = " ".join(item.text for item in picture.items if isinstance(item, Caption))
    for name in ("body", "left sleeve", "right sleeve"):
        assert name in told


def words_over(picture, style):
    """Captions that a line of that style runs through; letters are some two thirds as high as their size."""
    boxes = {}
    for words in (item for item in picture.items if isinstance(item, Caption)):
        wide, said = text_width(spell(words.text, "cm"), words.size), spell(words.text, "cm")
        left = words.at.x - {"start": 0.0, "middle": wide / 2, "end": wide}[words.anchor]
        boxes[said] = rotate(box(left, words.at.y - 0.65 * words.size, left + wide, words.at.y), words.angle,
                             origin=(words.at.x, words.at.y))
    lines = [LineString([(p.x, p.y) for p in (*line.points, *(line.points[:1] if line.closed else ()))])
             for line in picture.items if isinstance(line, PictureLine) and line.style == style]
    return [said for said, where in boxes.items() if any(line.crosses(where) for line in lines)]


def test_no_words_run_over_a_hem():
    """common practice, no source: what is written over a line is not read."""
    hems = 0
    for garment in ("apron-dress", "underdress", "tunic", "trousers", "cloak"):
        plan = sewing_plan(draft(garment))
        for step, picture in zip(plan.steps, step_pictures(plan), strict=True):
            if picture and step.kind == "hem":
                hems += 1
                assert words_over(picture, "seam") == [], (garment, step.title)
    assert hems >= 3
    sewn_line = next(item for item in picture_of_a_hem().items
                     if isinstance(item, PictureLine) and item.style == "seam")
    over = Caption("hem", sewn_line.points[0].towards(sewn_line.points[1], 0.5) + Point(0, 1.5))
    assert words_over(replace(picture_of_a_hem(), items=(sewn_line, over)), "seam") == ["hem"]


def picture_of_a_hem():
    plan = sewing_plan(draft("apron-dress"))
    return next(picture for step, picture in zip(plan.steps, step_pictures(plan), strict=True)
                if step.kind == "hem")


def test_neighbours_lie_along_their_seam_and_not_on_each_other():
    """The straight edges of a seam lie side by side, a gap apart, and shapely finds no overlap."""
    shapely = pytest.importorskip("shapely")
    pattern = sewn("tunic")
    shapes = Shapes(pattern)
    copies = (("body", 1), ("side gore", 1), ("side gore", 2), ("sleeve", 1), ("sleeve", 2))
    table = Table(shapes, copies, pattern.seams)
    polygons = [shapely.Polygon([(p.x, p.y) for p in placed.polygon]) for placed in table.placed.values()]
    for i, one in enumerate(polygons):
        for other in polygons[i + 1:]:
            assert one.intersection(other).area < 1.0
    placed_along = [s for s in pattern.seams if s.name.endswith("gore, front edge")]
    for seam in (*placed_along, *(s for s in pattern.seams if s.name.endswith("to armhole"))):
        a, b = (shapely.LineString([(p.x, p.y) for p in table.line(side[0])])
                for side in (seam.a, seam.b))
        assert a.hausdorff_distance(b) == pytest.approx(table.gap, rel=0.01)


def test_a_turned_over_copy_is_the_mirror_image():
    shapes = Shapes(sewn("apron-dress"))
    left, right = shapes.polygon(("side", 1)), shapes.polygon(("side", 2))
    assert sorted(round(p.x, 3) for p in left) == sorted(round(-p.x, 3) for p in right)


@given(st.lists(st.tuples(st.floats(-50, 50), st.floats(-50, 50)), min_size=3, max_size=12))
def test_hatching_stays_within_its_polygon(corners):
    shapely = pytest.importorskip("shapely")
    polygon = shapely.Polygon(corners)
    if not polygon.is_valid or polygon.area < 1:
        return
    points = [Point(*corner) for corner in corners]
    grown = polygon.buffer(0.01)
    for line in hatched(points):
        assert grown.contains(shapely.LineString([(p.x, p.y) for p in line.points]))


@given(st.lists(st.tuples(st.floats(-50, 50), st.floats(-50, 50)), min_size=3, max_size=3, unique=True))
def test_clipping_agrees_with_shapely(corners):
    shapely = pytest.importorskip("shapely")
    polygon, box = shapely.Polygon(corners), shapely.box(-20, -10, 25, 30)
    if not polygon.is_valid or polygon.area < 1:
        return
    points = [Point(*corner) for corner in corners]
    found = clipped_polygon(points, (-20, -10, 25, 30))
    area = shapely.Polygon([(p.x, p.y) for p in found]).area if len(found) > 2 else 0.0
    assert area == pytest.approx(polygon.intersection(box).area, abs=1e-6)
    lines = clipped_lines([*points, points[0]], (-20, -10, 25, 30))
    length = sum(a.distance(b) for line in lines for a, b in zip(line, line[1:], strict=False))
    assert length == pytest.approx(polygon.exterior.intersection(box).length, abs=1e-6)


def test_simplifying_keeps_within_its_tolerance():
    shapely = pytest.importorskip("shapely")
    curve = [Point(x, (x - 50) ** 2 / 25) for x in range(101)]
    kept = simplified(curve, 0.5)
    assert len(kept) < 20
    line = shapely.LineString([(p.x, p.y) for p in kept])
    assert max(line.distance(shapely.Point(p.x, p.y)) for p in curve) <= 0.5


# The girth profile


def with_levels(*levels: Level):
    from dataclasses import replace

    return replace(sewn("apron-dress"), levels=levels)


def level(*said):
    return Level(*said, kind="between")


def test_room_is_told_in_words_and_not_by_colour():
    pattern = with_levels(
        level("top", 0, 900, 920), level("bust", 100, 930, 920), level("waist", 300, 830, 780),
        level("hips", 500, 1150, 1000), level("knees", 800, 1500, 1000), level("hem", 1100, 2000),
    )
    assert [room.fit for room in rooms(pattern)] == ["too small", "tight", "close", "easy", "loose", None]
    picture = girth_profile(pattern)
    told = svg(picture, "cm")
    for words in ("top: 2 cm too small", "bust: 1 cm, tight", "waist: 5 cm, close", "hips: 15 cm, easy",
                  "knees: 50 cm, loose", "hem: 200 cm"):
        assert words in told
    colours = set(re.findall(r'(?:fill|stroke)="([^"]+)"', told))
    assert colours <= {"none", "currentColor", "var(--ground, #fff)"}


def test_bars_are_as_long_as_the_room():
    picture = girth_profile(with_levels(
        level("a", 0, 1000, 900), level("b", 300, 1100, 900), level("c", 600, 1300, 900)))
    bars = [item for item in picture.items if isinstance(item, PictureLine) and item.closed
            and item.style in ("cloth", "fill")]
    widths = [bar.points[1].x - bar.points[0].x for bar in bars]
    assert widths[1] / widths[0] == pytest.approx(2) and widths[2] / widths[0] == pytest.approx(4)


@slow
@given(garments())
def test_the_profile_of_any_garment_reads(pattern):
    picture = girth_profile(pattern)
    if picture is None:
        assert len(pattern.levels) < 2
        return
    ET.fromstring(svg(picture, "in"))
    rows = [item.at.y for item in picture.items if isinstance(item, Caption)]
    assert all(b - a > 20 for a, b in zip(rows, rows[1:], strict=False))
    assert max(rows) <= picture.height


def test_one_leg_is_drawn_twice():
    """Below the crotch a level is one leg's girth; the outline must not jump to half."""
    picture = girth_profile(sewn("trousers"))
    (left, right) = [item for item in picture.items
                     if isinstance(item, PictureLine) and item.style == "outline"]
    widths = [b.x - a.x for a, b in zip(left.points, right.points, strict=True)]
    assert all(narrow > 0.6 * wide for wide, narrow in zip(widths, widths[1:], strict=False))


# Plain values


def test_the_plan_is_plain_json_and_its_step_names_outlive_a_changed_length():
    import json

    one, other = (plan_json(sewn("tunic", length=length)) for length in ("90cm", "100cm"))
    assert json.loads(json.dumps(one)) == one
    assert [s["id"] for s in one["steps"]] == [s["id"] for s in other["steps"]]
    assert len({s["id"] for s in one["steps"]}) == len(one["steps"])
    assert one["steps"] != other["steps"]


@pytest.mark.parametrize("unit", ["cm", "in"])
def test_lengths_are_in_the_readers_unit(unit):
    text = repr(plan_json(sewn("underdress"), unit=unit))
    other = {"cm": re.compile(r"\d in\b(?! all)"), "in": re.compile(r"\d cm\b")}[unit]
    assert re.search(rf"\d {unit}\b", text)
    assert not other.search(text), other.search(text)


def test_without_pictures_the_plan_is_small():
    bare = plan_json(sewn("tunic"), pictures=False)
    assert all(not step["picture"] for step in bare["steps"]) and not bare["profile"]
    assert len(repr(bare)) < 1_300 * len(bare["steps"])


@slow
@given(garments())
def test_picture_of_how_the_pieces_lie_shows_and_names_every_copy_it_places(pattern):
    picture = together_picture(pattern)
    placed = [p for p in pattern.schematic if pattern.piece(p.piece).cloth == "main"]
    if len(placed) < 2:
        assert picture is None
        return
    cloth = [item for item in picture.items
             if isinstance(item, PictureLine) and item.style == "cloth" and item.closed]
    assert len(cloth) >= len(placed)
    told = [item for item in picture.items if isinstance(item, Caption)]
    copies = {pattern.piece(p.piece).copy_name(p.copy) for p in placed}
    legend = " ".join(item.text for item in told)
    assert all(copy in legend for copy in copies)
    for words in told:
        long = len(words.text) * 0.5 * words.size
        across, down = (long, words.size) if not words.angle else (words.size, long)
        assert words.at.x - across / 2 >= 0 and words.at.x + across / 2 <= picture.width
        assert words.at.y + (down / 2 if words.angle else 0) <= picture.height


def test_parts_pieced_on_lie_against_their_piece_as_it_was_whole():
    whole = sewn("underdress")
    pieced = fit_to_width(whole, 450.0)
    assert any(" piecing" in p.piece for p in pieced.schematic)
    for place in whole.schematic:
        parts = [
            Polygon([p.motion(q) for q in pieced.piece(p.piece).outline.polygon])
            for p in pieced.schematic
            if p.piece.split(" piecing")[0] == place.piece and p.copy == place.copy
        ]
        was = Polygon([place.motion(q) for q in whole.piece(place.piece).outline.polygon])
        assert unary_union(parts).symmetric_difference(was).area < 1e-4 * was.area  # by shapely
