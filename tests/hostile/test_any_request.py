"""Bodies, options, cloths and kits that nobody thought of, and those that once went wrong.

The whole search is `python -m tests.fuzz --requests 100000`; here is a slice of it.
"""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from drafting.requests import workbench
from tests.fuzz import DOINGS, Maker, stretch, wrong_with

SLICE = 60
CLOTH = {"width": "90 cm", "name": "wool\ude00"}


@pytest.mark.parametrize("first", range(0, 8 * SLICE, SLICE))
def test_requests_nobody_thought_of_are_answered(first):
    _, failures = stretch(20261125, first, SLICE)
    assert not failures


@pytest.mark.parametrize("do", DOINGS)
@settings(max_examples=12, suppress_health_check=list(HealthCheck))
@given(rng=st.randoms())
def test_whatever_is_asked_for_is_answered(do, rng):
    request = Maker(rng).request(do)
    assert wrong_with(request) is None, request


def test_everything_the_workbench_does_is_asked_for():
    assert set(DOINGS) == set(workbench._WORK)


def test_on_folded_cloth_a_curve_that_begins_twice_at_one_point_is_chalked():
    assert wrong_with({
        "do": "file", "kind": "lay.svg", "garment": "underdress", "seconds": 20, "max_rounds": {"main": 3},
        "cloth": {"width": "22 in", "folded": "yes"},
        "measurements": {"stature": "100.57 cm", "bust_girth": "49.13 cm", "hip_girth": "52.65 cm",
                         "arm_length": "32.89 cm"},
    }) is None


def test_half_a_letter_in_a_name_is_left_out_of_the_files():
    request = {"do": "file", "garment": "cap", "measurements": {"head_girth": "56 cm"}, "name": "Hil\ud83dd"}
    for kind in ("pieces.svg", "tiled.pdf", "booklet.pdf", "lay.svg", "lay.json", "chalk-plan.pdf"):
        more = {"kind": kind, "max_rounds": {"main": 3}, "cloth": CLOTH, "seconds": 20}
        result = workbench.run({**request, **more})
        assert result["ok"]
        if kind == "pieces.svg":
            assert "Hild" in result["bytes"].decode()
