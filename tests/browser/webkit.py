"""A WebKit for the tests: WebKitGTK's MiniBrowser on a screen of its own, driven over W3C WebDriver."""

import base64
import contextlib
import json
import os
import signal
import socket
import subprocess
import time
import urllib.error
import urllib.request

from other_engine import DriverHangs, Engine
from visitor import PHONE

STARTING = 60
"""Seconds that the screen and the driver may take to answer, and a page's HTML to be read."""
TRIES = 3
PATIENCE = 60
"""Seconds after which a driver that does not answer never will."""
HEAR_ERRORS = """
if (!window.wrong) {
    window.wrong = [];
    addEventListener("error", (event) => wrong.push(String(event.message)));
    addEventListener("unhandledrejection", (event) => wrong.push(String(event.reason)));
}
"""


class WebKit(Engine):
    """One session of it.

    Raises AssertionError with the driver's own words when it refuses what is asked of it.
    """

    def __init__(self, driver: str) -> None:
        self._heard: list[str] = []
        self._program = driver
        self._start()

    def _start(self):
        self._screen, display = _screen()
        port = _free_port()
        surroundings = {
            **os.environ,
            "DISPLAY": display,
            "WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS": "1",  # root may have no sandbox; the pages are ours
            "LIBGL_ALWAYS_SOFTWARE": "1",
        }
        self._driver = subprocess.Popen(
            [self._program, f"--port={port}"], env=surroundings, start_new_session=True,
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        )
        self._at = f"http://127.0.0.1:{port}/session"
        wanted = {"alwaysMatch": {"pageLoadStrategy": "none"}}
        made = self._first(lambda: self._call("POST", "", {"capabilities": wanted}))
        self._at += f"/{made['sessionId']}"
        self._version = f"{made['capabilities']['browserName']} {made['capabilities']['browserVersion']}"
        self._call("POST", "/window/rect", {"x": 0, "y": 0, **PHONE})

    def _first(self, step):
        latest = time.monotonic() + STARTING
        while True:
            try:
                return step()
            except urllib.error.URLError:
                assert time.monotonic() < latest, f"WebKit's driver does not answer within {STARTING} s"
                time.sleep(0.1)

    def _call(self, method, path, body=None):
        data = None if body is None else json.dumps(body).encode()
        request = urllib.request.Request(self._at + path, data, method=method)
        try:
            with urllib.request.urlopen(request, timeout=PATIENCE) as answer:
                return json.load(answer)["value"]
        except TimeoutError:
            raise DriverHangs(f"{method} {path}") from None
        except urllib.error.HTTPError as refused:
            raise AssertionError(json.load(refused)["value"]) from None

    def version(self):
        return self._version

    def open(self, url):
        self._note_errors()
        self._go("about:blank")
        for _ in range(TRIES):
            self._go(url)
            if self._has_read(url):
                self._execute(HEAR_ERRORS)
                return
        raise AssertionError(f"{url} was asked for {TRIES} times and not read within {STARTING} s")

    def _go(self, url):
        self._call("POST", "/url", {"url": url})

    def _has_read(self, url):
        """Whether the page's HTML is there in time: a visit begun while a server goes may get no further."""
        latest = time.monotonic() + STARTING
        read = "return location.href.startsWith(arguments[0]) && document.readyState !== 'loading'"
        while not self._execute(read, url):
            if time.monotonic() > latest:
                return False
            time.sleep(0.1)
        return True

    def run(self, script):
        # Not as an asynchronous script: this WebKit may forget to answer one while a page is starting.
        return self._execute(f"return ({script})")

    def _execute(self, script, *arguments):
        return self._call("POST", "/execute/sync", {"script": script, "args": arguments})

    def picture(self):
        return base64.b64decode(self._call("GET", "/screenshot"))

    def _note_errors(self):
        self._heard += self._execute("return window.wrong ?? []")

    def errors(self):
        self._note_errors()
        return self._heard

    def close(self):
        with contextlib.suppress(AssertionError, OSError, DriverHangs):
            self._call("DELETE", "")
        self._end()

    def start_again(self):
        self._end()
        self.holds = ""
        self._start()

    def _end(self):
        with contextlib.suppress(ProcessLookupError):
            os.killpg(self._driver.pid, signal.SIGKILL)
        self._screen.terminate()
        for process in (self._driver, self._screen):
            process.wait(PATIENCE)


def _screen() -> tuple[subprocess.Popen[bytes], str]:
    """A screen that nobody sees, and its name. Raises AssertionError when Xvfb ends at once."""
    reading, writing = os.pipe()
    program = ["Xvfb", "-displayfd", str(writing), "-screen", "0", "800x1000x24", "-nolisten", "tcp"]
    process = subprocess.Popen(program, pass_fds=[writing], stderr=subprocess.DEVNULL)
    os.close(writing)
    with os.fdopen(reading) as said:
        number = said.readline().strip()
    assert number, "Xvfb ended"
    return process, f":{number}"


def _free_port() -> int:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        return int(taken.getsockname()[1])
