"""A growth tuck measured on the pieces: its two rows are sewn to one another, so they must be equally long.

common practice, no source: a lower row may be up to 3 % longer, eased in; more makes pleats. Ours are equal.
"""

from itertools import product

import pytest
from shapely import LineString

from drafting.pattern import as_json
from drafting.sewing import sewing_plan
from drafting.words.problems import BadInput
from tests.wardrobe import ASTA, TAM, draft

STYLES, SHAPINGS = ("four-panels", "pleated", "wrapped"), ("waisted", "straight", "a-line")
CASES = [(style, shaping, body, tuck)
         for style, shaping, body, tuck in product(STYLES, SHAPINGS, (ASTA, TAM), ("2cm", "5cm"))
         if (style, shaping) != ("wrapped", "a-line")]


def rows(pattern):
    """mm along the tuck's upper and lower row, all pieces together, as the file gives them."""
    sums = [0.0, 0.0]
    for piece in as_json(pattern)["pieces"]:
        for line in piece["inner_lines"]:
            for i, row in enumerate(("tuck, upper line", "tuck, lower line")):
                if line["name"].endswith(row):
                    sums[i] += LineString(line["line"]).length * piece["cut"]
    return sums


@pytest.mark.parametrize(("style", "shaping", "body", "tuck"), CASES)
def test_both_rows_are_equally_long_and_as_long_as_the_dress_is_wide_there(style, shaping, body, tuck):
    pattern = draft("apron-dress", {"style": style, "shaping": shaping, "growth_tuck": tuck}, body)
    upper, lower = rows(pattern)
    assert upper > 0 and lower == pytest.approx(upper, rel=1e-3)
    finished = pattern.finished
    # The laps lie double, and a gore in a slit is wider by what the slit's edges are turned in.
    assert finished["waist_girth"] < upper < finished["hem_girth"] + finished.get("lap", 0.0) + 20


@pytest.mark.parametrize("options", [
    {}, {"gores": "all"}, {"gores": "all", "gore_cut": "halves"}, {"body_width": "narrow"}, {"gores": "none"},
    {"gore_start": "hip"}], ids=str)
@pytest.mark.parametrize(("garment", "body"), product(("underdress", "tunic", "wrap-coat"), (ASTA, TAM)))
def test_both_rows_of_a_garment_on_the_body_block_are_equally_long(garment, options, body):
    pattern = draft(garment, {"growth_tuck": "4cm", **options}, body)
    upper, lower = rows(pattern)
    assert upper > 0 and lower == pytest.approx(upper, rel=1e-3)
    finished = pattern.finished
    laps = 2 * finished.get("overlap", 0.0)
    assert 2 * finished["body_width"] < upper + 1 < finished["hem_girth"] + laps + 40


def test_a_tuck_too_shallow_to_sew_and_one_without_room_are_refused_in_words():
    for garment, short in (("tunic", {"length_to": "by-number", "length": "35cm", "gores": "none"}),
                           ("apron-dress", {"length": "36cm", "hem_girth": "100cm"})):
        for options, words in (({"growth_tuck": "2mm"}, "too shallow"),
                               ({"growth_tuck": "15cm", **short}, "no room")):
            with pytest.raises(BadInput, match=words):
                draft(garment, options, TAM)


@pytest.mark.parametrize("garment", ["apron-dress", "tunic", "underdress"])
def test_the_tuck_is_sewn_before_the_hem_is_levelled(garment):
    kinds = [step.kind for step in sewing_plan(draft(garment, {"growth_tuck": "4cm"})).steps]
    assert kinds.index("tuck") < kinds.index("hang") < kinds.index("hem")


@pytest.mark.parametrize("style", STYLES)
def test_the_rows_lie_twice_the_depth_apart_and_the_fold_ends_above_the_hem(style):
    """The fold, laid down, reaches its depth below the row; the finished hem lies lower still."""
    deep = 40.0
    for piece in draft("apron-dress", {"style": style, "growth_tuck": "4cm"}).pieces:
        found = sorted((line for line in piece.inner_lines
                        if line.kind == "tuck" and line.role == "tuck foot"), key=lambda line: line.name)
        if not found:
            continue
        (foot,) = found
        (head,) = (line for line in piece.inner_lines if line.kind == "tuck" and line.role is None
                   and line.path.length == pytest.approx(foot.path.length) and line.path.start.x
                   == pytest.approx(foot.path.start.x))
        for a, b in zip(head.path.points(1.0), foot.path.points(1.0), strict=True):
            assert a.distance(b) == pytest.approx(2 * deep)
        hem = LineString([(p.x, p.y) for p in piece.outline["hem"].path.points(1.0)])
        row = LineString([(p.x, p.y) for p in foot.path.points(1.0)])
        assert row.distance(hem) > deep + 10


def test_the_step_says_on_which_side_the_fold_stands():
    plan = sewing_plan(draft("apron-dress", {"growth_tuck": "4cm"}))
    (tuck,) = (step for step in plan.steps if step.kind == "tuck")
    assert "right sides together" in tuck.sentences[0] and "on the inside" in tuck.sentences[0]
