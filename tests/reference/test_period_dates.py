"""The dates, cloths and colours that living history commonly agrees on, and some that texts of the time give.

Each check names its source beside it.
"""

import pytest

from drafting.period.choice import Choice, read_choice
from drafting.period.dyes import DYES
from drafting.period.findings import severity_of
from drafting.period.impression import Impression
from drafting.period.places import GROUPS, RANKS, REGIONS
from drafting.period.statements import statements

SETTLED = ("danelaw", "ireland", "scotland")
WEST = sorted(GROUPS["west"])


def apron_dress(region, year, rank="farmer"):
    return severity_of(Choice("apron-dress", (year, year), region, rank), "garment", "apron-dress")


# common practice, no source: the apron dress was in fashion from the 7th or 8th century to about 900–950
# in western Europe and to about 1000 in Scandinavia.


@pytest.mark.parametrize("region", ["norway", "sweden", "denmark"])
def test_the_apron_dress_is_scandinavian_fashion_from_the_eighth_century_to_about_1000(region):
    assert {apron_dress(region, year) for year in range(700, 1001)} == {"right"}
    assert {apron_dress(region, year) for year in range(600, 700)} == {"unusual"}
    assert "right" not in {apron_dress(region, year) for year in range(1001, 1101)}
    assert {apron_dress(region, year) for year in range(1051, 1101)} == {"wrong"}


@pytest.mark.parametrize("region", SETTLED)
def test_the_apron_dress_ends_in_the_west_by_about_950(region):
    assert {apron_dress(region, year) for year in range(870, 951)} == {"right"}
    assert "right" not in {apron_dress(region, year) for year in range(951, 1101)}


@pytest.mark.parametrize("region", WEST)
def test_the_apron_dress_is_never_called_wrong_in_the_west_while_common_practice_shows_it(region):
    assert "wrong" not in {apron_dress(region, year) for year in range(650, 901)}
    assert {apron_dress(region, year) for year in range(1001, 1101)} == {"wrong"}


def test_where_finds_and_common_practice_differ_both_are_told():
    # source: Speed & Walton Rogers 2004, Medieval Archaeology 48: four pairs of oval brooches from
    # graves in England, the earliest of the end of the 9th century.
    told = [s for s in statements()["garment", "apron-dress"] if "england" in s.regions
            and s.years[0] <= 800 <= s.years[1] and "woman" in s.who]
    assert [s.verdict for s in told] == ["unusual"] and "common" in told[0].dispute


# common practice, no source: mostly wool, less often linen.
@pytest.mark.parametrize("region", REGIONS)
def test_the_apron_dress_is_of_wool_or_less_often_of_linen(region):
    for fibre in ("wool", "linen"):
        assert severity_of(Choice("apron-dress", (900, 900), region), "fibre", fibre) == "right"
    wool = [s for s in statements()["fibre", "wool"] if s.garments == {"apron-dress"}]
    assert "less often of linen" in wool[0].says


# common practice, no source: colours by rank: undyed, browns, beige and yellows and unreliable blues for
# anyone; red, deep green and even blues for higher ranks; pinks and purples from lichens for the highest.

ANYONE = ("undyed-white", "undyed-grey", "undyed-brown", "undyed-black", "undyed-linen", "bark-brown",
          "leaf-yellow", "woad-pale")
HIGHER = ("madder", "deep-green", "woad", "woad-deep")


def dye(name, rank, region="norway", year=900):
    return severity_of(Choice("tunic", (year, year), region, rank), "dye", name)


@pytest.mark.parametrize("region", REGIONS)
@pytest.mark.parametrize("year", [600, 750, 900, 980, 1100])
def test_colours_go_by_rank_as_common_practice_has_it(region, year):
    for rank in RANKS:
        assert {dye(name, rank, region, year) for name in ANYONE} == {"right"}
        higher = rank in ("well-off", "highest")
        assert all((dye(name, rank, region, year) == "right") == higher for name in HIGHER)
    assert dye("lichen-purple", "highest", region, year) == "right"
    assert {dye("lichen-purple", rank, region, year) for rank in ("poor", "farmer")} == {"wrong"}


# What texts of the time say people wore must be right for them.


def judged(topic, subject, **texts):
    return severity_of(read_choice(Impression(**texts)), topic, subject)


def test_charlemagnes_own_dress_is_right_for_a_king_of_the_franks():
    # source: Einhard, Life of Charlemagne, chapter 23 (translated by Turner, 1880): “next his skin a
    # linen shirt and linen breeches, and above these a tunic fringed with silk; while hose fastened by
    # bands covered his lower limbs … Over all he flung a blue cloak”.
    king = {"year": "800", "region": "Francia", "rank": "king", "wearer": "man"}
    for garment in ("tunic", "trousers", "leg-wraps", "cloak"):
        assert judged("garment", garment, garment=garment, **king) == "right"
    assert judged("fibre", "linen", garment="trousers", **king) == "right"
    assert judged("trim", "silk-strips", garment="tunic", **king) == "right"
    assert judged("dye", "woad", garment="cloak", **king) == "right"


def test_the_rus_chieftains_burial_clothes_are_right_for_him():
    # source: Ibn Fadlan, Risala (922): the men wear a garment that covers one side and leaves a hand free.
    # from memory: the same on the funeral: the dead chieftain was dressed in trousers, tunic and a brocade
    # caftan with gold buttons.
    chief = {"year": "922", "region": "Rus", "rank": "chieftain", "wearer": "man"}
    for garment in ("cloak", "trousers", "tunic", "wrap-coat"):
        assert judged("garment", garment, garment=garment, **chief) == "right"
    assert judged("fastening", "metal-buttons", garment="wrap-coat", **chief) == "right"


def test_dyes_that_royal_estates_gave_out_are_right_for_the_well_off():
    # source: Capitulare de villis, about 800, chapter 43: linen, wool, woad, vermilion, madder.
    for name in ("woad", "madder"):
        assert judged("dye", name, garment="tunic", year="800", region="Francia", rank="rich") == "right"


def test_the_find_of_skjoldehamn_is_right_in_both_its_datings():
    # source: Nockert & Possnert 2002 (995–1029), Løvlid 2009 (1050–1090), on the find of Skjoldehamn: shirt,
    # tunic, trousers, hood and ankle cloths of wool.
    for year in ("995-1029", "1050-1090"):
        for garment in ("hood", "tunic", "trousers", "leg-wraps"):
            texts = {"garment": garment, "year": year, "region": "Norway", "wearer": "man"}
            assert judged("garment", garment, **texts) == "right"
            assert judged("fibre", "wool", **texts) == "right"


def test_the_caps_and_scarves_of_dublin_are_right_there_in_wool_and_silk():
    # source: Wincott Heckett 2003, Viking Age Headcoverings from Dublin: caps and scarves of wool and of
    # silk, 10th and 11th centuries, all in tabby.
    for garment in ("cap", "head-scarf"):
        texts = {"garment": garment, "year": "920-1090", "region": "Dublin", "rank": "merchant"}
        assert judged("garment", garment, **texts) == "right"
        for topic, name in (("fibre", "wool"), ("fibre", "silk"), ("weave", "tabby")):
            assert judged(topic, name, **texts) == "right"


def test_nothing_that_came_later_is_right_for_anyone():
    # from memory: Mazzaoui 1981 (cotton), Rutt 1987 (knitting), Sundback 1917 (zip), Perkin 1856
    # (synthetic dyes): all after 1100, or reaching northern Europe after it.
    late = [("fibre", "cotton"), ("fibre", "synthetic"), ("fibre", "viscose"), ("weave", "knit"),
            ("weave", "velvet"), ("fastening", "zip"), ("trim", "lace"), ("thread", "synthetic"),
            ("making", "machine"), *(("dye", d.name) for d in DYES.values() if d.cost == 5)]
    for topic, name in late:
        for region in REGIONS:
            for rank in RANKS:
                found = severity_of(Choice("tunic", (600, 1100), region, rank), topic, name)
                assert found == ("unusual" if name == "jet-black" else "wrong")
