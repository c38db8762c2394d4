"""What a test asks of a browser engine that is not Playwright's Chromium."""

import base64
import json
import time
from abc import ABC, abstractmethod

from tests.conftest import PATIENCE

CATCH_FILES = """(() => {
    window.caught = null;
    HTMLAnchorElement.prototype.click = async function () {
        const bytes = new Uint8Array(await (await fetch(this.href)).arrayBuffer());
        window.caught = btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(""));
    };
})()"""


class DriverHangs(Exception):
    """What drives the browser does not answer any more: nothing is known of the page then."""


class Engine(ABC):
    """A browser with one page open; `holds` is the address whose draft a test has put there."""

    holds = ""

    @abstractmethod
    def version(self) -> str:
        """The browser's name and version."""

    @abstractmethod
    def open(self, url):
        """Go there, as from a bookmark, and wait until the page's own HTML has been read."""

    @abstractmethod
    def run(self, script):
        """What an expression in the page gives, as JSON holds it; a promise is waited for."""

    @abstractmethod
    def picture(self) -> bytes:
        """What is on the screen, as a PNG."""

    @abstractmethod
    def errors(self) -> list[str]:
        """What went wrong in its pages without the page having dealt with it."""

    @abstractmethod
    def close(self):
        """End it, and whatever was started with it."""

    def start_again(self):
        """As new, after DriverHangs."""
        raise NotImplementedError

    def until(self, script):
        latest = time.monotonic() + PATIENCE
        while not self.run(f"!!({script})"):
            assert time.monotonic() < latest, f"not within {PATIENCE} s: {script}"
            time.sleep(0.05)

    def text(self, place):
        return self.run(f"document.getElementById({place!r}).innerText")

    def type(self, name, text):
        self.run(
            f"(() => {{ const box = document.getElementById({name!r}); box.value = {json.dumps(text)};"
            " box.dispatchEvent(new Event('input', { bubbles: true })); })()"
        )

    def click(self, selector):
        self.run(f"document.querySelector({json.dumps(selector)}).click()")

    def download(self, kind):
        self.run(CATCH_FILES)
        self.click(f"[data-do='take:{kind}']")
        self.until("window.caught")
        return base64.b64decode(self.run("window.caught"))
