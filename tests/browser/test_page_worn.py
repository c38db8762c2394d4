"""The garment seen on its wearer before any cloth is cut."""

import re

import pytest
from visitor import MEASURED, PHONE, Visitor

pytestmark = pytest.mark.browser

HUNG = "document.getElementById('wear-working').hidden && !document.getElementById('wear-seen').hidden"


@pytest.fixture
def phone(profiles):
    someone = Visitor(profiles, profiles.site, PHONE)
    someone.open()
    someone.type(**MEASURED)
    yield someone
    assert someone.errors == []
    assert not someone.scrolls_sideways()
    someone.close()


def hang(someone):
    someone.unfold("wear-part")
    someone.page.click("[data-do=wear]")


def test_a_dress_is_hung_and_told_of_and_is_old_once_a_measurement_is_another(phone):
    hang(phone)
    phone.page.wait_for_function(HUNG)
    said = phone.text("wear-sentences")
    assert all(view in phone.text("wear-picture") for view in ("Front", "Left side", "Back"))
    low, high = map(float, re.search(r"clears the floor by ([\d.]+) cm to ([\d.]+) cm", said).groups())
    # What it must come to for a wearer of that height, whose dress is cut to hang at about the ankle.
    assert 0 < low <= high < 60
    assert "of 92 cm" in said and "of 78 cm" in said
    assert phone.page.get_attribute("#wear-seen", "data-current") == "yes"
    phone.type(waist_girth="84")
    assert phone.page.get_attribute("#wear-seen", "data-current") == "no"
    assert "hang it again" in phone.text("wear-said")
    phone.type(waist_girth=MEASURED["waist_girth"])
    assert phone.page.get_attribute("#wear-seen", "data-current") == "yes"
    assert phone.text("wear-said") == ""


def test_whoever_has_seen_enough_gets_how_it_hangs_by_now(phone):
    hang(phone)
    phone.page.click("[data-do='stop-wear']")
    phone.page.wait_for_function(HUNG)
    assert "Front" in phone.text("wear-picture")


def test_what_nothing_holds_up_gets_a_sentence(phone):
    phone.pick("strap_style", "none")
    hang(phone)
    phone.page.wait_for_function("document.getElementById('wear-said').textContent")
    assert phone.page.is_hidden("#wear-seen")
    assert "without straps" in phone.text("wear-said")
