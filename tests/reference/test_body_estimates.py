"""Estimates against the survey they come from, and against least squares by numpy.

source, unless another is named: ANSUR II, Gordon et al. 2014, NATICK/TR-15/007.
"""

import json
import random
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from typing import Any

import numpy as np
import pytest
from rcpchgrowth.global_functions import measurement_from_sds

import drafting.body.joint as joint_module
from drafting.body import Sex
from drafting.body.children import typical_child
from drafting.body.data import load
from drafting.body.growth import stature_at
from drafting.body.joint import Joint, joint
from tests.bodies import SurveyBody, ansur_bodies, needs_survey
from tests.bodies.survey import TAPED
from tests.reference import refit_estimates

GIVEN = [
    ("stature",),
    ("bust_girth",),
    ("bust_girth", "waist_girth"),
    ("stature", "bust_girth", "waist_girth", "hip_girth"),
    ("stature", "bust_girth", "head_girth", "wrist_girth", "arm_length", "inside_leg_height"),
    tuple(TAPED),
]


def test_the_data_in_the_package_are_the_survey_s_means() -> None:
    # source: shared check values, women and men of ANSUR II, mean and SD in mm
    women_and_men: dict[Sex, dict[str, tuple[float, float]]] = {
        "woman": {"stature": (1628.5, 64.2), "bust_girth": (946.9, 82.7),
                  "waist_girth": (860.9, 99.9), "hip_girth": (1021.2, 75.9),
                  "head_girth": (561.1, 19.4), "shoulder_girth": (1028.2, 52.9)},
        "man": {"stature": (1756.2, 68.6), "bust_girth": (1058.7, 87.4),
                "waist_girth": (940.6, 111.7), "hip_girth": (1019.5, 76.7),
                "head_girth": (574.4, 16.0), "shoulder_girth": (1178.6, 63.6)},
    }  # fmt: skip
    adults = load("adults")
    for sex, measures in women_and_men.items():
        for name, (mean, sd) in measures.items():
            at = adults["names"].index(name)
            assert adults[sex]["mean"][at] == pytest.approx(mean, abs=0.06)
            assert adults[sex]["sd"][at] == pytest.approx(sd, abs=0.06)


@needs_survey
def test_the_data_in_the_package_are_the_fit_to_the_survey() -> None:
    stored = json.loads(refit_estimates.DATA.read_text())
    assert refit_estimates.agrees(stored, refit_estimates.table())
    stored["woman"]["mean"][0] += 0.1
    assert not refit_estimates.agrees(stored, refit_estimates.table())


@pytest.mark.parametrize("sex", ["woman", "man"])
def test_the_correlations_are_those_of_some_body(sex: Sex) -> None:
    adults = load("adults")
    size = len(adults["names"])
    correlation = np.eye(size)
    correlation[np.tril_indices(size, -1)] = adults[sex]["correlation"]
    correlation = correlation + np.tril(correlation, -1).T
    assert np.linalg.eigvalsh(correlation)[0] > 0
    assert np.abs(correlation).max() <= 1


@needs_survey
@pytest.mark.parametrize("given", GIVEN, ids=lambda given: f"{len(given)} from {given[0]}")
@pytest.mark.parametrize("sex", ["woman", "man", None])
def test_estimates_err_at_most_a_tenth_more_than_least_squares(
    sex: Sex | None, given: tuple[str, ...]
) -> None:
    """Both are fitted to one half of the survey and tried on bodies of the other half."""
    fitted_to, tried_on = _halves()
    tried = [body for body in tried_on if sex in (None, body.sex)][:120]
    fitting = [body for body in fitted_to if sex in (None, body.sex)]
    with _fitted_to_half() as model:
        chosen = model(sex)
        for target in TAPED:
            names = [name for name in given if name != target]
            if not names:
                continue
            truth = np.array([body.values[target] for body in tried])
            squares = _least_squares(fitting, tried, names, target)
            ours = np.array([
                chosen.estimate(target, {name: body.values[name] for name in names}).mean
                for body in tried
            ])  # fmt: skip
            assert _rms(ours - truth) <= 1.1 * _rms(squares - truth), target


@needs_survey
@pytest.mark.parametrize("given", GIVEN[:5], ids=lambda given: f"{len(given)} from {given[0]}")
def test_the_error_that_is_shown_is_the_error_that_is_made(given: tuple[str, ...]) -> None:
    tried = random.Random(3).sample(ansur_bodies(), 150)
    for sexless in (True, False):
        for target in TAPED:
            if target in given:
                continue
            off = []
            for body in tried:
                model = joint(None if sexless else body.sex)
                known = {name: body.values[name] for name in given}
                estimate = model.estimate(target, known)
                off.append((body.values[target] - estimate.mean) / estimate.sd)
            # One SD, within what 150 bodies and a spread that grows with size let one see.
            assert 0.75 < _rms(np.array(off)) < 1.3, target


def test_one_normal_s_estimate_is_worked_out_by_numpy_alike() -> None:
    """The conditional mean and SD of a multivariate normal: Schur complement, plane algebra."""
    adults = load("adults")
    names: list[str] = adults["names"]
    woman = adults["woman"]
    correlation = np.eye(len(names))
    correlation[np.tril_indices(len(names), -1)] = woman["correlation"]
    correlation = correlation + np.tril(correlation, -1).T
    covariance = correlation * np.outer(woman["sd"], woman["sd"])
    given = {"stature": 1650.0, "bust_girth": 940.0, "arm_length": 550.0}
    at = [names.index(name) for name in given]
    target = names.index("wrist_girth")
    # A careful reading's error is part of what is known (READING_ERROR).
    known = covariance[np.ix_(at, at)] + np.diag(
        joint_module.READING_ERROR * np.diag(covariance)[at]
    )
    across = covariance[target, at]
    off = np.array(list(given.values())) - np.array(woman["mean"])[at]
    mean = woman["mean"][target] + across @ np.linalg.solve(known, off)
    sd = np.sqrt(covariance[target, target] - across @ np.linalg.solve(known, across))
    estimate = joint("woman", 30 * 12).estimate("wrist_girth", given)
    # The heavier kinds of body have some thousandths of the say.
    assert estimate.mean == pytest.approx(mean, abs=0.3)
    assert estimate.sd == pytest.approx(sd, abs=0.1)


def test_children_s_heads_are_those_of_the_growth_charts() -> None:
    # source: UK90 and WHO head circumference (Cole, Freeman & Preece 1998; WHO 2006), by
    # rcpchgrowth
    for stature in range(900, 1651, 50):
        age = _usual_age(stature)
        both = [measurement_from_sds("uk-who", 0, "ofc", sex, age) for sex in ("female", "male")]
        assert typical_child(stature)["head_girth"] == pytest.approx(5 * sum(both), abs=8)


def test_children_s_mass_is_that_of_the_growth_charts() -> None:
    # source: CDC growth charts 2000, weight for age, by rcpchgrowth
    for stature in range(900, 1651, 50):
        age = _usual_age(stature)
        both = [measurement_from_sds("cdc", 0, "weight", sex, age) for sex in ("female", "male")]
        assert typical_child(stature)["weight_kg"] == pytest.approx(sum(both) / 2, rel=0.06)


@pytest.mark.parametrize(
    ("stature", "chest", "waist", "hip"),
    [(1040, 560, 530, 580), (1160, 600, 550, 630), (1280, 640, 590, 690), (1400, 690, 630, 750),
     (1520, 760, 670, 820)],
)  # fmt: skip
def test_children_s_girths_are_those_of_the_size_designation(
    stature: float, chest: float, waist: float, hip: float
) -> None:
    # from memory: EN 13402-3, children by stature, cm, boys' and girls' rounded together
    typical = typical_child(stature)
    assert typical["bust_girth"] == pytest.approx(chest, abs=20)
    assert typical["waist_girth"] == pytest.approx(waist, abs=20)
    assert typical["hip_girth"] == pytest.approx(hip, abs=20)


def test_children_grow_into_adult_proportions() -> None:
    adults = load("adults")
    for name, mean in zip(adults["names"], adults["woman"]["mean"], strict=True):
        if name != "weight_kg":
            assert typical_child(1628.5)[name] == pytest.approx(mean, rel=0.16), name


@cache
def _halves() -> tuple[list[SurveyBody], list[SurveyBody]]:
    shuffled = random.Random(20261125).sample(ansur_bodies(), len(ansur_bodies()))
    return shuffled[::2], shuffled[1::2]


@cache
def _half_table() -> dict[str, Any]:
    return refit_estimates.table(tuple(_halves()[0]))


@contextmanager
def _fitted_to_half() -> Iterator[type[Joint]]:
    """The joint distribution as it would be, had only half of the survey been there."""
    caches = [joint_module.joint, joint_module._correlation, joint_module._inverse,
              joint_module._pull]  # fmt: skip
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(joint_module, "load",
                      lambda name: _half_table() if name == "adults" else load(name))  # fmt: skip
        for one in caches:
            one.cache_clear()
        yield Joint
    for one in caches:
        one.cache_clear()


def _least_squares(
    fitted_to: list[SurveyBody], tried: list[SurveyBody], given: list[str], target: str
) -> np.ndarray:
    def design(bodies: list[SurveyBody]) -> np.ndarray:
        return np.array([[1.0, *(body.values[name] for name in given)] for body in bodies])

    truth = np.array([body.values[target] for body in fitted_to])
    coefficients = np.linalg.lstsq(design(fitted_to), truth, rcond=None)[0]
    return np.asarray(design(tried) @ coefficients)


def _rms(errors: np.ndarray) -> float:
    return float(np.sqrt(np.mean(errors**2)))


def _usual_age(stature: float) -> float:
    """Years at which this is the median stature."""
    return min(range(25, 204), key=lambda m: abs(stature_at(0, None, m) - stature)) / 12
