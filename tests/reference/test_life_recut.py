"""A garment cut again: its pieces are cloth, and what is laid on it lies within it, clear of what is worn.

source: shapely (GEOS), given the outlines
"""

import pytest
from shapely.geometry import Polygon, box

from drafting.kit.cut_again import garment_called, recut_garment
from drafting.kit.marram_farm import demo_kit
from drafting.life.recut import Wanted, recut
from drafting.life.unpicked import WornPlace, unpicked
from drafting.pattern import as_json
from drafting.words.problems import BadInput
from tests.reference.test_life_fits import made
from tests.terminal import run
from tests.wardrobe import TAM

WORN = WornPlace("body", 100.0, 300.0, 150.0, 120.0)


def cloth(remnant) -> Polygon:
    return Polygon(remnant.outline, remnant.holes)


def test_the_cloth_of_a_piece_lies_between_its_sewing_line_and_its_cutting_line():
    pattern = made("tunic").pattern
    pieces = {piece["title"]: piece for piece in as_json(pattern)["pieces"]}
    body = next(one for one in unpicked(pattern) if one.name == "body")
    outline = Polygon(body.outline)
    assert Polygon(pieces["body"]["cutting_line"]).buffer(0.1).covers(outline)
    assert outline.buffer(0.1).covers(Polygon(pieces["body"]["sewing_line"]))


def test_the_neck_hole_and_a_worn_place_are_holes():
    pattern = made("tunic").pattern
    body = next(one for one in unpicked(pattern, (WORN,)) if one.name == "body")
    left, top, _, _ = Polygon(body.outline).bounds
    place = box(left + 100, top + 300, left + 250, top + 420)
    assert cloth(body).intersection(place).area == pytest.approx(0.0, abs=1.0)
    neck = Polygon(next(p for p in as_json(pattern)["pieces"] if p["name"] == "body")["holes"][0])
    assert cloth(body).intersection(neck).area < 0.01 * neck.area


def test_left_and_right_are_each_other_s_mirror_image():
    """A piece turned over is its reflection. source: plane geometry"""
    pattern = made("tunic", {"cuff_slit": "6cm"}).pattern
    remnants = {one.name: Polygon(one.outline) for one in unpicked(pattern)}
    sleeves = [polygon for name, polygon in remnants.items() if "sleeve" in name]
    assert len(sleeves) == 2 and sleeves[0].area == pytest.approx(sleeves[1].area)


@pytest.fixture(scope="module")
def from_a_tunic():
    small = [Wanted(name, made(name, {}, TAM).pattern) for name in ("hood", "cap", "tunic", "cloak")]
    return recut(unpicked(made("tunic").pattern, (WORN,)), small, seconds=2.0)


def test_what_comes_out_lies_on_the_cloth_and_on_nothing_else(from_a_tunic):
    came_out = [one for one in from_a_tunic if not one.left]
    assert came_out
    for one in came_out:
        for filled in one.filling.filling.filled:
            outlines = [Polygon(placed.outline) for placed in filled.placements]
            for k, outline in enumerate(outlines):
                assert cloth(filled.remnant).buffer(0.2).covers(outline), one.wanted.name
                assert all(outline.intersection(other).area < 1.0 for other in outlines[:k])


def test_a_piece_over_a_worn_place_would_be_seen(from_a_tunic):
    """The test above fails on a bad case."""
    body = next(one for one in unpicked(made("tunic").pattern, (WORN,)) if one.name == "body")
    left, top, _, _ = Polygon(body.outline).bounds
    assert not cloth(body).buffer(0.2).covers(box(left + 90, top + 290, left + 300, top + 500))


def test_the_best_come_first_and_what_is_larger_than_its_cloth_not_at_all(from_a_tunic):
    lacking = [bool(one.left) for one in from_a_tunic]
    assert lacking == sorted(lacking)
    (large,) = recut(unpicked(made("cap").pattern), [Wanted("tunic", made("tunic").pattern)])
    assert large.left and large.filling is None


def test_worn_places_that_are_nowhere_are_sentences():
    pattern = made("tunic").pattern
    with pytest.raises(BadInput, match="no piece “tail” to be worn: there is"):
        unpicked(pattern, (WornPlace("tail", 0, 0, 10, 10),))
    with pytest.raises(BadInput, match="reaches"):
        unpicked(pattern, (WornPlace("body", 0, 0, 5000, 10),))


def test_the_command_line_cuts_a_garment_of_the_demo_again():
    done = run("recut", "demo", "Hild's underdress", "--for", "Ebba", "--seconds", "0.5",
               "--worn", "left sleeve=5,20,8,10")
    assert "Ebba: cap: whole" in done.stdout and done.returncode == 0
    bad = run("recut", "demo", "tunic", "--worn", "left sleeve=5,20")
    assert bad.returncode == 2 and "ACROSS,DOWN" in bad.stderr
    assert "Which of these is meant" in run("recut", "demo", "underdress").stderr
    assert "There is no “Bo” in this kit" in run("recut", "demo", "g3", "--for", "Bo").stderr


def test_a_garment_is_found_by_its_owner():
    kit = demo_kit()
    assert garment_called(kit, "wulf's tunic").id == "g3"
    assert recut_garment(kit, garment_called(kit, "g3"), "Ebba", seconds=0.2)
