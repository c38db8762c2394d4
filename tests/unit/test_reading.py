"""JSON from outside is read as json does, and refused when it would end the browser's Python."""

import json

import pytest

from drafting.words.reading import DEEPEST, read_json
from tests.hostile.documents import KIT, RULES, WEARER


@pytest.mark.parametrize("right", [KIT, WEARER, RULES])
def test_our_files_are_read_as_they_are(right):
    assert read_json(json.dumps(right)) == right


@pytest.mark.parametrize(
    "text",
    ["[" * 100_000, '{"a":' * 50_000, "[" * 60 + "]" * 60, '{"x": "]]]", "y": ' + "[" * 60 + "]" * 60 + "}"],
)  # fmt: skip
def test_what_is_nested_deeper_than_any_of_ours_is_refused(text):
    with pytest.raises(ValueError):
        read_json(text)


def test_brackets_in_texts_and_beside_one_another_are_no_nesting():
    for value in ("[" * 1000, '\\"' + "{" * 500, [[]] * 1000, [{"a": "]"}] * 200):
        assert read_json(json.dumps(value)) == value
    deepest = "[" * DEEPEST + "]" * DEEPEST
    assert read_json(deepest) == json.loads(deepest)


def test_a_text_without_an_end_is_refused_without_looking_at_it_again_and_again():
    """With a search that does, this would take hours."""
    endless = ('"' + '\\"' * 500_000, '"' * 500_001, '"' + "\\" * 1_000_001)
    for text in endless:
        with pytest.raises(ValueError):
            read_json("[" * 60 + text)
