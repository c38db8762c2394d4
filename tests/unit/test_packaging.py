"""The wheel holds all that it needs, and runs where nothing of this folder is."""

import os
import shutil
import subprocess
import sys
import sysconfig
import zipfile
from pathlib import Path

import pytest

from drafting import __version__
from machine import PINS, ROOT, files_below, pip, run

NOT_CODE = (".json", ".toml", ".ttf", ".txt")


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    """As `pip wheel` makes it of a bare copy of the project, with the builder that is pinned."""
    source, out = tmp_path_factory.mktemp("source"), tmp_path_factory.mktemp("wheel")
    for name in ("pyproject.toml", "README.md", "LICENSE"):
        shutil.copy(ROOT / name, source)
    shutil.copytree(ROOT / "drafting", source / "drafting", ignore=shutil.ignore_patterns("__pycache__"))
    program = "import sys; from setuptools.build_meta import build_wheel; build_wheel(sys.argv[1])"
    run(sys.executable, "-c", program, out, cwd=source)
    (made,) = out.iterdir()
    return made


def test_the_wheel_holds_every_module_table_and_font_and_all_licences(wheel):
    names = set(zipfile.ZipFile(wheel).namelist())
    ours = files_below(ROOT / "drafting", "*.py", "py.typed", *(f"*{ending}" for ending in NOT_CODE))
    assert {path.relative_to(ROOT).as_posix() for path in ours} == {
        name for name in names if not name.startswith(f"drafting-{__version__}.dist-info/")
    }
    # source: PEP 561 (py.typed); PEP 639 (licence files lie in .dist-info/licenses)
    assert "drafting/py.typed" in names
    for licence in PINS["project"]["license-files"]:
        assert f"drafting-{__version__}.dist-info/licenses/{licence}" in names


def test_what_is_installed_drafts_lays_prints_and_advises(wheel, tmp_path):
    fresh = tmp_path / "fresh"
    run(sys.executable, "-m", "venv", "--without-pip", fresh)
    programs = fresh / ("Scripts" if os.name == "nt" else "bin")
    run(*pip(programs / "python"), "install", "--quiet", "--no-deps", "--no-index", wheel)
    # What it depends on is here already; a folder on this path gives away no editable installation.
    libraries = {**os.environ, "PYTHONPATH": sysconfig.get_path("purelib")}

    def ellwand(*arguments):
        return subprocess.run(
            [programs / "ellwand", *arguments], cwd=tmp_path, env=libraries, capture_output=True, text=True
        )

    program = "import drafting; print(drafting.__file__)"
    where = run(programs / "python", "-c", program, cwd=tmp_path, env=libraries)
    assert Path(where.strip()).is_relative_to(fresh)
    measured = ("-m", "bust_girth=92cm", "-m", "waist_girth=78cm", "-m", "torso_length=38cm")
    drafted = ellwand(
        "draft", "apron-dress", *measured, "--cloth-width", "150cm", "--booklet", "--out", "files"
    )
    assert drafted.returncode == 0, drafted.stderr
    made = {path.name: path.read_bytes() for path in (tmp_path / "files").iterdir()}
    assert {"pattern.json", "pieces.svg", "lay.json"} <= set(made)
    for name in ("tiled.pdf", "chalk-plan.pdf", "booklet.pdf"):
        assert made[name].startswith(b"%PDF-"), name
    advised = ellwand("advise", "apron-dress", "--year", "980", "--region", "Denmark", "--colour", "purple")
    assert advised.returncode == 0 and "purple" in advised.stdout, advised.stderr
    assert ellwand("--help").stdout.startswith("usage: ellwand ")


def test_the_builder_is_pinned_as_the_tests_have_it():
    (builder,) = PINS["build-system"]["requires"]
    assert builder in PINS["project"]["optional-dependencies"]["test"]
