"""Truing finds what is wrong, not only that all is well."""

import re
from collections.abc import Iterator
from dataclasses import replace

import pytest

from drafting.checks.truing import Check, true_up
from drafting.garments import GARMENTS, Garment, LengthOption, read_options
from drafting.geometry import Edge, Outline, Path, Point
from drafting.pattern import Clearance, Hang, Pattern
from drafting.words.problems import BadInput
from tests.drafts import drafted
from tests.wardrobe import body_for, draft, failing


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
    top, right = outline["top"].path, outline["right"].path
    raised = Point(top.start.x, top.start.y - 4)
    edges = {
        "top": Path.through(raised, top.end),
        "right": Path.through(*right.points()[:-1], raised),
    }
    moved = Outline(tuple(Edge(e.name, edges.get(e.name, e.path)) for e in outline.edges))
    assert "front to right side: sides match" in failing(with_front(pattern, outline=moved))


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


def judged(pattern: Pattern, short_by: float) -> list[tuple[Clearance, Check]]:
    """Each clearance of the pattern, its value so many mm under its limit, and the check it becomes."""
    nudged = tuple(replace(c, value=c.limit - short_by) for c in pattern.clearances)
    checks = true_up(replace(pattern, clearances=nudged))[-len(nudged):]
    return list(zip(nudged, checks, strict=True))


@pytest.mark.parametrize("short_by, passes", [(-1, True), (0, True), (0.04, True), (0.06, False), (1, False)])
def test_a_clearance_says_the_sentence_of_how_it_came_out(short_by, passes):
    tight = Clearance("room", 100.0 - short_by, 100.0, "It fits.", "It is short.", estimated=True)
    (check,) = true_up(Pattern("g", "g", (), (), {}, {}, {}, {}, clearances=(tight,)))[-1:]
    assert check.passed == passes
    assert check.advice.startswith("It fits." if passes else "It is short.")


@pytest.mark.parametrize("name", GARMENTS)
@pytest.mark.parametrize("short_by", [0.04, 0.06])
def test_every_clearance_of_the_wardrobe_says_the_sentence_of_how_it_came_out(name, short_by):
    for clearance, check in judged(draft(name), short_by):
        said, not_said = clearance.fits, clearance.short
        if not check.passed:
            said, not_said = not_said, said
        assert check.advice.startswith(said) and not check.advice.startswith(not_said), check


def wording(sentence: str) -> str:
    """The sentence without its numbers."""
    return re.sub(r"⟨[^⟩]*⟩|\d[\d.]*", "#", sentence)


def tried_far_and_wide(garment: Garment) -> Iterator[Pattern]:
    """Drafts with each length of the garment much shorter and much longer than usual."""
    body = body_for(garment)
    usual = read_options(garment, {}, body)
    for option in garment.options:
        if not isinstance(option, LengthOption):
            continue
        for part in (0.5, 0.8, 0.95, 1.0, 1.3):
            length = max(option.least, min(option.most, part * usual[option.name]))
            try:
                yield garment.draft(body, usual.changed(option.name, length))
            except BadInput:
                continue


def said_of_both(pattern: Pattern, fits: dict[str, set[str]], short: dict[str, set[str]]) -> set[str]:
    """Adds the clearances' wordings to what was met before; those met as fitting and as short."""
    for clearance in pattern.clearances:
        fits.setdefault(clearance.name, set()).add(wording(clearance.fits))
        short.setdefault(clearance.name, set()).add(wording(clearance.short))
    return {one for name in fits for one in fits[name] & short[name]}


@pytest.mark.parametrize("name", GARMENTS)
def test_no_sentence_is_said_both_of_what_fits_and_of_what_is_short(name):
    fits, short = {}, {}
    for pattern in tried_far_and_wide(GARMENTS[name]):
        assert said_of_both(pattern, fits, short) == set()
    assert fits


def test_a_garment_that_picks_the_sentence_itself_is_seen():
    def picking(value: float) -> Clearance:
        says = "It hangs free." if value >= 100 else "It trails."
        return Clearance("hem", value, 100.0, says, "It trails.")

    bare = Pattern("g", "g", (), (), {}, {}, {}, {})
    fits, short = {}, {}
    assert said_of_both(replace(bare, clearances=(picking(110.0),)), fits, short) == set()
    assert said_of_both(replace(bare, clearances=(picking(90.0),)), fits, short) == {"It trails."}


@pytest.mark.parametrize("off, says", [(0.4, "Ease"), (0.5, "Ease"), (0.6, "One side is")])
def test_a_seam_says_the_sentence_of_how_it_came_out(pattern, off, says):
    first, *rest = pattern.seams
    apart = pattern.side_length(first.a) - pattern.side_length(first.b)
    check = true_up(replace(pattern, seams=(replace(first, ease=apart + off), *rest)))[0]
    assert check.passed == (says == "Ease") and check.advice.startswith(says)


def test_a_lining_felled_to_the_hem_leaves_free_edges_to_look_at():
    lined = draft("cloak", {"shape": "half-circle", "cut": "quarters", "lining": "full"})
    name = "free edges run on across the seams"
    assert name in {check.name for check in true_up(lined)}
    assert name not in failing(lined)
    quarter = lined.piece("quarter")
    hem = quarter.outline["hem"].path
    flat = replace(quarter, outline=reshaped(quarter.outline, "hem", Path.through(hem.start, hem.end)))
    pieces = tuple(flat if piece.name == "quarter" else piece for piece in lined.pieces)
    assert name in failing(lined.with_pieces(pieces))
