"""Browser tests wait for what the page shows and never for a time: a loaded machine may need any."""

import ast
from pathlib import Path

import pytest

BROWSER = Path(__file__).parents[1] / "browser"
PAUSES = {"sleep", "wait_for_timeout"}
ALLOWED = {
    ("visitor.py", "until"): "between one look and the next",
    ("other_engine.py", "until"): "between one look and the next",
    ("webkit.py", "_first"): "until the driver answers at all",
    ("webkit.py", "_has_read"): "between one look and the next",
    ("webkit.py", "_call"): "bounds a hang of the driver",
    ("test_page_kit.py", "test_a_page_closed_while_typing_has_lost_nothing"): "closed at any moment",
    ("test_page_kit.py", "test_two_hundred_kills_while_saving_lose_nothing_saved"): "killed at any moment",
}


def fixed_waits(code):
    """(function, line) of each call that lets time pass, or that gives up sooner or later than the others."""
    return list(below(ast.parse(code), ""))


def below(node, function):
    for child in ast.iter_child_nodes(node):
        inside = child.name if isinstance(child, ast.FunctionDef) else function
        if waits(child):
            yield inside, child.lineno
        yield from below(child, inside)


def waits(node):
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return "setTimeout(" in node.value
    if not isinstance(node, ast.Call):
        return False
    name = getattr(node.func, "attr", getattr(node.func, "id", ""))
    return name in PAUSES or any(given.arg == "timeout" for given in node.keywords)


@pytest.mark.parametrize(
    "code",
    [
        "def test(page):\n    page.wait_for_timeout(300)",
        "def test(page):\n    for _ in range(3):\n        time.sleep(1)",
        "def test(page):\n    sleep(1)",
        "class Visitor:\n    def do(self):\n        self.page.wait_for_timeout(self.long)",
        "def test(page):\n    page.wait_for_selector('#laid', timeout=60_000)",
        "def test(page):\n    page.evaluate('() => new Promise(done => setTimeout(done, 300))')",
        "sleep(1)",
    ],
)
def test_a_wait_for_a_time_is_found(code):
    assert len(fixed_waits(code)) == 1


def test_a_wait_for_a_fact_is_none():
    assert fixed_waits("def test(page):\n    page.wait_for_function('window.done')") == []


def test_no_browser_test_waits_for_a_time():
    found = {(path.name, name) for path in BROWSER.glob("*.py")
             for name, _ in fixed_waits(path.read_text(encoding="utf-8"))}
    assert found == set(ALLOWED)
