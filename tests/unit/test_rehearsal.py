"""The rehearsal of an upgrade writes pins as pyproject.toml holds them, and does without what it can."""

import tomllib

import pytest

from glue import slim
from machine import ELLWAND, ROOT, Stop
from tests import rehearse
from tests.bench_tricks import GLUE, PREPARE, change

PROJECT = ("pyproject.toml", GLUE, PREPARE, "site/pyodide/start.js")


@pytest.fixture
def home(tmp_path):
    for name in PROJECT:
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text((ROOT / name).read_text(encoding="utf-8"), encoding="utf-8")
    return tmp_path


def pins(home):
    return tomllib.loads((home / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["ellwand"]


@pytest.mark.parametrize("package", rehearse.RUNTIMES.values())
def test_one_pin_moves_and_no_other(home, package):
    moved = {"version": "99.0.1", "integrity": "sha512-AAAA/+=="}
    rehearse.with_pin(home, package, moved)
    assert pins(home)["npm"] == {**ELLWAND["npm"], package: moved}
    assert {**pins(home), "npm": ""} == {**ELLWAND, "npm": ""}


def test_a_package_that_has_no_pin_is_not_passed_over(home):
    with pytest.raises(AssertionError):
        rehearse.with_pin(home, "no-such-package", {"version": "1", "integrity": "sha512-"})


def test_without_wheels_built_for_pyodide_the_pure_ones_stay(home):
    rehearse.without_wheels(home)
    assert pins(home)["pyodide"]["packages"] == []
    assert pins(home)["pypi"] == ELLWAND["pypi"]


def test_what_is_done_without_stands_in_the_sources_once(home):
    """A source that has changed since raises AssertionError in `change`."""
    rehearse.without_snapshot(home)
    with pytest.raises(AssertionError):
        change(home, GLUE, "no such line", "")
    with pytest.raises(AssertionError):
        rehearse.without_snapshot(home)


class Builds:
    """Stands for running the build: stops with each sentence in turn, then is done."""

    def __init__(self, *sentences):
        self.sentences = list(sentences)

    def __call__(self, *command, **options):
        if self.sentences:
            raise Stop(self.sentences.pop(0))


def test_a_build_goes_on_without_what_stops_it(home, monkeypatch):
    with pytest.raises(Stop) as shortened:
        slim("")
    monkeypatch.setattr(rehearse, "run", Builds(
        f"`build.py site` failed:\nbuild.py: {shortened.value}",
        "`build.py site` failed:\nnumpy-9-cp399.whl could not be fetched:\nnobody has it",
        "`node prepare.mjs` failed:\noffset is out of bounds",
    ))
    told = list(rehearse.built(home))
    assert [said for said in told if said.startswith("The build stops")] == [
        f"The build stops: build.py: {shortened.value}",
        "The build stops: nobody has it",
        "The build stops: offset is out of bounds",
    ]
    assert len(told) == 6


def test_what_cannot_be_done_without_ends_the_build(home, monkeypatch):
    monkeypatch.setattr(rehearse, "run", Builds("build.py: pyodide 314.0.7 holds no pyodide.asm.js."))
    with pytest.raises(Stop, match="holds no"):
        list(rehearse.built(home))
