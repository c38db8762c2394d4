"""Everyone can use it: axe in every state, large text, narrow and flat screens, words explained, keys."""

import pytest
from visitor import DESKTOP, PARTS, PHONE, Visitor

from fetching import npm_package

pytestmark = pytest.mark.browser

LINK = "#apron-dress&v=2&unit=cm&bust_girth=104cm&waist_girth=88cm&torso_length=41cm&opening=none&end"
UNFOLD = "for (const fold of document.querySelectorAll('main details')) fold.open = true"


@pytest.fixture(scope="module")
def working(profiles):
    """With everything opened that can be: the lay, the steps, the code, the list, every fold."""
    someone = Visitor(profiles, profiles.site)
    someone.runs_first("navigator.share = async () => {}; navigator.canShare = () => true;")
    someone.keep_a_link(LINK)
    page = someone.page
    someone.type(cloth_name="madder-red wool")
    page.click('#kit [data-do="wearer:another"]')
    someone.type(name="Osgar")
    page.click("[data-do='garment:go:g1']")
    someone.settle()
    page.click("[data-do='garment:more:g1']")
    someone.lay(enough=True)
    someone.go("sewing")
    page.wait_for_selector("#sewing-made:not([hidden])")
    someone.make_list()
    page.click("[data-do='shop:copy']")
    page.click("#show-qr")
    page.wait_for_selector("#qr-code svg")
    someone.link()
    page.evaluate(
        "() => { ellwand.install = {prompt: async () => { window.prompted = true; }};"
        " document.dispatchEvent(new Event('ellwand-install')); }"
    )
    page.evaluate(UNFOLD)
    page.evaluate((npm_package("axe-core") / "axe.min.js").read_text(encoding="utf-8"))
    yield someone
    assert someone.errors == []
    someone.close()


@pytest.fixture
def visitor(working):
    working.page.set_viewport_size(PHONE)
    working.page.emulate_media(color_scheme="light")
    working.page.evaluate("document.documentElement.style.fontSize = ''")
    return working


def violations(visitor):
    found = visitor.page.evaluate(
        "axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', "
        "'best-practice']})"
    )
    assert len(found["passes"]) > 12
    return [(rule["id"], [node["target"] for node in rule["nodes"]][:4]) for rule in found["violations"]]


@pytest.mark.parametrize("screen", [PHONE, DESKTOP], ids=["phone", "desktop"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_with_everything_open(visitor, screen, scheme):
    """source: WCAG 2.2 A and AA as far as axe-core can check them."""
    visitor.page.set_viewport_size(screen)
    visitor.page.emulate_media(color_scheme=scheme)
    for part in PARTS:
        visitor.go(part)
        visitor.page.evaluate("scrollTo(0, 1e6)")  # where nothing passes below the bar
        assert violations(visitor) == [], part


FOLD = "for (const fold of document.querySelectorAll('main details')) fold.open = false"
TABLET = {"width": 768, "height": 1024}


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_as_one_first_sees_it(visitor, scheme):
    """source: WCAG 2.2 A and AA as far as axe-core can check them."""
    visitor.page.set_viewport_size(TABLET)
    visitor.page.emulate_media(color_scheme=scheme)
    visitor.page.evaluate(FOLD)
    visitor.page.evaluate("hash => { location.hash = hash }", LINK.replace("104cm", "99cm"))
    visitor.page.wait_for_selector("[data-do=for-me]")
    visitor.settle()
    for part in PARTS:
        visitor.go(part)
        visitor.page.evaluate("scrollTo(0, 1e6)")
        assert violations(visitor) == [], part
    visitor.page.click("[data-do=mine]")
    visitor.settle()
    visitor.page.evaluate(UNFOLD)


@pytest.mark.parametrize(("width", "height"), [(320, 640), (360, 740), (740, 360), (1280, 800)])
@pytest.mark.parametrize("text", ["100%", "200%"])
def test_nothing_scrolls_sideways_or_is_cut_off(visitor, width, height, text):
    """source: WCAG 2.2, success criteria 1.4.4 (text to 200 %) and 1.4.10 (320 CSS pixels)."""
    visitor.page.evaluate("size => { document.documentElement.style.fontSize = size }", text)
    visitor.turn({"width": width, "height": height})
    for part in PARTS:
        visitor.go(part)
        assert not visitor.scrolls_sideways(), part
        assert cut_off(visitor) == [], part


def cut_off(visitor):
    return visitor.page.evaluate(
        """() => [...document.querySelectorAll("main *, #bar *, footer *")]
            .filter(e => e.checkVisibility() && !e.closest("svg, #cloth, .unseen, .overflowing"))
            .filter(e => { const box = e.getBoundingClientRect();
                           return box.right > innerWidth + 0.5 || box.left < -0.5; })
            .map(e => e.id || e.className || e.localName)"""
    )


def test_a_phone_on_its_side_leaves_room_to_work(visitor):
    visitor.page.set_viewport_size({"width": 740, "height": 360})
    bar = visitor.page.locator("#bar").bounding_box()
    assert bar["height"] < 360 / 3


def test_a_trade_word_is_explained_on_tap_and_by_key(visitor):
    page = visitor.page
    page.click("#cutting [data-do='word:selvedge']")
    assert page.text_content("#word-title") == "Selvedge"
    assert "does not fray" in page.text_content("#word-text")
    assert violations(visitor) == []
    page.keyboard.press("Escape")
    assert not page.is_visible("#word")
    assert page.evaluate("document.activeElement.dataset.do") == "word:selvedge"
    page.keyboard.press("Enter")
    page.wait_for_selector("#word[open]")
    page.click("#word button")
    assert not page.is_visible("#word")


def test_each_word_is_marked_once_in_a_section(visitor):
    marked = visitor.page.eval_on_selector_all(
        "button.word", "words => words.filter(w => !w.closest('#passed'))"
        ".map(w => w.closest('section').id + ' ' + w.dataset.do)")
    assert len(marked) > 10
    assert sorted(set(marked)) == sorted(marked)


def test_the_install_hint_is_quiet_and_a_no_is_remembered(visitor):
    page = visitor.page
    visitor.go("wearer")
    assert page.is_visible("#install")
    page.click("[data-do='install:no']")
    page.wait_for_selector("#install", state="hidden")
    page.evaluate("document.dispatchEvent(new Event('ellwand-install'))")
    assert not page.is_visible("#install")
    page.evaluate("localStorage.removeItem('ellwand no install')")
    page.evaluate("document.dispatchEvent(new Event('ellwand-install'))")
    page.click("[data-do='install:yes']")
    page.wait_for_function("window.prompted")
    page.wait_for_selector("#install", state="hidden")


def test_the_first_visit_says_what_this_is_on_one_screen(chromium, site):
    someone = Visitor(chromium, site)
    someone.open()
    first = someone.page.inner_text("#example")
    assert first.count(".") == 3, "three sentences"
    box = someone.page.locator("#example").bounding_box()
    bar = someone.page.locator("#bar").bounding_box()
    assert box["y"] + box["height"] < bar["y"]
    assert someone.page.locator("#peek .cut").count() > 0
    someone.close()
