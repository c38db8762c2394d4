"""Trousers: a seat to squat in, a leg the foot passes through."""

from collections import Counter
from math import sqrt

import pytest

from drafting.words.problems import BadInput
from tests.wardrobe import ASTA, TAM, checks, draft, failing, geometry_failing, parts_of

VARIANTS: list[dict[str, str]] = [
    {}, {"waist": "belt-loops"}, {"length_to": "knee"}, {"length_to": "mid-calf"},
    {"leg_hem": "28", "ankle_slit": "4"}, {"front_slit": "14"}, {"over": "linen"},
    {"loom_width": "65"}, {"loom_width": "58"}, {"gusset_size": "8"},
]


@pytest.mark.parametrize("options", VARIANTS, ids=str)
def test_seams_corners_and_cutting_lines_are_sound(options):
    assert not geometry_failing(draft("trousers", options))


@pytest.mark.parametrize("values", [ASTA, TAM], ids=["woman", "child"])
def test_the_defaults_pass_every_check(values):
    assert failing(draft("trousers", values=values)) == set()


def test_the_way_through_the_crotch_is_both_seams_and_the_gussets_diagonal():
    # source: plane geometry (the diagonal of a square)
    pattern = draft("trousers", {"gusset_size": "16", "rise_ease": "10"})
    leg = pattern.piece("leg").outline
    way = leg["front seam"].length + leg["back seam"].length + 160 * sqrt(2)
    assert way == pytest.approx(ASTA["crotch_length"] + 100)
    assert pattern.finished["crotch_length"] == pytest.approx(way)


def test_the_back_seam_is_the_longer_by_thirty_to_fifty():
    # common practice, no source
    leg = draft("trousers").piece("leg").outline
    assert 30 <= leg["back seam"].length - leg["front seam"].length <= 50


def test_the_gusset_is_sewn_to_all_four_legs_of_the_crotch():
    pattern = draft("trousers")
    sewn = Counter((p.piece, p.edge, p.copy) for p in parts_of(pattern))
    assert set(sewn.values()) == {1}
    assert sum(name == "seat gusset" for name, _, _ in sewn) == 4
    free = {e.name for e in pattern.piece("leg").outline.edges} - {e for _, e, _ in sewn}
    assert free == {"waist", "hem"}


def test_the_leg_alone_clears_the_thigh_where_the_gusset_ends():
    # garments.md asks only that leg and diagonal together clear it, which holds at the corner alone.
    pattern = draft("trousers", thigh_girth=720.0)
    # The gusset hangs half a diagonal down the thigh, which narrows to the knee's 0.65 of it.
    body = pattern.measurements
    down = pattern.piece("seat gusset").outline.edges[0].length / sqrt(2)
    thigh = 720 * (1 - 0.35 * down / (body["inside_leg_height"] - body["knee_height"]))
    assert pattern.finished["thigh_girth"] >= thigh + 50
    assert all(c.passed for c in checks("trousers", thigh_girth=720.0).values())


def test_a_narrow_leg_lets_no_heel_through_until_it_is_slit():
    tight = {"leg_hem": "27"}
    assert not checks("trousers", tight)["heel through the leg"].passed
    assert checks("trousers", {**tight, "ankle_slit": "4"})["heel through the leg"].passed


@pytest.mark.parametrize(
    "options",
    [{"leg_hem": "24"}, {"rise_ease": "0"}, {"hip_ease": "0", "thigh_ease": "0"},
     {"length_to": "mid-calf", "leg_hem": "33"}],
    ids=str,
)
def test_every_remedy_offered_puts_its_check_right(options):
    failed = [check for check in checks("trousers", options).values() if not check.passed]
    assert failed
    for check in failed:
        assert check.remedies, check.name
        for remedy in check.remedies:
            mended = checks("trousers", {**options, remedy.option: remedy.value})
            assert mended[check.name].passed, (check.name, remedy)


def test_openings_are_counted_from_waist_and_hem():
    pattern = draft("trousers", {"front_slit": "12", "ankle_slit": "5"})
    leg = pattern.piece("leg")
    seams = {seam.name: seam for seam in pattern.seams}
    front = leg.line(seams["front seam"].a[0].edge)
    assert front.start.distance(leg.outline["waist"].path.end) == pytest.approx(0)
    inseam = leg.line(seams["right inseam"].a[0].edge)
    assert inseam.start.distance(leg.outline["hem"].path.end) == pytest.approx(0)
    assert (seams["front seam"].open_from_top, seams["left inseam"].open_from_top) == (120, 50)


def test_on_a_narrow_loom_the_gusset_grows_so_that_the_legs_keep_to_the_cloth():
    plain = draft("trousers", {"hip_ease": "8"})
    loom = plain.finished["thigh_girth"] + 70 - 15
    fitted = draft("trousers", {"hip_ease": "8", "loom_width": f"{loom} mm"})
    assert fitted.finished["thigh_girth"] == pytest.approx(loom - 70)
    side = lambda p: p.piece("seat gusset").outline.edges[0].length  # noqa: E731
    assert side(fitted) > side(plain)
    assert any("instead of" in note for note in fitted.notes)
    assert failing(fitted) == set()


@pytest.mark.parametrize(
    ("options", "field", "also"),
    [
        ({"gusset_size": "34", "front_slit": "10"}, "gusset_size", "front_slit"),
        ({"front_slit": "30"}, "gusset_size", "front_slit"),
        ({"length": "40"}, "length", "gusset_size"),
        ({"length": "50", "leg_hem": "20"}, "leg_hem", "length"),
    ],
)
def test_options_that_contradict_are_both_named_with_the_way_out(options, field, also):
    with pytest.raises(BadInput) as caught:
        draft("trousers", options)
    (found,) = caught.value.problems
    assert found.field == field and also in found.also


def test_belt_loops_stand_in_for_a_drawstring_and_a_childs_drawstring_has_a_caution():
    # from memory: EN 14682
    assert len(draft("trousers", {"waist": "belt-loops"}).attachments) == 6
    assert any("drawstring" in caution for caution in draft("trousers", values=TAM).cautions)
    assert not draft("trousers", {"waist": "belt-loops"}, TAM).cautions
