"""The hood: what the head, the face and the shoulders need, and how its layers go together."""

from math import pi

import pytest

from drafting.checks.truing import true_up
from drafting.garments import GARMENTS, read_options
from drafting.sewing.plan import sewing_plan
from drafting.words.problems import BadInput
from drafting.words.wording import said
from tests.sewn import sewn


def hood(**options):
    return sewn("hood", **options)


def checks(**options):
    return {check.name: check for check in true_up(hood(**options))}


def seam_between(pattern, one, other):
    """Seams that join an edge of one piece and copy to one of another, as (piece, copy)."""
    return [
        seam for seam in pattern.seams
        if {one, other} == {(part.piece, part.copy) for part in (*seam.a, *seam.b)}
    ]


def test_the_neck_of_a_closed_hood_is_twice_a_panel_and_lets_the_head_through():
    pattern = hood()
    panel = pattern.piece("panel")
    level = next(line for line in panel.inner_lines if line.kind == "level")
    assert 2 * level.path.length == pytest.approx(pattern.finished["neck_girth"])
    assert pattern.finished["neck_girth"] >= 560 + 20


def test_the_face_opening_is_both_face_edges():
    pattern = hood(face_opening="62cm")
    assert 2 * pattern.piece("panel").outline["face"].length == pytest.approx(620)


def test_a_face_smaller_than_the_hood_is_high_is_closed_under_the_chin():
    pattern = hood(face_opening="56cm", height="33cm")
    (chin,) = (seam for seam in pattern.seams if seam.name == "under the chin")
    assert pattern.side_length(chin.a) == pytest.approx(330 - 280)


@pytest.mark.parametrize("gores", ["front-back", "all-round"])
@pytest.mark.parametrize("front", ["closed", "overlap"])
def test_the_cape_is_as_wide_at_the_shoulders_as_its_pieces_give(gores, front):
    # source: plane geometry: a wedge whose hem is an arc of width a about its apex is a·t / length wide
    # at t below it; a slit's two edges are turned in by what gore.py says, evenly from nothing.
    pattern = hood(gores=gores, front=front, gore_shape="wedge")
    check = {c.name: c for c in true_up(pattern)}["room over the shoulders"]
    depth, cape = pattern.finished["depth"], pattern.finished["cape_length"]
    way = way_of(pattern)
    total = 2 * depth
    for piece in pattern.pieces:
        if "gore" in piece.name:
            (hang,) = piece.hangs
            length = hang.depth
            turned_in = 16 if hang.below else 0
            reach = way - (cape - length)
            total += piece.cut * (piece.outline["hem"].length - turned_in) * reach / length
    assert check.value == pytest.approx(total, abs=0.01)
    assert check.passed


def way_of(pattern):
    body = pattern.measurements
    return body["shoulder_width"] / 2 - body["neck_base_girth"] / (2 * pi) + 0.045 * body["stature"]


@pytest.mark.parametrize("cape", ["10cm", "25cm", "60cm"])
@pytest.mark.parametrize("gores", ["front-back", "all-round"])
def test_a_hem_worked_out_clears_the_shoulders_for_any_cape(cape, gores):
    assert checks(cape_length=cape, gores=gores, gore_shape="wedge")["room over the shoulders"].passed


def test_a_deeper_hood_still_gets_its_hem_worked_out():
    assert all(c.passed for c in checks(depth="38cm").values())


def test_every_gore_is_sewn_in_along_both_its_sides():
    pattern = hood(gores="all-round")
    for piece in pattern.pieces:
        if "gore" in piece.name:
            sides = {edge.name for edge in piece.outline.edges} - {"hem"}
            for copy in range(1, piece.cut + 1):
                sewn_sides = {
                    part.edge for seam in pattern.seams for part in (*seam.a, *seam.b)
                    if (part.piece, part.copy) == (piece.name, copy)
                }
                assert sewn_sides == sides


def test_the_front_gore_joins_left_and_right_on_their_own_sides():
    pattern = hood()
    left, right = 1, 2
    for gore in ("front gore", "back gore"):
        for side, copy in (("left", left), ("right", right)):
            (seam,) = seam_between(pattern, (gore, 1), ("panel", copy))
            assert seam.a[0].edge == side


def test_the_fronts_of_an_open_hood_lap_and_are_not_sewn():
    pattern = hood(front="overlap", overlap="7cm")
    panel = pattern.piece("panel")
    taken = {(p.piece, p.edge) for seam in pattern.seams for p in (*seam.a, *seam.b)}
    assert not {("panel", "front"), ("panel", "face")} & taken
    assert panel.outline.bounds[0] == pytest.approx(-70)
    assert any(said(140) in note for note in pattern.notes)


def test_nothing_is_tied_or_pinned_and_the_caution_says_why():
    for front in ("closed", "overlap"):
        pattern = hood(front=front)
        assert not pattern.attachments
        assert not any("tie" in piece.name for piece in pattern.pieces)
        # from memory: EN 14682, no cords at the hood of a child under 7
        assert any("cords" in caution for caution in pattern.cautions)


def test_a_tail_is_as_wide_as_the_two_mouths_it_is_sewn_to():
    pattern = hood(tail_length="60cm", tail_width="8cm")
    (seam,) = (seam for seam in pattern.seams if seam.name == "tail to the hood")
    assert pattern.side_length(seam.a) == pytest.approx(160)
    assert pattern.side_length(seam.b) == pytest.approx(160)


def test_square_gores_have_four_equal_sides_and_a_quarter_circle_of_room():
    pattern = hood(gore_shape="square")
    gore = pattern.piece("front gore")
    assert gore.outline["hem"].length == pytest.approx(2 * gore.outline["left"].length)
    assert gore.outline.area == pytest.approx(gore.outline["left"].length ** 2)
    # source: plane geometry, a quarter circle about the corner: π/2 · way, two of them
    way = way_of(pattern)
    room = checks(gore_shape="square")["room over the shoulders"].value
    assert room == pytest.approx(pattern.finished["neck_girth"] + pi * way, abs=0.01)


def test_the_lining_is_the_mirror_image_and_meets_the_hood_edge_for_edge():
    pattern = hood(lining="full", gores="all-round", front="overlap")
    lining = [piece for piece in pattern.pieces if piece.cloth == "lining"]
    main = [piece for piece in pattern.pieces if piece.cloth == "main"]
    assert len(lining) == len(main)
    assert pattern.piece("panel").copy_name(1) == "left panel"
    assert pattern.piece("lining panel").copy_name(1) == "right lining panel"
    felled = [seam for seam in pattern.seams if seam.treatment == "felled lining"]
    assert {seam.name for seam in felled} == {
        "lining, face", "lining, hem", "lining, left front", "lining, right front"}
    # A lining is sewn only to itself and along those edges.
    for seam in pattern.seams:
        cloths = {pattern.piece(part.piece).cloth for part in (*seam.a, *seam.b)}
        assert len(cloths) == 1 or seam in felled


def test_two_panels_use_up_a_cloth_of_70_cm_and_the_note_says_so():
    plain, fitted = hood(), hood(loom_width="70cm")
    depth = fitted.finished["depth"]
    assert 2 * (depth + 2 * 15) == pytest.approx(700 - 2 * 10)
    assert depth > plain.finished["depth"]
    assert any("instead of" in note for note in fitted.notes)


def test_a_cloth_that_nothing_near_would_use_up_changes_nothing_but_says_so():
    fitted = hood(loom_width="150cm")
    assert fitted.finished["depth"] == hood().finished["depth"]
    assert any("stays" in note for note in fitted.notes)


@pytest.mark.parametrize(
    ("options", "fields"),
    [
        ({"face_opening": "80cm", "height": "30cm"}, {"face_opening", "height"}),
        ({"tail_length": "40cm", "crown": "rounded"}, {"tail_length", "crown"}),
        ({"tail_length": "40cm", "tail_width": "15cm", "height": "28cm", "face_opening": "50cm"},
         {"tail_width", "height"}),
        ({"hem_girth": "60cm", "gore_shape": "wedge"}, {"hem_girth", "depth"}),
        ({"hem_girth": "3m", "cape_length": "12cm", "gore_shape": "wedge"},
         {"hem_girth", "cape_length", "gores"}),
        ({"front": "overlap", "overlap": "15cm", "cape_length": "15cm"},
         {"overlap", "cape_length", "front"}),
        ({"loom_width": "3cm"}, {"loom_width"}),
    ],
)
def test_options_that_contradict_are_named_together(options, fields):
    with pytest.raises(BadInput) as caught:
        hood(**options)
    (problem,) = caught.value.problems
    assert {problem.field, *problem.also} == fields
    assert "give" in problem.message or "choose" in problem.message


@pytest.mark.parametrize(
    ("options", "failing"),
    [
        ({"depth": "25cm"}, "head through the neck"),
        ({"depth": "17cm", "front": "overlap"}, "closes round the neck"),
        ({"face_opening": "50cm"}, "face opening"),
        ({"height": "26cm", "face_opening": "50cm"}, "reaches over the crown"),
        ({"hem_girth": "70cm", "gore_shape": "wedge"}, "room over the shoulders"),
    ],
)
def test_what_is_too_tight_says_what_would_do_and_that_does(options, failing):
    check = checks(**options)[failing]
    assert not check.passed and check.remedies
    for remedy in check.remedies:
        mended = checks(**{**options, remedy.option: remedy.value})
        # A hood that opens need not let the head through.
        assert mended[failing].passed if failing in mended else remedy.option == "front"


def test_the_options_of_a_hood_read_in_inches():
    garment = GARMENTS["hood"]
    pattern = hood()
    from drafting.body import Body

    body = Body(dict(pattern.measurements))
    assert read_options(garment, {"depth": "12"}, body, "in")["depth"] == pytest.approx(304.8)


@pytest.mark.parametrize("lining", ["none", "full"])
def test_a_comb_stands_up_from_the_crown_and_is_sewn_when_crown_and_back_are_felled(lining):
    """common practice, no source; folded from paper: the ridge lies across the end of the back seam."""
    plain, pattern = hood(lining=lining), hood(lining=lining, crown="comb")
    assert all(check.passed for check in true_up(pattern))
    top = min(point.y for point in pattern.piece("panel").outline.polygon)
    assert top == pytest.approx(min(p.y for p in plain.piece("panel").outline.polygon) - 12)
    assert pattern.finished["face_opening"] == plain.finished["face_opening"]
    steps = sewing_plan(pattern).steps
    comb = next(step.number for step in steps if "comb" in step.seams)
    felled = {name: step.number for step in steps for name in step.fells}
    assert max(felled["crown"], felled["back"]) < comb < next(s.number for s in steps if s.kind == "edge")
