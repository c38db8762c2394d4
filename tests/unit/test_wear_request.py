"""The request `wear`: a garment on its wearer's figure, in plain values, watched and stopped."""

import json

from drafting.requests import workbench

CHILD = {"stature": "108", "bust_girth": "58", "waist_girth": "55", "hip_girth": "62", "crotch_length": "44"}
"""An invented body, for demo drafts: small, and so soon hung."""

TROUSERS = {"do": "wear", "garment": "trousers", "measurements": CHILD, "options": {}, "unit": "cm"}


def test_a_garment_is_told_as_it_comes_to_rest_and_shown_in_the_end():
    *steps, last = workbench.wear_in_steps(TROUSERS)
    done = [step["done"] for step in steps]
    assert all(step["ok"] and step["going_on"] for step in steps)
    assert done == sorted(done) and 0 < done[0] < done[-1] <= 1
    assert last["ok"] and "going_on" not in last
    assert json.loads(json.dumps(last)) == last
    assert json.loads(last["seen"])["colour"] == "#b9ac95"
    assert any("clears the floor by" in sentence and " cm" in sentence for sentence in last["sentences"])
    assert len(last["hem"]) == 36


def test_whoever_has_seen_enough_gets_the_last_picture():
    steps = workbench.wear_in_steps(TROUSERS)
    next(steps)
    last = steps.send(True)
    assert last["ok"] and json.loads(last["seen"])["cloth"]["points"]
    assert last["rounds"] < 50


def test_what_cannot_be_shown_worn_is_told_in_a_sentence():
    measured = {**CHILD, "torso_length": "18"}
    answer = workbench.run({**TROUSERS, "garment": "apron-dress", "measurements": measured,
                            "options": {"strap_style": "none"}})
    assert not answer["ok"]
    assert "without straps nothing holds it up" in answer["problems"][0]["message"]
