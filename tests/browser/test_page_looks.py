"""What a person sees and touches: small and large screens, keys, fingers, contrast, paper."""

import io
from pathlib import Path

import pytest
from PIL import Image
from visitor import DESKTOP, PARTS, PHONE, Visitor

from fetching import npm_package

pytestmark = pytest.mark.browser

SCREENSHOTS = Path(__file__).parent / "screenshots"
README_PICTURE = Path(__file__).parents[2] / "site" / "screenshot.png"
LINK = (
    "#apron-dress&v=2&unit=cm&year=980&region=denmark&rules=1~gMarram+Farm~y850,900&bust_girth=104cm"
    "&waist_girth=88cm&torso_length=41cm&opening=none&cloth_colour=madder&cloth_fibre=linen&end"
)
"""With a failed check, a group's rules and advice, so that these and their remedies are judged as well."""


@pytest.fixture(scope="module")
def drafted(profiles):
    someone = Visitor(profiles, profiles.site)
    someone.keep_a_link(LINK)
    yield someone
    assert someone.errors == []
    someone.close()


@pytest.fixture
def visitor(drafted):
    drafted.page.set_viewport_size(PHONE)
    drafted.page.emulate_media(media="screen", color_scheme="light")
    drafted.page.click("[data-do='zoom:all']")
    return drafted


def unfold_everything(visitor):
    visitor.page.evaluate("for (const fold of document.querySelectorAll('details')) fold.open = true")


@pytest.mark.parametrize(
    ("width", "height"), [(320, 640), (360, 740), (412, 915), (740, 360), (800, 1280), (1280, 800)]
)
def test_no_screen_scrolls_sideways(visitor, width, height):
    visitor.page.set_viewport_size({"width": width, "height": height})
    unfold_everything(visitor)
    for part in PARTS:
        visitor.go(part)
        assert not visitor.scrolls_sideways(), part
        assert cut_off(visitor) == [], part


def cut_off(visitor):
    return visitor.page.evaluate(
        """() => [...document.querySelectorAll("main *, #bar *")]
            .filter(e => e.checkVisibility() && !e.closest("svg, #cloth, .unseen"))
            .filter(e => { const box = e.getBoundingClientRect();
                           return box.right > innerWidth + 0.5 || box.left < -0.5; })
            .map(e => e.id || e.className || e.localName)"""
    )


def test_turning_the_phone_keeps_everything(visitor):
    before = visitor.pattern()
    visitor.type(name="Hild")
    visitor.page.set_viewport_size({"width": 740, "height": 360})
    assert visitor.typed("bust_girth") == "104" and visitor.typed("name") == "Hild"
    assert visitor.page.locator("#cloth .cut").count() == 5
    box = visitor.page.locator("#cloth").bounding_box()
    assert box["height"] <= 360
    visitor.page.set_viewport_size(PHONE)
    assert visitor.pattern() == before


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_wrong(visitor, scheme):
    """source: WCAG 2.2 A and AA as far as axe-core can check them, contrast among them."""
    visitor.page.emulate_media(color_scheme=scheme)
    unfold_everything(visitor)
    visitor.type(waist_girth="seventy")
    visitor.page.evaluate((npm_package("axe-core") / "axe.min.js").read_text(encoding="utf-8"))
    for part in PARTS:
        visitor.go(part)
        visitor.page.evaluate("scrollTo(0, 1e6)")  # where nothing passes below the bar
        found = visitor.page.evaluate(
            "axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', "
            "'best-practice']})"
        )
        assert [
            (rule["id"], [node["target"] for node in rule["nodes"]][:4]) for rule in found["violations"]
        ] == [], part
        assert len(found["passes"]) > 20
    visitor.type(waist_girth="88")


def test_everything_to_tap_is_large_enough(visitor):
    """source: WCAG 2.2, success criterion 2.5.5 (44 by 44 CSS pixels), which excepts words in a text."""
    unfold_everything(visitor)
    for part in PARTS:
        visitor.go(part)
        assert too_small(visitor) == [], part


def too_small(visitor):
    return visitor.page.evaluate(
        """() => [...document.querySelectorAll("button, select, input, summary, nav a, .button, #peek")]
            .filter(e => e.checkVisibility() && !e.closest(".unseen, .word"))
            .map(e => [e, (["radio", "checkbox"].includes(e.type) ? e.closest("label") : e)
                .getBoundingClientRect()])
            .filter(([e, box]) => box.width < 43.9 || box.height < 43.9)
            .map(([e, box]) => `${e.id || e.className || e.name} ${box.width} × ${box.height}`)"""
    )


def test_every_field_can_be_reached_and_used_by_key_alone(visitor):
    page = visitor.page
    page.focus("#bust_girth")
    page.keyboard.press("Control+a")
    page.keyboard.type("102")
    visitor.settle()
    assert visitor.pattern()["measurements"]["bust_girth"] == 1020
    page.focus("[data-do='zoom:out']")
    page.keyboard.press("Shift+Tab")
    assert page.evaluate("document.activeElement.id") == "cloth"
    ring = page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
    assert ring == "solid"
    page.keyboard.press("+")
    page.keyboard.press("+")
    assert page.get_attribute("#cloth", "data-zoomed") == "yes"
    before = page.get_attribute("#cloth svg", "viewBox")
    page.keyboard.press("ArrowRight")
    assert page.get_attribute("#cloth svg", "viewBox") != before
    page.keyboard.press("0")
    assert page.get_attribute("#cloth", "data-zoomed") == "no"
    visitor.type(bust_girth="104")


def view(visitor):
    return [float(part) for part in visitor.page.get_attribute("#cloth svg", "viewBox").split()]


def test_two_fingers_zoom_and_one_moves_about(visitor):
    page = visitor.page
    page.locator("#stage").scroll_into_view_if_needed()
    visitor.stands_still()
    box = page.locator("#cloth").bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    fingers = page.context.new_cdp_session(page)

    def touch(kind, *points):
        fingers.send("Input.dispatchTouchEvent", {
            "type": kind,
            "touchPoints": [{"x": px, "y": py, "id": i} for i, (px, py) in enumerate(points)],
        })

    whole = view(visitor)
    touch("touchStart", (x - 20, y), (x + 20, y))
    for apart in (30, 45, 60):
        touch("touchMove", (x - apart, y), (x + apart, y))
    touch("touchEnd")
    visitor.stands_still()
    zoomed = view(visitor)
    assert whole[2] / zoomed[2] == pytest.approx(3, rel=0.35)
    touch("touchStart", (x, y))
    for step in (10, 25, 40):
        touch("touchMove", (x - step, y))
    touch("touchEnd")
    visitor.stands_still()
    moved = view(visitor)
    assert moved[0] > zoomed[0] and moved[2] == pytest.approx(zoomed[2])


def test_the_wheel_scrolls_the_page_until_the_cloth_is_chosen(visitor):
    page = visitor.page
    page.set_viewport_size(DESKTOP)
    page.evaluate("document.activeElement.blur()")
    page.locator("#cloth").hover()
    page.evaluate("addEventListener('wheel', () => { window.wheeled = true; }, {once: true})")
    page.mouse.wheel(0, -200)
    page.wait_for_function("window.wheeled")
    visitor.stands_still()
    assert page.get_attribute("#cloth", "data-zoomed") == "no"
    page.locator("#cloth").click()
    page.mouse.wheel(0, -200)
    page.wait_for_function("document.getElementById('cloth').dataset.zoomed === 'yes'")


def test_redrawing_keeps_the_place_that_is_looked_at(visitor):
    for _ in range(3):
        visitor.page.click("[data-do='zoom:in']")
    before = view(visitor)
    visitor.type(length="118")
    after = view(visitor)
    assert after[2] == pytest.approx(before[2], rel=0.1)
    visitor.type(length="")


def test_printed_it_is_black_on_white_without_buttons(visitor):
    visitor.page.emulate_media(media="print")
    assert not visitor.page.is_visible("#bar") and not visitor.page.is_visible(".tools")
    assert visitor.page.is_visible("#cloth .cut")
    chalk = visitor.page.evaluate("getComputedStyle(document.querySelector('#cloth .cut')).stroke")
    assert chalk == "rgb(0, 0, 0)"
    assert visitor.page.pdf(format="A4").startswith(b"%PDF-")


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(("name", "screen"), [("phone", PHONE), ("desktop", DESKTOP)])
def test_screenshots_for_people_to_look_at(visitor, name, screen, scheme):
    SCREENSHOTS.mkdir(exist_ok=True)
    visitor.page.set_viewport_size(screen)
    visitor.page.emulate_media(color_scheme=scheme)
    visitor.page.evaluate("for (const fold of document.querySelectorAll('details')) fold.open = false")
    for section in PARTS:
        visitor.go(section)
        visitor.stands_still()
        picture = visitor.page.screenshot(path=SCREENSHOTS / f"{name}-{scheme}-{section}.png")
        colours = Image.open(io.BytesIO(picture)).convert("RGB").getcolors(maxcolors=1 << 20)
        assert len(colours) > 50, "an empty page"


def test_the_readmes_picture_is_the_page_as_it_is_first_seen(chromium, site):
    someone = Visitor(chromium, site, DESKTOP)
    someone.open()
    someone.until_offline_ready()
    picture = Image.open(io.BytesIO(someone.page.screenshot())).convert("RGB")
    small = picture.quantize(128, dither=Image.Dither.NONE)
    if not README_PICTURE.exists() or differs(small, Image.open(README_PICTURE)):
        small.save(README_PICTURE, optimize=True)
    assert README_PICTURE.stat().st_size < 200_000
    someone.close()


def differs(a, b):
    """By more than the shades that the same page gets on another day."""
    if a.size != b.size:
        return True
    pairs = zip(a.convert("L").tobytes(), b.convert("L").tobytes(), strict=True)
    return sum(abs(x - y) > 24 for x, y in pairs) > a.width * a.height / 200
