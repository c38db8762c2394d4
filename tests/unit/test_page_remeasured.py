"""One person measured twice: theirs, mine or both, and back."""

import copy
import json

import pytest

import kittexts
import kitvalues
import remeasured
from drafting.requests import workbench
from tests.unit.test_kit_on_the_page import GARMENTS, LENGTHS

HILD = {"name": "Hild", "unit": "cm", "measured": "2026-03-01",
        "measurements": {"bust_girth": "92", "waist_girth": "78"}}
AGAIN = {**HILD, "measured": "2026-10-12",
         "measurements": {"bust_girth": "94", "waist_girth": "80", "hip_girth": "101"}}
"""An invented volunteer of Marram Farm, measured in spring and in autumn."""


def kit_of(person, *garments):
    return {
        "format": "ellwand-kit", "version": 5, "title": "", "unit": "cm", "impression": {},
        "house_rules": None,
        "wearers": [{"id": "w1", **person}], "cloths": [],
        "garments": [
            {"id": f"g{i}", "wearer": "w1", "garment": kind, "cloths": {}, "options": options, "done": done}
            for i, (kind, options, done) in enumerate(garments, 1)
        ],
    }


@pytest.fixture
def merged():
    """(the page's kit of both, what the worker says of the one who is in it twice)."""
    mine = kit_of(HILD, ("hood", {}, ["a"]), ("tunic", {"length": "100"}, []))
    theirs = kit_of(AGAIN, ("hood", {}, ["b"]), ("cap", {}, []))
    answer = workbench.run({"do": "merge-kits", "mine": mine, "theirs": theirs})
    (twice,) = answer["remeasured"]
    return kittexts.from_file(answer["kit"], GARMENTS[0], LENGTHS), twice


def test_it_is_said_when_either_was_taken_and_what_differs(merged):
    _, twice = merged
    assert twice["dates"] == ["2026-03-01", "2026-10-12"]
    for part in ("2026-03-01", "2026-10-12", "bust girth 92 cm and 94 cm", "hip girth nothing and 101 cm"):
        assert part in twice["said"]


def test_a_wearer_who_is_the_same_or_has_another_name_is_not_asked_about():
    for other in (HILD, {**AGAIN, "name": "Osgar"}):
        answer = workbench.run({"do": "merge-kits", "mine": kit_of(HILD), "theirs": kit_of(other)})
        assert answer["remeasured"] == []


@pytest.mark.parametrize(("take_theirs", "bust"), [(True, "94"), (False, "92")])
def test_one_wearer_is_left_with_every_garment_once_and_all_that_was_sewn(merged, take_theirs, bust):
    kit, twice = merged
    remeasured.settle(kit, twice["mine"], twice["theirs"], take_theirs, LENGTHS)
    (hild,) = kit["wearers"]
    assert hild["id"] == "w1" and hild["measurements"]["bust_girth"] == bust
    assert hild["measured"] == ("2026-10-12" if take_theirs else "2026-03-01")
    assert sorted(g["garment"] for g in kit["garments"]) == ["cap", "hood", "tunic"]
    assert {g["wearer"] for g in kit["garments"]} == {"w1"}
    hood = next(g for g in kit["garments"] if g["garment"] == "hood")
    assert sorted(hood["done"]) == ["a", "b"]
    assert kitvalues.entry(kit["garments"], kit["at"])


def test_options_keep_their_meaning_where_the_other_tape_was_in_inches(merged):
    kit, twice = merged
    theirs = kitvalues.entry(kit["wearers"], twice["theirs"])
    theirs["unit"] = "in"
    remeasured.settle(kit, twice["mine"], twice["theirs"], True, LENGTHS)
    tunic = next(g for g in kit["garments"] if g["garment"] == "tunic")
    assert kit["wearers"][0]["unit"] == "in" and tunic["options"]["length"] == "100 cm"


@pytest.mark.parametrize("take_theirs", [True, False])
def test_it_can_be_undone(merged, take_theirs):
    kit, twice = merged
    before = copy.deepcopy(kit)
    gone = remeasured.settle(kit, twice["mine"], twice["theirs"], take_theirs, LENGTHS)
    kit = json.loads(json.dumps(kit))  # as it is kept
    remeasured.undo(kit, gone)
    for which in ("wearers", "garments"):
        now = sorted(kit[which], key=lambda one: one["id"])
        was = sorted(before[which], key=lambda one: one["id"])
        for one, other in zip(now, was, strict=True):
            assert {**one, "done": 0} == {**other, "done": 0}
