"""What an error of the browser's is told as; the forms of it are those that MicroPython's bridge gives."""

import pytest

from telling import plain
from tests.unit import APP

assert APP  # made importable there


@pytest.mark.parametrize(("error", "told"), [
    ("(<JsProxy 7>, 'Error', 'it is missing\\n    at load (start.js:3)')", "it is missing"),
    ("(<JsProxy 65>, 'SyntaxError', \"Unexpected token '?'\")", "Unexpected token '?'"),
    ("(<JsProxy 65>, 'SyntaxError', \"Unexpected token '?' (at start.js:1)\\n    at x\")",
     "Unexpected token '?' (at start.js:1)"),
    ("Traceback (most recent call last):\n  File …\nValueError: no such part", "ValueError: no such part"),
    ("", "No reason was given."),
])
def test_an_error_is_told_without_what_wraps_it(error, told):
    assert plain(error) == told
