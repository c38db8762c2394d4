"""The verb `wear`: the garment on its wearer's figure, as files and as sentences."""

import json
from xml.etree import ElementTree

import numpy as np
import pytest

from drafting.desk.drafts import draft
from drafting.desk.order import read_order
from drafting.desk.wearing import wear_in_steps as wear_in_steps_of
from drafting.requests.workbench import wear_in_steps
from tests.terminal import run
from tests.wardrobe import ASTA

BODY = ("-m", "stature=108", "-m", "bust_girth=58", "-m", "waist_girth=55", "-m", "hip_girth=62",
        "-m", "crotch_length=44", "-m", "head_girth=52", "-m", "shoulder_girth=70")
"""An invented child, for demo drafts: small, and so soon hung."""


@pytest.fixture(scope="module")
def worn(tmp_path_factory):
    out = tmp_path_factory.mktemp("worn")
    done = run("wear", "trousers", *BODY, "--colour", "madder", "--cloth-weight", "250", "--fibre", "wool",
               "--out", str(out))
    assert done.returncode == 0, done.stderr
    return out, done.stdout


def test_it_says_how_the_hem_hangs_and_where_it_is_close(worn):
    _, said = worn
    assert said.startswith("Trousers, worn\n  The hem ")
    assert "clears the floor by" in said
    assert "At the hips it is" in said


def test_the_json_holds_a_mesh_whose_triangles_are_those_of_the_uncut_cloth(worn):
    out, _ = worn
    told = json.loads((out / "worn.json").read_text())
    assert set(told) == {"points", "triangles", "flat", "figure", "hem", "seconds", "rounds", "residual"}
    points, corners, flat = (np.array(told[name]) for name in ("points", "triangles", "flat"))
    assert flat.shape == (len(corners), 3, 2)
    assert points[:, 2].min() > 0, "the floor is at 0"
    a, b = points[corners[:, 0]] - points[corners[:, 1]], flat[:, 0] - flat[:, 1]
    assert np.median(np.linalg.norm(a, axis=1) / np.linalg.norm(b, axis=1)) == pytest.approx(1.0, abs=0.02)
    assert max(max(face) for face in told["figure"]["triangles"]) < len(told["figure"]["points"])
    assert told["residual"] < 0.02
    assert {angle % 10 for angle, _ in told["hem"]} == {0}


def test_the_picture_has_three_views_and_says_what_it_shows(worn):
    out, _ = worn
    svg = ElementTree.parse(out / "worn.svg").getroot()
    space = "{http://www.w3.org/2000/svg}"
    assert [group.get("id") for group in svg.findall(f"{space}g")] == ["front", "left-side", "back"]
    assert "from the front, the left side and the back" in svg.findtext(f"{space}desc")
    for group in svg.findall(f"{space}g"):
        looks = {path.get("class")[0] for path in group.findall(f"{space}path")}
        assert {"c", "f", "h"} <= looks, "cloth, figure and hem"


def test_the_same_order_gives_the_same_garment(worn, tmp_path):
    out, _ = worn
    run("wear", "trousers", *BODY, "--colour", "madder", "--cloth-weight", "250", "--fibre", "wool",
        "--out", str(tmp_path))
    assert (tmp_path / "worn.svg").read_text() == (out / "worn.svg").read_text()


def test_a_pleated_dress_hangs_in_the_girths_it_is_finished_to():
    drafted = draft(read_order({
        "garment": "apron-dress", "unit": "mm", "options": {"style": "pleated"},
        "measurements": {**{name: str(value) for name, value in ASTA.items()}, "torso_length": "260"}}))
    worn = next(wear_in_steps_of(drafted))
    # source: the pattern's own finished measurements, in which the pleats are sewn
    hem = sum(worn.pattern.piece(cut.copy[0]).line("hem").length for cut in worn.mesh.pieces)
    assert hem == pytest.approx(drafted.pattern.finished["hem_girth"], rel=0.01)
    flat, hung = (one.piece("front").line("top").length for one in (drafted.pattern, worn.pattern))
    assert flat > hung + 50


def test_a_first_picture_comes_before_it_is_at_rest():
    measured = dict(pair.split("=") for pair in BODY if "=" in pair)
    told = list(wear_in_steps({"garment": "trousers", "unit": "cm", "measurements": measured}))
    assert all(step["ok"] for step in told), told[-1]
    with_picture = [k for k, step in enumerate(told) if "seen" in step]
    assert len(with_picture) == 2
    assert with_picture[0] < len(told) - 1 == with_picture[1]
    assert told[with_picture[0]]["seen"] != told[-1]["seen"]


@pytest.mark.parametrize(("garment", "more", "said"), [
    ("apron-dress", ("-m", "torso_length=18", "-o", "strap_style=none"), "without straps nothing holds it"),
    ("trousers", ("--cloth-weight", "5"), "A cloth of 5 g/m² cannot be hung"),
    ("trousers", ("--cloth-weight", "heavy"), "is not a weight in g/m²"),
])
def test_what_cannot_be_hung_is_told_in_a_sentence(garment, more, said, tmp_path):
    done = run("wear", garment, *BODY, *more, "--out", str(tmp_path))
    assert done.returncode == 2
    assert said in done.stderr
    assert "Traceback" not in done.stderr
