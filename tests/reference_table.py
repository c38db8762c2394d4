"""The checks of tests/reference/ as a table for DEVELOPERS.md: `python -m tests.reference_table`.

A check's source is what its own comments say after `source:` or `from memory:`, or `common practice, no
source`; else what stands above it in the comment, the docstring or the values it is run with; else what
its file's docstring says.
"""

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
FOLDER = ROOT / "tests" / "reference"
PAGE = ROOT / "DEVELOPERS.md"
BEGIN, END = "<!-- reference checks: begin -->\n", "<!-- reference checks: end -->\n"

_SAID = re.compile(
    r"(?:sources?\b[^:.]{0,40}|from memory): ?.+?(?=(?<! al)(?<! e\.g)\.(?:\s|$)|$)"
    r"|common practice, no source"
)
_COMMENT = re.compile(r"(?m)^[^\S\n]*#:? ?(.*)$|#\s*((?:source|from memory|common practice).*)$")


@dataclass(frozen=True)
class Check:
    """One test: the fact it holds, where its numbers come from, and its file."""

    fact: str
    source: str
    file: str


def said(text: str) -> str:
    """The first source that a text names; empty when it names none."""
    found = _SAID.search(" ".join(text.split()))
    return found[0].rstrip(" .,;") if found else ""


def said_in(code: str, docstring: str | None = None) -> str:
    """The first source that the comments of some lines name, or the docstring among them."""
    return said("\n".join(a or b for a, b in _COMMENT.findall(code))) or said(docstring or "")


def names_in(node: ast.AST) -> set[str]:
    return {inner.id for inner in ast.walk(node) if isinstance(inner, ast.Name)}


def checks_in(path: Path) -> Iterator[Check]:
    text = path.read_text(encoding="utf-8")
    lines, tree = text.splitlines(), ast.parse(text)
    whole = said(ast.get_docstring(tree) or "")
    values: dict[str, str] = {}
    for number, node in enumerate(tree.body):
        first = min([node.lineno, *(d.lineno for d in getattr(node, "decorator_list", []))])
        before = tree.body[number - 1].end_lineno if number else 0
        own = "\n".join(lines[before or 0:node.end_lineno])
        if isinstance(node, ast.Expr) and number:  # a docstring belongs to the value above it
            own = "\n".join(lines[first - 1:node.end_lineno])
            for name in list(values)[-1:]:
                values[name] = values[name] or said(str(ast.literal_eval(node.value)))
        elif isinstance(node, ast.Assign):
            for name in node.targets:
                if isinstance(name, ast.Name):
                    values[name.id] = said_in(own)
        elif isinstance(node, ast.FunctionDef) and node.name.startswith("test_"):
            used = (values[name] for name in sorted(names_in(node)) if values.get(name))
            source = said_in(own, ast.get_docstring(node)) or next(used, "") or whole
            fact = node.name.removeprefix("test_").replace("_", " ")
            yield Check(fact, source, path.name)
        elif isinstance(node, ast.FunctionDef):
            values[node.name] = said_in(own, ast.get_docstring(node))


def all_checks() -> list[Check]:
    return [check for path in sorted(FOLDER.glob("test_*.py")) for check in checks_in(path)]


def shortened(text: str, longest: int = 170) -> str:
    return text if len(text) <= longest else text[:longest].rsplit(" ", 1)[0] + " …"


def outside_checks() -> list[Check]:
    """Those that hold against something outside the project."""
    return [c for c in all_checks() if c.source and "common practice, no source" not in c.source]


def table() -> str:
    rows = ["| what holds | source | tests/reference/ |", "| --- | --- | --- |"]
    for check in outside_checks():
        source = check.source.replace("|", "\\|")
        rows.append(f"| {check.fact} | {shortened(source)} | {check.file} |")
    return "\n".join(rows) + "\n"


def with_table(page: str) -> str:
    """The page with the table between its markers brought up to date."""
    head, _, rest = page.partition(BEGIN)
    _, _, tail = rest.partition(END)
    return head + BEGIN + table() + END + tail


if __name__ == "__main__":
    PAGE.write_text(with_table(PAGE.read_text(encoding="utf-8")), encoding="utf-8")
    print(f"{len(outside_checks())} checks against something outside, of {len(all_checks())}")
