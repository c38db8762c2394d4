"""Reading measurements, completing a body, and what is said when that cannot be done."""

from math import isfinite

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafting.body import MEASURES, Body, Sex, complete, in_words, read_measurements
from drafting.body.joint import known_names
from drafting.words.problems import BadInput
from tests.bodies import any_measurements, likely_bodies, made_up_children

EVERY = tuple(MEASURES)


def test_every_measure_is_known_to_the_joint_distribution() -> None:
    assert set(known_names()) == set(MEASURES)


def test_every_measure_says_in_one_sentence_how_it_is_taken() -> None:
    for measure in MEASURES.values():
        assert measure.instruction.endswith(".")
        assert ". " not in measure.instruction
        assert 30 < len(measure.instruction) < 140
        assert len(measure.label) <= 30
        assert set(measure.best_estimated_from) <= set(MEASURES) - {measure.name}


def test_typed_measurements_are_read_whatever_way_the_name_is_written() -> None:
    values, problems = read_measurements(
        {"bust girth": "92,5", "Waist-Girth": "780 mm", "torso_length": '15"', "hip_girth": "  "}
    )
    assert values == {"bust_girth": 925, "waist_girth": 780, "torso_length": 381}
    assert problems == ()


def test_a_bare_number_is_taken_in_the_unit_that_was_chosen() -> None:
    assert read_measurements({"wrist_girth": "6 1/4"}, "in")[0] == {"wrist_girth": 158.75}


def test_each_bad_field_gets_its_own_problem_and_the_good_ones_are_kept() -> None:
    values, problems = read_measurements(
        {"bust_grith": "92", "waist_girth": "abc", "hip_girth": "0", "stature": "168"}
    )
    assert values == {"stature": 1680}
    assert [problem.field for problem in problems] == ["bust_grith", "waist_girth", "hip_girth"]
    assert "did you mean bust_girth?" in problems[0].message
    assert problems[1].message.startswith("Waist girth: “abc” is not a length")
    assert "more than zero" in problems[2].message
    assert {problem.severity for problem in problems} == {"error"}


def test_an_unknown_name_of_any_length_is_answered_briefly() -> None:
    (problem,) = read_measurements({"x" * 100_000: "92"})[1]
    assert len(problem.message) < 120


def test_a_body_gives_its_measures_and_names_what_it_lacks() -> None:
    body = Body({"bust_girth": 920.0})
    assert body["bust_girth"] == 920.0
    assert "bust_girth" in body
    assert "hip_girth" not in body
    with pytest.raises(BadInput, match="Hip girth is missing: please measure it"):
        body["hip_girth"]


@pytest.mark.parametrize("mm", [0.0, -5.0, float("nan"), float("inf")])
def test_a_body_refuses_a_length_that_is_none(mm: float) -> None:
    with pytest.raises(BadInput, match="Bust girth must be more than zero"):
        Body({"bust_girth": mm})


def test_what_was_measured_is_never_replaced_by_an_estimate() -> None:
    given_values = {"bust_girth": 1400.0, "stature": 1500.0}
    body = complete(given_values, EVERY)
    assert body.measured == given_values
    assert set(body.estimated) == set(MEASURES) - set(given_values)
    assert body.is_estimated("waist_girth")
    assert not body.is_estimated("bust_girth")


def test_measures_that_may_not_be_estimated_are_asked_for_by_name() -> None:
    with pytest.raises(BadInput) as refusal:
        complete(
            {"stature": 1680.0},
            ["bust_girth", "hip_girth", "waist_girth"],
            never_estimate=frozenset({"bust_girth", "waist_girth"}),
        )
    assert [problem.field for problem in refusal.value.problems] == ["bust_girth", "waist_girth"]


def test_nothing_is_estimated_from_nothing() -> None:
    with pytest.raises(BadInput, match="nothing is known yet"):
        complete({}, ["bust_girth"])


def test_a_child_s_age_alone_gives_a_first_idea_with_an_honest_error() -> None:
    body = complete({}, ["stature", "bust_girth"], age_months=96)
    # source: CDC growth charts 2000, median at 8 years about 128 cm, SD about 5.8 cm
    assert body["stature"] == pytest.approx(1280, abs=30)
    assert 50 < body.estimated["stature"] < 110


def test_three_measures_are_enough_for_an_apron_dress() -> None:
    body = complete(
        {"bust_girth": 920.0, "waist_girth": 780.0, "torso_length": 380.0},
        ["hip_girth", "shoulder_girth", "stature", "brooch_strap_length"],
        sex="woman",
    )
    # source: ANSUR II, 1,986 women: the ranges are its 5th and 95th percentiles
    assert 900 < body["hip_girth"] < 1151
    assert 944 < body["shoulder_girth"] < 1119
    assert 1525 < body["stature"] < 1735
    assert body.estimated["stature"] > 40


def test_another_measure_makes_an_estimate_surer() -> None:
    little = complete({"bust_girth": 920.0}, ["wrist_girth"])
    more = complete({"bust_girth": 920.0, "hand_girth": 185.0}, ["wrist_girth"])
    assert more.estimated["wrist_girth"] < 0.8 * little.estimated["wrist_girth"]


def test_estimates_are_given_with_their_error_in_words() -> None:
    body = Body({"wrist_girth": 156.0, "stature": 1680.0}, {"wrist_girth": 8.0})
    assert in_words(body, "wrist_girth") == "about 15.5 cm, ± 0.8 cm"
    assert in_words(body, "wrist_girth", "in") == "about 6 1/4 in, ± 5/16 in"
    assert in_words(body, "stature") == "168 cm"


@given(any_measurements(smallest=1), st.sampled_from(["woman", "man", None]),
       st.one_of(st.none(), st.integers(0, 1200)))  # fmt: skip
@settings(max_examples=200, deadline=None)
def test_whatever_is_given_the_estimates_stay_human(
    values: dict[str, float], sex: Sex | None, age_months: int | None
) -> None:
    body = complete(values, EVERY, sex=sex, age_months=age_months)
    for name, error in body.estimated.items():
        assert isfinite(error) and error > 0
        # From a toddler's to beyond the largest adult of ANSUR II, whose tallest is 1,993 mm.
        assert 60 <= body[name] <= 2200


@given(likely_bodies(), st.sets(st.sampled_from(EVERY), min_size=2))
@settings(max_examples=60, deadline=None)
def test_estimated_heights_keep_their_order(values: dict[str, float], kept: set[str]) -> None:
    body = complete({name: values[name] for name in kept | {"stature"}}, EVERY)
    order = ["stature", "cervicale_height", "axilla_height", "waist_height",
             "inside_leg_height", "knee_height"]  # fmt: skip
    estimated = [body[name] for name in order if name not in kept]
    assert estimated == sorted(estimated, reverse=True)


def test_a_child_s_girths_come_out_as_a_child_s() -> None:
    for child in made_up_children(60):
        body = complete({"stature": child.values["stature"]}, EVERY)
        for name in ("bust_girth", "waist_girth", "hip_girth", "head_girth", "arm_length"):
            assert abs(body[name] - child.values[name]) < 3.5 * body.estimated[name]


@pytest.mark.parametrize("sex", ["woman", "man", None])
def test_the_girths_of_the_chest_are_estimated_from_each_other(sex) -> None:
    bust = complete({"upper_chest_girth": 1000.0, "stature": 1680.0}, ["bust_girth"], sex=sex)
    assert 1000 <= bust["bust_girth"] <= 1120 and 15 < bust.estimated["bust_girth"] < 50
    upper = complete({"bust_girth": 1000.0, "stature": 1680.0}, ["upper_chest_girth"], sex=sex)
    assert 900 <= upper["upper_chest_girth"] <= 1000 and 10 < upper.estimated["upper_chest_girth"] < 40
