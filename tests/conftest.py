"""One dist/, one browser for the whole run; a plain server under a sub-path, as a group's page has.

    def test_…(chromium, site): page = chromium.new_page(); page.goto(site.url)
"""

import functools
import sys
import threading
from collections.abc import Iterator
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from urllib.parse import urlsplit

import pytest

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

import build  # noqa: E402

SUB_PATH = "/~group/ellwand/"
CHROMIUM_FLAGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


class PlainSite:
    """A folder served under SUB_PATH by Python's own static server: no special headers at all.

    `missing` holds paths, below the site, that answer 404; `asked` is every path asked for.
    """

    def __init__(self, folder: Path) -> None:
        self.missing: set[str] = set()
        self.asked: list[str] = []
        self._folder = folder
        self._server: ThreadingHTTPServer | None = None
        self.start()

    def start(self, port: int = 0) -> None:
        handler = functools.partial(_Handler, site=self, directory=str(self._folder))
        self._server = ThreadingHTTPServer(("127.0.0.1", port), handler)
        self.port = self._server.server_port
        threading.Thread(target=self._server.serve_forever, daemon=True).start()

    def stop(self) -> None:
        if self._server:
            self._server.shutdown()
            self._server.server_close()
            self._server = None

    @property
    def origin(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    @property
    def url(self) -> str:
        return self.origin + SUB_PATH


class _Handler(SimpleHTTPRequestHandler):
    def __init__(self, *args, site: PlainSite, **options) -> None:
        self.site = site
        super().__init__(*args, **options)

    def do_GET(self) -> None:
        path = urlsplit(self.path).path
        if not path.startswith(SUB_PATH):
            return self.send_error(404)
        below = path.removeprefix(SUB_PATH)
        self.site.asked.append(below)
        if below in self.site.missing:
            return self.send_error(404)
        self.path = "/" + below
        return super().do_GET()

    def log_message(self, *args: object) -> None:
        pass


@pytest.fixture(scope="session")
def dist() -> Path:
    """The assembled site, brought up to date once."""
    build.site()
    return build.DIST


@pytest.fixture
def site(dist: Path) -> Iterator[PlainSite]:
    """A server of its own for one test: a new origin, so nothing is cached in the browser."""
    plain = PlainSite(dist)
    yield plain
    plain.stop()


@pytest.fixture(scope="session")
def chromium():
    """The browser, driven by Playwright. Each test opens its own context (a fresh profile)."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=build.browser(), args=list(CHROMIUM_FLAGS)
        )
        yield browser
        browser.close()
