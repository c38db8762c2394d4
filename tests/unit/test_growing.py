"""How long a child's garment fits: reserves read off the pattern, growth by the published curve."""

import re

import pytest
from rcpchgrowth.global_functions import centile, measurement_from_sds, sds_for_measurement

from drafting.body import Body
from drafting.checks import growing
from drafting.garments import GARMENTS
from drafting.requests import workbench
from drafting.words.units import parse_length
from tests.drafts import draft_of
from tests.wardrobe import draft

EBBA = {"stature": "128", "head_girth": "52", "bust_girth": "63", "waist_girth": "57",
        "hip_girth": "68", "shoulder_girth": "77", "torso_length": "26", "arm_length": "43",
        "upper_arm_girth": "20", "calf_girth": "26", "crotch_length": "46"}
"""An invented child of Marram Farm, eight years and two months old."""
AGE = 98


def asked(garment="underdress", **more):
    return {"do": "draft", "garment": garment, "measurements": EBBA, "sex": "woman",
            "age_months": str(AGE), "today": "2026-11-25", **more}


def sentences(**more):
    result = workbench.run(asked(**more))
    assert result["ok"], result
    return result["growth"]


def drafted(garment="underdress", **options):
    pattern = draft_of(asked(garment, options=options)).pattern
    return pattern, Body(pattern.measurements, pattern.estimated, "woman", AGE)


def lasts(part, garment="underdress", **options):
    pattern, body = drafted(garment, **options)
    return {one.part: one.months for one in growing.lasting(pattern, body, AGE)}.get(part, 60)


def test_centile_and_heights_are_those_of_the_published_curve():
    # source: CDC growth charts 2000 through rcpchgrowth, see tests/reference/test_body_growth.py
    z = sds_for_measurement("cdc", AGE / 12, "height", 128, "female")
    told = sentences()[0]
    assert int(re.search(r"about (\d+) in 100 girls", told)[1]) == pytest.approx(centile(z), abs=1)
    heights = [float(cm) for cm in re.findall(r"([\d.]+) cm in", told)]
    theirs = [measurement_from_sds("cdc", z, "height", "female", (AGE + m) / 12)
              for m in (6, 12, 18, 24)]
    assert heights == pytest.approx(theirs, abs=0.15)
    months = re.findall(r"cm in (\w+ \d{4})", told)
    assert months == ["May 2027", "November 2027", "May 2028", "November 2028"]


def test_a_growth_tuck_and_a_deep_hem_make_the_length_last():
    assert lasts("the length") < lasts("the length", hem_depth="4") < lasts(
        "the length", hem_depth="4", growth_tuck="4")


def test_the_length_lasts_until_it_is_short_by_more_than_its_reserve():
    pattern, body = drafted(growth_tuck="3")
    months = lasts("the length", growth_tuck="3")
    length = pattern.finished["length"]
    # tuck: a fold of 3 cm holds 6 cm; hem: 24 mm of allowance, of which 20 stay
    most = length * 1.05 + 60 + 4
    assert growing.let_down(pattern) == pytest.approx(64)

    def wanted(after):
        (then,) = growing.expected(body.values, "woman", AGE, (after,))
        return growing.wanted(pattern, "length", length, body, Body(then.values))

    assert wanted(months) <= most < wanted(months + 1)


def test_wide_seam_allowances_make_the_girth_last():
    # 4 × the 10 mm over what a run-and-fell seam cannot do without
    pattern, _ = drafted(seam_allowance="2")
    assert growing.let_out(pattern) == pytest.approx(40)
    assert lasts("“a way in”") < lasts("“a way in”", seam_allowance="2")


@pytest.mark.parametrize(("garment", "names"), [
    ("apron-dress", {"room at the top", "room at the bust", "room at the waist", "room at the hips",
                     "a way in"}),
    ("tunic", {"room at the chest", "room at the waist", "room at the hips", "a way in"}),
    ("cloak", set()),
])
def test_letting_out_the_sides_helps_what_goes_round_the_trunk(garment, names):
    assert {c.name for c in draft(garment).clearances if c.at_side_seams} == names


def test_more_ease_makes_the_chest_last():
    assert lasts("“room at the top”", "apron-dress", bust_ease="3") < lasts(
        "“room at the top”", "apron-dress", bust_ease="6")


@pytest.mark.parametrize("garment", list(GARMENTS))
def test_every_garment_says_until_when_it_fits(garment):
    told = sentences(garment=garment)
    assert "This garment fits" in told[-1]
    assert re.search(r"(until about [A-Z][a-z]+ 20\d\d|nothing to grow into)", told[-1])
    assert not any("⟨" in sentence for sentence in told)


def test_months_count_from_the_measuring_and_old_measurements_are_told():
    told = sentences(measured="2026-02-20")
    assert told[0].startswith("These measurements are 9 months old")
    assert "August 2026" in told[1]
    assert not sentences(measured="2026-10-20")[0].startswith("These")


def test_without_a_day_months_stay_numbers():
    assert "in 6 months" in sentences(today="")[0]
    assert re.search(r"for about \d+ month", sentences(today="")[-1])


def test_grown_ups_infants_and_the_ageless_hear_nothing_of_growth():
    for age in ("240", "500", "12", ""):
        assert sentences(age_months=age) == []


def test_a_child_whose_height_was_not_measured_is_asked_for_it():
    without = {name: text for name, text in EBBA.items() if name != "stature"}
    (told,) = sentences(garment="apron-dress", measurements=without)
    assert "height" in told and "measure" in told


def test_at_nineteen_growth_is_nearly_over():
    told = workbench.run(asked(age_months="228", measurements={**EBBA, "stature": "166"}))
    assert "nearly over" in told["growth"][0]


@pytest.mark.parametrize("day", ["yesterday", "2026-02-30", "20261125", 5, ["2026-11-25"]])
def test_a_day_that_does_not_read_is_named(day):
    result = workbench.run(asked(today=day))
    (problem,) = result["problems"]
    assert problem["field"] == "today" and "2026-11-25" in problem["message"]


def test_start_values_are_told_until_they_are_measured():
    result = workbench.run(asked(start=["bust_girth", "hip_girth"]))
    told = "A size's start values, not this body's: Bust girth, Hip"
    assert result["notes"][0].startswith(told)
    assert not any("start value" in note for note in workbench.run(asked())["notes"])
    assert workbench.run(asked(start="bust_girth"))["problems"][0]["field"] == "start"


def test_every_size_starts_every_garment():
    described = workbench.run({"do": "describe"})
    assert described["sizes_from"].startswith("from memory")
    for size in described["sizes"]:
        for garment in GARMENTS.values():
            given = {name: size["values"]["cm"][name] for name in garment.needs}
            draft_of({"garment": garment.name, "measurements": given})
    inches = {name: float(parse_length(text, "in")) for name, text in size["values"]["in"].items()}
    for name, text in size["values"]["cm"].items():
        assert inches[name] == pytest.approx(parse_length(text, "cm"), abs=25.4 / 32 + 0.01)
