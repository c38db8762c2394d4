"""From phone to phone: the QR code on the screen, links to a kit, the browser's own way to share."""

import io
import json
import random
from pathlib import Path
from string import ascii_lowercase

import numpy
import pdfplumber
import pytest
from PIL import Image
from visitor import PHONE, Visitor

from drafting.kit import pack, parts, read_kit
from drafting.kit.codes import codes
from drafting.kit.marram_farm import demo_kit
from tests.scanning import scan

pytestmark = pytest.mark.browser

LINK = "#apron-dress&v=2&unit=cm&bust_girth=104cm&waist_girth=88cm&torso_length=41cm&end"
SHARING = """
    window.shared = [];
    navigator.canShare = data => !data.files || data.files[0].type !== "application/json";
    navigator.share = async data => {
        if (window.refusal) throw new DOMException(window.refusal, window.refusal);
        shared.push(data);
    };
    window.locks = 0;
    Object.defineProperty(navigator, "wakeLock", {value: {request: async () => {
        locks += 1;
        return {released: false, release: async () => { locks -= 1; }};
    }}});
"""
"""Stands in for what a phone's browser has and a headless one has not."""


@pytest.fixture(scope="module")
def giver(profiles):
    someone = Visitor(profiles, profiles.site, device_scale_factor=2)
    someone.runs_first(SHARING)
    someone.keep_a_link(LINK)
    yield someone
    assert someone.errors == []
    someone.close()


@pytest.fixture
def visitor(giver):
    giver.page.set_viewport_size(PHONE)
    giver.page.emulate_media(color_scheme="light")
    if giver.page.is_visible("#qr"):
        giver.page.click("[data-do='qr:close']")
    return giver


@pytest.fixture(scope="module")
def taker(profiles):
    someone = Visitor(profiles, profiles.site)
    someone.open()
    yield someone
    assert someone.errors == []
    someone.close()


def show_code(visitor):
    visitor.page.click("#show-qr")
    visitor.page.wait_for_selector("#show-qr[aria-expanded=true]")


def drawn_anew(visitor, do):
    """Do what changes the code on the screen, and wait until it is another."""
    before = visitor.page.inner_html("#qr-code")
    do()
    visitor.page.wait_for_function(
        "before => document.getElementById('qr-code').innerHTML !== before", arg=before)


def scanned(visitor):
    """What another phone's camera would find on the screen."""
    visitor.go("take-away")
    visitor.page.evaluate("document.getElementById('qr-code').scrollIntoView({block: 'start'})")
    visitor.stands_still()
    screen = Image.open(io.BytesIO(visitor.page.screenshot())).convert("L")
    return scan(numpy.asarray(screen))


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_code_on_the_screen_reads_as_the_link(visitor, scheme):
    visitor.page.emulate_media(color_scheme=scheme)
    show_code(visitor)
    assert scanned(visitor) == visitor.link()
    box = visitor.page.locator("#qr-code svg").bounding_box()
    assert box["width"] == PHONE["width"]
    modules = int(visitor.page.evaluate(
        "getComputedStyle(document.getElementById('qr-code')).getPropertyValue('--modules')"))
    assert box["width"] / modules >= 3
    shades = visitor.page.evaluate(
        "getComputedStyle(document.getElementById('qr')).backgroundColor")
    assert shades == "rgb(255, 255, 255)"


def test_the_code_follows_the_draft_and_the_screen_stays_on(visitor):
    show_code(visitor)
    visitor.page.wait_for_function("window.locks === 1")
    drawn_anew(visitor, lambda: visitor.type(waist_girth="86"))
    assert "waist_girth=86cm" in scanned(visitor)
    visitor.type(name="Hild")
    drawn_anew(visitor, lambda: visitor.page.check("#with-name"))
    assert "name=Hild" in scanned(visitor)
    drawn_anew(visitor, lambda: visitor.page.uncheck("#with-name"))
    assert "Hild" not in scanned(visitor)
    visitor.page.click("[data-do='qr:close']")
    assert visitor.page.evaluate("document.activeElement.id") == "show-qr"
    visitor.page.wait_for_function("window.locks === 0")
    visitor.type(waist_girth="88", name="")


def test_a_long_draft_goes_code_by_code_into_another_phone(visitor, taker):
    rng = random.Random(4)
    rules = {"format": "ellwand-house-rules", "version": 1, "group": "Marram Farm",
             "not_allowed": ["".join(rng.choices(ascii_lowercase, k=30)) for _ in range(60)]}
    visitor.choose_file("#house-file", "house-said", json.dumps(rules))
    visitor.settle()
    visitor.page.check("#with-name")
    show_code(visitor)
    expected = [code.link for code in codes(visitor.link(with_name=True))]
    count = len(expected)
    assert count > 1
    for number in range(1, count + 1):
        assert visitor.text("qr-label") == f"QR code {number} of {count}"
        link = scanned(visitor)
        assert link == expected[number - 1]
        hand(taker, link.partition("#")[2])
        if number < count:
            noticed(taker, f"{number} of {count} codes are here")
        visitor.page.click("#qr-next")
    taker.page.wait_for_function("document.getElementById('bust_girth').value === '104'")
    taker.page.wait_for_function(
        "last => document.getElementById('house').textContent.includes(last)", arg=rules["not_allowed"][-1])
    visitor.page.uncheck("#with-name")
    visitor.page.evaluate("document.querySelector('[data-do=house-close]').click()")
    visitor.settle()

def test_the_link_is_shared_where_the_browser_can(visitor):
    visitor.page.click("#share-link")
    visitor.page.wait_for_function("window.shared.length === 1")
    data = visitor.page.evaluate("shared.pop()")
    assert data["url"] == visitor.link() and "Apron dress" in data["title"]
    assert "Handed" in visitor.text("took-link") or "Copied" in visitor.text("took-link")


def test_a_file_is_shared_where_the_browser_can(visitor):
    visitor.download("pieces.svg")
    visitor.page.click("[data-do='share:took-pieces.svg']")
    visitor.page.wait_for_function("window.shared.length === 1")
    held = visitor.page.evaluate(
        "async () => { const [file] = shared.pop().files; return [file.name, file.type, await file.text()] }")
    assert held[:2] == ["apron-dress-pieces.svg", "image/svg+xml"]
    assert held[2].encode() == visitor.download("pieces.svg")


def test_sharing_that_is_refused_says_so_and_thinking_better_of_it_says_nothing(visitor):
    visitor.page.evaluate("window.refusal = 'NotAllowedError'")
    visitor.page.click("#share-link")
    visitor.page.wait_for_function(
        "document.getElementById('took-link').textContent.includes('could not be shared')")
    visitor.link()
    visitor.page.evaluate("window.refusal = 'AbortError'")
    said = "document.getElementById('took-link')"
    visitor.page.evaluate(
        f"() => {{ window.said = []; new MutationObserver(() => said.push({said}.textContent))"
        f".observe({said}, {{childList: true}}); }}")
    visitor.page.click("#share-link")
    visitor.link()  # done after it
    assert not any("could not" in text for text in visitor.page.evaluate("said"))
    visitor.page.evaluate("window.refusal = ''")


def test_what_the_browser_cannot_share_is_not_offered(visitor, taker):
    assert not taker.page.is_visible("#share-link")
    taker.download("pieces.svg")
    assert taker.page.locator("[data-do^='share:took']").count() == 0
    visitor.pattern()
    assert visitor.page.locator("[data-do='share:took-pattern.json']").count() == 0


# --- What was handed over -------------------------------------------------------------------------


def long_draft():
    name = "abcdefghijklmnopqrstuvwxyz" * 3
    return LINK.lstrip("#").replace("bust_girth=104", "bust_girth=99").replace("&end", f"&name={name}&end")


def parts_of(fragment, count):
    longest = 60 + len(parts(fragment, 70)[0]) // count
    return parts(fragment, longest)


def hand(taker, fragment):
    taker.page.evaluate("hash => { location.hash = hash }", "#" + fragment)


def noticed(taker, words):
    taker.page.wait_for_function(
        "words => document.getElementById('notices').innerText.includes(words)", arg=words)


def test_the_parts_of_a_link_come_together_in_any_order_and_over_a_reload(taker):
    pieces = parts_of(long_draft(), 3)
    assert len(pieces) >= 3
    hand(taker, pieces[-1])
    noticed(taker, f"1 of {len(pieces)} codes are here")
    taker.reload()
    noticed(taker, f"1 of {len(pieces)} codes are here")
    other_tab = taker.page
    taker.new_page()
    taker.open("#" + pieces[0])
    noticed(taker, f"2 of {len(pieces)} codes are here")
    for piece in pieces[1:-1]:
        hand(taker, piece)
    taker.page.wait_for_function("document.getElementById('bust_girth').value === '99'")
    taker.settle()
    assert "codes are here" not in taker.text("notices")
    taker.page.close()
    taker.page = other_tab
    taker.reload()
    assert "codes are here" not in taker.text("notices")


def test_a_part_that_does_not_read_says_so_and_the_others_are_kept(taker):
    pieces = parts_of(long_draft(), 3)
    hand(taker, pieces[0])
    noticed(taker, "1 of")
    hand(taker, "draft=1.broken")
    noticed(taker, "cut short")
    hand(taker, pieces[1])
    noticed(taker, "2 of")
    taker.page.click("[data-do='handed:forget']")
    taker.reload()
    assert taker.text("notices") == ""


def test_a_kit_that_came_by_a_link_is_shown_before_anything_changes(taker):
    before = taker.pattern()
    hand(taker, pack(demo_kit(), names=True))
    noticed(taker, "A kit of 3 wearers, 6 garments: Marram Farm, clothes for the season")
    assert "Nothing of yours has changed" in taker.text("notices")
    taker.reload()
    noticed(taker, "A kit of 3 wearers")
    assert taker.pattern() == before
    with taker.page.expect_download() as caught:
        taker.page.click("[data-do='handed:save']")
    assert read_kit(Path(caught.value.path()).read_text()) == demo_kit()
    taker.page.click("[data-do='handed:forget']")
    taker.reload()
    assert taker.text("notices") == ""
    assert taker.page.evaluate("location.hash === `#${document.documentElement.dataset.part}`")


# --- The shopping list ----------------------------------------------------------------------------


def test_the_shopping_list_is_made_while_the_page_stays_alive_and_can_be_stopped(visitor):
    visitor.page.click("[data-do='shop:make']")
    visitor.page.wait_for_function("document.getElementById('shop-progress').value > 0.15")
    assert "cm" in visitor.text("shop-so-far")
    visitor.type(waist_girth="87")
    assert visitor.pattern()["measurements"]["waist_girth"] == 870
    visitor.type(waist_girth="88")
    visitor.that_will_do("shop")
    visitor.page.wait_for_selector("#shop-buttons:not([hidden])")
    assert "cloth, 150 cm wide" in visitor.text("shopping-list")
    assert "wool thread" in visitor.text("shopping-list")


def test_the_list_says_when_it_is_no_longer_true(visitor):
    visitor.make_list()
    assert visitor.page.get_attribute("#shopped", "data-current") == "yes"
    assert visitor.text("shop-said") == ""
    visitor.type(waist_girth="85")
    assert "make the list again" in visitor.text("shop-said")
    visitor.type(waist_girth="88")


def test_the_list_goes_as_text_and_on_paper(visitor):
    visitor.make_list()
    assert visitor.page.get_attribute("#shopped", "data-current") == "yes"
    visitor.page.click("[data-do='shop:copy']")
    visitor.page.wait_for_selector("#shop-text-shown:not([hidden])")
    text = visitor.typed("shop-text")
    assert text.startswith("Apron dress") and "- wool thread, two-ply: " in text
    visitor.page.click("#share-shop")
    visitor.page.wait_for_function("window.shared.length === 1")
    assert visitor.page.evaluate("shared.pop().text") == text
    with visitor.page.expect_download() as caught:
        visitor.page.click("#print-shop")
    with pdfplumber.open(caught.value.path()) as pdf:
        printed = pdf.pages[0].extract_text()
    assert "wool thread, two-ply" in printed and "☐" in printed
    visitor.page.click("[data-do='share:took-shop']")
    visitor.page.wait_for_function("window.shared.length === 1")
    assert visitor.page.evaluate("shared.pop().files[0].type") == "application/pdf"
