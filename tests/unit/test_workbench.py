"""The workbench answers every request, however bad, with plain values."""

import json

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from drafting.requests import workbench
from drafting.words.units import parse_length
from tests.drafts import request

anything = st.recursive(
    st.none() | st.booleans() | st.floats() | st.integers() | st.text(max_size=30),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=12), inner, max_size=3),
    max_leaves=8,
)


def problems(result):
    assert not result["ok"]
    for problem in result["problems"]:
        assert problem["message"].strip().endswith((".", "!", "?"))
        assert "Traceback" not in problem["message"]
        assert "went wrong" not in problem["message"]
    return {problem["field"]: problem["message"] for problem in result["problems"]}


def test_a_draft_is_plain_json():
    result = workbench.run(request())
    assert result["ok"] and result["passed"]
    assert json.loads(json.dumps(result)) == result
    assert result["preview"].startswith("<svg")


def test_what_can_be_drafted_is_described_with_every_field_the_garment_takes():
    result = workbench.run({"do": "describe"})
    (dress,) = (g for g in result["garments"] if g["name"] == "apron-dress")
    for name in dress["needs"] + dress["uses"]:
        assert result["measures"][name]["instruction"].endswith(".")
        assert result["measures"][name]["figure"].startswith("<svg")
    assert {option["kind"] for option in dress["options"]} <= {"length", "choice", "count"}
    json.dumps(result)


@pytest.mark.parametrize("unit", ["cm", "in"])
def test_lengths_are_told_in_the_readers_unit(unit):
    result = workbench.run(request(unit=unit))
    texts = [row["text"] for row in result["finished"]] + [c["advice"] for c in result["checks"]]
    assert any(f" {unit}" in text for text in texts)
    other = {"cm": " in.", "in": " cm"}[unit]
    assert not any(other in text for text in texts)
    assert "⟨" not in json.dumps(result, ensure_ascii=False)


@pytest.mark.parametrize(
    "text", ["", " ", "0", "-3", "nine", "1e9", "nan", "inf", "🧵", "9" * 100_000, "92,500,00", "<b>1</b>"]
)
def test_a_bad_measurement_gets_a_sentence_at_its_own_field(text):
    found = problems(workbench.run(request(measurements={"waist_girth": text})))
    assert list(found) == ["waist_girth"]
    assert len(found["waist_girth"]) < 400


@pytest.mark.parametrize("text", ["92,5", "92.5 cm", "36¼\"", "0,925 m", " 92.5cm\n", "925 mm", "36 7/16 in"])
def test_lengths_as_people_type_them_are_drafted(text):
    assert workbench.run(request(measurements={"bust_girth": text}))["ok"]


def test_a_waist_beyond_any_body_is_refused_at_the_waist():
    found = problems(workbench.run(request(measurements={"waist_girth": "140cm"})))
    assert "waist_girth" in found


def test_a_missing_measurement_is_asked_for():
    result = workbench.run({"do": "draft", "garment": "apron-dress"})
    assert set(problems(result)) == {"bust_girth", "waist_girth", "torso_length"}


@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.dictionaries(
    st.sampled_from(["do", "garment", "measurements", "options", "unit", "sex", "age_months", "name",
                     "kind", "paper"]),
    anything | st.sampled_from(["draft", "file", "apron-dress", "cm", "pieces.svg", "A4", "woman"]),
))
def test_no_request_makes_the_workbench_raise(given_request):
    result = workbench.run(given_request)
    if not result["ok"]:
        problems(result)


@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.dictionaries(st.sampled_from(["bust_girth", "waist_girth", "torso_length", "hip_girth"]),
                    st.floats(1, 300).map(str) | st.text(max_size=15)),
    st.dictionaries(st.sampled_from(["length", "hem_girth", "scoop", "growth_tuck", "shaping",
                                     "opening", "seam_allowance", "bust_ease", "waist_ease"]),
                    st.floats(0, 900).map(str) | st.sampled_from(["a-line", "straight", "none", "side"])),
)
def test_no_text_in_a_field_makes_the_workbench_stumble(measurements, options):
    result = workbench.run(request(measurements=measurements, options=options))
    if not result["ok"]:
        problems(result)


@pytest.mark.parametrize("unit", ["cm", "in", "mm", "m"])
def test_a_remedy_is_a_number_in_the_forms_unit_and_mends_its_check(unit):
    asked = {"do": "draft", "garment": "apron-dress", "unit": unit,
             "measurements": {"bust_girth": "92cm", "waist_girth": "78cm", "torso_length": "38cm"},
             "options": {"length": "115cm", "hem_girth": "140cm"}}
    failing = next(c for c in workbench.run(asked)["checks"] if c["name"] == "room to stride")
    assert not failing["passed"]
    remedy = next(r for r in failing["remedies"] if r["option"] == "hem_girth")
    assert float(parse_length(remedy["value"], unit)) > 1400.0
    asked["options"]["hem_girth"] = remedy["value"]
    assert next(c for c in workbench.run(asked)["checks"] if c["name"] == "room to stride")["passed"]
