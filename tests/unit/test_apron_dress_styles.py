"""The apron dress wrapped and pleated."""

import pytest
from shapely.geometry import Polygon

from drafting.checks.truing import true_up
from drafting.sewing.plan import sewing_plan
from drafting.words.problems import BadInput
from tests.sewn import sewn
from tests.survey_rules import worst_hem, worst_seam
from tests.wardrobe import draft


def dress(**options):
    return sewn("apron-dress", **options)


def checks(**options):
    return {check.name: check for check in true_up(dress(**options))}


@pytest.mark.parametrize("shaping", ["waisted", "straight", "a-line"])
def test_each_pleat_adds_twice_its_depth_to_the_cut_front(shaping):
    # common practice, no source: a pleat of depth k takes 2k
    plain = dress(shaping=shaping).piece("front").outline
    pleated = dress(shaping=shaping, style="pleated", pleat_count="5", pleat_depth="1cm")
    outline = pleated.piece("front").outline
    assert outline["top"].length - plain["top"].length == pytest.approx(2 * 5 * 10)
    # The hem keeps the girth that was asked for: the pleats open into it.
    assert outline["hem"].length == pytest.approx(plain["hem"].length)
    assert outline["left"].length == pytest.approx(plain["left"].length)


def test_a_pleat_s_two_lines_lie_twice_its_depth_apart_and_end_at_the_waist():
    pattern = dress(style="pleated", pleat_count="4", pleat_depth="12mm")
    front = pattern.piece("front")
    for i in range(1, 5):
        right, fold, left = (front.line(f"pleat {i}, {name}") for name in ("right", "fold", "left"))
        assert left.start.x - right.start.x == pytest.approx(24)
        assert fold.start.x == pytest.approx((left.start.x + right.start.x) / 2)
        assert right.length == pytest.approx(pattern.measurements["torso_length"])


def test_pleats_are_many_and_2_to_3_mm_deep():
    # from memory: the dress from Køstrup, Rasmussen & Lønborg 1993
    pattern = dress(style="pleated")
    line = pattern.piece("front").line
    depths = [abs(line(f"pleat {n}, {side}").start.x - line(f"pleat {n}, fold").start.x)
              for n in range(1, 25) for side in ("left", "right")]
    assert len(pattern.piece("front").inner_lines) == 1 + 3 * 24 and all(2 <= depth <= 3 for depth in depths)
    assert any("drawn threads" in note for note in pattern.notes)
    deep = dress(style="pleated", pleat_depth="1cm", pleat_count="6")
    assert not any("drawn threads" in note for note in deep.notes)


def test_pleats_folded_up_leave_the_front_a_third_of_the_girth():
    pattern = dress(style="pleated")
    top = pattern.piece("front").outline["top"].length - pattern.finished["taken_up_by_pleats"]
    assert top == pytest.approx(pattern.finished["top_girth"] / 3)


def test_straps_keep_their_place_when_the_front_is_pleated():
    plain, pleated = dress(), dress(style="pleated")
    taken = pleated.finished["taken_up_by_pleats"]
    at = {a.name: a.distance for a in plain.attachments}
    for end in pleated.attachments:
        # The left strap lies beyond all pleats, the right one before them.
        past = taken if end.name == "left front loop to front" else 0
        assert end.distance - past == pytest.approx(at[end.name])


def test_straight_panels_are_as_wide_at_the_hem_as_at_the_top_and_gores_are_between_them():
    # common practice, no source: thirds and sixths; every gore takes a quarter of the flare
    pattern = dress(style="straight-panels", hem_girth="240cm")
    around = pattern.finished["top_girth"]
    for name, part in (("front", 1 / 3), ("back", 1 / 3), ("side", 1 / 6)):
        corners = Polygon([(p.x, p.y) for p in pattern.piece(name).outline.polygon])
        assert corners.area == pytest.approx(around * part * 1150)
        assert corners.minimum_rotated_rectangle.area == pytest.approx(corners.area)
    for name in ("front gore", "back gore"):
        assert pattern.piece(name).cut == 2 and pattern.piece(name).mirrored
        assert pattern.piece(name).outline["hem"].length == pytest.approx((2400 - around) / 4)
        assert pattern.piece(name).outline["front"].length == pytest.approx(1150 - 380)
    assert not [check for check in true_up(pattern) if not check.passed]


@pytest.mark.parametrize("options", [
    {}, {"opening": "side"}, {"growth_tuck": "5cm"}, {"scoop": "3cm", "opening": "none"}])
def test_straight_panels_sew_together_and_hang_level(options):
    pattern = dress(style="straight-panels", **options)
    assert worst_seam(pattern) < 0.5 and worst_hem(pattern) < 3
    assert {seam.name for seam in pattern.seams} >= {"front to left side", "left front gore, front edge"}
    assert ("opening facing" in {piece.name for piece in pattern.pieces}) == ("side" in options.values())


def test_straight_panels_are_wide_enough_to_be_put_on_unless_an_opening_is_settled():
    body = {"bust_girth": 820.0, "shoulder_girth": 1040.0, "hip_girth": 1010.0}
    for opening, passes in (("as-needed", True), ("none", False)):
        pattern = draft("apron-dress", {"style": "straight-panels", "opening": opening}, **body,
                        waist_girth=640.0, torso_length=370.0)
        (way,) = (check for check in true_up(pattern) if check.name == "a way in")
        assert way.passed == passes
    assert ("opening", "as-needed") in {(remedy.option, remedy.value) for remedy in way.remedies}


def test_gores_are_sewn_to_the_sides_before_the_seams_above_them_and_closed_after():
    plan = sewing_plan(dress(style="straight-panels"))
    at = {name: step.number for step in plan.steps for name in step.seams}
    uppers = [at[f"{half} to {hand} side"] for half in ("front", "back") for hand in ("left", "right")]
    flat = [at[f"{hand} front gore, back edge"] for hand in ("left", "right")]
    assert max(flat) < min(uppers)
    for hand in ("left", "right"):
        assert at[f"{hand} back gore, back edge"] > at[f"back to {hand} side"]


def test_a_wrapped_dress_is_half_and_half_with_a_lap_on_each():
    pattern = dress(style="wrapped", wrap_overlap="9cm")
    for name in ("front", "back"):
        outline = pattern.piece(name).outline
        assert outline["top"].length == pytest.approx(pattern.finished["top_girth"] / 2 + 90)
    hems = sum(pattern.piece(name).outline["hem"].length
               for name in ("front", "back", "left gore", "right gore"))
    # Two laps lie double, and the slit for the left gore is turned in by 8 mm a side.
    assert hems - 2 * 90 - 16 == pytest.approx(pattern.finished["hem_girth"])


def test_the_left_side_of_a_wrapped_dress_is_open_from_top_to_hem():
    pattern = dress(style="wrapped")
    taken = {(p.piece, p.edge) for seam in pattern.seams for p in (*seam.a, *seam.b)}
    assert ("front", "left") not in taken and ("back", "left") not in taken
    assert all(seam.open_from_top == 0 for seam in pattern.seams)
    assert "a way in" not in checks(style="wrapped")


def test_the_gores_of_a_wrapped_dress_begin_at_the_waist():
    pattern = dress(style="wrapped", length="1m")
    torso = pattern.measurements["torso_length"]
    for name in ("left gore", "right gore"):
        assert pattern.piece(name).outline["front"].length == pytest.approx(1000 - torso)
    assert pattern.piece("back").line("left slit").length == pytest.approx(1000 - torso)
    assert pattern.piece("back").outline["right upper"].length == pytest.approx(torso)


@pytest.mark.parametrize("style", ["four-panels", "pleated", "wrapped"])
@pytest.mark.parametrize("shaping", ["waisted", "straight"])
@pytest.mark.parametrize("tuck", ["0", "5cm"])
def test_every_style_is_true(style, shaping, tuck):
    failed = [c for c in true_up(dress(style=style, shaping=shaping, growth_tuck=tuck))
              if not c.passed]
    assert not failed


def test_a_lap_that_gapes_says_how_far_to_reach():
    check = checks(style="wrapped", wrap_overlap="3cm")["laps at the open side"]
    assert not check.passed
    (remedy,) = check.remedies
    assert checks(style="wrapped", wrap_overlap=remedy.value)["laps at the open side"].passed


@pytest.mark.parametrize(
    ("options", "fields"),
    [
        ({"style": "wrapped", "shaping": "a-line"}, {"shaping", "style"}),
        ({"style": "wrapped", "opening": "none"}, {"opening", "style"}),
        ({"style": "straight-panels", "shaping": "a-line"}, {"shaping", "style"}),
        ({"style": "straight-panels", "length": "55cm", "hem_girth": "500cm"}, {"hem_girth", "length"}),
        ({"style": "wrapped", "scoop": "3cm"}, {"scoop", "style"}),
        ({"style": "wrapped", "hem_girth": "5m"}, {"hem_girth", "style", "length"}),
        ({"style": "pleated", "pleat_depth": "6cm", "pleat_count": "3", "hem_girth": "150cm"},
         {"pleat_depth", "pleat_count", "hem_girth"}),
        ({"style": "pleated", "pleat_depth": "2cm", "pleat_count": "10", "hem_girth": "400cm"},
         {"pleat_depth", "pleat_count"}),
        ({"growth_tuck": "15cm", "length": "45cm"}, {"growth_tuck", "length"}),
    ],
)
def test_options_that_contradict_are_named_together(options, fields):
    with pytest.raises(BadInput) as caught:
        dress(**options)
    assert fields in [{p.field, *p.also} for p in caught.value.problems]
