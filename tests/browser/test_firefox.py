"""The main job in a second browser engine: Firefox, driven over WebDriver BiDi by firefox.mjs."""

import base64
import json
import subprocess
from pathlib import Path

import pytest
from visitor import MEASURED, OFFLINE_READY, SETTLED

from build import second_browser
from drafting.requests import workbench
from fetching import node_modules
from machine import tool

pytestmark = pytest.mark.browser

PATIENCE = 120_000  # milliseconds
CATCH_FILES = """
window.caught = null;
HTMLAnchorElement.prototype.click = async function () {
    const bytes = new Uint8Array(await (await fetch(this.href)).arrayBuffer());
    window.caught = btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(""));
};
"""


class Firefox:
    def __init__(self, path) -> None:
        folder = node_modules("puppeteer-core", "debug", "ms")
        program = Path(__file__).with_name("firefox.mjs")
        command = [tool("node"), "--experimental-websocket", program, folder / "puppeteer-core", path]
        self._node = subprocess.Popen(
            list(map(str, command)), stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
        )
        assert self._answer() == "ready"

    def _answer(self):
        line = self._node.stdout.readline()
        assert line, "firefox.mjs ended"
        answer = json.loads(line)
        assert "error" not in answer, answer
        return answer["ok"]

    def ask(self, do, **more):
        self._node.stdin.write(json.dumps({"do": do, **more}) + "\n")
        self._node.stdin.flush()
        return self._answer()

    def open(self, url):
        self.ask("open", url=url)

    def run(self, script):
        return self.ask("run", script=script)

    def until(self, script):
        self.ask("until", script=script, ms=PATIENCE)

    def text(self, place):
        return self.run(f"document.getElementById({place!r}).innerText")

    def type(self, name, text):
        self.run(
            f"(() => {{ const box = document.getElementById({name!r}); box.value = {text!r};"
            " box.dispatchEvent(new Event('input', { bubbles: true })); })()"
        )

    def download(self, kind):
        self.run(CATCH_FILES)
        self.run(f"document.getElementById('take-{kind}').click()")
        self.until("window.caught")
        return base64.b64decode(self.run("window.caught"))

    def close(self):
        self._node.stdin.close()
        self._node.wait(60)


@pytest.fixture(scope="module")
def firefox(set_up):
    path = set_up(second_browser)
    if not path:
        pytest.skip("no Firefox on this machine")
    browser = Firefox(path)
    yield browser
    assert browser.ask("errors") == []
    browser.close()


@pytest.fixture(scope="module")
def measured(firefox, module_site):
    """Firefox with a volunteer's apron dress on the page, and everything loaded and kept."""
    firefox.open(module_site.url)
    firefox.until("document.documentElement.dataset.usable")
    for name, text in {**MEASURED, "length": "111"}.items():
        firefox.type(name, text)
    firefox.until(OFFLINE_READY)
    firefox.until(SETTLED)
    return firefox


def test_the_dress_drafted_is_the_one_that_this_python_drafts(measured):
    assert measured.ask("version").lower().startswith("firefox")
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
    measured.run("document.querySelector('[data-do=\"lay:free\"]').click()")
    measured.until("!document.getElementById('laid').hidden")
    assert "cm" in measured.text("lay-figures")


def test_a_later_visit_with_the_server_gone_shows_the_last_pattern_and_drafts(measured, module_site):
    drawing = "document.querySelector('#cloth .cut').getAttribute('d')"
    before = measured.run(drawing)
    module_site.stop()
    measured.open(module_site.url)
    assert measured.run("performance.getEntriesByName('last-pattern').length") == 1
    measured.until("performance.getEntriesByName('first-pattern').length")
    assert measured.run("document.getElementById('length').value") == "111"
    assert measured.run(drawing) == before
    said = measured.run("document.querySelector('script[name^=drafting]').xworker.sync.hello()")
    assert json.loads(said)["start"] == "snapshot"
