"""Imports run one way along the line that drafting/__init__.py draws, and numpy stays in the lay."""

import ast
from pathlib import Path

import drafting

PACKAGE = Path(drafting.__file__).parent
LINE = [
    {"units", "problems", "wording", "cautions", "link", "reading"}, {"body"}, {"geometry"}, {"pattern"},
    {"garments"}, {"growing", "truing"}, {"cloth", "piecing", "lay", "chalk"}, {"sewing"}, {"period"},
    {"sheets"},
    {"requests", "catalogue", "wearers"}, {"laying"}, {"demo", "cutting", "saving", "kit"},
    {"files", "kit_files"}, {"handing"}, {"workbench"},
    {"command_advise", "command_kit", "command_lay", "command_more"}, {"__main__"},
]
PLACE = {name: i for i, names in enumerate(LINE) for name in names}


def imports(path: Path):
    """(part of the package or the top name of a library, whether it is imported for types alone)."""
    package = ["drafting", *path.relative_to(PACKAGE).with_suffix("").parts][:-1]
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for_types = {
        id(inner)
        for node in ast.walk(tree)
        if isinstance(node, ast.If) and "TYPE_CHECKING" in ast.dump(node.test)
        for inner in ast.walk(node)
    }
    for node in ast.walk(tree):
        names = []
        if isinstance(node, ast.Import):
            names = [alias.name.split(".") for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else []
            module = base + (node.module.split(".") if node.module else [])
            names = [[*module, alias.name] for alias in node.names]
        for name in names:
            if id(node) not in for_types:
                yield (name[1] if name[0] == "drafting" and len(name) > 1 else ""), name[0]


def part_of(path: Path) -> str:
    return path.relative_to(PACKAGE).with_suffix("").parts[0]


def test_every_part_has_its_place_on_the_line():
    assert {part_of(path) for path in PACKAGE.rglob("*.py")} - {"__init__"} <= set(PLACE)


def test_no_part_imports_what_stands_to_its_right():
    wrong = [
        f"{path.relative_to(PACKAGE)} imports {part}"
        for path in PACKAGE.rglob("*.py")
        for part, _ in imports(path)
        if part in PLACE and part_of(path) in PLACE and PLACE[part] > PLACE[part_of(path)]
    ]
    assert wrong == []


def test_numpy_is_imported_in_the_lay_alone():
    users = {part_of(path) for path in PACKAGE.rglob("*.py") for _, top in imports(path) if top == "numpy"}
    assert users == {"lay"}


def test_geometry_knows_no_garment_word():
    words = ("garment", "sleeve", "dress", "bust", "gusset", "gore", "neck")
    for path in (PACKAGE / "geometry").glob("*.py"):
        text = path.read_text(encoding="utf-8").lower()
        assert [word for word in words if word in text.replace("no garment words", "")] == [], path.name
