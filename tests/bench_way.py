"""How many taps and how much scrolling the way through the page takes a first visitor on a phone.

A part of tests/bench.py: `python tests/bench.py way`. The visitor taps what can be seen, scrolls to what
cannot, and types. source of the limits: issue 17.
"""

from collections.abc import Iterator

import build
from tests.bench_loading import SETTLED, chromium
from tests.bench_results import Row
from tests.browser.visitor import PARTS
from tests.conftest import PlainSite

PHONE = {"width": 360, "height": 740}
SMALLEST = {"width": 320, "height": 640}
MEASURED = {"bust_girth": "92", "torso_length": "38", "waist_girth": "78"}
CLOTH = {"cloth_width": "150", "cloth_on_hand": "300"}
CHILD = {"bust_girth": "63", "waist_girth": "57", "hip_girth": "66", "torso_length": "26", "stature": "122",
         "arm_length": "40", "shoulder_width": "29"}
TAPS, MORE_TAPS, SCROLLED, LONGEST, LONGEST_LARGE = 6, 2, 2.0, 2.5, 6.0
SECONDS = 0.5  # from the page being usable to the piece, or the step, that one was at
AT_THE_PIECE = "document.querySelector('.chalk-piece[data-piece][open]')"
AT_THE_STEP = "document.querySelector('.step[open]')"


class Person:
    """On a phone: `taps`, and `scrolled` screens."""

    def __init__(self, page) -> None:
        self.page, self.taps, self.scrolled = page, 0, 0.0

    def see(self, selector: str) -> None:
        """Scroll to what is to be tapped, between the head of the screen and the bar."""
        self.page.wait_for_selector(f"{selector} >> visible=true")
        self.scrolled += self.page.evaluate(
            """selector => {
                const seen = [...document.querySelectorAll(selector)].find(e => e.checkVisibility());
                const { top, bottom } = seen.getBoundingClientRect();
                const bar = document.getElementById("bar");
                const low = bar.contains(seen) ? innerHeight : bar.getBoundingClientRect().top;
                const by = top < 0 ? top - 12 : bottom > low ? bottom - low + 12 : 0;
                scrollBy({ top: by, behavior: "instant" });
                return Math.abs(by) / innerHeight;
            }""", selector)

    def tap(self, selector: str) -> None:
        self.see(selector)
        self.page.locator(f"{selector} >> visible=true").first.tap()
        self.taps += 1

    def type(self, texts: dict[str, str]) -> None:
        for name, text in texts.items():
            self.see(f"#{name}")
            self.page.fill(f"#{name}", text)


def way() -> tuple[str, Iterator[Row]]:
    return "what issue 17 allows", _rows()


def _rows() -> Iterator[Row]:
    build.site()
    with chromium() as browser:
        site = PlainSite(build.DIST)
        page = browser.new_page(viewport=PHONE, has_touch=True, reduced_motion="reduce")
        page.goto(site.url)
        page.wait_for_function(SETTLED)
        yield from _first_visit(Person(page))
        yield from _coming_back(page)
        yield from _lengths("apron dress", page)
        child = browser.new_page(viewport=PHONE, has_touch=True, reduced_motion="reduce")
        measured = "&".join(f"{name}={text}cm" for name, text in CHILD.items())
        child.goto(f"{site.url}#underdress&v=2&unit=cm&{measured}&end")
        child.wait_for_function(SETTLED)
        child.click("[data-do='theirs']")
        child.click("[data-do='done']")
        _go(child, "cutting")
        child.click("#lay")
        child.wait_for_selector("#laid:not([hidden])")
        child.wait_for_selector("#lay-buttons:not([hidden])")
        yield from _lengths("a child's underdress", child)
        site.stop()


def _first_visit(person: Person) -> Iterator[Row]:
    """From the tape to the first chalk mark and the first step, by the buttons that say what is next."""
    person.type(MEASURED)
    for part in ("garment", "pieces", "cutting"):
        person.tap(f".next a[href='#{part}']")
    person.type(CLOTH)
    person.page.wait_for_function(SETTLED)
    person.tap("#lay")
    person.page.wait_for_selector("#laid:not([hidden])")
    person.page.wait_for_selector("#lay-buttons:not([hidden])")
    person.tap("#laid .next a")
    if not person.page.evaluate(AT_THE_PIECE):
        person.tap("#chalk .chalk-piece[open] [data-do='chalk-piece:next']")
    person.see(".chalk-piece[open] tbody tr")
    yield Row("taps to the first chalk mark", [person.taps], "", person.taps / TAPS, 1)
    yield Row("screens scrolled meanwhile", [100 * person.scrolled], "%", person.scrolled / SCROLLED, 1)
    before = person.taps
    person.tap("#chalking .next a[href='#sewing']")
    person.page.wait_for_selector("#sewing-made:not([hidden])")
    more = person.taps - before + (0 if person.page.evaluate(AT_THE_STEP) else 1)
    yield Row("taps more to the first step", [more], "", more / MORE_TAPS, 1)


def _coming_back(page) -> Iterator[Row]:
    """Reloads in the middle of work."""
    for part, what, at in (("chalking", "piece", AT_THE_PIECE), ("sewing", "step", AT_THE_STEP)):
        _go(page, part)
        page.wait_for_function(at)
        page.evaluate("scrollTo(0, 150)")
        page.wait_for_timeout(500)
        page.reload()
        page.wait_for_function(f"{at} && scrollY === 150")
        late = page.evaluate("performance.now() - performance.getEntriesByName('usable')[0].startTime")
        yield Row(f"a reload, until the {what} is there", [max(0.0, late)], "ms", late / 1000 / SECONDS, 1)
        page.wait_for_function(SETTLED)


def _lengths(garment: str, page) -> Iterator[Row]:
    """Each part's, as a phone shows it, and on the smallest with letters twice as large."""
    for part in PARTS:
        _go(page, part)
        page.wait_for_timeout(1500 if part == "sewing" else 200)
        long = _screens(page)
        page.set_viewport_size(SMALLEST)
        page.evaluate("document.documentElement.style.fontSize = '200%'")
        large = _screens(page)
        page.evaluate("document.documentElement.style.fontSize = ''")
        page.set_viewport_size(PHONE)
        yield Row(f"{garment}: {part}", [100 * long], "%", long / LONGEST, 1)
        yield Row(f"{garment}: {part}, 320 px, large letters", [100 * large], "%", large / LONGEST_LARGE, 1)


def _go(page, part: str) -> None:
    page.evaluate("part => document.querySelector(`nav a[href='#${part}']`).click()", part)


def _screens(page) -> float:
    return page.evaluate("document.documentElement.scrollHeight / innerHeight")
