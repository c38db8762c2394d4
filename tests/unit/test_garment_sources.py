"""The garments' source, read as text: what a cutter reads there is so."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from drafting import garments

LEAST_RATIO = 0.05
"""Down to here a number may be the mm that no tape shows."""

SOURCES = sorted(Path(garments.__file__).parent.glob("*.py"))


def explained(source: str) -> Iterator[tuple[list[float], str]]:
    """Constants at a module's top, each row of them with the text beneath that explains it."""
    values: list[float] = []
    for node in ast.parse(source).body:
        if isinstance(node, ast.Assign):
            values += [n.value for n in ast.walk(node.value)
                       if isinstance(n, ast.Constant) and isinstance(n.value, float)]
        elif isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            yield values, str(node.value.value)
            values = []
        else:
            values = []


def called_mm_alone(source: str) -> list[str]:
    """Texts that call ratios, or nothing at all, mm and nothing else."""
    return [
        text for values, text in explained(source)
        if text.startswith(("mm.", "mm:"))
        and (not values or any(LEAST_RATIO < value < 1 for value in values))
    ]


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: path.stem)
def test_no_ratio_is_called_mm(path):
    assert called_mm_alone(path.read_text(encoding="utf-8")) == []


def test_a_ratio_called_mm_is_seen():
    own = 'A = 0.08\n"""mm. common practice, no source."""'
    after = 'A = 0.08\n"""Part of stature."""\n"""mm. All of these: common practice, no source."""'
    assert called_mm_alone(own) and called_mm_alone(after)
    assert not called_mm_alone(own.replace("0.08", "40.0"))
