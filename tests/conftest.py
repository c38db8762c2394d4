"""One dist/, one browser for the whole run; a plain server under a sub-path, as a group's page has.

    def test_…(chromium, site): page = chromium.new_page(); page.goto(site.url)

What a test needs beside Python is fetched and made when it is first asked for: tests that ask for no browser
and no dist/ need neither.
"""

import contextlib
import functools
import os
import sys
import threading
import time
from collections.abc import Callable, Iterator
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Protocol, TypeVar
from urllib.parse import urlsplit

import hypothesis
import pytest

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

import build  # noqa: E402

T = TypeVar("T")
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
PATIENCE = 180
"""Seconds after which what is waited for is given up: it bounds a hang, and no test is about it."""
# A test's page lives for seconds: what a browser spends on making WebAssembly run faster later is a fifth to
# a third of all that a visit costs. The benchmarks leave it on.
NO_TIERING = "--js-flags=--liftoff-only"


# The same examples each time, so that a run that was green stays green. New ones are looked for
# with ELLWAND_SEARCH=1, and by tests/fuzz.py.
hypothesis.settings.register_profile("steady", derandomize=True, deadline=None)
hypothesis.settings.register_profile("search", deadline=None)
hypothesis.settings.load_profile("search" if os.environ.get("ELLWAND_SEARCH") else "steady")


class Line(Protocol):
    def send(self, handler: SimpleHTTPRequestHandler, path: Path) -> None: ...


class PlainSite:
    """A folder served under SUB_PATH by Python's own static server: no special headers at all.

    `missing` holds paths, below the site, that answer 404, `spoiled` what others answer instead.
    `asked` lists every path asked for, with the time in seconds since the epoch. `media_types`, if given,
    are all that the server knows. With `fleeting` it forbids the browser to cache anything. A `line`, if
    given, sends each file that is there in its own way.
    """

    def __init__(self, folder: Path, line: "Line | None" = None) -> None:
        self.line = line
        self.missing: set[str] = set()
        self.spoiled: dict[str, bytes] = {}
        self.fleeting = False
        self.asked: list[tuple[float, str]] = []
        self.media_types: dict[str, str] = {}
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
        self.site.asked.append((time.time(), below))
        if below in self.site.missing:
            return self.send_error(404)
        self.path = "/" + below
        if below in self.site.spoiled:
            return self._send(self.site.spoiled[below])
        with contextlib.suppress(ConnectionError):  # the browser went away
            if self.site.line and (path := Path(self.directory, below or "index.html")).is_file():
                self.site.line.send(self, path)
            else:
                super().do_GET()

    def _send(self, content: bytes) -> None:
        self.send_response(200)
        self.send_header("Content-Type", self.guess_type(self.path.removesuffix("/") or "/index.html"))
        self.send_header("Content-Length", str(len(content)))
        self.end_headers()
        with contextlib.suppress(ConnectionError):
            self.wfile.write(content)

    def end_headers(self) -> None:
        if self.site.fleeting:
            self.send_header("Cache-Control", "no-store")
        super().end_headers()

    def guess_type(self, path: str) -> str:
        known = self.site.media_types
        if known:
            return known.get(Path(path).suffix, "application/octet-stream")
        return super().guess_type(path)

    def log_message(self, *args: object) -> None:
        pass


@pytest.fixture(scope="session")
def set_up(pytestconfig: pytest.Config) -> Callable[[Callable[[], T]], T]:
    """Does what build.py can do, and says so aloud; why it cannot be done is all that the test then says."""

    def do(step: Callable[[], T]) -> T:
        try:
            with pytestconfig.pluginmanager.getplugin("capturemanager").global_and_fixture_disabled():
                return step()
        except build.Stop as stopped:
            sentence = str(stopped)
        pytest.fail(sentence, pytrace=False)

    return do


@pytest.fixture(scope="session")
def dist(set_up, testrun_uid: str) -> Path:
    """The assembled site. The first process of a run brings it up to date; after that it stays as it is."""

    def assembled() -> Path:
        looked_at = build.CACHE / "dist-in-run"
        with build.alone():
            if not looked_at.exists() or looked_at.read_text() != testrun_uid:
                build.site()
                looked_at.write_text(testrun_uid)
        return build.DIST

    return set_up(assembled)


@pytest.fixture
def serve() -> Iterator[Callable[[Path], PlainSite]]:
    """Serves a folder: a new origin each time, so nothing of it is cached in the browser."""
    running: list[PlainSite] = []

    def start(folder: Path) -> PlainSite:
        running.append(PlainSite(folder))
        return running[-1]

    yield start
    for plain in running:
        plain.stop()


@pytest.fixture
def site(dist: Path, serve: Callable[[Path], PlainSite]) -> PlainSite:
    """The assembled site on a server of its own."""
    return serve(dist)


class Chromium:
    """Playwright's browser, as far as tests need it, whose pages have PATIENCE."""

    def __init__(self, browser) -> None:
        self._browser = browser

    def new_context(self, **options):
        context = self._browser.new_context(**options)
        context.set_default_timeout(1000 * PATIENCE)
        return context

    def new_page(self, **options):
        """In a context of its own, which is closed with it."""
        page = self._browser.new_page(**options)
        page.set_default_timeout(1000 * PATIENCE)
        return page


@pytest.fixture(scope="session")
def chromium(set_up):
    """The browser, driven by Playwright. Each test opens its own context (a fresh profile)."""
    from playwright.sync_api import sync_playwright

    path = set_up(build.browser)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=[*CHROMIUM_FLAGS, NO_TIERING])
        yield Chromium(browser)
        browser.close()
