"""Pieces wider than the cloth, cut in two and sewn together again. Measured with shapely."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon
from shapely.ops import unary_union

from drafting.geometry import bounds
from drafting.geometry.split import split_outline
from drafting.piecing import PIECING_ALLOWANCE, fit_to_width
from drafting.problems import BadInput
from drafting.truing import true_up
from tests.drafts import drafted


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
                 if p.name == name or p.name.startswith(f"{name} strip")]
        union, piece = unary_union(parts), polygon(whole.piece(name).outline.polygon)
        assert union.symmetric_difference(piece).area < 0.01 * piece.area / 100
        assert sum(p.area for p in parts) == pytest.approx(piece.area, rel=1e-4)


def test_the_pattern_gains_a_seam_for_every_cut_with_allowance_on_both_sides():
    whole = drafted()
    pieced = fit_to_width(whole, 600)
    new = [seam for seam in pieced.seams if "strip" in seam.name]
    assert len(pieced.seams) == len(whole.seams) + len(new)
    assert len(new) == sum(p.cut for p in pieced.pieces if "strip" in p.name) > 0
    for seam in new:
        for (part,) in (seam.a, seam.b):
            assert pieced.piece(part.piece).allowance(part.edge) == PIECING_ALLOWANCE


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
    line = LineString([(x, -2000), (x, 2000)])
    times = len(getattr(whole.exterior.intersection(line), "geoms", [0]))
    if times != 2:
        with pytest.raises(ValueError, match="not twice"):
            split_outline(outline, x, "cut")
        return
    left, right = split_outline(outline, x, "cut")
    assert polygon(left.outline.polygon).area + polygon(right.outline.polygon).area == pytest.approx(
        whole.area, rel=1e-3
    )
    assert left.outline["cut"].length == pytest.approx(right.outline["cut"].length)
    assert left.outline.bounds[2] <= x + 0.01 <= right.outline.bounds[0] + 0.02
