"""The README's numbers are those that the benchmark wrote."""

from tests.bench_results import README, kept, with_table


def test_the_readme_quotes_the_results_that_are_kept():
    text = README.read_text(encoding="utf-8")
    assert with_table(text, kept()) == text


def test_every_part_names_its_machine_and_its_yardstick():
    assert {"loading", "memory", "redraw"} <= set(kept())
    for found in kept().values():
        assert found["machine"] and found["yardstick"] and found["rows"]
