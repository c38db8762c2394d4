"""Next season for a child, by the published growth curve as the PyPI library rcpchgrowth 4.6 carries it.

source: CDC growth charts 2000 (Kuczmarski et al. 2002) through rcpchgrowth
"""

from dataclasses import replace

import pytest
from rcpchgrowth.global_functions import measurement_from_sds, sds_for_measurement

from drafting.body import Wearer
from drafting.body.growth import month_name
from drafting.checks.growing import lasting
from drafting.kit import Kit, KitGarment, KitWearer, write_kit
from drafting.kit.family import family_season
from drafting.kit.family_list import season_listing
from drafting.kit.listing import listing_text
from drafting.kit.marram_farm import demo_kit
from drafting.kit.model import LifeEvent
from drafting.life.season import fits_other, outlook, to_let
from drafting.requests import workbench
from drafting.words.problems import BadInput
from tests.reference.test_life_fits import made
from tests.terminal import run
from tests.wardrobe import TAM, body_for

TALL_ENOUGH = 1.05
"""A hem may ride up by a twentieth before it looks outgrown. common practice, no source."""


def theirs(stature: float, sex: str, age: int, months: int) -> float:
    """mm, by rcpchgrowth, on the centile of today."""
    z = sds_for_measurement("cdc", age / 12, "height", stature / 10, sex)
    return 10 * measurement_from_sds("cdc", z, "height", sex, (age + months) / 12)


def months_by_their_curve(stature: float, sex: str, age: int) -> int:
    """A cloak is 0.66 of the stature to the next 10 mm: the last month at which it is not a twentieth
    short."""
    def long(mm: float) -> float:
        return 10 * round(0.66 * mm / 10)

    now = long(stature)
    return max(m for m in range(60) if long(theirs(stature, sex, age, m)) <= TALL_ENOUGH * now)


@pytest.mark.parametrize(("sex", "ours"), (("female", "woman"), ("male", "man")))
@pytest.mark.parametrize(("stature", "age"), (
    (860.0, 30), (1100.0, 66), (1280.0, 98), (1450.0, 126), (1520.0, 150)))
def test_a_garment_fits_until_the_month_of_the_curve(sex, ours, stature, age):
    one = made("cloak", {}, {**TAM, "stature": stature})
    body = replace(one.body, sex=ours, age_months=age)
    lasts = {part.part: part.months for part in lasting(one.pattern, body, age, reserves=False)}
    assert lasts["the length"] == pytest.approx(months_by_their_curve(stature, sex, age), abs=1)


def test_another_centile_s_curve_would_be_noticed():
    """A child ten centimetres taller of the same age grows out of it in another month."""
    assert abs(months_by_their_curve(1280, "female", 98) - months_by_their_curve(1400, "female", 98)) > 1


def child(name: str, stature: str, born: str, id: str, **more) -> KitWearer:
    texts = {"stature": stature, "bust_girth": "62 cm", "waist_girth": "57 cm", "hip_girth": "67 cm",
             "arm_length": "42 cm", "crotch_length": "46 cm", **more}
    return KitWearer(id, Wearer(name=name, measurements=texts, measured="2026-10-03", sex="woman", born=born))


ODA = child("Oda", "128 cm", "2018-08-01", "w1")
RUNA = child("Runa", "112 cm", "2021-06-01", "w2", bust_girth="57 cm", waist_girth="53 cm", hip_girth="60 cm",
             arm_length="36 cm", crotch_length="40 cm")
"""Invented children of Marram Farm."""


def farm(*garments: KitGarment) -> Kit:
    return Kit(title="Marram Farm", wearers=(ODA, RUNA), garments=garments)


TUNIC = KitGarment("g1", "w1", "tunic", {"growth_tuck": "3 cm", "hem_depth": "3 cm"})


def test_what_is_let_down_lasts_a_season_more_or_is_all_that_there_is():
    one = made("tunic", {"growth_tuck": "3cm"}, TAM)
    body = replace(one.body, sex="woman", age_months=78)
    one = replace(one, body=body)
    fits = {fit.place: fit.change for fit in to_let(one, 78, 14)}
    assert 0 < fits["length"] <= 60 + 24
    assert outlook(one.pattern, body, 78).let_out >= outlook(one.pattern, body, 78).as_it_is


def test_the_season_names_the_month_that_the_outlook_counts():
    (told,) = family_season(farm(TUNIC), "2027-04-01").garments
    assert told.until == month_name("2026-10-03", told.outlook.as_it_is)
    assert told.months == 5


def test_what_is_outgrown_goes_to_the_smaller_child_or_is_to_be_made_new():
    season = family_season(farm(TUNIC), "2029-06-01")
    (told,) = season.garments
    assert told.outgrown
    assert [handed.name for handed in told.to] == ["Runa"]
    assert season.new == ("Oda: tunic",)
    text = listing_text(season_listing(season, "cm", "Marram Farm"))
    assert "fits Runa from about" in text and "Oda: tunic" in text


def test_a_larger_child_is_not_handed_what_is_too_small():
    """Of two bodies the larger: the garment's own checks ask for more than it has."""
    one = made("tunic", {}, TAM)
    larger = body_for(one.garment, TAM, stature=1400.0, bust_girth=760.0, waist_girth=680.0, hip_girth=800.0)
    assert fits_other(one, one.garment, replace(larger, age_months=None), None) is None
    assert fits_other(one, one.garment, one.body, None) is not None


def test_a_season_before_the_birth_or_the_measuring_is_a_sentence():
    for date, says in (("2017-01-01", "Oda is not born yet"),
                       ("2026-09-01", "was measured on 2026-10-03, after"),
                       ("soon", "no date: write it as 2027-04-01")):
        with pytest.raises(BadInput, match=says):
            family_season(farm(TUNIC), date)


def test_the_demo_s_season_fits_on_one_page(tmp_path):
    from pypdf import PdfReader

    done = run("season", "demo", "--date", "2027-04-01", "--out", str(tmp_path))
    assert done.returncode == 0, done.stderr
    assert "Ebba" in done.stdout and "Hild" not in done.stdout.split("To hand on")[0].split("\n", 1)[1]
    assert len(PdfReader(tmp_path / "season.pdf").pages) == 1
    steps = run("season", "demo", "--date", "2027-04-01", "--steps")
    assert "Unpick: felling of" in steps.stdout and len(steps.stdout) > len(done.stdout)


def test_a_kit_of_the_grown_says_so_and_one_without_dates_what_is_missing(tmp_path):
    demo = demo_kit()
    grown = replace(demo, wearers=demo.wearers[:2], garments=demo.garments[:4])
    assert "Nobody in this kit still grows" in listing_text(season_listing(
        family_season(grown, "2027-04-01"), "cm"))
    undated = replace(ODA, wearer=replace(ODA.wearer, measured=None, born=None, age=98))
    path = tmp_path / "farm.kit.json"
    path.write_text(write_kit(replace(farm(TUNIC), wearers=(undated, RUNA))))
    done = run("season", str(path), "--date", "2027-04-01")
    assert done.returncode == 1 and "when the tape was taken is not said" in done.stdout


def test_what_was_let_out_already_is_told_of_as_it_is_now():
    """What the tuck gave once is longer now, and no longer in reserve: it is outgrown when it was to be."""
    before, after = (family_season(farm(replace(TUNIC, life=life)), "2027-04-01").garments[0].outlook
                     for life in ((), (LifeEvent("altered", "2027-01-05", "", {}, {"length": "+6 cm"}),)))
    assert after.as_it_is > before.as_it_is
    assert after.let_out == pytest.approx(before.let_out, abs=1)


def test_a_garment_that_was_handed_on_is_told_of_for_who_has_it_now():
    handed = LifeEvent("handed on", "2029-05-01", "w2")
    (told,) = family_season(farm(replace(TUNIC, life=(handed,))), "2029-06-01").garments
    assert (told.owner, told.title) == ("Runa", "Tunic, from Oda") and not told.outgrown
    away = replace(TUNIC, life=(handed, LifeEvent("handed on", "2029-05-02")))
    assert family_season(farm(away), "2029-06-01").garments == ()


def test_the_page_asks_for_a_season_as_a_list_and_as_one_page_to_print():
    from io import BytesIO

    from pypdf import PdfReader

    asked = {"do": "season", "kit": write_kit(farm(TUNIC)), "date": "2027-04-01"}
    told = workbench.run(asked)
    assert told["text"] == listing_text(season_listing(
        family_season(farm(TUNIC), "2027-04-01"), "cm", "Marram Farm"))
    sheet = workbench.run({"do": "season-sheet", "listing": told["listing"], "paper": "A4"})
    assert len(PdfReader(BytesIO(sheet["bytes"])).pages) == 1
    early = workbench.run({**asked, "date": "2017-01-01"})
    assert "not born yet" in early["problems"][0]["message"]
