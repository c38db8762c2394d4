"""A growth tuck measured on the pieces: its two rows are sewn to one another, so they must be equally long.

common practice, no source: a lower row may be up to 3 % longer, eased in; more makes pleats. Ours are equal.
"""

from itertools import product

import pytest
from shapely import LineString

from drafting.pattern import as_json
from drafting.sewing import sewing_plan
from tests.wardrobe import ASTA, TAM, draft

STYLES, SHAPINGS = ("four-panels", "pleated", "wrapped"), ("waisted", "straight", "a-line")
CASES = [(style, shaping, body, tuck)
         for style, shaping, body, tuck in product(STYLES, SHAPINGS, (ASTA, TAM), ("2cm", "5cm"))
         if (style, shaping) != ("wrapped", "a-line")]


def rows(pattern):
    """mm along the tuck's upper and lower row, all pieces together, as the file gives them."""
    sums = [0.0, 0.0]
    for piece in as_json(pattern)["pieces"]:
        tucks = [line["line"] for line in piece["inner_lines"]
                 if line["kind"] == "tuck" and line["name"].startswith("tuck")]
        for i, line in enumerate(sorted(tucks, key=lambda line: line[0][1])):
            sums[i] += LineString(line).length * piece["cut"]
    return sums


@pytest.mark.parametrize(("style", "shaping", "body", "tuck"), CASES)
def test_both_rows_are_equally_long_and_as_long_as_the_dress_is_wide_there(style, shaping, body, tuck):
    pattern = draft("apron-dress", {"style": style, "shaping": shaping, "growth_tuck": tuck}, body)
    upper, lower = rows(pattern)
    assert upper > 0 and lower == pytest.approx(upper, rel=1e-3)
    finished = pattern.finished
    # The laps lie double, and a gore in a slit is wider by what the slit's edges are turned in.
    assert finished["waist_girth"] < upper < finished["hem_girth"] + finished.get("lap", 0.0) + 20


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
