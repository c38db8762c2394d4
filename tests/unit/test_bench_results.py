"""The numbers that are shown are those that the benchmark wrote."""

from machine import ROOT
from tests.bench_results import README, TABLES, Grid, kept, tables, with_headlines
from tests.bench_tricks import TRICKS, undone


def test_the_readme_quotes_the_results_that_are_kept():
    text = README.read_text(encoding="utf-8")
    assert with_headlines(text, kept()) == text


def test_the_tables_are_of_the_results_that_are_kept():
    assert TABLES.read_text(encoding="utf-8") == tables(kept())


def test_the_readme_is_short():
    assert len(README.read_text(encoding="utf-8").splitlines()) < 110  # source of the limit: issue 13


def test_every_part_names_its_machine_and_its_yardstick():
    assert {"loading", "memory", "redraw"} <= set(kept())
    for found in kept().values():
        assert found["machine"] and found["yardstick"] and (found.get("rows") or found["grid"])


def test_every_trick_can_be_undone_in_the_sources_as_they_are():
    texts: dict[str, str] = {}
    for changes in TRICKS.values():
        for name, before, after in changes:
            texts.setdefault(name, (ROOT / name).read_text(encoding="utf-8"))
            assert undone(texts[name], before, after) != texts[name]


def test_a_grid_tells_what_each_line_has_more_than_the_whole():
    grid = Grid("all", ("usable",), ("ms",), {"all": [[90.0, 100.0, 500.0]], "glue": [[110.0, 120.0, 115.0]]})
    assert grid.table()[2:] == ["| all | 100 |", "| without: glue | +15 (+15%) |"]
