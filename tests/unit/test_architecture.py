"""The house: rooms in a line, imports that run one way along it, one name for one thing."""

import ast
import re
from collections import defaultdict
from pathlib import Path

import pytest

import drafting

PACKAGE = Path(drafting.__file__).parent
PROJECT = PACKAGE.parent
LINE = (
    "both", "words", "geometry", "body", "pattern", "garments", "checks", "cloth", "lay", "sewing", "life",
    "period", "worn", "sheets", "desk", "kit", "requests", "command",
)
"""Each room imports from itself and from those before it."""


def modules(root: Path = PACKAGE) -> dict[str, Path]:
    """Dotted names, below the package, of all its modules."""
    found = {}
    for path in root.rglob("*.py"):
        parts = path.relative_to(root).with_suffix("").parts
        found[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path
    return found


MODULES = modules()


def imports_of(module: str, source: str) -> set[str]:
    """What a module of the package names in its imports, at the top or in a function, for types or for
    running: the package's own modules below the package's name, others by the name of their library."""
    parts = module.split(".")
    package = parts if MODULES[module].name == "__init__.py" else parts[:-1]
    found = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            found |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and not node.level:
            found.add((node.module or "").split(".")[0])
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] + (node.module.split(".") if node.module else [])
            for alias in node.names:
                inner = ".".join([*base, alias.name])
                found.add(inner if inner in MODULES else ".".join(base))
    return found - {"", module}


IMPORTS = {
    name: imports_of(name, path.read_text(encoding="utf-8"))
    for name, path in MODULES.items() if name not in ("", "__main__")
}


def room(module: str) -> str:
    return module.split(".")[0]


def against_the_line(module: str, imported: set[str]) -> set[str]:
    return {
        other for other in imported
        if room(other) in LINE and LINE.index(room(other)) > LINE.index(room(module))
    }


def circle(imports: dict[str, set[str]]) -> list[str]:
    """Modules that import each other, directly or by way of others, in order; [] where none do."""
    done: set[str] = set()

    def follow(module: str, way: list[str]) -> list[str]:
        if module in way:
            return way[way.index(module):]
        if module in done:
            return []
        done.add(module)
        found = (follow(other, [*way, module]) for other in sorted(imports.get(module, ())))
        return next(filter(None, found), [])

    return next(filter(None, (follow(module, []) for module in sorted(imports))), [])


def test_every_module_stands_in_a_room_of_the_line():
    assert {room(module) for module in IMPORTS} == set(LINE)


def test_no_room_imports_one_that_stands_after_it():
    wrong = {module: found for module, names in IMPORTS.items() if (found := against_the_line(module, names))}
    assert wrong == {}


def test_no_modules_import_each_other():
    assert circle(IMPORTS) == []


def test_what_runs_against_the_line_and_what_goes_round_is_seen():
    assert against_the_line("body.growth", imports_of("body.growth", "from ..kit import Kit")) == {"kit"}
    late = "def f():\n    from ..desk import lays"
    assert against_the_line("cloth.chalk", imports_of("cloth.chalk", late)) == {"desk.lays"}
    assert circle({"a": {"b"}, "b": {"c"}, "c": {"b"}}) == ["b", "c"]


def test_the_developers_guide_shows_this_line():
    text = (PROJECT / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert " → ".join(LINE) in " ".join(text.split())


def test_numpy_is_imported_in_the_lay_and_the_worn_alone():
    assert {room(module) for module, names in IMPORTS.items() if "numpy" in names} == {"lay", "worn"}


def parts_of_numpy(source: str) -> set[str]:
    """What is asked of numpy, as `np.random` or `from numpy.random import …`."""
    tree = ast.parse(source)
    named = {node.attr for node in ast.walk(tree) if isinstance(node, ast.Attribute)
             and isinstance(node.value, ast.Name) and node.value.id in ("np", "numpy")}
    return named | {node.module.split(".")[1] for node in ast.walk(tree)
                    if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("numpy.")}


def test_no_part_of_numpy_is_used_that_the_page_has_not_got():
    pack = (PROJECT / "site" / "prepare" / "pack.py").read_text(encoding="utf-8")
    left_out = set(re.search(r"numpy/\(([\w|]+)\)/", pack)[1].split("|"))
    assert "random" in left_out
    assert {name: used for name in IMPORTS if room(name) in ("lay", "worn")
            if (used := parts_of_numpy(MODULES[name].read_text(encoding="utf-8")) & left_out)} == {}
    assert parts_of_numpy("import numpy as np\nnp.random.default_rng(0)") & left_out == {"random"}


@pytest.mark.parametrize("module", [name for name in MODULES if room(name) == "both"])
def test_what_runs_in_both_pythons_imports_nothing_of_ours(module):
    assert not IMPORTS[module] & set(MODULES)


def public_classes() -> dict[str, list[str]]:
    found = defaultdict(list)
    for folder in (PACKAGE, PROJECT / "site"):
        for path in folder.rglob("*.py"):
            for node in ast.parse(path.read_text(encoding="utf-8")).body:
                if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                    found[node.name].append(path.relative_to(PROJECT).as_posix())
    return found


def test_no_two_public_classes_have_one_name():
    assert {name: paths for name, paths in public_classes().items() if len(paths) > 1} == {}


def test_no_file_name_stands_for_three_things():
    found = defaultdict(set)
    for folder in (PACKAGE, PROJECT / "site"):
        for path in folder.rglob("*.py"):
            named = path.parent if path.name == "__init__.py" else path
            found[named.stem].add(named.relative_to(PROJECT).as_posix())
    assert {name: places for name, places in found.items() if len(places) > 2} == {}


def hidden(ours, theirs):
    """Modules found by their bare names in one folder that another folder on the path has too."""
    return {path.stem for path in ours} & {path.stem for path in theirs}


def test_no_helper_of_the_browser_tests_hides_a_module_of_the_page():
    browser = [path for path in (PROJECT / "tests" / "browser").glob("*.py") if path.stem != "conftest"]
    assert hidden(browser, (PROJECT / "site" / "app").glob("*.py")) == set()
    assert hidden([Path("tests/browser/engine.py")], [Path("site/app/engine.py")]) == {"engine"}


def test_geometry_knows_no_garment_word():
    words = ("garment", "sleeve", "dress", "bust", "gusset", "gore", "neck")
    for path in (PACKAGE / "geometry").glob("*.py"):
        text = path.read_text(encoding="utf-8").lower()
        assert [word for word in words if word in text.replace("no garment words", "")] == [], path.name
