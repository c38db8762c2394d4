"""What a fitter asks and hears, as fits: words with a number or a pinch, and what contradicts itself."""

from xml.etree import ElementTree

import pytest

from drafting.garments import GARMENTS
from drafting.life.as_altered import as_altered
from drafting.life.as_cut import most_on_the_cloth
from drafting.life.fits import Fit, fit_texts, read_fits, together
from drafting.life.try_on import questions
from drafting.requests import workbench
from drafting.words.problems import BadInput
from tests.drafts import request
from tests.reference.test_life_fits import made

ASTA = {"stature": "166 cm", "bust_girth": "94 cm", "waist_girth": "81 cm", "hip_girth": "102 cm",
        "arm_length": "55.5 cm"}


@pytest.mark.parametrize(("place", "text", "mm"), (
    ("chest", "tight 3 cm", 30.0), ("chest", "loose 20 mm", -20.0), ("chest", "loose pinch 1.5 cm", -30.0),
    ("sleeve-length", "short 2", 20.0), ("sleeve-length", "Long: 2 cm", -20.0),
    ("length", "rides-up 4 cm", 40.0),
    ("neck", "gapes pinch 1 cm", -20.0),
))
def test_what_is_felt_is_a_fit(place, text, mm):
    """A pinched fold takes twice its depth. source: plane geometry"""
    assert read_fits([(place, text)]) == (Fit(place, mm),)


def test_answers_that_contradict_each_other_are_a_sentence():
    with pytest.raises(BadInput, match="Chest: it was answered tight and loose at once"):
        read_fits([("chest", "tight 2 cm"), ("chest", "loose 1 cm")])
    assert read_fits([("chest", "tight 2 cm"), ("chest", "tight 1 cm")]) == (Fit("chest", 30.0),)


@pytest.mark.parametrize(("place", "text", "says"), (
    ("chest", "long 2 cm", "cannot be “long”: it is tight, loose, gapes or rides up"),
    ("chest", "tight", "says not how much: How much wider"),
    ("hips", "twists", "no fit mends"),
    ("chest", "tight a bit", "length"),
))
def test_what_cannot_be_felt_there_is_a_sentence(place, text, says):
    with pytest.raises(BadInput, match=says):
        read_fits([(place, text)])


@pytest.mark.parametrize("name", GARMENTS)
def test_every_garment_is_asked_about_its_own_places_and_every_answer_reads(name):
    one = made(name)
    asked = questions(one.garment, one.pattern)
    assert asked and len({question.place for question in asked}) == len(asked)
    for question in asked:
        assert question.drawing == "" or ElementTree.fromstring(question.drawing).tag.endswith("svg")
        for word, asks in question.feels:
            assert asks.endswith((".", "?"))
            if word != "twists":
                assert read_fits([(question.place, f"{word} 1 cm")])


def test_the_page_asks_and_is_told_what_changes_on_the_pieces():
    asked = workbench.run(request("try-on", garment="tunic", measurements=ASTA, options={"length": "98 cm"}))
    assert asked["ok"] and asked["altered"] == {} and asked["questions"][0]["place"] == "chest"
    told = workbench.run({"do": "try-on", "garment": "tunic", "measurements": ASTA,
                          "fits": {"chest": "tight 3 cm"}})
    assert told["ok"] and told["altered"]["holds"] and told["altered"]["steps"]
    assert ElementTree.fromstring(told["altered"]["picture"]).tag.endswith("svg")
    bad = workbench.run({"do": "try-on", "garment": "tunic", "measurements": ASTA,
                         "fits": [["chest", "tight 3 cm"], ["chest", "loose 3 cm"]]})
    assert not bad["ok"] and "at once" in bad["problems"][0]["message"]


def test_what_a_seam_gave_once_it_cannot_give_a_second_time():
    """Four edges of a 25 mm allowance hold 4 × (25 − 10) mm in all, however often they are let out. source:
    plane geometry; common practice, no source, for the 10 mm that a felled seam keeps."""
    cut = made("tunic", {"seam_allowance": "25mm", "body_width": "wide"})
    now = as_altered(cut, (Fit("chest", 40.0),))
    wider = now.pattern.finished["bust_girth"] - cut.pattern.finished["bust_girth"]
    assert wider == pytest.approx(40.0, abs=0.5)
    assert 60 * most_on_the_cloth(now, Fit("chest", 60.0)) == pytest.approx(20.0, abs=1.5)
    assert now.pattern.options["seam_allowance"] == pytest.approx(15.0, abs=0.5)
    assert as_altered(cut, ()) is cut


def test_a_growth_tuck_that_was_let_down_is_gone():
    cut = made("tunic", {"growth_tuck": "3cm"})
    now = as_altered(cut, (Fit("length", 40.0),))
    assert now.options["growth_tuck"] == pytest.approx(10.0, abs=0.5)
    assert as_altered(cut, (Fit("chest", 20.0),)).options["growth_tuck"] == 30.0


def test_fits_are_written_so_that_they_read_as_the_same_under_any_unit():
    fits = together((Fit("chest", 30.0), Fit("neck", -6.35)), (Fit("chest", -10.0), Fit("neck", 0.3)))
    for unit in ("cm", "in", "mm"):
        texts = fit_texts(fits, unit)
        for read_under in ("cm", "in"):
            again = {fit.place: fit.change for fit in read_fits(texts.items(), read_under)}
            assert again["chest"] == pytest.approx(20.0, abs=0.9 if unit == "in" else 0.1)
            assert again["neck"] == pytest.approx(-6.05, abs=0.9 if unit == "in" else 0.1)
    assert fit_texts((Fit("chest", 0.2),), "cm") == {}


def test_what_was_taken_up_and_altered_before_is_in_what_the_next_is_to_have():
    asked = {"do": "try-on", "garment": "tunic", "measurements": ASTA, "taken_up": {"chest": "+1 cm"},
             "altered": [["chest", "+1 cm"], ["sleeve-length", "-1 cm"]], "fits": {"chest": "tight 1 cm"}}
    told = workbench.run(asked)
    assert told["next"] == {"chest": "+3 cm", "sleeve-length": "-1 cm"}
    assert told["altered"]["done"] == {"chest": "+1 cm"}
    assert workbench.run({**asked, "fits": {}})["next"] == {"chest": "+2 cm", "sleeve-length": "-1 cm"}
