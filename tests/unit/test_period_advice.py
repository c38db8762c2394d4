"""Advice: one verdict a year, alternatives that are right, and every request answered."""

import json
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from drafting.desk.order import read_impression
from drafting.garments import GARMENTS
from drafting.period.advice import advise, worst
from drafting.period.choice import Choice, read_choice
from drafting.period.dyes import DYES
from drafting.period.findings import SEVERITIES, best_dye, findings, severity_of
from drafting.period.impression import Impression
from drafting.period.places import RANKS, REGIONS
from drafting.period.statements import statements
from drafting.period.things import THINGS
from drafting.requests import workbench
from tests.sampling import some

CHANGES = sorted(
    {600, 1100} | {
        year for held in statements().values() for s in held
        for year in (s.years[0], s.years[1] + 1) if 600 <= year <= 1100
    }
)
"""Between two of these years nothing changes: advice for one year of each stretch is advice for all."""

DENMARK = {"garment": "apron-dress", "year": "980", "region": "Denmark", "rank": "farmer"}


def told(**changed):
    return advise(read_choice(Impression(**{**DENMARK, **changed})))


def one(advice, topic):
    (found,) = (a for a in advice if a.topic == topic)
    return found


def choices(**fixed):
    """Anything that can be chosen, all at once."""
    def pick(names):
        return st.sampled_from([None, *names])

    years = st.tuples(st.integers(600, 1100), st.integers(600, 1100)).map(lambda y: (min(y), max(y)))
    return st.builds(
        Choice, garment=st.sampled_from(list(GARMENTS)), years=fixed.get("years", years),
        region=st.sampled_from(list(REGIONS)), rank=st.sampled_from(list(RANKS)),
        wearer=st.sampled_from(["woman", "man"]), child=st.booleans(),
        colours=st.lists(st.sampled_from(list(DYES)), max_size=3, unique=True).map(tuple),
        **{topic: pick(things) for topic, things in THINGS.items()},
    )


def severities_by_year(choice, topic, subject):
    found = {}
    for finding in findings(choice, topic, subject):
        for year in range(finding.years[0], finding.years[1] + 1):
            assert year not in found
            found[year] = finding.severity
    return found


def test_advice_gives_one_verdict_for_every_year_region_rank_and_garment():
    for garment in GARMENTS:
        for region in REGIONS:
            for rank in RANKS:
                choice = Choice(garment, (600, 1100), region, rank)
                over_all = severities_by_year(choice, "garment", garment)
                assert list(over_all) == list(range(600, 1101))
                for year in CHANGES:
                    alone = advise(replace(choice, years=(year, year)))
                    assert [a.severity for a in alone if a.topic == "garment"] == [over_all[year]]


def test_each_alternative_offered_is_right_when_it_is_taken():
    """For every stretch of years, region and rank: no advice sends anyone from one fault to another."""
    taken = 0
    wrong = {"trim": "lace", "fastening": "zip", "thread": "synthetic", "making": "machine"}
    years = some(list(enumerate(CHANGES)), 3)
    for i, year in years:
        for j, region in enumerate(REGIONS):
            for k, rank in enumerate(RANKS):
                turn = i + 5 * j + 3 * k
                choice = Choice(
                    list(GARMENTS)[turn % len(GARMENTS)], (year, year), region, rank,
                    wearer=("woman", "man")[turn % 2], colours=(list(DYES)[turn % len(DYES)],),
                    fibre=list(THINGS["fibre"])[turn % len(THINGS["fibre"])],
                    weave=list(THINGS["weave"])[turn % len(THINGS["weave"])], **wrong,
                    options={"shape": "half-circle", "style": "pleated"},
                )
                for advice in advise(choice):
                    for alternative in advice.alternatives:
                        check_taken(choice, advice, alternative)
                        taken += 1
    assert taken > 300 * len(years)


def check_taken(choice, advice, alternative):
    field, value = alternative.field, alternative.value
    finish = dict.fromkeys(("trim", "thread", "making", "fastening", "weave"))
    if field not in finish:
        choice = replace(choice, **finish)
    if field == "colour":
        after = advise(replace(choice, colours=(value,)))
        assert {a.severity for a in after if a.field == "colour"} == {"right"}
        return
    if field.startswith("options."):
        after = advise(replace(choice, options={**choice.options, field.removeprefix("options."): value}))
        assert not [a for a in after if a.topic == "cut" and a.field == field and a.severity != "right"]
        return
    after = advise(replace(choice, **{field: value}))
    if field == "region":
        assert not [a for a in after if a.topic == "place"]
        return
    assert {a.severity for a in after if a.topic == advice.topic} == {"right"}
    if field == "fibre":
        before = worst(a for a in advise(choice) if a.field == "colour")
        colour = worst(a for a in after if a.field == "colour")
        assert SEVERITIES.index(colour) <= SEVERITIES.index(before), "the colour becomes no worse by it"


def test_a_wrong_fibre_is_answered_even_in_a_wrong_colour():
    for colour in ("neon", "optical-white"):
        advice = one(told(fibre="synthetic", colour=colour), "fibre")
        assert {a.value for a in advice.alternatives} >= {"wool"}


def test_modern_things_are_always_answered_with_something_right():
    for topic, name in [("fibre", "cotton"), ("fibre", "synthetic"), ("weave", "knit"), ("trim", "lace"),
                        ("thread", "synthetic"), ("fastening", "zip"), ("making", "machine")]:
        for garment in GARMENTS:
            for rank in RANKS:
                advice = one(told(garment=garment, rank=rank, **{topic: name}), topic)
                assert advice.severity == "wrong" and advice.alternatives, (garment, topic)
    for dye in ("neon", "modern-bright", "optical-white", "cochineal"):
        assert one(told(colour=dye), "dye").alternatives


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(choices())
def test_advice_on_a_span_is_the_advice_on_its_years(choice):
    for advice in advise(choice):
        assert choice.years[0] <= advice.years[0] <= advice.years[1] <= choice.years[1]
        if advice.topic in ("garment", "fibre", "weave"):
            year = advice.years[1]
            alone = [a for a in advise(replace(choice, years=(year, year))) if a.topic == advice.topic]
            assert [a.severity for a in alone] == [advice.severity]


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(choices())
def test_all_advice_says_something_and_who_says_so(choice):
    advice = advise(choice)
    assert worst(advice) == max((a.severity for a in advice), key=SEVERITIES.index)
    for a in advice:
        assert a.headline and a.ground.says.endswith(".") and a.ground.source
        assert len(a.alternatives) <= 3
        assert a.severity in ("unusual", "wrong", "unknown") or not a.alternatives


def test_purple_on_a_farmer_is_advised_against_and_colours_that_are_right_are_offered():
    advice = one(told(colour="purple"), "dye")
    assert advice.severity == "unusual" and "farmer" in advice.headline
    assert [a.field for a in advice.alternatives] == ["colour"] * 3
    assert any("Lichen purple: wrong" in ground.title for ground in advice.more)
    assert one(told(colour="purple", rank="earl"), "dye").severity == "right"


def test_a_colour_word_is_taken_for_the_dye_that_suits_best():
    def best(colour, **changed):
        return best_dye(read_choice(Impression(**{**DENMARK, "colour": colour, **changed})))

    assert best("blue") == "woad-pale"
    assert best("black") in ("undyed-black", "tannin-iron")
    assert best("white", fibre="wool") == "undyed-white"
    assert best("white", fibre="linen") == "bleached-linen"
    assert best("grey", fibre="linen") == "undyed-linen"
    assert best("crimson", rank="king") == "madder"


def test_a_fleece_colour_on_linen_is_told_to_be_impossible():
    advice = one(told(colour="undyed-grey", fibre="linen"), "dye")
    assert advice.severity == "wrong" and "linen" in advice.ground.says
    assert all(DYES[a.value].linen for a in advice.alternatives)


def test_linen_is_left_undyed_or_blue():
    assert one(told(colour="madder-pale", fibre="linen"), "dyed").severity == "unusual"
    assert one(told(colour="woad-pale", fibre="linen"), "dyed").severity == "right"
    assert not [a for a in told(colour="madder-pale", fibre="wool") if a.topic == "dyed"]


def test_a_span_in_which_a_garment_goes_out_is_told_in_parts():
    parts = [a for a in told(year="950-1060") if a.topic == "garment"]
    assert [(a.severity, a.years) for a in parts] == [("right", (950, 1000)), ("wrong", (1001, 1060))]
    assert "1001–1060" in parts[1].headline


def test_a_land_that_was_not_settled_yet_is_told_with_the_one_that_was():
    advice = one(told(region="York", year="800"), "place")
    assert advice.severity == "wrong" and advice.alternatives[0].value == "england"
    assert not [a for a in told(region="York", year="900") if a.topic == "place"]


def test_a_womans_dress_on_a_man_is_told_as_that():
    advice = one(told(wearer="man"), "garment")
    assert advice.severity == "wrong" and "for a man" in advice.headline
    assert "tunic" in [a.value for a in advice.alternatives]


def test_no_brooch_and_no_tie_is_offered_to_a_child():
    values = {a.value for a in one(told(garment="hood", fastening="zip", wearer="child"),
                                   "fastening").alternatives}
    assert values == {"belt", "none"}


def test_options_that_nothing_is_said_of_are_passed_over():
    advice = told(garment="cloak", options={"shape": "half-circle", "lining": "full", "length": "110 cm"})
    assert [a.field for a in advice if a.topic == "cut"] == ["options.shape"]
    assert not [a for a in told(garment="cloak", options={"shape": "rectangle"}) if a.topic == "cut"]


# --- Through the workbench ------------------------------------------------------------------------


def run(**request):
    return workbench.run({"do": "advise", **DENMARK, **request})


def test_the_workbench_gives_advice_as_plain_values_with_the_organiser_first():
    result = run(colour="purple", fibre="wool", options={"style": "pleated"})
    assert result["ok"] and json.loads(json.dumps(result)) == result
    assert "organiser" in result["organiser_first"]
    assert result["choice"]["dye"] == "madder-woad" and result["choice"]["years"] == [980, 980]
    assert result["worst"] == "unusual"
    for advice in result["advice"]:
        assert {"severity", "headline", "sentence", "sure_text", "source", "alternatives"} <= advice.keys()
    assert result["cautions"] and result["house"] is None


@pytest.mark.parametrize(("field", "text"), [
    ("garment", "sarong"), ("year", "98"), ("year", "1200"), ("year", "1000-900"), ("year", ""),
    ("region", "Dublun"), ("region", ""), ("rank", "🧵"), ("colour", "crimsn"), ("fibre", "wol"),
    ("weave", "3/1"), ("thread", "wire"), ("trim", "sequins"), ("fastening", "glue"), ("making", "printer"),
    ("wearer", "cat"), ("house_rules", "{"), ("activities", "fire"), ("activities", ["flying"]),
])
def test_a_bad_field_gets_one_sentence_of_its_own(field, text):
    result = run(**{field: text})
    assert not result["ok"]
    (problem,) = result["problems"]
    assert problem["field"] == field
    assert problem["message"].endswith(".") and len(problem["message"]) < 400
    assert "went wrong" not in problem["message"]


def test_every_bad_field_is_told_at_once():
    result = run(year="x", region="y", rank="z", colour="q", house_rules="{", activities=["flying"])
    assert {p["field"] for p in result["problems"]} == {
        "year", "region", "rank", "colour", "house_rules", "activities",
    }


anything = st.recursive(
    st.none() | st.booleans() | st.floats() | st.integers() | st.text(max_size=30),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=12), inner, max_size=3),
    max_leaves=6,
)
FIELDS = ["garment", "year", "region", "rank", "colour", "wearer", "options", "activities", "house_rules",
          "sex", "age_months", "measurements", *THINGS]


@settings(max_examples=300, deadline=None)
@given(st.dictionaries(st.sampled_from(FIELDS), anything, max_size=4))
def test_whatever_is_sent_is_answered(request):
    result = run(**request)
    if not result["ok"]:
        for problem in result["problems"]:
            assert "went wrong" not in problem["message"], problem


def test_what_can_be_chosen_is_described():
    period = workbench.run({"do": "describe"})["period"]
    assert period["years"] == [600, 1100] and len(period["regions"]) == len(REGIONS)
    assert {dye["name"] for dye in period["dyes"]} == set(DYES)
    for dye in period["dyes"]:
        assert dye["tones"] and all(len(tones) == 3 for tones in dye["tones"].values())
    assert set(period["choices"]) == set(THINGS)


@pytest.mark.parametrize(("topic", "names"), [("region", REGIONS), ("rank", RANKS)])
def test_names_titles_and_aliases_are_all_read_as_what_they_mean(topic, names):
    for name, thing in names.items():
        for text in (name, thing.title, thing.title.upper(), *thing.aliases):
            assert getattr(read_choice(Impression(**{**DENMARK, topic: text})), topic) == name, text


def test_every_alias_means_one_thing():
    for names in (REGIONS, RANKS, *THINGS.values()):
        words = [word for thing in names.values() for word in {thing.name.casefold(), *thing.aliases}]
        assert len(words) == len(set(words)), sorted(w for w in words if words.count(w) > 1)


@pytest.mark.parametrize(("text", "years"), [
    ("980", (980, 980)), (" c. 980 ", (980, 980)), ("AD 980", (980, 980)), ("980 CE", (980, 980)),
    ("900-1000", (900, 1000)), ("900 – 1000", (900, 1000)), ("900 to 1000", (900, 1000)),
    ("10th century", (900, 1000)), ("7th c.", (600, 700)), ("11th century", (1000, 1100)),
    ("around 800", (800, 800)), (980, (980, 980)),
])
def test_years_as_people_type_them(text, years):
    assert read_choice(read_impression({**DENMARK, "year": text})).years == years


def test_the_severest_of_a_span_is_what_the_whole_is_called():
    choice = read_choice(Impression(**{**DENMARK, "year": "950-1060"}))
    assert severity_of(choice, "garment", "apron-dress") == worst(advise(choice)) == "wrong"
