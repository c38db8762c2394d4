"""The sewing on the page: the order of work with its real lengths, ticks, pace, the booklet."""

import io
import re

import pdfplumber
import pytest
from shapely.geometry import LineString
from visitor import DESKTOP, MEASURED, PHONE, Visitor, until

pytestmark = pytest.mark.browser

LANDSCAPE = {"width": 740, "height": 360}
NARROW = {"width": 320, "height": 640}
MADE = "!document.getElementById('sewing-said').textContent"
LENGTH = r"\d+(?:\.\d+)? cm"


class Sewer(Visitor):
    """A visitor who sews."""

    def steps(self):
        self.page.click("nav a[href='#sewing']")
        self.page.wait_for_selector("#sewing-made", state="visible")

    def titles(self):
        return self.page.locator(".step summary b").all_text_contents()

    def tick(self, number):
        """A step's box, once it is unfolded."""
        if self.page.get_attribute("#all-steps", "aria-expanded") == "false":
            self.page.click("#all-steps")
        step = self.page.locator(".step").nth(number)
        if step.get_attribute("open") is None:
            step.locator("summary").click()
        step.locator("label.row").click()

    def minutes(self):
        """What the sum says, once it says it."""
        self.page.wait_for_function(MADE)
        self.unfold("before-sewing")
        ends = re.search(r"About ([\d½]+) to ([\d½]+) h", self.text("sewing-sum")).groups()
        return sum(30 * float(end.replace("½", ".5")) for end in ends)

    def pace(self, stitches, seconds):
        self.unfold("before-sewing")
        self.page.fill("#stitches", stitches)
        self.page.fill("#stitching_seconds", seconds)
        self.page.press("#stitching_seconds", "Tab")

    def made_anew(self, do):
        """Do what makes the steps anew, and wait until they are."""
        self.page.evaluate("document.querySelector('#steps > *').dataset.before = 'yes'")
        do()
        self.page.wait_for_function(f"{MADE} && !document.querySelector('#steps [data-before]')")

    def minutes_at_pace(self, stitches, seconds):
        """What the sum says, once it says something else than before."""
        before = self.minutes()
        self.pace(stitches, seconds)
        until(self.page, lambda: self.minutes() != before)
        return self.minutes()


@pytest.fixture
def phone(profiles):
    someone = Sewer(profiles, profiles.site)
    yield someone
    assert someone.errors == []
    someone.close()


def at_the_steps(profiles):
    someone = Sewer(profiles, profiles.site)
    someone.open()
    someone.type(**MEASURED)
    someone.steps()
    yield someone
    assert someone.errors == []
    someone.close()


@pytest.fixture(scope="module")
def sewn(profiles):
    """Looked at by several tests, none of which changes it: an apron dress's steps."""
    yield from at_the_steps(profiles)


def test_every_step_has_a_title_and_those_that_sew_have_a_real_length_and_a_picture(sewn):
    steps = sewn.page.locator(".step")
    assert steps.count() > 8
    for n in range(steps.count()):
        step = steps.nth(n)
        assert re.match(rf"{n + 1}\. \w+", step.locator("summary b").text_content())
        lines = step.locator(".lines b").all_text_contents()
        if re.search(r"\b(stitch|Sew|hem)\b", step.text_content()) and "cm from" in step.text_content():
            assert lines, step.text_content()
        for line in lines:
            assert re.search(LENGTH, line), line
            assert float(re.search(r"[\d.]+", line).group()) > 0
        if lines:
            assert step.locator(".step-picture svg title").count() == 1, "a picture with words for it"
    with_lengths = sewn.page.locator(".step:has(.lines)").count()
    assert with_lengths >= steps.count() / 2


def test_the_seams_lengths_are_those_of_the_pattern(sewn):
    """Each seam's edges are measured in pattern.json, by shapely."""
    pattern = sewn.pattern()
    edges = {
        (piece["name"], edge["name"]): LineString(edge["line"]).length
        for piece in pattern["pieces"] for edge in piece["edges"]
    }
    said = {
        float(re.search(r"[\d.]+", text).group())
        for text in sewn.page.locator(".step .lines b").all_text_contents()
    }
    assert pattern["seams"]
    for seam in pattern["seams"]:
        long = sum(edges[piece, edge] for piece, edge in seam["a"]) / 10
        assert any(abs(long - length) <= 0.11 for length in said), (seam["name"], long, sorted(said))


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_pictures_can_be_told_from_their_ground_by_day_and_night(sewn, scheme):
    sewn.page.emulate_media(color_scheme=scheme)
    ink, ground = sewn.page.evaluate(
        """() => { const box = document.querySelector("div.step-picture");
            const svg = box.querySelector("svg");
            return [getComputedStyle(svg).stroke, getComputedStyle(box).backgroundColor]; }"""
    )
    sewn.page.emulate_media(color_scheme="light")
    # source: WCAG 2.2, 1.4.11 Non-text Contrast: 3:1; its relative luminance and contrast ratio
    assert _contrast(ink, ground) >= 3


def _contrast(one, other):
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour):
    parts = [int(n) / 255 for n in re.findall(r"\d+", colour)[:3]]
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


@pytest.mark.parametrize("screen", [PHONE, LANDSCAPE, NARROW, DESKTOP], ids=str)
def test_nothing_of_the_sewing_is_wider_than_the_screen_or_too_small_for_a_finger(sewn, screen):
    sewn.turn(screen)
    assert not sewn.scrolls_sideways()
    # source: WCAG 2.2, success criterion 2.5.5 (44 by 44 CSS pixels), which excepts words in a text
    small, clipped = sewn.page.evaluate(
        """() => [
            [...document.querySelectorAll(
                "#sewing :is(button, summary, label.row, input[type=text])")]
                .filter(e => e.offsetParent && !e.closest(".word")
                    && e.getBoundingClientRect().height < 44).map(e => e.id),
            [...document.querySelectorAll("#sewing :is(p, li, b, svg)")]
                .filter(e => e.getClientRects().length && e.getBoundingClientRect().right
                    > document.getElementById("sewing").getBoundingClientRect().right + 1)
                .map(e => e.textContent),
        ]"""
    )
    sewn.page.set_viewport_size(PHONE)
    assert small == [] and clipped == []


def test_on_a_desk_cloth_and_sewing_stand_in_the_forms_column_with_the_pieces_beside(profiles):
    someone = Sewer(profiles, profiles.site, DESKTOP)
    someone.open()
    someone.type(**MEASURED)
    someone.steps()
    for section in ("cutting", "sewing"):
        someone.go(section)
        someone.stands_still()
        boxes = [someone.page.locator(f"#{name}").bounding_box() for name in (section, "pieces")]
        assert boxes[0]["x"] + boxes[0]["width"] <= boxes[1]["x"]
        assert -1 <= boxes[1]["y"] < 200, "the pieces stay in view"
    assert someone.errors == []
    someone.close()


def test_ticks_and_pace_survive_a_reload(phone):
    phone.open()
    phone.type(**MEASURED)
    phone.steps()
    total = len(phone.titles())
    boxes = phone.page.locator("#steps input")
    phone.tick(0)
    phone.tick(2)
    phone.pace("50", "100")
    assert phone.text("steps-done") == f"2 of {total} steps done"
    phone.reload()
    phone.steps()
    assert phone.text("steps-done") == f"2 of {total} steps done"
    assert boxes.nth(0).is_checked() and not boxes.nth(1).is_checked() and boxes.nth(2).is_checked()
    assert phone.typed("stitches") == "50" and phone.typed("stitching_seconds") == "100"
    assert "your own pace" in phone.text("sewing-sum")
    phone.tick(0)
    assert phone.text("steps-done") == f"1 of {total} steps done"
    phone.made_anew(lambda: phone.type(bust_girth="104"))
    assert boxes.nth(2).is_checked(), "a tick outlives a changed measurement"


def test_the_users_own_pace_changes_the_time(phone):
    phone.open()
    phone.type(**MEASURED)
    phone.steps()
    usual = phone.minutes()
    slow = phone.minutes_at_pace("60", "600")
    fast = phone.minutes_at_pace("60", "60")
    assert slow > usual and slow > fast
    assert phone.minutes_at_pace("", "") == usual


@pytest.fixture(scope="module")
def hasty(profiles):
    """At the steps of an apron dress, to be told of bad paces."""
    yield from at_the_steps(profiles)


@pytest.mark.parametrize(("stitches", "seconds"), [("many", "60"), ("5", "60"), ("0", "60"), ("50", "0")])
def test_a_bad_pace_has_its_sentence_and_the_steps_stay(hasty, stitches, seconds):
    hasty.pace("", "")
    hasty.page.wait_for_function("!document.getElementById('stitches-problem').textContent")
    usual, titles = hasty.minutes(), hasty.titles()
    hasty.pace(stitches, seconds)
    hasty.page.wait_for_function("document.getElementById('stitches-problem').textContent")
    assert hasty.minutes() == usual and hasty.titles() == titles
    assert hasty.problem("stitches").endswith(".")
    assert "usual pace" in hasty.text("sewing-sum")
    assert hasty.typed("stitches") == stitches
    hasty.reload()
    hasty.steps()
    assert hasty.titles() == titles, "a pace kept from before does not bar the steps"
    assert hasty.typed("stitches") == stitches and hasty.problem("stitches")


def test_the_steps_follow_what_is_typed(phone, profiles):
    phone.open()
    phone.type(**MEASURED, length="100")
    phone.steps()
    short = phone.page.locator(".step .lines b").all_text_contents()
    for length in ("105", "110", "115"):
        phone.until_asked(lambda length=length: phone.type(length=length, settled=False))
    phone.made_anew(lambda: phone.type(length="120"))
    assert phone.page.locator(".step .lines b").all_text_contents() != short
    other = Sewer(profiles, phone.site)
    other.open()
    other.type(**MEASURED, length="120")
    other.steps()
    assert phone.page.locator(".step .lines b").all_text_contents() == (
        other.page.locator(".step .lines b").all_text_contents()
    )
    other.close()


def test_inches_are_sewn_in_inches(phone):
    phone.open()
    phone.pick("unit", "in")
    phone.type(bust_girth="36", waist_girth="30", torso_length="15")
    phone.steps()
    lines = phone.page.locator(".step .lines b").all_text_contents()
    assert lines and all(re.search(r" in\b", line) for line in lines)
    assert not re.search(r"\d (cm|mm)\b", phone.text("steps"))


def test_the_booklet_comes_before_a_lay_and_has_the_chalk_plan_after_one(phone):
    phone.open()
    phone.type(name="Hild", **MEASURED)
    before = _text(phone.download("booklet.pdf"))
    assert "Hild" in before
    phone.type(cloth_width="60")
    phone.lay(enough=True)
    to_buy = re.search(rf"To buy\s+({LENGTH})", phone.text("lay-figures")).group(1)
    after = _text(phone.download("booklet.pdf"))
    assert to_buy in after and to_buy not in before
    assert len(after) > len(before)


def _text(content):
    with pdfplumber.open(io.BytesIO(content)) as pdf:
        return "\n".join(page.extract_text() for page in pdf.pages)


def test_the_screen_is_kept_on_while_the_steps_are_open(profiles):
    """The browser's own lock is replaced by one that counts: a headless one has no screen."""
    phone = Sewer(profiles, profiles.site)
    phone.runs_first(
        """window.held = 0;
        Object.defineProperty(navigator, "wakeLock", {value: {request: async kind => {
            window.held += 1;
            return {released: false, release: async () => { window.held -= 1; }};
        }}});"""
    )
    phone.open()
    phone.type(**MEASURED)
    assert phone.page.evaluate("held") == 0
    phone.steps()
    phone.page.wait_for_function("held === 1")
    assert phone.errors == []
    phone.close()
