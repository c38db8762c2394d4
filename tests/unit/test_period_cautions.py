"""Cautions stand where they apply, and each leaves the last word to those who know or decide."""

import re

import pytest

from drafting.garments import GARMENTS
from drafting.period.cautions_due import cautions_for
from drafting.period.choice import read_choice
from drafting.period.impression import Impression
from drafting.words import cautions as words
from tests.drafts import drafted

EVERY = {name: text for name, text in vars(words).items() if name.isupper() and isinstance(text, str)}


def told(garment="tunic", age=None, stature=None, activities=(), **more):
    choice = read_choice(Impression(**{"garment": garment, "year": "900", "region": "Norway", **more}))
    return {c.sentence for c in cautions_for(choice, age_years=age, stature=stature, activities=activities)}


def test_ties_anywhere_on_a_small_child_are_cautioned_of():
    assert words.CORDS in told("tunic", age=4, fastening="ties")
    assert words.NECK_CLOSING in told("tunic", age=4, options={"neckline": "keyhole"})
    assert words.DRAWSTRING in told("trousers", age=10, options={"waist": "drawstring"})
    assert words.TOGGLES in told("wrap-coat", age=3, options={"closure": "toggles"})
    assert words.TOGGLES in told("cloak", age=3, options={"closure": "toggle"})
    assert words.CLOAK_CATCHES in told("cloak", age=3)
    assert not {words.NECK_CLOSING, words.DRAWSTRING} & told("tunic", options={"neckline": "keyhole"})


def test_pins_are_cautioned_of_where_there_are_some():
    assert words.BROOCH_STRAPS in told("apron-dress")
    assert words.BROOCH_STRAPS not in told("apron-dress", options={"strap_style": "single"})
    assert words.PINS in told("cloak")
    assert words.PINS not in told("cloak", options={"closure": "toggle"})
    assert words.PINS in told("wrap-coat", fastening="brooch")
    assert words.PINS in told("apron-dress", options={"strap_style": "single", "style": "wrapped"})
    assert words.PINS in told("head-scarf")
    assert words.PINS not in told("tunic")


def test_the_hearth_is_named_for_long_hems_plant_fibres_and_synthetics():
    for garment in ("apron-dress", "underdress", "cloak"):
        assert words.LONG_HEM in told(garment)
    assert words.OPEN_FIRE not in told("tunic") and words.OPEN_FIRE in told("tunic", activities=["fire"])
    assert words.PLANT_FIBRE_BURNS in told("underdress")
    assert words.PLANT_FIBRE_BURNS in told("tunic", fibre="linen", activities=["fire"])
    assert words.PLANT_FIBRE_BURNS not in told("tunic", fibre="wool", activities=["fire"])
    for more in ({"fibre": "polyester"}, {"fibre": "wool-mix"}, {"thread": "polyester"}):
        assert words.SYNTHETICS_MELT in told("tunic", **more)
    assert words.SYNTHETICS_MELT not in told("tunic", fibre="wool")


def test_wool_is_cautioned_of_for_skins_that_do_not_bear_it():
    assert words.WOOL_ON_SKIN in told("tunic") and words.WOOL_ON_SKIN in told("cap", fibre="wool")
    assert words.WOOL_ON_SKIN not in told("tunic", fibre="linen")


def test_dyeing_is_cautioned_of_by_dye():
    assert not {words.DYE_BATH, words.MORDANTS} & told("tunic", colour="undyed-grey")
    assert {words.DYE_BATH, words.MORDANTS} <= told("tunic", colour="madder")
    assert {words.DYE_BATH, words.VAT} <= told("tunic", colour="woad")
    assert words.MORDANTS not in told("tunic", colour="woad")
    assert words.AMMONIA in told("tunic", colour="lichen-purple")
    assert words.IRON_BATH in told("tunic", colour="tannin-iron")
    assert words.DYE_BATH in told("tunic", activities=["dyeing"])
    assert words.DYE_BATH not in told("tunic", colour="madder", activities=["sewing"])
    assert words.DYE_BATH not in told("tunic", colour="neon")


def test_fulling_and_shears_are_cautioned_of():
    assert words.HOT_FULLING in told("tunic", activities=["fulling"])
    assert words.HOT_FULLING in told("tunic", weave="felt")
    assert words.HOT_FULLING not in told("tunic")
    for garment in GARMENTS:
        assert words.SHARP_TOOLS in told(garment)


def test_nothing_is_said_twice():
    choice = read_choice(Impression(
        garment="cloak", year="900", region="Norway", fastening="brooch", wearer="girl",
        colour="purple", fibre="wool-mix", thread="polyester", weave="felt",
    ))
    sentences = [c.sentence for c in cautions_for(choice, activities=["fire", "dyeing", "fulling"])]
    assert len(set(sentences)) == len(sentences)


@pytest.mark.parametrize("name", [
    "OPEN_FIRE", "LONG_HEM", "PLANT_FIBRE_BURNS", "CORDS", "CORDS_OLDER", "NECK_CLOSING", "DRAWSTRING",
    "PINS", "BROOCH_STRAPS", "TOGGLES", "CLOAK_CATCHES", "TAIL_CATCHES", "MORDANTS", "DYE_BATH", "AMMONIA",
    "WOOL_ON_SKIN", "VAT",
])
def test_a_caution_leaves_the_last_word_to_those_who_know_or_decide(name):
    assert re.search("rules|code|qualified|doctor|ask|sheet", EVERY[name])


def test_garments_and_advice_say_the_same_in_the_same_words():
    pattern = drafted()
    assert set(pattern.cautions) <= set(EVERY.values())
    assert set(pattern.cautions) <= told("apron-dress")
