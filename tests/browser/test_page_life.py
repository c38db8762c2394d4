"""The life of a garment on the page: tried on, kept, taken up by the next, let out, handed on; the season."""

import pytest
from visitor import PHONE, Visitor

pytestmark = pytest.mark.browser


@pytest.fixture
def phone(profiles):
    someone = Visitor(profiles, profiles.site, PHONE)
    someone.open()
    yield someone
    assert someone.errors == []
    assert not someone.scrolls_sideways()
    someone.close()


def feel(page, place, word, much=""):
    page.locator(f"summary:has(#try-of-{place})").click()
    page.locator(f'label:has(input[data-feel="{place}"][value="{word}"])').click()
    if much:
        page.locator(f'[data-much="{place}"]').fill(much)


def said(page, name, part):
    page.wait_for_function("([name, part]) => document.getElementById(name).textContent.includes(part)",
                           arg=[name, part])


def test_a_try_on_is_kept_and_the_next_of_its_kind_takes_it_up_and_can_be_told_not_to(phone):
    page = phone.page
    page.click("[data-do='kit:demo']")
    page.wait_for_selector("[data-do='garment:more:g6']")
    phone.settle()
    page.locator("[data-do='garment:more:g6']").click()
    page.locator("[data-do='try-on:go:g6']").click()
    said(page, "try-whose", "Ebba: underdress")
    page.wait_for_selector("#try-questions details")
    feel(page, "chest", "tight", "3")
    assert phone.text("try-of-chest") == "tight 3 cm"
    feel(page, "sleeve-length", "long", "2")
    page.locator("[data-do='try-on:see']").click()
    page.wait_for_selector("#tried", state="visible")
    assert "chest 3 cm larger" in phone.text("try-changes")
    assert page.locator("#try-picture polygon").count() >= 3
    assert page.locator("#try-steps li").count() > 3
    page.locator("[data-do='try-on:keep']").click()
    said(page, "try-kept-said", "next underdress for Ebba is drafted with: chest +3 cm, sleeve length −2 cm")
    page.locator("#try-altered").click()
    said(page, "try-story", "Altered: chest +2 cm, sleeve length −2 cm")  # the seams hold no more
    page.locator("[data-do=done]").click()
    phone.go("kit")
    page.locator("[data-do='garment:copy:g6']").click()
    phone.settle()
    phone.go("garment")
    said(page, "taken_up-said", "chest +3 cm")
    assert "earlier try-on" in page.text_content("#notes")
    phone.until_asked(lambda: page.locator("#taken_up").click())
    phone.settle()
    assert "This draft is without it" in phone.text("taken_up-said")
    assert "earlier try-on" not in page.text_content("#notes")
    phone.saved()
    phone.reload()
    assert "This draft is without it" in phone.text("taken_up-said")


def test_answers_that_say_not_how_much_get_a_sentence_and_the_season_is_told_and_printed(phone):
    page = phone.page
    page.click("[data-do='kit:demo']")
    page.wait_for_selector("[data-do='garment:more:g6']")
    phone.settle()
    page.evaluate("document.querySelector('[data-do=\"section:try-on\"]').click()")
    page.wait_for_selector("#try-questions details")
    feel(page, "length", "short")
    page.locator("[data-do='try-on:see']").click()
    said(page, "try-said", "says not how much")
    phone.go("kit")
    page.locator("[data-do='garment:more:g6']").click()
    page.locator("[data-hand-on=g6]").select_option("w1")
    said(page, "kit-wearers", "Ebba's, handed on to Hild")
    assert "from Ebba" in phone.text("kit-wearers")
    page.locator("[data-do='garment:back:g6']").click()
    assert "from Ebba" not in phone.text("kit-wearers")
    page.fill("#season-date", "2027-04-01")
    page.click("[data-do='season:look']")
    page.wait_for_selector("#season-shown", state="visible")
    assert "Ebba" in phone.text("season-list") and "from 2027-04-01" in phone.text("season-list")
    with page.expect_download() as printed:
        page.click("[data-do='season:sheet']")
    assert printed.value.suggested_filename == "season.pdf"
    page.fill("#season-date", "2010-04-01")
    page.click("[data-do='season:look']")
    said(page, "season-said", "not born yet")
