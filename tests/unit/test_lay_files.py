"""Polygon files: what is read, and the sentence for what cannot be."""

import json
import re

import pytest

from drafting.lay import Shape, read_polygon_file
from drafting.words.problems import BadInput

SQUARE = [[0, 0], [10, 0], [10, 10], [0, 10]]


def file_with(**piece):
    return json.dumps({"width": 50, "pieces": [{"name": "yoke", "outline": SQUARE, **piece}]})


def message(text):
    with pytest.raises(BadInput) as caught:
        read_polygon_file(text)
    return str(caught.value)


def test_a_file_is_read_as_it_stands():
    shapes, width = read_polygon_file(file_with(quantity=3, rotations=[0, 90]))
    assert width == 50
    corners = tuple((float(x), float(y)) for x, y in SQUARE)
    assert shapes == (Shape("yoke", corners, 3, (0.0, 90.0)),)


def test_repeated_and_straight_corners_are_taken_silently():
    outline = [[0, 0], [5, 0], [5, 0], [10, 0], [10, 10], [0, 10], [0, 0]]
    shapes, _ = read_polygon_file(file_with(outline=outline))
    assert shapes[0].area == 100


@pytest.mark.parametrize(
    ("piece", "says"),
    [
        ({"outline": [[0, 0], [10, 10], [10, 0], [0, 10]]}, r"crosses or touches itself near \(5, 5"),
        ({"outline": [SQUARE, [[2, 2], [4, 2], [4, 4]]]}, "hole"),
        ({"holes": [[[2, 2], [4, 2], [4, 4]]]}, "hole"),
        ({"outline": [[0, 0], [10, 0]]}, "2 corners"),
        ({"outline": [[0, 0], [10, 0], [0, 0], [10, 0]]}, "2 corners"),
        ({"outline": []}, "0 corners"),
        ({"outline": [[0, 0], [5, 5], [10, 10]]}, "no area"),
        ({"outline": [[k, k * k] for k in range(1_000_000)]}, "1,000,000 corners"),
        ({"outline": [[0, 0], [10, 0], [10, float("nan")]]}, r"number 3.*not finite"),
        ({"outline": [[0, 0], [10, 0], [10, float("inf")]]}, r"number 3.*not finite"),
        ({"outline": [[0, 0], [10, 0], [10, 10**400]]}, r"number 3.*not finite"),
        ({"outline": [[0, 0], [10, 0], [1e300, 1]]}, r"1e\+300 mm"),
        ({"outline": [[0, 0], ["ten", 0], [10, 10]]}, r"number 2.*ten"),
        ({"outline": [[0, 0], [10], [10, 10]]}, r"number 2"),
        ({"outline": [[0, 0], None, [10, 10]]}, r"number 2"),
        ({"outline": "square"}, "a text for an outline"),
        ({"outline": None}, "nothing for an outline"),
        ({"quantity": 0}, "0 times"),
        ({"quantity": -2}, "-2 times"),
        ({"quantity": 1.5}, "quantity 1.5"),
        ({"quantity": "two"}, "quantity"),
        ({"quantity": True}, "quantity true"),
        ({"quantity": float("nan")}, "quantity NaN"),
        ({"rotations": []}, "at least one rotation"),
        ({"rotations": 90}, "rotations 90"),
        ({"rotations": ["up"]}, "rotations"),
        ({"outline": [[0, 0], [10, 0], [10, 62.5], [0, 62.5]]}, r"62\.5 mm wide.*12\.5 mm too wide"),
    ],
)
def test_a_bad_piece_is_named_with_the_reason(piece, says):
    said = message(file_with(**piece))
    assert "“yoke”" in said
    assert re.search(says, said), said


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "no complete JSON"),
        (file_with()[:-20], "no complete JSON"),
        *(
            pytest.param(deep, "nested far too deep", id=f"{deep[:20]}…")
            for deep in (
                "[" * 100_000,
                "[" * 100_000 + "]" * 100_000,
                '{"width": 50, "pieces": ' + '{"outline": [' * 50_000 + "]}" * 50_000 + "}",
                file_with().replace("[[0, 0]", "[" * 60 + "]" * 60 + ", [[0, 0]"),
            )
        ),
        ("[]", "a list: it must hold an object"),
        ("3", "a number: it must hold an object"),
        ('{"width": 50}', "“pieces” is nothing"),
        ('{"width": 50, "pieces": {}}', "“pieces” is an object"),
        ('{"width": 50, "pieces": []}', "nothing to lay"),
        ('{"width": 50, "pieces": [7]}', "Piece number 1 is a number"),
        ('{"pieces": []}', "“width” is null"),
        ('{"width": "wide", "pieces": []}', "“width” is \"wide\""),
        ('{"width": 0, "pieces": []}', "“width” is 0"),
        ('{"width": NaN, "pieces": []}', "“width” is NaN"),
        ('{"width": -3, "pieces": []}', "“width” is -3"),
        (file_with(quantity=5000), "5,000 pieces"),
    ],
)
def test_a_bad_file_gets_a_sentence(text, says):
    assert says in message(text)


def test_every_bad_piece_is_told_at_once_and_equal_names_are_refused():
    pieces = [
        {"name": "a", "outline": SQUARE[:2]},
        {"name": "b", "outline": SQUARE, "quantity": 0},
        {"name": "c", "outline": SQUARE},
        {"name": "c", "outline": SQUARE},
    ]
    with pytest.raises(BadInput) as caught:
        read_polygon_file(json.dumps({"width": 50, "pieces": pieces}))
    assert [problem.field for problem in caught.value.problems] == ["a", "b", "c"]
