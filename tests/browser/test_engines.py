"""The main job in other browser engines: Firefox, and the WebKit that a phone may have instead."""

import io
import json

import numpy
import pytest
from firefox import Firefox
from PIL import Image
from refusals import FORBIDDEN, NO_DATABASE
from visitor import MEASURED, OFFLINE_READY, SETTLED
from webkit import WebKit

from build import firefox, webkit
from drafting.requests import workbench
from tests.conftest import PlainSite
from tests.scanning import scan

pytestmark = pytest.mark.browser

ENGINES = {"Firefox": (firefox, Firefox), "WebKit": (webkit, WebKit)}


@pytest.fixture(scope="module", params=ENGINES)
def engine(request, set_up):
    find, start = ENGINES[request.param]
    path = set_up(find)
    if not path:
        pytest.skip(f"no {request.param} on this machine")
    browser = start(path)
    yield browser
    assert browser.errors() == []
    browser.close()


@pytest.fixture(scope="module")
def own_site(engine, dist):
    """A server that no other engine has asked."""
    plain = PlainSite(dist)
    yield plain
    plain.stop()


@pytest.fixture(scope="module")
def measured(engine, own_site):
    """A volunteer's apron dress on the page, and everything loaded and kept."""
    engine.open(own_site.url)
    engine.until("document.documentElement.dataset.usable")
    for name, text in {**MEASURED, "length": "111"}.items():
        engine.type(name, text)
    engine.until(OFFLINE_READY)
    engine.until(SETTLED)
    return engine


def test_the_dress_drafted_is_the_one_that_this_python_drafts(measured):
    assert "checks pass" in measured.text("verdict")
    pattern = json.loads(measured.download("pattern.json"))
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


def test_the_sheets_are_printed_and_the_pieces_laid(measured):
    assert measured.download("tiled.pdf").startswith(b"%PDF-")
    measured.click("[data-do='lay:free']")
    measured.until("!document.getElementById('laid').hidden")
    assert "cm" in measured.text("lay-figures")


def test_the_code_on_the_screen_reads_as_the_link(measured):
    measured.click("#show-qr")
    measured.until("document.querySelector('#qr-code svg')")
    measured.run("document.getElementById('qr-code').scrollIntoView({block: 'start', behavior: 'instant'})")
    measured.run("new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(1))))")
    screen = Image.open(io.BytesIO(measured.picture())).convert("L")
    assert "bust_girth=92cm" in scan(numpy.asarray(screen))
    measured.click("[data-do='qr:close']")


def test_a_later_visit_with_the_server_gone_shows_the_last_pattern_and_drafts(measured, own_site):
    drawing = "document.querySelector('#cloth .cut').getAttribute('d')"
    before = measured.run(drawing)
    own_site.stop()
    measured.open(own_site.url)
    assert measured.run("performance.getEntriesByName('last-pattern').length") == 1
    measured.until("performance.getEntriesByName('first-pattern').length")
    assert measured.run("document.getElementById('length').value") == "111"
    assert measured.run(drawing) == before
    said = measured.run("document.querySelector('script[name^=drafting]').xworker.sync.hello()")
    assert json.loads(said)["start"] == "snapshot"


def test_with_storage_forbidden_the_draft_is_kept_in_the_address(engine, serve, dist):
    plain = serve(dist)
    page = (dist / "index.html").read_text(encoding="utf-8")
    before_the_policy = page.replace("<head>", f"<head><script>{NO_DATABASE}{FORBIDDEN}</script>", 1)
    assert before_the_policy != page
    plain.spoiled[""] = before_the_policy.encode()
    engine.open(plain.url)
    engine.until("document.documentElement.dataset.usable")
    for name, text in MEASURED.items():
        engine.type(name, text)
    engine.until(SETTLED)
    assert "in this page's address" in engine.text("notices")
    assert "bust_girth=92cm" in engine.run("location.hash")
    assert "checks pass" in engine.text("verdict")
