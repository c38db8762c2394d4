"""The main job in other browser engines: Firefox, and the WebKit that a phone may have instead."""

import contextlib
import functools
import io
import json
import warnings

import numpy
import pytest
from firefox import Firefox
from other_engine import DriverHangs
from PIL import Image
from refusals import FORBIDDEN, NO_DATABASE
from visitor import MEASURED, OFFLINE_READY, SETTLED
from webkit import WebKit

from build import firefox, webkit
from drafting.requests import workbench
from tests.conftest import PlainSite
from tests.scanning import scan

pytestmark = pytest.mark.browser

TRIES = 3
ENGINES = {"Firefox": (firefox, Firefox), "WebKit": (webkit, WebKit)}


@pytest.fixture(scope="module", params=ENGINES)
def engine(request, set_up):
    find, start = ENGINES[request.param]
    path = set_up(find)
    if not path:
        pytest.skip(f"no {request.param} on this machine")
    browser = start(path)
    yield browser
    with contextlib.suppress(DriverHangs):
        assert browser.errors() == []
    browser.close()


@pytest.fixture(scope="module")
def own_site(engine, dist):
    """A server that no other engine has asked."""
    plain = PlainSite(dist)
    yield plain
    plain.stop()


def steadily(test):
    """The test, begun anew in another browser when a driver does not answer: it is not the driver's test."""

    @functools.wraps(test)
    def tried(engine, own_site):
        for _ in range(TRIES - 1):
            try:
                return test(engine, own_site)
            except DriverHangs as hangs:
                warnings.warn(f"{engine.version()} did not answer to {hangs}", stacklevel=1)
                own_site.stop()
                own_site.start(own_site.port)
                engine.start_again()
        return test(engine, own_site)

    return tried


def measure(engine, own_site):
    """A volunteer's apron dress on the page, and everything loaded and kept, unless it is there."""
    if engine.holds == own_site.url:
        return
    engine.open(own_site.url)
    engine.until("document.documentElement.dataset.usable")
    for name, text in {**MEASURED, "length": "111"}.items():
        engine.type(name, text)
    engine.until(OFFLINE_READY)
    engine.until(SETTLED)
    engine.holds = own_site.url


@steadily
def test_the_dress_drafted_is_the_one_that_this_python_drafts(engine, own_site):
    measure(engine, own_site)
    assert "checks pass" in engine.text("verdict")
    pattern = json.loads(engine.download("pattern.json"))
    request = {
        "do": "file", "kind": "pattern.json", "garment": "apron-dress", "unit": "cm",
        "measurements": MEASURED, "options": {"length": "111"},
    }
    ours = json.loads(workbench.run(request)["bytes"])
    assert [piece["name"] for piece in pattern["pieces"]] == [piece["name"] for piece in ours["pieces"]]
    for theirs, mine in zip(pattern["pieces"], ours["pieces"], strict=True):
        for line in ("sewing_line", "cutting_line"):
            flat = [part for point in theirs[line] for part in point]
            assert flat == pytest.approx([part for point in mine[line] for part in point], abs=0.01)


@steadily
def test_the_sheets_are_printed_and_the_pieces_laid(engine, own_site):
    measure(engine, own_site)
    assert engine.download("tiled.pdf").startswith(b"%PDF-")
    engine.click("[data-do='lay:free']")
    engine.until("!document.getElementById('laid').hidden")
    assert "cm" in engine.text("lay-figures")


@steadily
def test_the_code_on_the_screen_reads_as_the_link(engine, own_site):
    measure(engine, own_site)
    engine.click("#show-qr")
    engine.until("document.querySelector('#qr-code svg')")
    engine.run("document.getElementById('qr-code').scrollIntoView({block: 'start', behavior: 'instant'})")
    engine.run("new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(1))))")
    screen = Image.open(io.BytesIO(engine.picture())).convert("L")
    assert "bust_girth=92cm" in scan(numpy.asarray(screen))
    engine.click("[data-do='qr:close']")


@steadily
def test_a_later_visit_with_the_server_gone_shows_the_last_pattern_and_drafts(engine, own_site):
    measure(engine, own_site)
    drawing = "document.querySelector('#cloth .cut').getAttribute('d')"
    before = engine.run(drawing)
    own_site.stop()
    engine.open(own_site.url)
    assert engine.run("performance.getEntriesByName('last-pattern').length") == 1
    engine.until("performance.getEntriesByName('first-pattern').length")
    assert engine.run("document.getElementById('length').value") == "111"
    assert engine.run(drawing) == before
    said = engine.run("document.querySelector('script[name^=drafting]').xworker.sync.hello()")
    assert json.loads(said)["start"] == "snapshot"


@pytest.fixture
def forbidding_site(serve, dist):
    """What is served keeps nothing: the script that sees to it stands before the page's own policy."""
    plain = serve(dist)
    page = (dist / "index.html").read_text(encoding="utf-8")
    assert page.count("<head>") == 1
    plain.spoiled[""] = page.replace("<head>", f"<head><script>{NO_DATABASE}{FORBIDDEN}</script>").encode()
    return plain


def test_with_storage_forbidden_the_draft_is_kept_in_the_address(engine, forbidding_site):
    @steadily
    def in_the_address(engine, site):
        engine.open(site.url)
        engine.until("document.documentElement.dataset.usable")
        for name, text in MEASURED.items():
            engine.type(name, text)
        engine.until(SETTLED)
        assert "in this page's address" in engine.text("notices")
        assert "bust_girth=92cm" in engine.run("location.hash")
        assert "checks pass" in engine.text("verdict")

    in_the_address(engine, forbidding_site)


class Hanging:
    """An engine whose driver hangs so many times."""

    def __init__(self, times):
        self.times, self.begun = times, 0

    def version(self):
        return "none"

    def start_again(self):
        self.begun += 1

    def open(self, url):
        if self.begun < self.times:
            raise DriverHangs("POST /url")


@pytest.mark.parametrize("times", [1, TRIES - 1])
def test_a_driver_that_hangs_is_begun_anew(times, serve, dist):
    hanging = Hanging(times)
    with pytest.warns(UserWarning, match="did not answer"):
        steadily(lambda engine, site: engine.open(site.url))(hanging, serve(dist))
    assert hanging.begun == times


def test_a_driver_that_always_hangs_fails_the_test(serve, dist):
    with pytest.raises(DriverHangs), pytest.warns(UserWarning):
        steadily(lambda engine, site: engine.open(site.url))(Hanging(TRIES), serve(dist))


def test_what_fails_on_the_page_is_not_tried_again(serve, dist):
    def wrong(engine, site):
        raise AssertionError("the page is wrong")

    hanging = Hanging(0)
    with pytest.raises(AssertionError, match="the page is wrong"):
        steadily(wrong)(hanging, serve(dist))
    assert hanging.begun == 0
