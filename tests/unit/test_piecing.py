"""Pieces wider than the cloth, cut in two and sewn together again. Measured with shapely."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon
from shapely.ops import unary_union

from drafting.checks.truing import true_up
from drafting.cloth.cut_in_two import PIECING_ALLOWANCE
from drafting.cloth.piecing import fit_to_width
from drafting.garments import GARMENTS
from drafting.geometry import bounds
from drafting.geometry.split import chords, split_outline
from drafting.kit.marram_farm import VOLUNTEERS
from drafting.words.problems import BadInput
from tests.drafts import draft_of, drafted


def polygon(points) -> Polygon:
    return Polygon([(p.x, p.y) for p in points])


@pytest.mark.parametrize("width", [450, 600, 700, 850])
@pytest.mark.parametrize("options", [{}, {"shaping": "a-line"}, {"growth_tuck": "5cm", "scoop": "3cm"}])
def test_every_piece_fits_and_the_pattern_still_trues(width, options):
    pattern = fit_to_width(drafted(options=options), width)
    for piece in pattern.pieces:
        left, _, right, _ = bounds(piece.cutting_line)
        assert right - left <= width + 0.1
    assert [c.name for c in true_up(pattern) if not c.passed] == []


@pytest.mark.parametrize("width", [450, 600])
def test_the_parts_put_together_are_the_piece(width):
    whole = drafted()
    pieced = fit_to_width(whole, width)
    for name in ("front", "back", "side"):
        parts = [polygon(p.outline.polygon) for p in pieced.pieces
                 if p.name == name or p.name.startswith(f"{name} piecing")]
        union, piece = unary_union(parts), polygon(whole.piece(name).outline.polygon)
        assert union.symmetric_difference(piece).area < 0.01 * piece.area / 100
        assert sum(p.area for p in parts) == pytest.approx(piece.area, rel=1e-4)


def test_the_pattern_gains_a_seam_for_every_cut_with_allowance_on_both_sides():
    whole = drafted()
    pieced = fit_to_width(whole, 600)
    new = [seam for seam in pieced.seams if "piecing" in seam.name]
    assert len(pieced.seams) == len(whole.seams) + len(new)
    assert len(new) == sum(p.cut for p in pieced.pieces if "piecing" in p.name) > 0
    for seam in new:
        for (part,) in (seam.a, seam.b):
            assert pieced.piece(part.piece).allowance(part.edge) == PIECING_ALLOWANCE


def test_a_waisted_panel_is_pieced_by_one_seam_a_side_and_not_by_one_above_the_waist_and_one_below():
    pieced = fit_to_width(drafted(), 580)
    assert [p.name for p in pieced.pieces if p.name.split(" piecing")[0] == "front"] == [
        "front", "front piecing", "front piecing 2"]


def test_wide_cloth_changes_nothing():
    pattern = drafted()
    assert fit_to_width(pattern, 1500) == pattern


def test_cloth_narrower_than_a_strip_names_the_piece_and_by_how_much():
    with pytest.raises(BadInput, match="too little"):
        fit_to_width(drafted(), 60)


@settings(max_examples=150, deadline=None)
@given(st.floats(-380, 380), st.sampled_from(["waisted", "a-line", "straight"]), st.floats(0, 50))
def test_a_line_down_a_piece_splits_its_area(x, shaping, scoop):
    outline = drafted(options={"shaping": shaping, "scoop": f"{scoop:.1f} mm"}).piece("front").outline
    whole = polygon(outline.polygon)
    line = LineString([(x, -2000), (x, 2000)]).intersection(whole)
    inside = [part for part in getattr(line, "geoms", [line]) if part.length > 0.01]
    found = chords(outline, x)
    assert len(found) == len(inside)
    for chord in found:
        left, right = split_outline(outline, chord, "cut")
        assert polygon(left.outline.polygon).area + polygon(right.outline.polygon).area == pytest.approx(
            whole.area, rel=1e-3
        )
        assert left.outline["cut"].length == pytest.approx(right.outline["cut"].length)
        # 1 mm: down a side that is nearly upright, a polygon 0.01 mm from its curve ends so much sooner
        assert any(part.length == pytest.approx(left.outline["cut"].length, abs=1.0) for part in inside)
        if len(found) == 1:
            assert left.outline.bounds[2] <= x + 0.01 <= right.outline.bounds[0] + 0.02


def parts_of(piece, pattern):
    return [p for p in pattern.pieces if p.name == piece.name or p.name.startswith(f"{piece.name} piecing")]


HILD = VOLUNTEERS[0]


def of_hild(garment, options):
    return draft_of({"garment": garment, "measurements": HILD.measurements, "sex": HILD.sex,
                     "options": options}).pattern


CLOAKS = [{"shape": shape, "cut": cut, "lining": lining}
          for shape in ("half-circle", "three-quarter-circle")
          for cut, lining in (("whole", "none"), ("quarters", "full"))]


@pytest.mark.parametrize("width", [250, 430, 580, 680])
@pytest.mark.parametrize("options", CLOAKS, ids=lambda o: " ".join(o.values()))
def test_a_circle_hollow_at_the_neck_is_pieced_into_as_many_parts_as_it_takes(options, width):
    whole = of_hild("cloak", options)
    pieced = fit_to_width(fit_to_width(whole, width), width, "lining")
    assert len(pieced.pieces) > len(whole.pieces) + 1
    for piece in whole.pieces:
        parts = [polygon(p.outline.polygon) for p in parts_of(piece, pieced)]
        # polylines stray from their arcs by up to a tenth of a millimetre
        sliver = 0.2 * polygon(piece.outline.polygon).length
        union = unary_union([part.buffer(0.01) for part in parts])
        assert union.symmetric_difference(polygon(piece.outline.polygon)).area < sliver
        assert sum(part.area for part in parts) == pytest.approx(
            polygon(piece.outline.polygon).area, abs=sliver)
    for piece in pieced.pieces:
        left, _, right, _ = bounds(piece.cutting_line)
        assert right - left <= width + 0.1
    assert [c.name for c in true_up(pieced) if not c.passed] == []


def test_however_often_a_piece_is_cut_every_seam_has_a_name_of_its_own():
    # The order of work tells seams apart by their names: of two alike it would leave one unsewn.
    whole = of_hild("cloak", {"shape": "three-quarter-circle", "cut": "whole"})
    for width in range(250, 1450, 100):
        seams = [seam.name for seam in fit_to_width(whole, width).seams]
        assert len(set(seams)) == len(seams), width


@pytest.mark.parametrize("width", [430, 680])
@pytest.mark.parametrize("garment", [g for g in GARMENTS if g != "cloak"])
def test_the_whole_wardrobe_is_pieced_on_hand_woven_cloth(garment, width):
    whole = of_hild(garment, {})
    before = [c.name for c in true_up(whole) if not c.passed]
    pieced = fit_to_width(whole, width)
    assert [c.name for c in true_up(pieced) if not c.passed] == before
    for piece in pieced.pieces:
        left, _, right, _ = bounds(piece.cutting_line)
        assert right - left <= width + 0.1


def test_a_hole_wider_than_the_cloth_is_named_as_the_reason():
    with pytest.raises(BadInput, match="through a hole in it"):
        fit_to_width(of_hild("underdress", {"neckline": "boat"}), 250)
