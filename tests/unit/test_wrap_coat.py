"""The wrap coat: fronts that lap, a band, closures and a lining."""

import pytest

from tests.wardrobe import TAM, checks, draft, failing


def test_each_front_is_half_a_panel_and_the_overlap():
    pattern = draft("wrap-coat", {"overlap": "15"})
    hem = pattern.piece("front").outline["hem"].length
    assert hem == pytest.approx(pattern.finished["body_width"] / 2 + 150)


def test_a_shaped_front_runs_from_the_overlap_at_the_waist_to_the_middle_of_the_neck():
    straight, shaped = draft("wrap-coat"), draft("wrap-coat", {"lap": "shaped"})
    top = shaped.piece("front").outline["front edge"].path.end
    assert top.x == pytest.approx(0)
    assert straight.piece("front").outline["front edge"].path.end.x == pytest.approx(
        -straight.finished["overlap"])
    corner = shaped.piece("front").outline["front edge"].path.points()[1]
    assert corner.y == pytest.approx(shaped.piece("front").line("waist").start.y)


@pytest.mark.parametrize("lap", ["straight", "shaped"])
def test_the_band_is_as_long_as_the_necks_edge(lap):
    pattern = draft("wrap-coat", {"lap": lap})
    band = pattern.piece("neck band").outline["neck"].length
    front, back = (pattern.piece(half).outline["neck"].length for half in ("front", "back"))
    assert band == pytest.approx(2 * front + back)
    assert pattern.finished["neck_girth"] == pytest.approx(band)


def test_fronts_that_do_not_meet_over_the_clothes_beneath_are_found_out():
    narrow = {"overlap": "4", "chest_ease": "0", "gore_start": "hip"}
    check = checks("wrap-coat", narrow)["fronts lie over each other"]
    assert not check.passed
    assert any(r.option == "overlap" for r in check.remedies)


def test_a_lining_has_every_piece_and_is_felled_to_every_edge_left_free():
    pattern = draft("wrap-coat", {"lining": "full"})
    main = {p.name for p in pattern.pieces if p.cloth == "main"} - {"neck band"}
    lining = {p.name for p in pattern.pieces if p.cloth == "lining"}
    assert lining == {f"{name} lining" for name in main}
    felled = [s for s in pattern.seams if s.treatment == "felled lining"]
    edges = {(part.piece, part.edge, part.copy) for s in felled for part in s.b}
    assert {("front", "front edge", 1), ("front", "front edge", 2), ("back", "hem", 1),
            ("sleeve", "cuff", 2), ("side gore", "hem", 1)} <= edges
    assert failing(pattern) == set()


@pytest.mark.parametrize(("lap", "length"), [("straight", "41cm"), ("straight", "80cm"), ("shaped", "80cm")])
def test_no_loop_sits_on_a_growth_tuck(lap, length):
    """A short coat's tuck lies above the waist: its loops end above the tuck, evenly from the neck."""
    pattern = draft("wrap-coat", {"closure": "toggles", "growth_tuck": "10cm", "length": length, "lap": lap,
                                  "length_to": "by-number", "gores": "none"}, TAM)
    front = pattern.piece("front")
    path = front.line("front edge")
    row = front.line("tuck, upper line").start.y
    assert (length == "41cm") == (row < front.line("waist").start.y + 30), "else there is nothing to shift"
    down = [path.point_along(a.distance).y for a in pattern.attachments]
    assert max(down) <= row - 30 + 0.1
    assert down[1] - down[0] == pytest.approx(down[2] - down[1])


def test_loops_sit_on_the_left_front_from_the_neck_to_the_waist():
    pattern = draft("wrap-coat", {"closure": "toggles", "toggles": "4"})
    assert pattern.piece("loop").cut == 4 == len(pattern.attachments)
    edge = pattern.piece("front").outline["front edge"].path
    heights = [edge.point_along(a.distance).y for a in pattern.attachments]
    assert heights == sorted(heights)
    assert heights[-1] == pytest.approx(pattern.piece("front").line("waist").start.y, abs=1)
    assert {a.to.copy for a in pattern.attachments} == {1}


def test_what_closes_it_brings_its_caution():
    assert any("brooches" in c for c in draft("wrap-coat", {"closure": "brooch"}).cautions)
    child = draft("wrap-coat", {"closure": "toggles"}, TAM)
    assert any("swallowed" in c for c in child.cautions)


def test_an_open_coat_needs_no_way_over_the_head():
    assert "head through the neck" not in checks("wrap-coat")
    assert "a way in" not in checks("wrap-coat")
