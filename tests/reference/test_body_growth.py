"""Growth against the published charts.

source: CDC growth charts 2000, stature for age (Kuczmarski et al. 2002, Vital and Health Statistics
11(246)), as the PyPI library rcpchgrowth 4.6 carries them; LMS: Cole & Green 1992, Statistics in
Medicine 11:1305.
"""

import pytest
from rcpchgrowth.global_functions import centile as centile_of
from rcpchgrowth.global_functions import measurement_from_sds, sds_for_measurement

from drafting.body import Sex, growth
from drafting.body.data import load
from drafting.words.problems import BadInput
from tests.bodies import made_up_children

BOTH: list[tuple[Sex, str]] = [("woman", "female"), ("man", "male")]


@pytest.mark.parametrize(("sex", "theirs"), BOTH)
def test_the_table_is_the_published_one(sex: Sex, theirs: str) -> None:
    table = load("cdc2000_stature")
    assert len(table["months"]) == 218
    for months in table["months"]:
        for z in (-2.0, 0.0, 2.0):
            ours = growth.stature_at(z, sex, months)
            age = max(months / 12, 2.0000001) if months < 240 else 20
            assert ours == pytest.approx(
                10 * measurement_from_sds("cdc", z, "height", theirs, age), abs=0.05
            ), months


def test_eight_year_olds_are_as_printed() -> None:
    # source: CDC growth charts 2000, stature for age, 96.5 months, girls and boys
    assert growth.lms("woman", 96.5) == pytest.approx((-0.079283065, 127.8262759, 0.045968169))
    assert growth.lms("man", 96.5) == pytest.approx((0.455267507, 128.1237104, 0.045127088))


@pytest.mark.parametrize(("sex", "theirs"), BOTH)
def test_centiles_are_those_of_the_library(sex: Sex, theirs: str) -> None:
    for years in (2.5, 4, 6.25, 9, 12.7, 15, 19):
        for off in (-120, -40, 0, 55, 110):
            stature = growth.stature_at(0, sex, years * 12) + off
            z = sds_for_measurement("cdc", years, "height", stature / 10, theirs)
            # The library runs cubics between the months, this a straight line.
            assert growth.stature_z(stature, sex, years * 12) == pytest.approx(z, abs=0.004)
            assert growth.centile(stature, sex, years * 12) == pytest.approx(centile_of(z), abs=0.5)


@pytest.mark.parametrize(("sex", "theirs"), BOTH)
def test_a_child_stays_on_its_centile(sex: Sex, theirs: str) -> None:
    for years in (3, 7, 11, 13.5):
        for z in (-1.5, 0.0, 1.2):
            stature = growth.stature_at(z, sex, years * 12)
            for months in (6, 12, 18, 24):
                later = 10 * measurement_from_sds("cdc", z, "height", theirs, years + months / 12)
                ours = growth.expected_stature(stature, sex, years * 12, months)
                assert ours == pytest.approx(later, abs=1.5)


def test_without_a_sex_both_curves_count_alike() -> None:
    girl, boy = (growth.stature_at(0.5, sex, 100) for sex, _ in BOTH)
    assert growth.stature_at(0.5, None, 100) == pytest.approx((girl + boy) / 2)


def test_grown_ups_do_not_grow() -> None:
    assert growth.expected_stature(1700, "woman", 300, 24) == 1700
    (then,) = growth.expected({"stature": 1700.0, "arm_length": 560.0}, "woman", 300, (24,))
    assert then.values == {"stature": 1700.0, "arm_length": 560.0}


def test_growth_needs_a_stature_and_an_age_on_the_curve() -> None:
    with pytest.raises(BadInput, match="please measure it"):
        growth.expected({"bust_girth": 600.0}, None, 80)
    with pytest.raises(BadInput, match="begins at two years"):
        growth.expected({"stature": 760.0}, None, 15)


def test_lengths_and_girths_grow_with_the_child_and_the_head_hardly_does() -> None:
    for child in made_up_children(40):
        if child.age_months > 150:
            continue
        now = child.values
        (then,) = growth.expected(now, None, child.age_months, (24,))
        taller = then.stature / now["stature"]
        assert taller > 1.04
        for name in ("arm_length", "axilla_height", "inside_leg_height"):
            assert 1 < then.values[name] / now[name] < 1 + 1.6 * (taller - 1)
        assert 1 < then.values["bust_girth"] / now["bust_girth"] < 1 + 1.6 * (taller - 1)
        assert 1 < then.values["head_girth"] / now["head_girth"] < 1 + 0.55 * (taller - 1)


def test_months_are_counted_over_the_turn_of_the_year() -> None:
    assert growth.month_name("2026-11-25", 18) == "May 2028"
    assert growth.month_name("2026-11-25", 1) == "December 2026"
    assert growth.month_name("2026-11-25", 0) == "November 2026"
