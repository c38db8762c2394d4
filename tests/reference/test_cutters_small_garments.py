"""What the cutter's corrections ask of coat, hood, cloak and leg wraps, measured on pattern.json.

Bodies are invented. All common practice, no source, unless a source is named.
"""

import pytest
from shapely import Polygon

from drafting.checks.truing import true_up
from drafting.pattern import as_json
from tests.wardrobe import ASTA, TAM, draft, failing

THREE = {"stature": 960.0, "bust_girth": 530.0, "waist_girth": 520.0, "hip_girth": 540.0}
BIG_MAN = {"stature": 1850.0, "bust_girth": 1130.0, "waist_girth": 1080.0, "hip_girth": 1120.0}


def outline(pattern, name):
    (found,) = (piece for piece in as_json(pattern)["pieces"] if piece["name"] == name)
    return Polygon(found["sewing_line"])


@pytest.mark.parametrize(("body", "lap"), [(THREE, 70), (BIG_MAN, 130)])
def test_a_coats_fronts_lap_by_a_fifth_of_the_bodys_width(body, lap):
    pattern = draft("wrap-coat", {"body_width": "wide"}, body)
    # The front's middle is drawn at x = 0.
    left, _, right, _ = outline(pattern, "front").bounds
    assert -left == pytest.approx(lap, abs=5)
    back = outline(pattern, "back")
    assert -left / (back.bounds[2] - back.bounds[0]) == pytest.approx(0.2, abs=0.01)
    assert "fronts lie over each other" not in failing(pattern)


@pytest.mark.parametrize("body", [ASTA, TAM, THREE, BIG_MAN])
def test_a_hood_has_square_gores_and_goes_over_the_shoulders_and_a_tunic(body):
    pattern = draft("hood", {}, body)
    for name in ("front gore", "back gore"):
        square = outline(pattern, name)
        left, top, right, bottom = square.bounds
        assert square.area == pytest.approx((right - left) * (bottom - top), rel=1e-6)
        assert right - left == pytest.approx(bottom - top)
    (room,) = (check for check in true_up(pattern) if check.name == "room over the shoulders")
    shoulders = pattern.measurements["shoulder_girth"]
    assert room.passed and room.limit == pytest.approx(shoulders + 120)
    at_skin = draft("hood", {"over": "skin"}, body)
    (room,) = (check for check in true_up(at_skin) if check.name == "room over the shoulders")
    assert room.limit == pytest.approx(shoulders + 40)


def test_a_hood_too_tight_over_a_tunic_says_so():
    assert "room over the shoulders" in failing(draft("hood", {"depth": "30cm"}, BIG_MAN))


def test_a_mans_cloak_is_a_rectangle_of_about_1500_by_2400_folded_over_at_the_top():
    man = {**BIG_MAN, "stature": 1800.0}
    pattern = draft("cloak", {}, man)
    cloth = outline(pattern, "cloak")
    left, top, right, bottom = cloth.bounds
    assert cloth.area == pytest.approx((right - left) * (bottom - top))
    assert right - left == pytest.approx(1500, abs=50) and 2300 <= bottom - top <= 2500
    (found,) = (piece for piece in as_json(pattern)["pieces"] if piece["name"] == "cloak")
    (fold,) = (line["line"] for line in found["inner_lines"] if line["kind"] == "fold")
    # What hangs below the fold is the length asked for.
    assert right - fold[0][0] == pytest.approx(pattern.finished["length"])
    assert not failing(pattern)


@pytest.mark.parametrize("loom", [1300, 1500])
def test_a_cloak_takes_the_whole_width_of_a_loom_and_folds_over_what_is_left(loom):
    pattern = draft("cloak", {"loom_width": f"{loom}mm"}, {**BIG_MAN, "stature": 1800.0})
    (found,) = (piece for piece in as_json(pattern)["pieces"] if piece["name"] == "cloak")
    xs = [x for x, _ in found["cutting_line"]]
    # 20 mm of selvedges are lost: common practice, no source.
    assert max(xs) - min(xs) == pytest.approx(loom - 20, abs=0.5)
    assert pattern.finished["length"] == pytest.approx(draft(
        "cloak", {}, {**BIG_MAN, "stature": 1800.0}).finished["length"], abs=0.5)


@pytest.mark.parametrize("shape", ["half-circle", "three-quarter-circle"])
@pytest.mark.parametrize("body", [ASTA, TAM, BIG_MAN])
def test_a_sectors_neck_is_scooped_30_to_50_mm(shape, body):
    pattern = draft("cloak", {"shape": shape, "cut": "whole"}, body)
    (found,) = (piece for piece in as_json(pattern)["pieces"] if piece["name"] == "cloak")
    (neck,) = (edge["line"] for edge in found["edges"] if edge["name"] == "neck")
    assert all(30 <= (x * x + y * y) ** 0.5 <= 50 for x, y in neck)
    assert "closes round the neck" not in failing(pattern)
