"""The typed order: read once, each bad value named, and no order drafted twice within one request."""

from dataclasses import FrozenInstanceError

import pytest

from drafting.body import Body
from drafting.command.line import main
from drafting.desk import drafts, less_cloth
from drafting.desk.order import Order, read_order
from drafting.requests import workbench
from drafting.words.problems import BadInput
from tests.drafts import VOLUNTEER, request

COAT = {"garment": "wrap-coat", "options": {"lining": "full"}, "cloth": {"width": "70cm"},
        "cloths": {"lining": {"width": "60cm"}}, "max_rounds": 60,
        "measurements": {"bust_girth": "96cm", "waist_girth": "80cm", "hip_girth": "104cm",
                         "arm_length": "56cm", "stature": "168cm"}}


@pytest.fixture
def drafted_orders(monkeypatch):
    """What has been drafted, told by the pieces and the options."""
    seen, plain = [], drafts.Draft

    def counted(order, pattern, *more):
        seen.append((pattern.pieces, tuple(sorted((k, str(v)) for k, v in pattern.options.items()))))
        return plain(order, pattern, *more)

    monkeypatch.setattr(drafts, "Draft", counted)
    return seen


def test_an_order_holds_read_values_and_cannot_be_changed():
    order = read_order(request(cloth={"width": "60"}, name=" Hild ", unit="cm", measured="2026-11-25"))
    assert isinstance(order, Order) and isinstance(order.body, Body)
    assert order.options["hem_girth"] == 2400.0 and order.cloth("main").width == 600.0
    assert (order.name, order.measured, order.garment.name) == ("Hild", "2026-11-25", "apron-dress")
    with pytest.raises(FrozenInstanceError):
        order.name = "Wulf"


@pytest.mark.parametrize(("changed", "field"), [
    ({"garment": "ball-gown"}, "garment"), ({"unit": "ell"}, "unit"), ({"sex": "both"}, "sex"),
    ({"measurements": [1]}, "measurements"), ({"options": "wide"}, "options"), ({"cloth": "wool"}, "cloth"),
    ({"cloths": "wool"}, "cloths"), ({"age_months": "³"}, "age_months"), ({"born": "soon"}, "born"),
    ({"measured": 7}, "measured"), ({"start": "bust_girth"}, "start"), ({"gussets": "later"}, "gussets"),
    ({"stitches": "many"}, "stitches"), ({"house_rules": 3}, "house_rules"),
    ({"activities": "fire"}, "activities"),
])
def test_every_bad_value_is_named_by_its_field(changed, field):
    with pytest.raises(BadInput) as caught:
        read_order({**request(), **changed})
    assert [p.field for p in caught.value.problems] == [field]
    assert all(p.message.endswith(".") for p in caught.value.problems)


def test_all_that_is_wrong_is_told_at_once():
    wrong = request(sex="cat", start="bust_girth", cloth="wool")
    wrong["measurements"]["waist_girth"] = "x"
    with pytest.raises(BadInput) as caught:
        read_order(wrong)
    assert [p.field for p in caught.value.problems] == ["sex", "waist_girth", "cloth", "start"]


def test_the_main_cloth_may_stand_among_the_others():
    apart = read_order(request(cloth={"width": "60", "nap": "yes"}))
    among = read_order(request(cloths={"main": {"width": "60", "nap": "yes"}}))
    assert apart.cloths == among.cloths
    looks = {"fibre": "linen", "colour": "woad"}
    assert read_order(request(cloths={"main": looks})).cloths is None
    assert read_order(request(cloths={"main": looks})).impression.colour == "woad"


@pytest.mark.parametrize("asked", [
    {"do": "draft"}, {"do": "lay"}, {"do": "sew"}, {"do": "shop", "seconds": 0.05},
    *({"do": "file", "kind": kind} for kind in ("pattern.json", "tiled.pdf", "booklet.pdf", "lay.json")),
], ids=lambda asked: asked.get("kind", asked["do"]))
def test_one_request_drafts_once(asked, drafted_orders):
    assert workbench.run({**COAT, **asked})["ok"]
    assert len(drafted_orders) == 1


def test_what_would_save_cloth_drafts_no_change_twice(monkeypatch):
    asked = []

    def counted(order):
        asked.append(repr((order.options, order.cloths)))
        return drafts.draft(order)

    monkeypatch.setattr(less_cloth, "draft", counted)
    result = workbench.run({**COAT, "do": "save"})
    assert result["ok"] and len(asked) > 5
    assert len(asked) == len(set(asked))


def test_the_command_line_drafts_once_however_many_files_it_writes(tmp_path, drafted_orders):
    given = [part for name, text in VOLUNTEER.items() for part in ("-m", f"{name}={text}")]
    main(["draft", "apron-dress", *given, "--cloth-width", "80cm", "--booklet", "--year", "900",
          "--region", "Denmark", "--seconds", "0.1", "--out", str(tmp_path)])
    assert (tmp_path / "booklet.pdf").exists() and (tmp_path / "lay.json").exists()
    assert len(drafted_orders) == 1


def test_the_girth_under_the_arms_stands_in_for_the_bust_and_the_error_is_told():
    measured = {"upper_chest_girth": "90", "waist_girth": "78", "torso_length": "38"}
    order = read_order({"garment": "apron-dress", "measurements": measured})
    assert order.body.is_estimated("bust_girth") and not order.body.is_estimated("upper_chest_girth")
    del measured["upper_chest_girth"]
    with pytest.raises(BadInput) as caught:
        read_order({"garment": "apron-dress", "measurements": measured})
    assert [p.field for p in caught.value.problems] == ["bust_girth"]


@pytest.mark.parametrize("asked", [
    {"do": "file", "kind": "pattern.json"}, {"do": "file", "kind": "tiled.pdf"}, {"do": "sew"},
    {"do": "advise"},
    {"do": "qr", "link": "https://marram.example/#hood"},
], ids=lambda asked: asked.get("kind", asked["do"]))
def test_what_needs_no_lay_is_done_before_numpy_is_there(asked):
    """The page asks for these before numpy is loaded."""
    import subprocess
    import sys

    program = (
        "import sys; sys.modules['numpy'] = None\n"
        "from drafting.requests.workbench import run\n"
        f"result = run({ {**request(), **asked}!r})\n"
        "assert result['ok'], result"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr


@pytest.mark.parametrize(
    ("name", "would_do"), [("bust_girth", "please measure it."), ("hip_girth", "estimated.")])
def test_a_measurement_of_nothing_is_told_to_be_left_empty_only_where_that_would_do(name, would_do):
    measured = {"bust_girth": "92", "waist_girth": "78", "torso_length": "38", name: "0"}
    with pytest.raises(BadInput) as refused:
        read_order({"garment": "apron-dress", "measurements": measured})
    (problem,) = refused.value.problems
    assert problem.field == name and problem.message.endswith(would_do)
