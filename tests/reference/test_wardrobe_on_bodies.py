"""Garments on every 25th adult of the survey and on made-up children, with default options.

source of the bodies: ANSUR II (Gordon et al. 2014, NATICK/TR-15/007); the children are demo data made as
tests/bodies/made_up.py says. The whole survey is run by `python -m tests.sweep`.
"""

import pytest

from drafting.garments import GARMENTS
from tests.bodies.survey import needs_survey
from tests.sweep import Outcome, children, survey_bodies, sweep

NAMES = ("underdress", "tunic", "wrap-coat", "trousers")


def is_well(outcome: Outcome) -> None:
    assert not outcome.refused
    assert not outcome.not_mended
    assert outcome.share >= 0.99, outcome.failed


@needs_survey
@pytest.mark.parametrize("name", NAMES)
def test_adults_pass_with_the_defaults_and_where_not_the_advice_helps(name):
    is_well(sweep(GARMENTS[name], survey_bodies(GARMENTS[name], every=25)))


@pytest.mark.parametrize("name", NAMES)
def test_children_pass_with_the_defaults_and_where_not_the_advice_helps(name):
    is_well(sweep(GARMENTS[name], children(GARMENTS[name], 80)))
