"""A group's own rules: read whatever comes, checked in the group's name, carried in a link."""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafting.both.link import read_rules, write_rules
from drafting.period.choice import read_choice
from drafting.period.dyes import DYES
from drafting.period.house_rules import (
    HouseRules,
    as_json,
    as_link_text,
    as_typed,
    check,
    clean,
    only_shown,
    read_house_rules,
    read_link_text,
    typed_rules,
)
from drafting.period.impression import Impression
from drafting.period.places import RANKS, REGIONS
from drafting.period.things import THINGS
from drafting.requests import workbench
from drafting.words.problems import BadInput

HEAD = {"format": "ellwand-house-rules", "version": 1}
MARRAM_FARM = {
    **HEAD, "group": "Marram Farm", "years": [850, 950], "regions": ["Denmark", "york"],
    "ranks": ["farmer", "poor"], "colours": ["brown", "weld"], "fibres": ["wool", "flax"],
    "not_allowed": ["zip", "wristwatches", "machine", "silk", "wrap coat"],
    "message": "Ask Hild before you buy cloth.",
}
RULES = read_house_rules(json.dumps(MARRAM_FARM))


def rulings(**changed):
    choice = read_choice(Impression(**{"garment": "tunic", "year": "900", "region": "denmark", **changed}))
    return {r.field: r.sentence for r in check(RULES, choice)}


def complaint(text):
    with pytest.raises(BadInput) as caught:
        read_house_rules(text)
    for problem in caught.value.problems:
        assert problem.field == "house_rules"
        assert problem.message.endswith(".") and len(problem.message) < 500
    return " ".join(p.message for p in caught.value.problems)


def test_names_and_aliases_are_read_as_what_they_mean():
    assert RULES.regions == ("denmark", "danelaw")
    assert RULES.fibres == ("wool", "linen")
    assert {"walnut", "bark-brown", "undyed-brown", "weld"} <= set(RULES.colours)


def test_what_keeps_the_rules_is_passed_in_silence():
    assert rulings(colour="walnut", fibre="wool", weave="tabby", fastening="belt") == {}


@pytest.mark.parametrize(("field", "text", "words"), [
    ("year", "980", "850–950"), ("year", "900-980", "850–950"), ("region", "Birka", "the Danelaw"),
    ("rank", "jarl", "thrall"), ("colour", "woad-pale", "weld yellow"), ("fibre", "hemp", "linen"),
    ("fastening", "zip", "zip"), ("making", "machine", "machine"), ("fibre", "silk", "silk"),
    ("thread", "silk", "silk"), ("trim", "silk", "silk"), ("garment", "wrap-coat", "wrap coat"),
])
def test_what_breaks_a_rule_is_told_in_the_groups_name(field, text, words):
    found = rulings(**{field: text})
    assert set(found) == {field}
    assert found[field].startswith("Marram Farm ") and words in found[field]


def test_a_colour_word_keeps_the_rules_when_one_of_its_dyes_does():
    assert rulings(colour="yellow") == {} and rulings(colour="weld") == {}
    assert set(rulings(colour="leaf-yellow")) == {"colour"}
    rules = read_house_rules(json.dumps({**HEAD, "not_allowed": ["purple", "woad"]}))
    def broken(colour):
        return check(rules, read_choice(Impression(**{
            "garment": "cap", "year": "900", "region": "york", "colour": colour})))
    assert broken("purple") and broken("lichen-purple") and broken("woad") and broken("violet")
    assert not broken("blue") and not broken("pink")


def test_what_cannot_be_looked_for_is_only_shown():
    assert only_shown(RULES) == ("wristwatches",)


def test_empty_rules_allow_everything():
    rules = read_house_rules(json.dumps(HEAD))
    assert rules == HouseRules() and rules.name == "Your group"
    assert check(rules, read_choice(Impression(**{"garment": "cap", "year": "600", "region": "rus"}))) == ()


def test_the_workbench_keeps_the_groups_rules_apart_from_the_advice():
    request = {"do": "advise", "garment": "tunic", "year": "980", "region": "Denmark"}
    plain = workbench.run(request)
    for text in (json.dumps(MARRAM_FARM), as_link_text(RULES)):
        result = workbench.run({**request, "house_rules": text})
        assert result["advice"] == plain["advice"]
        house = result["house"]
        assert house["group"] == "Marram Farm" and house["message"] == MARRAM_FARM["message"]
        assert [r["field"] for r in house["rulings"]] == ["year"]
        assert house["also_not_allowed"] == ["wristwatches"]
        assert read_link_text(house["link_text"]) == RULES


# --- Files that are no house rules ----------------------------------------------------------------


@pytest.mark.parametrize("text", [
    "", " ", "{", "[]", "null", "1", '"text"', "NaN", '{"format": NaN}', "[" * 10_000, '{"a":' * 5000,
    '{"format": "ellwand-kit", "version": 1}', '{"version": 1}', json.dumps({**HEAD, "version": 2}),
    json.dumps({**HEAD, "version": True}), json.dumps({**HEAD, "version": [1]}), "\x00", "9" * 19_000,
    "<html>", b"\xff\xfe\x00", b"", "x" * 20_001, '{"format": "ellwand-house-rules", "version": 1e999}',
])
def test_what_is_no_file_of_house_rules_gets_a_sentence(text):
    assert complaint(text)


@pytest.mark.parametrize(("field", "value", "words"), [
    ("years", [850], "two whole years"), ("years", [950, 850], "runs backwards"),
    ("years", [85, 950], "does not read"), ("years", [500, 900], "600 to 1100"),
    ("years", "850-950", "two whole years"), ("years", [True, 900], "two whole years"),
    ("years", [850.5, 900], "two whole years"), ("years", [10**400, 900], "two whole years"),
    ("regions", "denmark", "list of texts"), ("regions", ["Mordor"], "no region"),
    ("regions", [["denmark"]], "list of texts"), ("ranks", ["boss"], "no rank"),
    ("colours", ["crimsn"], "crimson"), ("colours", {"red": 1}, "list of texts"),
    ("fibres", ["wol"], "Did you mean wool?"), ("not_allowed", ["x"] * 61, "too many"),
    ("not_allowed", [1], "list of texts"), ("message", ["x"], "text in quotes"),
    ("message", "x" * 501, "too many"), ("group", 7, "text in quotes"), ("group", "x" * 81, "too many"),
    ("colors", ["red"], "no “colors”"), ("<script>", 1, "no “<script>”"),
    ("x" * 500, 1, "House rules have no"),
])
def test_a_bad_field_is_told_by_name(field, value, words):
    text = complaint(json.dumps({**HEAD, field: value}))
    assert words in text
    assert field[:40] in text


def test_everything_wrong_is_told_at_once():
    text = complaint(json.dumps({**HEAD, "years": 1, "regions": ["a"], "fibres": [2], "hats": 1}))
    assert all(word in text for word in ("years", "regions", "fibres", "hats"))


def test_texts_lose_control_and_direction_characters_and_keep_their_letters():
    assert clean("Łucja\u202e\x00\n  Þóra\tЖанна", 80) == "Łucja Þóra Жанна"
    rules = read_house_rules(json.dumps({**HEAD, "message": "a\u202eb\r\nc"}))
    assert rules.message == "a b c"


def test_a_file_with_a_byte_order_mark_is_read():
    assert read_house_rules(b"\xef\xbb\xbf" + json.dumps(MARRAM_FARM).encode()) == RULES
    assert read_house_rules("\ufeff" + json.dumps(MARRAM_FARM)) == RULES


# --- Files and links that are read back -----------------------------------------------------------

texts = st.text(max_size=40).map(lambda text: clean(text, 60))
some_rules = st.builds(
    HouseRules, group=texts,
    years=st.none() | st.tuples(st.integers(600, 1100), st.integers(600, 1100)).map(
        lambda y: (min(y), max(y))),
    regions=st.lists(st.sampled_from(list(REGIONS)), unique=True).map(tuple),
    ranks=st.lists(st.sampled_from(list(RANKS)), unique=True).map(tuple),
    colours=st.lists(st.sampled_from(list(DYES)), unique=True).map(tuple),
    fibres=st.lists(st.sampled_from(list(THINGS["fibre"])), unique=True).map(tuple),
    not_allowed=st.lists(texts.filter(bool), unique=True, max_size=8).map(tuple), message=texts,
)


@settings(max_examples=200, deadline=None)
@given(some_rules)
def test_rules_come_back_from_a_file_and_from_a_link_as_they_were(rules):
    assert read_house_rules(as_json(rules)) == rules
    assert read_link_text(as_link_text(rules)) == rules


def test_a_link_is_short_and_readable():
    text = as_link_text(RULES)
    assert text.startswith("1~gMarram Farm~y850,950~rdenmark,danelaw~")
    assert len(text) < 250


@settings(max_examples=300, deadline=None)
@given(st.text(alphabet="1~grykcfnm,_ab0\u202e", max_size=60) | st.text(max_size=40))
def test_a_damaged_link_is_read_or_told(text):
    try:
        read_link_text(text)
    except BadInput as error:
        assert all(p.field == "house_rules" and p.message.endswith(".") for p in error.problems)


@settings(max_examples=300, deadline=None)
@given(st.recursive(
    st.none() | st.booleans() | st.floats() | st.integers() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(
        st.sampled_from(["years", "regions", "colours", "message", "group", "not_allowed", "x"]), inner),
    max_leaves=8,
))
def test_any_json_is_read_or_told(value):
    content = {**HEAD, **value} if isinstance(value, dict) else value
    try:
        read_house_rules(json.dumps(content))
    except BadInput as error:
        assert all(p.field == "house_rules" and p.message.endswith(".") for p in error.problems)


# --- A form --------------------------------------------------------------------------------------


def test_rules_that_are_typed_are_those_that_a_file_holds():
    typed = {
        "group": "Marram Farm", "years": "850-950", "regions": "Denmark, York", "ranks": "farmer, poor",
        "colours": " brown ,weld,", "fibres": "wool, flax",
        "not_allowed": "zip, wristwatches, machine, silk, wrap coat", "message": MARRAM_FARM["message"],
    }
    assert typed_rules(typed) == RULES
    assert typed_rules(as_typed(RULES)) == RULES
    written = workbench.run({"do": "write-house-rules", "rules": typed})
    assert read_house_rules(written["text"]) == RULES and written["name"] == "house-rules.json"
    assert read_link_text(written["link_text"]) == RULES
    assert workbench.run({"do": "read-house-rules", "text": written["text"]})["typed"] == as_typed(RULES)


def test_what_does_not_read_in_a_form_is_said_at_its_field():
    told = workbench.run({"do": "write-house-rules", "rules": {
        "group": "Marram Farm", "years": "soon", "regions": "Denmark, Atlantis", "colours": "octarine"}})
    assert not told["ok"]
    said = {problem["field"]: problem["message"] for problem in told["problems"]}
    assert set(said) == {"rules_years", "rules_regions", "rules_colours"}
    assert "Atlantis" in said["rules_regions"] and "octarine" in said["rules_colours"]
    (empty,) = workbench.run({"do": "write-house-rules", "rules": {}})["problems"]
    assert empty["field"] == "rules_group" and "say nothing" in empty["message"]


def test_a_link_carries_rules_alone_and_a_drafts_link_holds_none_such():
    fragment = write_rules(as_link_text(RULES))
    assert read_link_text(read_rules("#" + fragment)) == RULES
    assert set(fragment) <= set("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_.,/~=&%+")
    assert read_rules("#tunic&v=3&rules=1~gMarram&end") == "" and read_rules("") == ""
