"""The page on a slow phone and on a slow network, against an empty PyScript page with MicroPython.

A part of tests/bench.py: `python tests/bench.py slow`. The processor is slowed by Chromium, whose main thread
then gets a fourth of its time; the network by the server, for all that the page and its workers ask for,
which comes gzipped, as from most hosts. source of the slowness and of the 350 kB: issue 14. The other limits
are what it asks for, six tenths of a first visit and half of a later one, of what was measured in one run
with the yardstick before anything was done about it (BEFORE).
"""

import functools
import gzip
import json
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from statistics import median

import build
from starting import UNUSED_PLUGINS
from tests.bench_loading import REST, UNPACKED, chromium, type_and_keep
from tests.bench_results import Row
from tests.conftest import PlainSite

ROUNDS = 3
SLOWER = 4  # times
BYTES_A_SECOND = 1_600_000 // 8
LATENCY = 0.15  # seconds
LUMP = 4096  # bytes that go over the line at a time
MOST = 350  # kB of gzip before the page can be used
BEFORE = {
    "first visit: usable": 4.33, "first visit: first pattern": 6.29, "later visit: usable": 4.68,
    "later visit: first pattern": 5.32, "network: usable": 1.64,
}
EMPTY = """<!doctype html><meta charset="utf-8"><title>empty</title>
<script type="module" src="pyscript/core.js"></script>
<script type="mpy" config='CONFIG'>
from pyscript import window
window.performance.mark("done")
</script>"""
DONE = "performance.getEntriesByName('done').length"
USABLE = "performance.getEntriesByName('usable').length"


class NarrowLine:
    """All that is asked for comes gzipped, one lump at a time, and each answer begins late."""

    def __init__(self) -> None:
        self._line = threading.Lock()

    def send(self, handler, path: Path) -> None:
        time.sleep(LATENCY)
        packed = gzipped(path)
        handler.send_response(200)
        handler.send_header("Content-Type", handler.guess_type(str(path)))
        handler.send_header("Content-Encoding", "gzip")
        handler.send_header("Content-Length", str(len(packed)))
        handler.end_headers()
        for at in range(0, len(packed), LUMP):
            lump = packed[at : at + LUMP]
            with self._line:
                time.sleep(len(lump) / BYTES_A_SECOND)
            handler.wfile.write(lump)


@functools.cache
def gzipped(path: Path) -> bytes:
    return gzip.compress(path.read_bytes())


def slow() -> tuple[str, list[Row]]:
    """When the page can be used and the first pattern is drawn, and the bytes before that."""
    build.site()
    return measured({"": build.DIST}, BEFORE)


def measured(folders: dict[str, Path], before: dict[str, float]) -> tuple[str, list[Row]]:
    """Sites by what they are called, visited in turn with the empty page."""
    times: dict[str, list[float]] = {}
    with empty_page(next(iter(folders.values()))) as empty, chromium() as browser:
        for _ in range(ROUNDS):
            slow_processor(browser, empty, "empty", times)
            for name, folder in folders.items():
                slow_processor(browser, folder, name, times)
            slow_network(browser, empty, "empty", times)
            for name, folder in folders.items():
                slow_network(browser, folder, name, times)
        packed = {name: bytes_before_usable(browser, folder) for name, folder in folders.items()}
    return yardsticks(times), [row for name in folders for row in rows(name, times, packed[name], before)]


def yardsticks(times: dict[str, list[float]]) -> str:
    said = (f"{what[6:]} {median(values):,.0f} ms" for what, values in times.items() if what[:6] == "empty ")
    return f"an empty PyScript page with MicroPython, as slowly: {', '.join(said)}"


def rows(name: str, times: dict, packed: int, before: dict[str, float]) -> Iterator[Row]:
    for kind, part in (("first visit", 0.6), ("later visit", 0.5)):
        yardstick = median(times[f"empty {kind}: usable"])
        for what in ("usable", "first pattern"):
            found = times[f"{name} {kind}: {what}"]
            limit = before[f"{kind}: {what}"] * part
            yield Row(f"{name} {SLOWER} × slower, {kind}: {what}".strip(), found, "ms",
                      median(found) / yardstick, round(limit, 2))
    found, yardstick = times[f"{name} network: usable"], median(times["empty network: usable"])
    yield Row(f"{name} 1.6 Mbit/s and 150 ms, first visit: usable".strip(), found, "ms",
              median(found) / yardstick, round(before["network: usable"] * 0.6, 2))
    kilobytes = packed / 1000
    yield Row(f"{name} gzip before it is usable, to 350 kB".strip(), [kilobytes], "kB", kilobytes / MOST, 1)


@contextmanager
def empty_page(like: Path) -> Iterator[Path]:
    """The yardstick: a page that does nothing but mark the time, on the same PyScript and MicroPython."""
    with tempfile.TemporaryDirectory() as folder:
        for name in ("pyscript", "micropython"):
            (Path(folder) / name).symlink_to(like / name)
        plugins = [f"!{name}" for name in UNUSED_PLUGINS]
        config = {"interpreter": "./micropython/micropython.js", "plugins": plugins}
        page = EMPTY.replace("CONFIG", json.dumps(config))
        (Path(folder) / "index.html").write_text(page, encoding="utf-8")
        yield Path(folder)


def slow_processor(browser, folder: Path, name: str, times: dict) -> None:
    """A first visit, and one after it."""
    site = PlainSite(folder)
    context = browser.new_context()
    for kind in ("first visit", "later visit"):
        page = context.new_page()
        page.wait_for_timeout(REST)
        context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
        page.goto(site.url)
        page.wait_for_function(DONE if name == "empty" else UNPACKED, timeout=60_000)
        note(page, f"{name} {kind}", times)
        if name != "empty" and kind == "first visit":
            type_and_keep(page)
        page.close()
    context.close()
    site.stop()


def slow_network(browser, folder: Path, name: str, times: dict) -> None:
    site = PlainSite(folder, NarrowLine())
    context = browser.new_context()
    page = context.new_page()
    page.goto(site.url, wait_until="commit")
    page.wait_for_function(DONE if name == "empty" else USABLE, timeout=60_000)
    note(page, f"{name} network", times)
    context.close()
    site.stop()


def note(page, kind: str, times: dict) -> None:
    for mark, what in {"done": "usable", "usable": "usable", "first-pattern": "first pattern"}.items():
        for at in page.evaluate(f"performance.getEntriesByName('{mark}').map(entry => entry.startTime)"):
            times.setdefault(f"{kind}: {what}", []).append(at)


def bytes_before_usable(browser, folder: Path) -> int:
    """What the page itself has fetched by the time it can be used, as gzip; not what its worker has."""
    site = PlainSite(folder)
    page = browser.new_page()
    page.goto(site.url)
    page.wait_for_function(USABLE)
    names = page.evaluate("""() => {
        const usable = performance.getEntriesByName("usable")[0].startTime;
        const before = performance.getEntriesByType("resource").filter((file) => file.responseEnd < usable);
        return [location.href, ...before.map(({ name }) => name)];
    }""")
    page.close()
    site.stop()
    ours = [url.removeprefix(site.url).split("#")[0] for url in names if url.startswith(site.url)]
    files = {name or "index.html" for name in ours}
    return sum(len(gzipped(folder / name)) for name in files if (folder / name).is_file())
