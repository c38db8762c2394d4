"""Truing finds what is wrong, not only that all is well."""

from dataclasses import replace

import pytest

from drafting.checks.truing import true_up
from drafting.geometry import Edge, Outline, Path, Point
from drafting.pattern import Hang, Pattern
from tests.drafts import drafted


def failing(pattern: Pattern) -> set[str]:
    return {check.name for check in true_up(pattern) if not check.passed}


def with_front(pattern: Pattern, **changes) -> Pattern:
    front = replace(pattern.piece("front"), **changes)
    return pattern.with_pieces((front, *(p for p in pattern.pieces if p.name != "front")))


def reshaped(outline: Outline, name: str, path: Path) -> Outline:
    return Outline(tuple(Edge(e.name, path if e.name == name else e.path) for e in outline.edges))


@pytest.fixture
def pattern() -> Pattern:
    return drafted()


def test_a_sound_draft_passes(pattern):
    assert failing(pattern) == set()


def test_a_straight_bottom_on_a_flared_panel_makes_the_hem_dip_and_turn_a_corner(pattern):
    outline = pattern.piece("front").outline
    hem = outline["hem"].path
    flat = reshaped(outline, "hem", Path.through(hem.start, hem.end))
    found = failing(with_front(pattern, outline=flat))
    assert {"hem hangs level", "free edges run on across the seams"} <= found


def test_a_side_that_is_longer_than_its_neighbour_is_found(pattern):
    outline = pattern.piece("front").outline
    top, left = outline["top"].path, outline["left"].path
    raised = Point(top.end.x, top.end.y - 4)
    edges = {
        "top": Path.through(top.start, raised),
        "left": Path.through(raised, *left.points()[1:]),
    }
    moved = Outline(tuple(Edge(e.name, edges.get(e.name, e.path)) for e in outline.edges))
    assert "front to left side: sides match" in failing(with_front(pattern, outline=moved))


def test_allowances_that_cross_are_found():
    narrow = drafted(options={"strap_cut_width": "16 mm"})
    strap = narrow.piece("back strap")
    bad = replace(strap, allowances={k: replace(v, width=-30) for k, v in strap.allowances.items()})
    pieces = tuple(bad if p.name == "back strap" else p for p in narrow.pieces)
    assert "cutting lines are sound" in failing(narrow.with_pieces(pieces))


def test_a_gore_with_a_hem_round_its_apex_hangs_level(pattern):
    apex = pattern.piece("front").outline["top"].path.start
    wrong = Hang("hem", apex, 1000.0)
    assert "hem hangs level" in failing(with_front(pattern, hangs=(wrong,)))


def test_seam_ease_is_allowed_for(pattern):
    eased = replace(pattern, seams=(replace(pattern.seams[0], ease=5.0), *pattern.seams[1:]))
    assert failing(eased) == {f"{pattern.seams[0].name}: sides match"}
