"""The neck hole: large enough for the head, and no wider than the shoulders carry."""

import pytest

from drafting.body import Body
from drafting.garments import GARMENTS
from drafting.garments.layers import OVER
from drafting.garments.neck import FACING_WIDTH, neck_for, neck_options
from drafting.garments.options import Options
from drafting.geometry.polygon import holds_polygon
from tests.wardrobe import TAM, body_for, checks, draft


def neck(line: str, body: Body | None = None, **options):
    chosen = body or body_for(GARMENTS["tunic"])
    plain = {o.name: o.default_for(chosen) for o in neck_options(line)}
    asked = Options({o.name: o for o in neck_options(line)}, {**plain, **options})
    return neck_for(chosen, asked, OVER["skin"]), chosen


@pytest.mark.parametrize("line", ["round", "boat"])
def test_a_hole_without_a_slit_passes_the_head_by_itself(line):
    found, body = neck(line)
    assert found.slit == 0
    least = body["head_girth"] + 30
    # On wide shoulders even the shallowest boat neck is larger than the head.
    assert found.girth == pytest.approx(least, abs=0.01) or line == "boat" and found.girth > least


def test_a_keyhole_is_close_to_the_neck_and_slit_as_far_as_the_head_needs():
    # common practice, no source: P = 391 wants k of 100 for ANSUR II's mean woman, whose head is
    # 561 mm and neck base 371 (Gordon et al. 2014, NATICK/TR-15/007).
    body = body_for(GARMENTS["tunic"], head_girth=561.0, neck_base_girth=371.0)
    found, _ = neck("keyhole", body)
    assert found.girth == pytest.approx(391, abs=0.01)
    assert found.slit == 100


def test_a_slit_neck_is_two_lips_along_the_shoulders():
    found, body = neck("slit")
    assert found.girth == pytest.approx(4 * found.half_width)
    assert found.is_slit and found.slit > 0


def test_a_boat_neck_is_wider_and_shallower_than_a_round_one():
    boat, _ = neck("boat")
    plain, _ = neck("round")
    assert boat.half_width > plain.half_width
    assert boat.front_depth < plain.front_depth


def test_a_given_depth_is_kept_and_the_width_gives_way():
    found, body = neck("round", neck_depth=150.0)
    assert found.front_depth == 150
    assert found.girth == pytest.approx(body["head_girth"] + 30, abs=0.01)


def test_on_a_small_childs_shoulders_a_round_hole_is_deepened_rather_than_widened():
    body = body_for(GARMENTS["tunic"], TAM, shoulder_width=215.0, head_girth=500.0)
    found, _ = neck("round", body)
    assert found.half_width <= 215 / 2 - 20
    assert found.girth == pytest.approx(530, abs=0.01)


def test_a_slit_too_short_for_the_head_is_found_out():
    check = checks("tunic", {"neck_slit": "3"})["head through the neck"]
    assert not check.passed
    (remedy,) = [r for r in check.remedies if r.option == "neck_slit"]
    assert checks("tunic", {"neck_slit": remedy.value})["head through the neck"].passed


@pytest.mark.parametrize("line", ["keyhole", "round", "boat", "slit"])
def test_the_facing_has_the_same_hole_and_reaches_all_round_it(line):
    pattern = draft("tunic", {"neckline": line})
    body, facing = pattern.piece("body"), pattern.piece("neck facing")
    assert facing.line("neck").length == pytest.approx(body.line("neck").length)
    hole = facing.line("neck").points()
    assert holds_polygon(facing.outline.polygon, hole)
    lowest = max(line.path.points()[-1].y for line in facing.inner_lines)
    lowest = max(lowest, max(p.y for p in hole))
    assert facing.outline.bounds[3] - lowest == pytest.approx(FACING_WIDTH, abs=0.1)


def test_the_hole_of_a_folded_body_is_as_long_as_front_and_back_necks_of_a_seamed_one():
    folded, seamed = draft("tunic"), draft("tunic", {"shoulder": "seam"})
    around = sum(seamed.piece(half).line("neck").length for half in ("front", "back"))
    assert folded.piece("body").line("neck").length == pytest.approx(around)


def test_a_childs_neck_gets_a_caution_about_cords_and_pins():
    # from memory: EN 14682, no cords at the neck of the youngest
    assert any("cord" in caution for caution in draft("tunic", values=TAM).cautions)
    assert not any("cord" in caution for caution in draft("tunic").cautions)
