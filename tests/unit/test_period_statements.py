"""Every statement reads, says who says so, and none contradicts another."""

import re
from itertools import combinations, groupby
from pathlib import Path

import pytest

from drafting.garments import GARMENTS, ChoiceOption
from drafting.period import places
from drafting.period.choice import Choice, title_of
from drafting.period.dyes import DYES
from drafting.period.findings import findings, severity_of
from drafting.period.places import RANKS, REGIONS
from drafting.period.statements import (
    COMMON_PRACTICE,
    FILES,
    FROM_MEMORY,
    _statement,
    read_table,
    statements,
)
from drafting.period.things import THINGS

EVERY = [s for held in statements().values() for s in held]
WHOLE = (600, 1100)
SETTLED_FROM = {"iceland": 870, "danelaw": 865, "rus": 750}
FOLDER = Path(places.__file__).parent / "statements"


def ids(statement):
    return f"{statement.topic}.{statement.subject} {statement.years[0]}"


@pytest.mark.parametrize("statement", EVERY, ids=ids)
def test_a_statement_has_a_date_range_a_verdict_a_sentence_and_a_provenance(statement):
    first, last = statement.years
    assert 600 <= first <= last <= 1100
    assert statement.verdict in ("right", "unusual", "wrong", "note")
    assert statement.sure in ("sure", "likely", "disputed")
    assert statement.regions and statement.ranks and statement.who
    for sentence in (statement.says, statement.dispute):
        assert sentence == sentence.strip()
        assert not sentence or not sentence[0].islower() and sentence.endswith(".")
        assert len(sentence) <= 170
    assert statement.says
    # A provenance is common practice, something remembered that is named, or a work with its date.
    parts = statement.source.split("; ")
    assert all(parts)
    dated = re.compile(r"\b(\d{3,4}|\d+th)\b")
    assert statement.source == COMMON_PRACTICE or dated.search(statement.source), statement.source


def test_at_least_sixty_statements_name_a_work():
    named = [s for s in EVERY if s.source != COMMON_PRACTICE]
    assert len(named) >= 60, len(named)
    assert len([s for s in named if not s.source.startswith((FROM_MEMORY, COMMON_PRACTICE))]) >= 30


def test_every_work_listed_is_named_by_a_statement_and_is_given_once():
    works = read_table("sources")
    assert len(set(works.values())) == len(works)
    for work in works.values():
        assert any(work in s.source for s in EVERY), work


def test_a_disputed_statement_or_its_dispute_says_what_is_doubtful():
    for s in EVERY:
        if s.sure == "disputed":
            assert s.dispute or s.source != COMMON_PRACTICE or re.search("might|guess|not shown", s.says), s


def test_statements_speak_only_of_what_can_be_chosen():
    for topic, subject in statements():
        assert title_of(topic, subject)
        if topic == "cut":
            garment, option, value = re.fullmatch(r"([\w-]+)\.(\w+)=([\w-]+)", subject).groups()
            found = GARMENTS[garment].option(option)
            assert isinstance(found, ChoiceOption) and value in found.choices
    for s in EVERY:
        assert s.garments is None or s.garments <= GARMENTS.keys()


@pytest.mark.parametrize(("topic", "subject", "more"), [
    ("garment", "space-suit", {}), ("cut", "space-suit.shape=round", {}),
    ("fibre", "wool", {"garments": ["tunic", "space-suit"]}),
])
def test_a_statement_on_a_garment_that_the_wardrobe_does_not_have_is_named(topic, subject, more):
    table = {"years": [600, 1100], "regions": ["everywhere"], "verdict": "right", "sure": "likely",
             "says": "It was worn.", "source": "common"}
    assert _statement("garment", "tunic", table, {}).subject == "tunic"
    with pytest.raises(ValueError, match="It was worn.*no garment space-suit"):
        _statement(topic, subject, {**table, **more}, {})


def test_whatever_can_be_chosen_is_spoken_of():
    for name in GARMENTS:
        assert ("garment", name) in statements()
    for topic, things in THINGS.items():
        for name in things:
            assert (topic, name) in statements()
    for name in DYES:
        assert ("dye", name) in statements()


def overlap(one, other):
    return (
        one.years[0] <= other.years[1] and other.years[0] <= one.years[1]
        and one.regions & other.regions and one.ranks & other.ranks and one.who & other.who
        and (one.garments is None or other.garments is None or one.garments & other.garments)
    )


def test_no_two_statements_judge_one_thing_differently_for_any_year_region_rank_and_wearer():
    for (topic, subject), held in statements().items():
        for one, other in combinations([s for s in held if s.judges], 2):
            if one.verdict != other.verdict:
                assert not overlap(one, other), f"{topic}.{subject}: “{one.says}” against “{other.says}”"


def test_the_test_of_contradictions_finds_one():
    one, other = statements()["garment", "hood"][0], statements()["garment", "hood"][3]
    assert {one.verdict, other.verdict} == {"right", "unusual"} and not overlap(one, other)
    assert overlap(one, type(other)(**{
        **{name: getattr(other, name) for name in other.__slots__}, "years": (600, 995),
    }))


def chosen(topic, subject, years, region, rank, wearer):
    garment = subject if topic == "garment" else "tunic"
    return Choice(garment, years, region, rank, wearer)


def test_lands_that_were_not_settled_from_the_start_are_known():
    for region in REGIONS:
        early = [f.years[1] + 1 for f in findings(Choice("tunic", WHOLE, region), "place", region)
                 if f.severity == "wrong"]
        assert early == ([SETTLED_FROM[region]] if region in SETTLED_FROM else [])


@pytest.mark.parametrize(("topic", "subject"), [
    *(("garment", name) for name in GARMENTS),
    *((topic, name) for topic, things in THINGS.items() for name in things),
    *(("dye", name) for name in DYES),
])
def test_nothing_is_unknown_but_where_the_land_was_not_settled_yet(topic, subject):
    for region in REGIONS:
        years = SETTLED_FROM.get(region, 600), 1100
        for rank in RANKS:
            for wearer in ("woman", "man"):
                choice = chosen(topic, subject, years, region, rank, wearer)
                told = [f for f in findings(choice, topic, subject) if f.severity in ("unknown", "note")]
                assert not told, (region, rank, wearer, told)


def test_what_is_right_for_the_poor_is_right_for_whoever_can_pay_more():
    """A colour or a fibre is never a matter of being too rich; only the apron dress goes out from above."""
    order = {"right": 0, "unusual": 1, "wrong": 2}
    for topic, names in {"dye": DYES, "fibre": THINGS["fibre"], "weave": THINGS["weave"]}.items():
        for name in names:
            for region in REGIONS:
                for year in (600, 650, 750, 860, 920, 980, 1030, 1100):
                    by_rank = [
                        order[severity_of(Choice("tunic", (year, year), region, rank), topic, name)]
                        for rank in RANKS
                    ]
                    assert by_rank == sorted(by_rank, reverse=True), (topic, name, region, year)


def test_files_are_ordered_by_subject_so_that_one_subject_stands_together():
    for file in FILES:
        text = (FOLDER / f"{file}.toml").read_text(encoding="utf-8")
        headers = re.findall(r"^\[\[(.+)\]\]$", text, re.M)
        assert headers
        assert len([header for header, _ in groupby(headers)]) == len(set(headers))


def test_usual_wearers_are_judged_kindly():
    for garment in GARMENTS:
        choice = Choice(garment, (900, 900), "denmark", wearer=GARMENTS[garment].usual_wearer)
        assert severity_of(choice, "garment", garment) in ("right", "unusual")


@pytest.mark.parametrize("source", ["common", "memory:hald-1980", ["memory:hald-1980", "common"]])
def test_nothing_is_sure_on_memory_or_common_practice_alone(source):
    table = {"years": [600, 1100], "regions": ["everywhere"], "verdict": "right", "sure": "sure",
             "says": "It was worn.", "source": source}
    sources = {"hald-1980": "Hald 1980"}
    with pytest.raises(ValueError, match="It was worn.*nothing is sure on memory"):
        _statement("garment", "tunic", table, sources)
    assert _statement("garment", "tunic", {**table, "sure": "likely"}, sources).sure == "likely"
    assert _statement("garment", "tunic", {**table, "source": "hald-1980"}, sources).sure == "sure"


def test_who_wore_the_clothes_of_skjoldehamn_is_told_as_disputed():
    # source: Løvlid 2010 (from memory) on who was buried at Skjoldehamn
    for garment in ("tunic", "trousers"):
        found = [s for s in statements()["garment", garment] if "Skjoldehamn" in s.says]
        assert found and all(s.sure == "disputed" and "not settled" in s.dispute for s in found)


def test_a_radiocarbon_tail_makes_no_fashion():
    # source: Canmore, record of the hood from Orkney: about 250 to 615
    assert not any(s.verdict == "right" and "scotland" in s.regions and s.years[0] < 700
                   for s in statements()["garment", "hood"])


def test_one_short_name_of_a_work_stands_for_one_work():
    from drafting.period.statements import read_table

    short = [text.split(",")[0] for text in read_table("sources").values()]
    assert sorted(set(short)) == sorted(short)
