"""Facts that hold for hood, cloak, leg wraps, cap, head-scarf and apron dress, whatever is chosen."""

from collections import Counter
from math import isfinite

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from drafting.checks.truing import true_up
from drafting.garments import GARMENTS, ChoiceOption, CountOption, read_options
from drafting.pattern import Pattern, as_json
from drafting.words.problems import BadInput
from tests.bodies.survey import needs_survey
from tests.sewn import sewn
from tests.sweep import children, survey_bodies, sweep

SMALL = ("hood", "cloak", "leg-wraps", "cap", "head-scarf", "apron-dress")


def choices(name: str, *, wild: bool = True) -> st.SearchStrategy[dict[str, str]]:
    """Texts for any of a garment's options, lengths anywhere in their range or near what is usual.

    Unless `wild`, the allowances stay as they are.
    """
    usual = sewn(name).options
    kinds = {}
    for option in GARMENTS[name].options:
        if isinstance(option, ChoiceOption):
            kinds[option.name] = st.sampled_from(sorted(option.choices))
        elif isinstance(option, CountOption):
            kinds[option.name] = st.integers(option.least, min(option.most, 12)).map(str)
        elif wild or option.group != "Allowances":
            near = (max(option.least, 0.8 * usual[option.name]),
                    min(option.most, 1.25 * usual[option.name]))
            lengths = st.floats(*near) | st.floats(option.least, option.most)
            kinds[option.name] = lengths.map(lambda mm: f"{mm:.1f} mm")
    return st.fixed_dictionaries({}, optional=kinds)


def drafted(name: str, options: dict[str, str], stature: float) -> Pattern | None:
    """None when the options contradict each other; then every problem must name fields there are."""
    garment = GARMENTS[name]
    known = {*garment.needs, *garment.uses, *(option.name for option in garment.options)}
    try:
        return sewn(name, stature=stature, **options)
    except BadInput as refusal:
        for problem in refusal.problems:
            assert {problem.field, *problem.also} <= known
            assert "give" in problem.message or "choose" in problem.message
        return None


@pytest.mark.parametrize("name", SMALL)
@settings(max_examples=150, deadline=None)
@given(data=st.data())
def test_whatever_is_chosen_the_seams_match_and_the_hems_are_level_or_the_way_out_is_named(name, data):
    options = data.draw(choices(name))
    pattern = drafted(name, options, data.draw(st.sampled_from([950.0, 1300.0, 1660.0, 1950.0])))
    if pattern is None:
        return
    for check in true_up(pattern):
        assert isfinite(check.value) and isfinite(check.limit)
        if check.unit in ("°", "mm") and check.sense == "at most":
            assert check.passed, (check.name, check.advice)
    assert_sewing_graph_is_sound(pattern)


@pytest.mark.parametrize("name", SMALL)
@settings(max_examples=150, deadline=None)
@given(data=st.data())
def test_with_usual_allowances_every_piece_can_be_cut(name, data):
    pattern = drafted(name, data.draw(choices(name, wild=False)), 1660.0)
    if pattern is None:
        return
    for piece in as_json(pattern)["pieces"]:
        cut, sewing = Polygon(piece["cutting_line"]), Polygon(piece["sewing_line"])
        assert cut.is_valid and sewing.is_valid, piece["name"]
        # The two are polylines that may stray 0.05 mm from their curves.
        assert sewing.difference(cut.buffer(0.1)).area < 1e-6, piece["name"]


def assert_sewing_graph_is_sound(pattern: Pattern) -> None:
    """Copies exist; no edge is sewn twice in one layer; a slit has exactly two lips."""
    for seam in pattern.seams:
        for part in (*seam.a, *seam.b):
            assert 1 <= part.copy <= pattern.piece(part.piece).cut
    layers = Counter(
        (part.piece, part.edge, part.copy)
        for seam in pattern.seams
        if seam.treatment not in ("felled lining", "bound")
        for part in (*seam.a, *seam.b)
    )
    slits = {
        (piece.name, line.name)
        for piece in pattern.pieces
        for line in piece.inner_lines
        if line.kind == "slit"
    }
    for (piece, edge, _copy), times in layers.items():
        assert times == (2 if (piece, edge) in slits else 1), (piece, edge)
    names = Counter(seam.name for seam in pattern.seams)
    assert all(count == 1 for count in names.values())
    for end in pattern.attachments:
        assert 0 <= end.distance <= pattern.piece(end.to.piece).line(end.to.edge).length + 1e-6
        assert 1 <= end.copy <= pattern.piece(end.piece).cut


STYLES = [
    ("hood", {}),
    ("hood", {"gores": "all-round", "tail_length": "50cm"}),
    ("hood", {"front": "overlap", "gores": "all-round"}),
    ("hood", {"front": "overlap", "gores": "all-round", "gore_shape": "square"}),
    ("hood", {"gore_shape": "square"}),
    ("cloak", {}),
    ("cloak", {"shape": "three-quarter-circle", "closure": "toggle"}),
    ("cloak", {"shape": "rectangle", "loom_width": "60cm"}),
    ("leg-wraps", {"ends": "pointed", "shape": "tapered"}),
    ("cap", {}),
    ("head-scarf", {}),
    ("apron-dress", {"style": "pleated"}),
    ("apron-dress", {"strap_style": "single"}),
    ("apron-dress", {"style": "wrapped"}),
]


@pytest.mark.parametrize(("name", "options"), STYLES)
def test_the_schematic_lays_the_pieces_side_by_side(name, options):
    pattern = sewn(name, **options)
    laid = {}
    for placed in pattern.schematic:
        outline = pattern.piece(placed.piece).outline
        laid[placed.piece, placed.copy] = Polygon([(p.x, p.y) for p in
                                                   map(placed.motion, outline.polygon)])
    for key, shape in laid.items():
        for other, neighbour in laid.items():
            if key < other:
                assert shape.intersection(neighbour).area < 1, (key, other)
    assert set(laid) == {(piece.name, copy) for piece, copy in pattern.copies()}


@pytest.mark.parametrize("name", SMALL)
def test_every_small_garment_tells_its_history_with_provenance_and_cautions(name):
    garment = GARMENTS[name]
    assert garment.history.endswith(".")
    assert any(form in garment.provenance
               for form in ("source:", "from memory:", "common practice, no source"))
    assert sewn(name).cautions


@needs_survey
@pytest.mark.parametrize("name", SMALL)
def test_adults_of_the_survey_and_children_pass_with_what_is_chosen_for_them(name):
    # source of the bodies: ANSUR II, Gordon et al. 2014; the whole sweep: python -m tests.sweep
    for bodies in (survey_bodies(GARMENTS[name], every=120), children(GARMENTS[name], 40)):
        outcome = sweep(GARMENTS[name], bodies)
        assert not outcome.refused and not outcome.not_mended
        assert outcome.share >= 0.99


@needs_survey
@pytest.mark.parametrize("style", ["pleated", "wrapped"])
def test_the_apron_dress_s_other_styles_fit_as_many(style):
    garment = GARMENTS["apron-dress"]
    failed = 0
    bodies = [*survey_bodies(garment, every=120), *children(garment, 40)]
    for body in bodies:
        pattern = garment.draft(body, read_options(garment, {"style": style}, body))
        failed += not all(check.passed for check in true_up(pattern))
    assert failed <= 0.01 * len(bodies)
