"""How fast the page starts and what it holds in memory, against an empty page with Pyodide and numpy.

A part of tests/bench.py: `python tests/bench.py loading memory`. source of the limits: issues 2 and 9.
"""

import gzip
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from statistics import median

import build
from fetching import npm_package, wheels
from tests.bench_results import Row
from tests.conftest import CHROMIUM_FLAGS, PlainSite

ROUNDS = 5
REST = 1000  # ms in which the browser puts the last page away and opens a tab, before any visit
BARE_PAGE = """<!doctype html><script type="module">
import { loadPyodide } from "./pyodide.mjs";
const python = await loadPyodide();
await python.loadPackage("numpy");
python.runPython("import numpy");
performance.mark("done");
</script>"""
BARE_FILES = (
    "pyodide.mjs",
    "pyodide.asm.js",
    "pyodide.asm.wasm",
    "python_stdlib.zip",
    "pyodide-lock.json",
)
OUR_MARKS = {"usable": "page usable", "first-pattern": "first pattern", "rest": "all loaded"}
LATER_MARKS = {**OUR_MARKS, "last-pattern": "last pattern shown"}
LAST_KEPT = "localStorage.getItem('ellwand ' + location.pathname + ' last')"
BARE_DONE = "performance.getEntriesByName('done').length"
KEPT = "document.documentElement.dataset.offline"
UNPACKED = "document.documentElement.dataset.unpacked"  # kept, and ready for the next visit to start from
DRAWN = "performance.getEntriesByName('first-pattern').length"
SETTLED = "document.documentElement.dataset.settled === 'yes'"
TYPED = {"bust_girth": "92", "waist_girth": "78", "torso_length": "38"}


@contextmanager
def chromium() -> Iterator:
    """The browser the tests use, for the length of one part."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        yield playwright.chromium.launch(
            executable_path=build.browser(), args=list(CHROMIUM_FLAGS)
        )


@contextmanager
def both_sites() -> Iterator[tuple[PlainSite, PlainSite]]:
    """The yardstick and our page, both served alike."""
    build.site()
    with tempfile.TemporaryDirectory() as folder:
        bare, ours = PlainSite(bare_pyodide(Path(folder))), PlainSite(build.DIST)
        yield bare, ours
        bare.stop()
        ours.stop()


def bare_pyodide(folder: Path) -> Path:
    """The yardstick: Pyodide as published, numpy, and a page with nothing else on it."""
    shutil.copytree(npm_package("pyodide"), folder, dirs_exist_ok=True)
    for wheel in wheels():
        if wheel.name.startswith("numpy-"):
            shutil.copy(wheel, folder)
    (folder / "index.html").write_text(BARE_PAGE, encoding="utf-8")
    return folder


def loading() -> tuple[str, list[Row]]:
    """Page usable and first pattern; what was drawn last; bytes fetched before the first pattern."""
    times: dict[str, list[float]] = {}
    with both_sites() as (bare, ours), chromium() as browser:
        for _ in range(ROUNDS):  # in turn, so that whatever else the machine does falls on all
            visit(browser.new_context(), bare.url, times, {"done": "bare"}, "bare")
            context = browser.new_context()
            visit(context, ours.url, times, OUR_MARKS, "first visit", types=True)
            visit(context, ours.url, times, LATER_MARKS, "later visit")
            context.set_offline(True)
            visit(context, ours.url, times, LATER_MARKS, "later visit, network off")
            context.close()
        fetched = bytes_before_first_pattern(browser, build.DIST)
    yardstick = median(times["bare"])
    rows = []
    for kind, what, limit in (
        ("first visit", "page usable", 0.25),
        ("first visit", "first pattern", 0.8),
        ("first visit", "all loaded", 2.0),
        ("later visit", "page usable", 0.25),
        ("later visit", "first pattern", 0.4),
        ("later visit, network off", "page usable", 0.25),
        ("later visit, network off", "first pattern", 0.4),
    ):
        found = times[f"{kind}: {what}"]
        rows.append(Row(f"{kind}: {what}", found, "ms", median(found) / yardstick, limit))
    for kind in ("later visit", "later visit, network off"):
        found = times[f"{kind}: last pattern shown"]
        rows.append(Row(f"{kind}: last pattern shown, to 300 ms", found, "ms", median(found) / 300, 1))
    stock = npm_package("pyodide")
    alone = sum(len(gzip.compress((stock / name).read_bytes())) for name in BARE_FILES)
    kilobytes = [fetched / 1000]
    rows.append(Row("first visit: gzip before the first pattern", kilobytes, "kB", fetched / alone, 1.2))
    return (f"an empty page with Pyodide and numpy, {yardstick:,.0f} ms "
            f"({min(times['bare']):,.0f} to {max(times['bare']):,.0f})"), rows


def visit(context, url: str, times: dict, marks: dict[str, str], kind: str, types=False) -> None:
    """Open the page as a visitor would and note when it set its marks; then type something."""
    page = context.new_page()
    page.wait_for_timeout(REST)
    page.goto(url)
    # Of ours, all that a visit loads has to be over, or it would fall on the next one.
    page.wait_for_function(BARE_DONE if kind == "bare" else UNPACKED, timeout=120_000)
    for mark, what in marks.items():
        at = page.evaluate(f"performance.getEntriesByName('{mark}')[0].startTime")
        times.setdefault("bare" if kind == "bare" else f"{kind}: {what}", []).append(at)
    if types:
        type_and_keep(page)
    page.close()
    if kind == "bare":
        context.close()


def type_and_keep(page) -> None:
    """Give measurements, and stay until what they give is kept."""
    for name, text in TYPED.items():
        page.fill(f"#{name}", text)
    page.wait_for_function(SETTLED)
    page.wait_for_function(LAST_KEPT)


def bytes_before_first_pattern(browser, folder: Path) -> int:
    """What a first visit has fetched by the time its pattern is drawn, as gzip."""
    site = PlainSite(folder)
    context = browser.new_context()
    page = context.new_page()
    page.goto(site.url)
    page.wait_for_function(DRAWN)
    drafted = page.evaluate(
        "performance.timeOrigin + performance.getEntriesByName('first-pattern')[0].startTime"
    )
    context.close()
    site.stop()
    names = [name or "index.html" for when, name in site.asked if when * 1000 < drafted]
    return sum(len(gzip.compress((folder / name).read_bytes())) for name in names)


def memory() -> tuple[str, list[Row]]:
    """What the page's renderer process holds once all is loaded."""
    held: dict[str, list[float]] = {"bare": [], "first visit": [], "later visit": []}
    with both_sites() as (bare, ours):
        for _ in range(ROUNDS):
            with chromium() as browser:
                held["bare"].append(renderer_megabytes(browser.new_context(), browser, bare.url, BARE_DONE))
            with chromium() as browser:
                context = browser.new_context()
                for kind in ("first visit", "later visit"):
                    held[kind].append(renderer_megabytes(context, browser, ours.url, UNPACKED))
    yardstick = median(held["bare"])
    rows = [
        Row(f"{kind}: memory of the page", held[kind], "MB", median(held[kind]) / yardstick, 1.45)
        for kind in ("first visit", "later visit")
    ]
    return f"the renderer process of an empty page with Pyodide and numpy, {yardstick:,.0f} MB", rows


def renderer_megabytes(context, browser, url: str, until: str) -> float:
    page = context.new_page()
    page.goto(url)
    page.wait_for_function(until, timeout=180_000)
    held = held_by(page, browser)
    page.close()
    return held


def held_by(page, browser) -> float:
    """MB: proportional set size of the largest renderer, after a garbage collection; Linux only."""
    page.context.new_cdp_session(page).send("HeapProfiler.collectGarbage")
    page.wait_for_timeout(1000)
    processes = browser.new_browser_cdp_session().send("SystemInfo.getProcessInfo")["processInfo"]
    sizes = []
    for process in processes:
        if process["type"] == "renderer":
            rollup = Path(f"/proc/{process['id']}/smaps_rollup").read_text()
            sizes.append(next(int(text.split()[1]) for text in rollup.splitlines() if text[:4] == "Pss:"))
    return max(sizes) / 1000
