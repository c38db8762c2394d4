"""What is said about measurements that cannot be right, or hardly can."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafting.body import Body, Sex, check_body, plausible_range
from drafting.words.problems import BadInput
from drafting.words.wording import spell
from tests.bodies import any_measurements

DRESS = {"bust_girth": 920.0, "waist_girth": 780.0, "torso_length": 380.0}


def told(values: dict[str, float], **known: object) -> list[tuple[str, str, str]]:
    """Severity, field and sentence of each problem."""
    problems = check_body(values, **known)  # type: ignore[arg-type]
    return [(p.severity, p.field, spell(p.message, "cm")) for p in problems]


@pytest.mark.parametrize(
    "values",
    [
        DRESS,
        {"bust_girth": 920.0},
        {"stature": 1680.0, "bust_girth": 960.0},
        {"stature": 1950.0},
        {"stature": 1450.0, "bust_girth": 760.0},
        {"stature": 800.0, "bust_girth": 490.0, "waist_girth": 480.0},
        {"stature": 1200.0, "bust_girth": 620.0, "waist_girth": 570.0, "torso_length": 250.0},
        {"stature": 1680.0, "bust_girth": 1500.0, "waist_girth": 1480.0, "hip_girth": 1550.0},
        {},
    ],
)
def test_bodies_of_many_shapes_pass(values: dict[str, float]) -> None:
    assert told(values) == []


@pytest.mark.parametrize(
    ("values", "field", "sentence"),
    [
        ({**DRESS, "bust_girth": 92.0}, "bust_girth", "Did you mean 92 cm?"),
        ({**DRESS, "bust_girth": 9200.0}, "bust_girth", "Did you mean 92 cm?"),
        ({"head_girth": 5.6}, "head_girth", "smaller than any body's"),
        ({**DRESS, "waist_girth": 1400.0}, "waist_girth", "48 cm more than bust girth 92 cm"),
        ({"stature": 1680.0, "bust_girth": 290.0, "waist_girth": 780.0, "hip_girth": 980.0},
         "bust_girth", "did you mean 92 cm?"),
        ({"stature": 1550.0, "waist_height": 1600.0},
         "waist_height", "not less than height 155 cm"),
        ({"stature": 1680.0, "waist_height": 780.0, "inside_leg_height": 1010.0},
         "inside_leg_height", "Exchange them?"),
    ],
)  # fmt: skip
def test_what_no_body_shows_is_an_error_that_says_what_was_meant(
    values: dict[str, float], field: str, sentence: str
) -> None:
    ((severity, at, message),) = told(values)
    assert (severity, at) == ("error", field)
    assert sentence in message


@pytest.mark.parametrize(
    ("values", "field", "sentence"),
    [
        ({**DRESS, "waist_girth": 1000.0}, "waist_girth", "100 cm is more than bust girth 92 cm"),
        ({"stature": 1680.0, "wrist_girth": 90.0, "upper_arm_girth": 300.0},
         "wrist_girth", "14.5 cm to 17.1 cm is usual"),
        ({"stature": 1680.0, "wrist_girth": 61.4, "hand_girth": 190.0},
         "wrist_girth", "does not go with hand girth 19 cm: was it read in inches? That is 15.6 c"),
        ({"stature": 1680.0, "wrist_girth": 300.0, "upper_arm_girth": 155.0},
         "wrist_girth", "exchange them?"),
        ({"stature": 1650.0, "torso_length": 450.0}, "torso_length", "rare beside height 165 cm"),
        ({"stature": 661.4, "bust_girth": 362.2, "waist_girth": 307.1},
         "stature", "were they read in inches? Height would then be 168 cm"),
        ({"bust_girth": 2336.8, "waist_girth": 1981.2},
         "bust_girth", "were they read in centimetres? Bust girth would then be 92"),
    ],
)  # fmt: skip
def test_what_hardly_goes_together_is_a_warning_that_reconciles_it(
    values: dict[str, float], field: str, sentence: str
) -> None:
    ((severity, at, message),) = told(values)
    assert (severity, at) == ("warning", field)
    assert sentence in message


def test_both_fields_that_disagree_are_named() -> None:
    (problem,) = check_body({"stature": 1680.0, "wrist_girth": 61.4, "hand_girth": 190.0})
    assert problem.also == ("hand_girth",)


def test_a_waist_over_the_bust_is_believed_when_other_girths_bear_it_out() -> None:
    # source: ANSUR II, Gordon et al. 2014: a woman of the survey, to the centimetre
    stout = {"bust_girth": 1060.0, "waist_girth": 1130.0, "hip_girth": 1180.0, "thigh_girth": 720.0,
             "upper_arm_girth": 370.0, "shoulder_girth": 1130.0, "stature": 1640.0}  # fmt: skip
    assert told(stout, sex="woman") == []


def test_a_small_child_s_belly_may_be_larger_than_its_chest() -> None:
    assert told({"bust_girth": 510.0, "waist_girth": 530.0, "stature": 900.0}) == []
    assert told({"bust_girth": 510.0, "waist_girth": 530.0}, age_months=36) == []


def test_a_waist_and_a_bust_forty_centimetres_apart_are_refused_and_less_is_not() -> None:
    assert told({"bust_girth": 900.0, "waist_girth": 1300.0})[0][0] == "error"
    assert told({"bust_girth": 900.0, "waist_girth": 1299.0})[0][0] == "warning"


def test_an_age_that_does_not_go_with_the_measures_is_what_is_doubted() -> None:
    ((severity, at, message),) = told({"stature": 1680.0, "bust_girth": 900.0}, age_months=50)
    assert (severity, at) == ("warning", "stature")
    assert "4 years 2 months" in message


def test_estimates_are_not_held_against_what_was_measured() -> None:
    assert check_body(Body({"stature": 1680.0, "wrist_girth": 90.0}, {"wrist_girth": 8.0})) == ()


def test_a_body_s_own_sex_and_age_are_used() -> None:
    values = {"stature": 1320.0}
    assert check_body(Body(values, age_months=400))
    assert not check_body(Body(values, age_months=105))


def test_names_that_are_no_measures_are_left_alone() -> None:
    assert check_body({"shoe_size": 38.0}) == ()


@given(any_measurements(), st.sampled_from(["woman", "man", None]),
       st.one_of(st.none(), st.integers(0, 1500)))  # fmt: skip
@settings(max_examples=150, deadline=None)
def test_anything_typed_gets_sentences_and_no_more_than_it_has_fields(
    values: dict[str, float], sex: Sex | None, age_months: int | None
) -> None:
    problems = check_body(values, sex=sex, age_months=age_months)
    fields = [problem.field for problem in problems]
    assert set(fields) <= set(values)
    assert len(problems) <= len(values) + 1
    for problem in problems:
        sentence = spell(problem.message, "in")
        assert sentence[-1] in ".?"
        assert "⟨" not in sentence and "nan" not in sentence
        assert problem.severity in ("error", "warning")


def test_plausible_ranges_grow_with_stature() -> None:
    child, adult = (plausible_range("bust_girth", stature) for stature in (1100, 1700))
    assert child[0] < 570 < child[1] < adult[1]
    assert adult[0] < 940 < adult[1]
    assert plausible_range("stature")[0] < 800 and plausible_range("stature")[1] > 1950
    with pytest.raises(BadInput, match="not a measurement"):
        plausible_range("shoe_size")


def test_girths_that_are_all_half_are_told_together_with_what_they_would_be() -> None:
    half = {"stature": 1660.0, "bust_girth": 460.0, "waist_girth": 400.0, "hip_girth": 500.0,
            "arm_length": 580.0}
    (problem,) = check_body(half)
    assert "laid flat, half the way round" in problem.message
    assert {meant.field: meant.mm for meant in problem.meant} == {
        "bust_girth": 920.0, "waist_girth": 800.0, "hip_girth": 1000.0}
    assert check_body({**half, "bust_girth": 920.0, "waist_girth": 800.0, "hip_girth": 1000.0}) == ()


def test_a_small_child_is_no_grown_body_with_half_its_girths() -> None:
    # An invented child of two, for demo drafts: half of a slender adult's girths.
    assert check_body({"stature": 880.0, "bust_girth": 500.0, "waist_girth": 480.0, "hip_girth": 510.0}) == ()


def test_what_was_meant_goes_with_the_slip() -> None:
    (problem,) = check_body({**DRESS, "waist_girth": 390.0})
    assert [(m.field, m.mm, m.unit) for m in problem.meant] == [("waist_girth", 780.0, None)]
    (problem,) = check_body({"bust_girth": 362.2, "waist_girth": 307.1, "stature": 661.4})
    assert {m.field: (round(m.mm / 25.4, 1), m.unit) for m in problem.meant} == {
        "bust_girth": (36.2, "in"), "waist_girth": (30.7, "in"), "stature": (66.1, "in")}
