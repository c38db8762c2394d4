"""Tests set up what they ask for, and nothing else; what several processes ask for is made once."""

import os
import re
import sqlite3
import subprocess
import sys

import pytest

import build
import machine

EVERYTHING = ("site", "browser", "firefox", "second_browser", "pdftoppm", "debian_install", "tool")
TRAP = f"""
import build, machine, fetching

def trapped(name):
    def stop(*given):
        raise machine.Stop(f"{{name}} is asked for")
    return stop

for name in {EVERYTHING}:
    for module in (build, machine, fetching):
        if hasattr(module, name):
            setattr(module, name, trapped(name))
"""
HOLD = """
import sys
import machine, pathlib
machine.CACHE = pathlib.Path(sys.argv[1])
with machine.alone(), machine.alone():
    print("inside", flush=True)
    sys.stdin.read()
"""


def python(*arguments, folder, **options):
    """Our Python in a process that finds no program, but the project's modules and the folder's."""
    places = (folder, machine.ROOT, machine.ROOT / "site" / "prepare")
    path = {"PATH": "", "PYTHONPATH": os.pathsep.join(map(str, places))}
    return subprocess.Popen(
        [sys.executable, *map(str, arguments)], cwd=machine.ROOT, env=path, text=True,
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, **options,
    )


def test_each_test_sets_up_what_it_asks_for_and_no_other(tmp_path):
    """Where all that could be set up is out of reach a unit test runs, and the others say what they lack."""
    (tmp_path / "trap.py").write_text(TRAP)
    asking = {
        "tests/unit/test_dist.py::test_addresses_are_relative[index.html]": "site",
        "tests/browser/test_page_links.py::test_a_links_text_is_never_taken_for_markup": "browser",
        "tests/reference/test_paper.py::"
        "test_the_test_squares_print_true_within_two_parts_in_a_thousand[A4]": "pdftoppm",
    }
    running = python(
        "-m", "pytest", "-p", "trap", "-p", "no:cacheprovider", "-q", "tests/unit/test_neck.py", *asking,
        folder=tmp_path,
    )
    said = running.communicate()[0]
    assert re.search(r"^1 failed, \d\d passed, 2 errors in", said, re.MULTILINE), said
    for test, what in asking.items():
        assert re.search(f"^(ERROR|FAILED) {re.escape(test)}", said, re.MULTILINE), said
        assert f"{what} is asked for" in said, said
    assert "During handling" not in said, "a sentence, no chain of tracebacks"
def test_some_tests_are_started_with_nothing_but_python_set_up(monkeypatch):
    done = []
    for name in EVERYTHING:
        monkeypatch.setattr(build, name, lambda *given, name=name: done.append(name), raising=False)
    monkeypatch.setattr(build, "environment", lambda: done.append("environment"))
    monkeypatch.setattr(build, "by_module", lambda *given: done.append(given) or 0)
    assert build.test(["tests/unit/test_neck.py"]) == 0
    assert done == ["environment", ("pytest", "tests/unit/test_neck.py")]


def test_one_process_at_a_time_sets_up_and_one_that_was_killed_lets_go(tmp_path, monkeypatch):
    monkeypatch.setattr(machine, "CACHE", tmp_path)
    monkeypatch.setattr(machine, "LONGEST_SET_UP", 0)
    other = python("-c", HOLD, tmp_path, folder=tmp_path)
    assert other.stdout.readline() == "inside\n"
    with pytest.raises(sqlite3.OperationalError, match="locked"), machine.alone():
        pass
    other.kill()
    other.wait()
    with machine.alone():
        pass
