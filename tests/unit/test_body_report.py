"""The report of the command line, and the start values by size."""

from drafting.body import SIZE_TABLE, check_body, report
from drafting.body.sizes import PROVENANCE

GIVEN = {"stature": 1680.0, "bust_girth": 960.0}


def test_the_report_parts_what_is_given_estimated_and_still_to_be_measured() -> None:
    text = report(GIVEN, ("stature", "bust_girth", "arm_length"), ("hip_girth", "wrist_girth"))
    given, estimated, missing = (part.splitlines() for part in text.rstrip().split("\n\n"))
    assert given[0] == "Given"
    assert [line.split()[-2:] for line in given[1:]] == [["168", "cm"], ["96", "cm"]]
    assert estimated[0] == "Estimated"
    assert [line.split("  ")[1] for line in estimated[1:]] == ["Hip girth", "Wrist girth"]
    assert all("about" in line and "±" in line for line in estimated[1:])
    assert missing[0] == "Still to be measured"
    assert missing[1].startswith("  Arm length  With the arm")


def test_with_nothing_given_all_is_still_to_be_measured() -> None:
    text = report({}, ("bust_girth",), ("hip_girth",))
    assert text.splitlines()[0] == "Still to be measured"
    assert "Hip girth" in text and "Bust girth" in text


def test_nothing_is_estimated_from_a_measure_that_cannot_be() -> None:
    right, wrong = (report({**GIVEN, "wrist_girth": wrist}, (), ("hip_girth",)).splitlines()
                    for wrist in (160.0, 16.0))  # fmt: skip
    assert "did you mean" in wrong[-1].lower()
    assert next(x for x in wrong if "Hip girth" in x)[:20] == next(
        x for x in right if "Hip girth" in x)[:20]  # fmt: skip


def test_lengths_are_written_in_the_chosen_unit() -> None:
    text = report({**GIVEN, "wrist_girth": 90.0}, (), ("hip_girth",), unit="in")
    assert " cm" not in text
    assert "66 1/8 in" in text


def test_a_child_s_report_looks_two_years_ahead() -> None:
    text = report({"stature": 1280.0, "arm_length": 430.0}, age_months=97)
    assert "in 24 months  height 138.5 cm, arm length" in text
    assert "Growth" not in report({"stature": 1280.0}, age_months=300)


def test_without_a_garment_every_measure_is_reported() -> None:
    assert len(report(GIVEN).splitlines()) > 30


def test_sizes_are_marked_as_from_memory_and_go_with_bodies() -> None:
    assert PROVENANCE.startswith("from memory: EN 13402-3")
    for size in SIZE_TABLE.values():
        assert check_body(size.values) == ()
