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


PIXELS = """(count) => { const canvas = document.getElementById('wear-picture');
    const { data } = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height);
    let found = 0;
    for (let i = 0; i < data.length; i += 4) found += count(data[i], data[i + 1], data[i + 2]);
    return 4 * found / data.length; }"""


def share_drawn(someone):
    """Of the picture: what is not white paper."""
    return someone.page.evaluate(f"({PIXELS})((r, g, b) => r + g + b < 750)")


def share_coloured(someone):
    """Of the picture: what is not grey."""
    return someone.page.evaluate(f"({PIXELS})((r, g, b) => Math.max(r, g, b) - Math.min(r, g, b) > 8)")


def picture(someone):
    """Once what was asked for is painted."""
    someone.page.evaluate("new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")
    return someone.page.evaluate("document.getElementById('wear-picture').toDataURL()")


def hang(someone):
    someone.unfold("wear-part")
    someone.page.click("[data-do=wear]")


def test_a_dress_is_hung_and_told_of_and_is_old_once_a_measurement_is_another(phone):
    hang(phone)
    phone.page.wait_for_function(HUNG)
    said = phone.text("wear-sentences")
    assert phone.page.get_attribute("#wear-picture", "aria-valuetext") == "from the front"
    assert 0.1 < share_drawn(phone) < 0.6
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
    assert share_drawn(phone) > 0.1


def test_what_nothing_holds_up_gets_a_sentence(phone):
    phone.pick("strap_style", "none")
    hang(phone)
    phone.page.wait_for_function("document.getElementById('wear-said').textContent")
    assert phone.page.is_hidden("#wear-seen")
    assert "without straps" in phone.text("wear-said")


def test_it_is_turned_by_a_finger_by_keys_and_by_buttons_and_is_grey_on_paper(phone):
    hang(phone)
    phone.page.wait_for_function(HUNG)
    front = picture(phone)
    canvas = phone.page.locator("#wear-picture")
    canvas.scroll_into_view_if_needed()
    box = canvas.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + min(box["height"], 300) / 2
    phone.page.mouse.move(x, y)
    phone.page.mouse.down()
    phone.page.mouse.move(x - 60, y)
    phone.page.mouse.up()
    assert canvas.get_attribute("aria-valuenow") == "36"
    canvas.focus()
    phone.page.keyboard.press("ArrowRight")
    assert canvas.get_attribute("aria-valuenow") == "51"
    phone.page.keyboard.press("Home")
    assert picture(phone) == front
    phone.page.click("[data-do='turn:180']")
    assert canvas.get_attribute("aria-valuetext") == "from behind"
    assert picture(phone) != front
    # source: WCAG 2.2, 2.5.5: 44 px
    for button in phone.page.locator("#wear-turns button").all():
        assert min(button.bounding_box()[way] for way in ("width", "height")) >= 44
    assert share_coloured(phone) > 0.1
    phone.page.evaluate("window.dispatchEvent(new Event('beforeprint'))")
    assert share_coloured(phone) < 0.001
    phone.page.evaluate("window.dispatchEvent(new Event('afterprint'))")
    assert share_coloured(phone) > 0.1
