"""Wearers' files through the workbench: what was typed comes back; what is no such file is refused."""

import json

import pytest

from drafting.requests import workbench

EBBA = {"name": "Ebba", "measured": "2026-11-25", "unit": "cm", "sex": "woman", "age": 98,
        "measurements": {"bust_girth": "62,5", "stature": "4' 2\""}}


def test_what_is_written_is_read_back_as_it_was_typed():
    written = workbench.run({"do": "write-wearer", "wearer": EBBA})
    assert written["ok"] and written["name"] == "ebba.wearer.json"
    assert workbench.run({"do": "read-wearer", "text": written["text"]}) == {"ok": True, "wearer": EBBA}


def test_a_name_of_signs_alone_makes_a_file_name_all_the_same():
    written = workbench.run({"do": "write-wearer", "wearer": {"name": "../<b>"}})
    assert written["name"] == "b.wearer.json"
    assert workbench.run({"do": "write-wearer", "wearer": {"name": "!?"}})["name"] == (
        "wearer.wearer.json")


def test_a_script_in_a_name_is_a_name():
    name = "<script>alert(1)</script>"
    written = workbench.run({"do": "write-wearer", "wearer": {"name": name}})
    read = workbench.run({"do": "read-wearer", "text": written["text"]})
    assert read["wearer"]["name"] == name


@pytest.mark.parametrize(
    ("wearer", "says"),
    [
        ({}, "needs a name"), ({"name": ""}, "needs a name"), (None, "no wearer"), ([], "no wearer"),
        ({"name": "A", "age": "98"}, "does not read"), ({"name": "A", "shoe": "38"}, "shoe"),
        ({"name": "A", "born": "May"}, "2026-11-25"),
        ({"name": "A", "measurements": {"bust_girth": 5}}, "Bust girth"),
    ],
)
def test_what_is_no_wearer_is_not_written(wearer, says):
    result = workbench.run({"do": "write-wearer", "wearer": wearer})
    assert not result["ok"] and says in result["problems"][0]["message"]


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (None, "no text"), ("", "does not read"), ('{"format": "ellwand-wea', "cut off"),
        ('{"format": "x"}', "not a wearer"),
        (json.dumps({"format": "ellwand-wearer", "version": 3, "name": "A"}), "later Ellwand"),
        (json.dumps({"format": "ellwand-wearer", "version": 1, "name": "A", "age": True}), "age"),
    ],
)
def test_what_is_no_wearers_file_gets_its_sentence(text, says):
    result = workbench.run({"do": "read-wearer", "text": text})
    assert not result["ok"] and says in result["problems"][0]["message"]
