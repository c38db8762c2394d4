"""The apron dress: its options, and whether one can get into it."""

from math import cos, pi

import pytest

from drafting.checks.truing import true_up
from drafting.requests import workbench
from drafting.sewing.materials import materials
from drafting.sewing.plan import sewing_plan
from drafting.words.problems import BadInput
from tests.drafts import checked, drafted, request
from tests.sewn import sewn

BODY = {"hip_girth": "100cm", "shoulder_girth": "104cm"}


def test_front_and_back_take_a_third_of_each_girth_and_the_sides_a_sixth():
    # common practice, no source
    pattern = drafted({"upper_chest_girth": "88cm"})
    # Narrowing to 830 mm at the waist, 380 mm down, it clears the bust with 20 mm where that is fullest.
    part = 0.055 * pattern.measurements["stature"] / 380
    top = max(880 + 50, (920 + 20 - part * 830) / (1 - part))
    assert top > 960
    for name, part in (("front", 1 / 3), ("back", 1 / 3), ("side", 1 / 6)):
        outline = pattern.piece(name).outline
        assert outline["hem"].length == pytest.approx(2400 * part, abs=0.01)
        assert outline["top"].length == pytest.approx(top * part, abs=0.01)


def test_the_slanted_edges_have_the_full_dress_length():
    for piece in drafted().pieces[:3]:
        slanted = {edge.name: edge.length for edge in piece.outline.edges if edge.name not in ("top", "hem")}
        opening = [slanted.pop(name) for name in list(slanted) if name.endswith(" opening")]
        for length in slanted.values():
            assert {round(length, 6), round(length + sum(opening), 6)} & {1150}


def test_an_uneven_flare_gives_the_drops_that_plane_geometry_says():
    # source: plane geometry: an edge turned by (widening / 2) / length drops length × its cosine.
    # The sketch's way, 120 cm of flare over 80 cm, would leave edges of 82.5 and 80.6 cm to be sewn.
    pattern = drafted(options={"hem_girth": "203cm", "length": "118cm"})
    # Along its curve at the waist the edge is more upright, by which it drops a little more.
    for name, widening in (("front", 400), ("side", 200)):
        hem = pattern.piece(name).outline["hem"].path
        upright = 50 * (1 - cos(widening / 2 / 800))
        assert 0 <= hem.start.y - 800 * cos(widening / 2 / 800) <= upright
        assert max(p.y for p in hem.points()) == pytest.approx(800, abs=0.01)


def test_an_a_line_dress_is_an_unrolled_frustum():
    # source: plane geometry (developable cone): sector angle = 360° × (R − r) / s, inner radius
    # s·r / (R − r); the front is a third of it.
    pattern = drafted({"upper_chest_girth": "92cm"}, {"shaping": "a-line"})
    radius, hem_radius, slant = 970 / (2 * pi), 2400 / (2 * pi), 1150
    top = pattern.piece("front").outline["top"].path
    (arc,) = top.segments
    assert abs(arc.sweep) == pytest.approx(2 * pi * (hem_radius - radius) / slant / 3)
    assert arc.radius == pytest.approx(slant * radius / (hem_radius - radius))


def test_a_waisted_tube_without_an_opening_cannot_be_put_on_and_says_what_would_do():
    check = checked(BODY, {"opening": "none"})["a way in"]
    assert not check.passed
    assert {remedy.option for remedy in check.remedies} == {"opening"}


@pytest.mark.parametrize(
    "options",
    [
        {"opening": "none"},
        {"opening": "none", "bust_ease": "12cm"},
        {"opening": "none", "shaping": "straight"},
        {"opening": "none", "shaping": "a-line", "bust_ease": "0"},
        {"opening": "none", "bust_ease": "200 mm", "waist_ease": "10 mm"},
        {"bust_ease": "0", "waist_ease": "0", "hem_girth": "125cm"},
        {"hem_girth": "120cm"},
        {"shaping": "straight", "hem_girth": "103cm", "opening": "none"},
    ],
)
def test_every_remedy_offered_puts_its_check_right(options):
    failed = [check for check in checked(BODY, options).values() if not check.passed]
    assert failed
    for check in failed:
        assert check.remedies, check.name
        for remedy in check.remedies:
            mended = checked(BODY, {**options, remedy.option: remedy.value})
            assert mended[check.name].passed, (check.name, remedy)


def test_the_opening_reaches_just_below_what_is_too_narrow():
    pattern = drafted(BODY)
    opening = pattern.finished["opening_length"]
    # Straight between 830 mm at the waist (380 down) and 2400 mm at the hem (1150 down): the shoulders,
    # arms raised, with 30 mm to spare.
    clear_at = 380 + (0.93 * 1040 + 30 - 830) / (2400 - 830) * 770
    assert clear_at <= opening <= clear_at + 15


def test_no_opening_is_cut_where_none_is_needed():
    roomy = {"bust_ease": "14cm", "shaping": "straight"}
    assert "opening_length" not in drafted(BODY, roomy).finished


def test_the_way_in_takes_the_easier_of_shoulders_and_hips():
    # common practice, no source: 30 mm to spare over the head, arms raised, and 40 over the hips
    slim_shoulders = checked({"hip_girth": "110cm", "shoulder_girth": "102cm"})["a way in"]
    slim_hips = checked({"hip_girth": "98cm", "shoulder_girth": "110cm"})["a way in"]
    full_bust = checked({"hip_girth": "110cm", "shoulder_girth": "96cm"})["a way in"]
    assert slim_shoulders.limit == pytest.approx(0.93 * 1020 + 30)
    assert (slim_hips.limit, full_bust.limit) == (980 + 40, 920 + 30)


def test_a_growth_tuck_lengthens_the_cut_and_not_the_finished_dress():
    plain, tucked = drafted(), drafted(options={"growth_tuck": "5cm"})
    assert tucked.finished["length"] == plain.finished["length"]
    edge = tucked.piece("front").outline["right"]
    assert edge.length == pytest.approx(1150 + 100)
    tucks = [line for line in tucked.piece("front").inner_lines if line.kind == "tuck"]
    assert len(tucks) == 2


def test_a_strap_is_cut_four_times_as_wide_as_it_ends_up():
    # common practice, no source: 40 mm strip, edges to the middle, folded again, 10 mm
    pattern = drafted()
    left, _, right, _ = pattern.piece("back strap").outline.bounds
    assert right - left == 40
    assert pattern.finished["strap_width"] == 10


def test_single_straps_and_no_straps():
    single = drafted(options={"strap_style": "single"})
    assert [p.name for p in single.pieces] == ["front", "back", "side", "opening facing", "strap"]
    assert len(single.attachments) == 4
    none = drafted(options={"strap_style": "none"})
    assert [p.name for p in none.pieces] == ["front", "back", "side", "opening facing"]


def test_a_waist_larger_than_the_bust_still_matches_along_every_seam():
    checks = checked({"bust_girth": "92cm", "waist_girth": "97cm", "hip_girth": "104cm"})
    assert all(check.passed for check in checks.values()), [
        c.name for c in checks.values() if not c.passed
    ]


def test_a_scoop_dips_the_sides_alone_and_leaves_the_seams():
    pattern = drafted(options={"scoop": "4cm"})
    side = pattern.piece("side").outline["top"].path
    assert max(p.y for p in side.points()) - side.start.y == pytest.approx(40, abs=1)
    assert all(c.passed for c in checked(options={"scoop": "4cm"}).values())


@pytest.mark.parametrize(
    ("measurements", "options", "field", "words"),
    [
        ({}, {"length": "39cm"}, "length", "leaves no skirt"),
        ({}, {"hem_girth": "60cm"}, "hem_girth", "narrower"),
        ({}, {"hem_girth": "700cm"}, "hem_girth", "can flare to"),
        ({"torso_length": "22cm"}, {"scoop": "9cm"}, "scoop", "too deep"),
        ({}, {"scoop": "11cm", "shaping": "a-line"}, "scoop", "too deep"),
    ],
)
def test_options_that_contradict_are_named_with_the_way_out(measurements, options, field, words):
    with pytest.raises(BadInput) as caught:
        drafted(measurements, options)
    assert any(p.field == field and words in p.message for p in caught.value.problems)


def test_every_option_out_of_range_is_named():
    result = workbench.run(request(options={"seam_allowance": "2m", "hem_depth": "x", "colour": "red"}))
    assert not result["ok"]
    assert {p["field"] for p in result["problems"]} == {"seam_allowance", "hem_depth", "colour"}


@pytest.mark.parametrize("shaping", ["waisted", "straight", "a-line"])
def test_an_opening_has_a_facing_on_both_its_edges_and_the_seams_still_match(shaping):
    pattern = sewn("apron-dress", opening="side", shaping=shaping)
    facing, opening = pattern.piece("opening facing"), pattern.finished["opening_length"]
    assert facing.cut == 2 and facing.mirrored
    for piece, edge in (("front", "left opening"), ("side", "front opening"), ("opening facing", "edge")):
        assert pattern.piece(piece).outline[edge].length == pytest.approx(opening, abs=0.01)
    faced = [seam for seam in pattern.seams if seam.treatment == "faced"]
    assert {part.copy for seam in faced for part in seam.b if part.piece == "side"} == {1}
    assert not [check for check in true_up(pattern) if not check.passed]
    whole = sewn("apron-dress", opening="none", shaping=shaping)
    for seam in whole.seams[1:4]:
        (same,) = (other for other in pattern.seams if other.name == seam.name)
        for side in ("a", "b"):
            assert pattern.side_length(getattr(same, side)) == pytest.approx(
                whole.side_length(getattr(seam, side)), abs=0.01)


@pytest.mark.parametrize(("closing", "thing"), [
    ("lace", "lace the side opening"), ("hooks", "hooks and eyes")])
def test_an_opening_is_faced_then_hemmed_at_the_top_then_closed_by_something(closing, thing):
    """Snipped before it is felled, faced when the seams are felled; the facing's top goes into the hem."""
    plan = sewing_plan(sewn("apron-dress", opening="side", closing=closing))
    at = {step.kind: step for step in plan.steps}
    below = next(step for step in plan.steps if "front to left side" in step.seams)
    assert any("snip both allowances" in sentence for sentence in below.sentences)
    felled = max(step.number for step in plan.steps if step.kind == "fell")
    assert below.number < felled < at["face"].number < at["edge"].number < at["fasten"].number
    assert {part.piece for part in at["edge"].task.lines} == {"front", "back", "side", "opening facing"}
    assert any(thing in material.what for material in materials(plan))
    assert "fasten" not in {step.kind for step in sewing_plan(sewn("apron-dress", opening="none")).steps}
