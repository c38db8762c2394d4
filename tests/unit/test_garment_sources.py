"""The garments' source, read as text: what a cutter reads there is so."""

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from statistics import median

import pytest

from drafting import garments
from drafting.garments import GARMENTS, ChoiceOption, CountOption, LengthOption, Option

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


@dataclass(frozen=True)
class Named:
    """An option that the source names, of a kind where that can be told, and the choices named with it."""

    option: str
    kind: type[Option] | None = None
    choices: tuple[str, ...] = ()


READ_BY = {"is_": ChoiceOption, "pick": ChoiceOption, "chosen": ChoiceOption, "count": CountOption}


def text_of(node: ast.expr) -> str | None:
    return node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else None


def named_in(source: str) -> Iterator[Named]:
    """What a garment's source reads, compares, or offers as a remedy."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Subscript) and getattr(node.value, "id", "") in ("options", "changed"):
            if name := text_of(node.slice):
                yield Named(name, LengthOption)
        elif isinstance(node, ast.Call):
            yield from _named_in_call(node)


def _named_in_call(call: ast.Call) -> Iterator[Named]:
    texts = [text_of(argument) for argument in call.args]
    method = getattr(call.func, "attr", "")
    if method in READ_BY and texts and texts[0]:
        keys = [text_of(key) for node in call.args if isinstance(node, ast.Dict) for key in node.keys if key]
        yield Named(texts[0], READ_BY[method], tuple(text for text in (*texts[1:], *keys) if text))
    elif getattr(call.func, "id", "") == "Remedy" and texts[1]:
        yield Named(texts[1], None, (texts[2],) if texts[2] else ())


def names_imported(source: str) -> set[str]:
    return {
        node.module for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.ImportFrom) and node.level == 1 and node.module
    }


IMPORTED = {path.stem: names_imported(path.read_text(encoding="utf-8")) for path in SOURCES}


def declared_for(module: str) -> list[dict[str, Option]]:
    """The options of each garment whose own module imports this one, directly or by way of others."""
    return [
        {option.name: option for option in garment.options} for garment in GARMENTS.values()
        if module in reached_from(garment.draft.__module__.rpartition(".")[2])
    ]


def reached_from(module: str) -> set[str]:
    met, ahead = set(), {module}
    while ahead:
        one = ahead.pop()
        met.add(one)
        ahead |= IMPORTED.get(one, set()) - met
    return met


def misspelt(source: str, declared: list[dict[str, Option]]) -> list[Named]:
    return [named for named in named_in(source) if not any(_is_declared(named, d) for d in declared)]


def _is_declared(named: Named, declared: dict[str, Option]) -> bool:
    option = declared.get(named.option)
    if option is None or named.kind and not isinstance(option, named.kind):
        return False
    return not isinstance(option, ChoiceOption) or set(named.choices) <= set(option.choices)


@pytest.mark.parametrize("path", [p for p in SOURCES if p.stem not in ("__init__", "garment", "options")],
                         ids=lambda path: path.stem)
def test_every_option_and_choice_that_is_named_is_declared(path):
    source = path.read_text(encoding="utf-8")
    assert misspelt(source, declared_for(path.stem)) == []


@pytest.mark.parametrize("slip", [
    'options["lenght"]', 'options["style"]', 'options.is_("stile", "wrapped")',
    'options.is_("style", "wraped")', 'options.is_("style", "pleated", "wraped")',
    'options.pick("shaping", {"waisted": 1, "strait": 2})', 'options.count("toggles")',
    'Remedy("No shaping", "shapping", "straight")', 'Remedy("No shaping", "shaping", "strait")',
])
def test_a_slip_in_a_garments_source_is_seen(slip):
    assert misspelt(slip, declared_for("apron_dress"))


def test_a_shared_module_may_name_the_options_of_those_that_use_it_alone():
    assert misspelt('options["strap_spare"]', declared_for("straps")) == []
    assert misspelt('options["overlap"]', declared_for("straps"))


LONGEST, USUAL = 300, 200
"""Lines of any file, and of a garment's own module at the median. common practice, no source."""


def lines_in(path: Path) -> int:
    return len(path.read_text(encoding="utf-8").splitlines())


def too_long(folder: Path) -> list[str]:
    return [path.name for path in sorted(folder.glob("*.py")) if lines_in(path) > LONGEST]


def test_no_file_of_the_garments_is_too_long():
    assert too_long(Path(garments.__file__).parent) == []


def test_a_file_that_is_too_long_is_seen(tmp_path):
    (tmp_path / "gown.py").write_text("A = 1\n" * (LONGEST + 1))
    (tmp_path / "shift.py").write_text("A = 1\n" * LONGEST)
    assert too_long(tmp_path) == ["gown.py"]


def test_a_garments_own_module_is_short():
    own = {garment.draft.__module__.rpartition(".")[2] for garment in GARMENTS.values()}
    assert median(lines_in(path) for path in SOURCES if path.stem in own) <= USUAL
