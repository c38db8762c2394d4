"""The table of reference checks in DEVELOPERS.md."""

from tests.reference_table import PAGE, all_checks, outside_checks, said, with_table


def test_the_table_of_reference_checks_is_current():
    page = PAGE.read_text(encoding="utf-8")
    assert with_table(page) == page, "run: python -m tests.reference_table"


def test_at_least_forty_checks_hold_against_something_outside():
    assert len(outside_checks()) >= 40
    assert len({check.source for check in outside_checks()}) >= 25


def test_every_check_has_a_name_of_its_own_in_its_file():
    named = [(check.fact, check.file) for check in all_checks()]
    assert len(set(named)) == len(named)


def test_a_source_ends_with_its_sentence():
    assert said("source: Gordon et al. 2014, NATICK/TR-15/007. Read at\nhome.") == (
        "source: Gordon et al. 2014, NATICK/TR-15/007"
    )
    assert said("Rounded. from memory: EN 13402-3") == "from memory: EN 13402-3"
    assert said("common practice,\n no source.") == "common practice, no source"
    assert said("Nothing.") == ""
