"""Wearers as files: they come back as they were, and a bad file is told, not run."""

import json
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafting.body import MEASURES, Wearer, read_measurements, read_wearer, write_wearer
from drafting.both.texts import LONGEST
from drafting.words.problems import BadInput

ASA = Wearer(
    "Ása of Marram Farm", {"bust_girth": "62,5", "arm_length": '15 1/2"'}, "cm", "2026-11-25",
    "woman", "2018-05-02",
)  # fmt: skip


def test_a_wearer_comes_back_as_typed() -> None:
    assert read_wearer(write_wearer(ASA)) == ASA
    assert read_wearer(write_wearer(ASA).encode()) == ASA
    assert read_wearer("\ufeff" + write_wearer(ASA)) == ASA
    values, problems = read_measurements(ASA.measurements, ASA.unit)
    assert values == {"bust_girth": 625, "arm_length": 393.7}
    assert problems == ()


def test_the_file_says_what_it_is_in_its_first_words() -> None:
    content = json.loads(write_wearer(ASA))
    assert list(content)[:3] == ["format", "version", "name"]
    assert (content["format"], content["version"]) == ("ellwand-wearer", 2)


@pytest.mark.parametrize(
    "name", ["Łucja", "Þóra", "Жанна", "👩‍🌾 Runa", "O'Neill", "a" * LONGEST]
)
def test_names_of_any_alphabet_are_kept(name: str) -> None:
    assert read_wearer(write_wearer(Wearer(name))).name == name


def test_a_script_in_a_name_stays_text() -> None:
    script = "<script>alert(1)</script>"
    assert read_wearer(write_wearer(Wearer(script))).name == script


@given(
    st.text(
        st.characters(exclude_categories=["Cc", "Cs", "Zl", "Zp"]), min_size=1, max_size=80
    ).filter(str.strip),
    st.dictionaries(st.sampled_from(tuple(MEASURES)), st.sampled_from(["92", '36 1/4"', "?", ""])),
)
@settings(max_examples=200, deadline=None)
def test_any_wearer_comes_back(name: str, measurements: dict[str, str]) -> None:
    wearer = Wearer(name, measurements, "in")
    assert read_wearer(write_wearer(wearer)) == wearer


def test_age_is_counted_in_whole_months() -> None:
    assert ASA.age_months == 102
    assert Wearer("Runa", {}, "cm", "2026-05-01", None, "2018-05-02").age_months == 95
    assert Wearer("Runa").age_months is None


def test_one_born_after_the_measuring_is_kept_and_not_drafted_for() -> None:
    late = Wearer("Runa", {}, "cm", "2026-05-01", None, "2027-01-01")
    assert read_wearer(write_wearer(late)) == late
    with pytest.raises(BadInput, match="2027-01-01 lies after 2026-05-01"):
        late.age_months  # noqa: B018 - a property that raises


def test_a_file_cut_anywhere_is_told_to_be_cut() -> None:
    whole = write_wearer(ASA)
    for cut in range(len(whole.rstrip()) - 1):
        with pytest.raises(BadInput, match="cut off|not a wearer"):
            read_wearer(whole[:cut])


def _changed(**changes: Any) -> str:
    content = {**json.loads(write_wearer(ASA)), **changes}
    return json.dumps({key: value for key, value in content.items() if value != "gone"})


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("", "cut off"),
        ("hello", "cut off"),
        ("[1, 2]", "not a wearer"),
        ("null", "not a wearer"),
        ("{}", "not a wearer"),
        ("[" * 10_000, "cut off"),
        ('{"format": "ellwand-wearer"}', "does not say its version"),
        ("9" * 30_000, "too large"),
        (_changed(format="ellwand-pattern"), "not a wearer"),
        (_changed(version=3), "later Ellwand .*keep the file"),
        (_changed(version=10**60), "later Ellwand"),
        (_changed(version="1"), "does not say its version"),
        (_changed(version=True), "does not say its version"),
        (_changed(favourite="blue"), "“favourite”, which is not known"),
        (_changed(name="gone"), "holds no name"),
        (_changed(name=""), "needs a name"),
        (_changed(name="  "), "needs a name"),
        (_changed(name=7), "needs a name"),
        (_changed(name="a" * 201), "too long"),
        (_changed(name="a\nb"), "one line"),
        (_changed(name="a\ud800"), "one line"),
        (_changed(unit="furlong"), "“furlong” is not a unit"),
        (_changed(unit=["cm"]), "is not a unit"),
        (_changed(sex="x" * 5000), "is not a sex known here"),
        (_changed(measured="yesterday"), "write it like 2026-11-25"),
        (_changed(measured="2026-13-01"), "write it like"),
        (_changed(measured=20261125), "write it like"),
        (_changed(measurements=[1]), "must be texts by name"),
        (_changed(measurements={"bust_grith": "92"}), "did you mean bust_girth"),
        (_changed(measurements={"bust_girth": 92}), "short line of text"),
        (_changed(measurements={"bust_girth": "9" * 5000}), "short line of text"),
        (_changed(measurements={"bust_girth": {"$": 1}}), "short line of text"),
    ],
)  # fmt: skip
def test_a_bad_file_is_refused_with_a_sentence(text: str, why: str) -> None:
    with pytest.raises(BadInput, match=why) as refusal:
        read_wearer(text)
    assert len(str(refusal.value)) < 250


def test_bytes_that_are_no_text_are_refused() -> None:
    with pytest.raises(BadInput, match="does not read"):
        read_wearer(b"\xff\xfe\x00{")


@given(st.binary(max_size=400))
@settings(max_examples=300, deadline=None)
def test_any_bytes_give_a_wearer_or_a_sentence(content: bytes) -> None:
    try:
        read_wearer(content)
    except BadInput as refusal:
        assert refusal.problems


def test_a_file_of_the_first_version_keeps_its_bust_girth_for_the_girth_under_the_arms():
    old = json.loads(_changed(version=1))
    wearer = read_wearer(json.dumps(old))
    assert wearer.measurements["upper_chest_girth"] == old["measurements"]["bust_girth"]
    assert "bust_girth" not in wearer.measurements
    assert wearer.measurements["arm_length"] == old["measurements"]["arm_length"]
    assert read_wearer(write_wearer(wearer)) == wearer
