#!/usr/bin/env python3
"""How fast it is, as ratios measured in one run on one machine. A benchmark, not a test.

    python tests/bench.py             every part
    python tests/bench.py loading     the parts named

Run it with the Python of .venv. A part is a function without arguments that prints its table;
add one and name it in PARTS.
"""

import gzip
import shutil
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from statistics import median
from time import perf_counter

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

import build  # noqa: E402
from fetching import npm_package, wheels  # noqa: E402
from tests.conftest import CHROMIUM_FLAGS, PlainSite  # noqa: E402

ROUNDS = 5
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


@contextmanager
def chromium() -> Iterator:
    """The browser the tests use, for the length of one part."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        yield playwright.chromium.launch(
            executable_path=build.browser(), args=list(CHROMIUM_FLAGS)
        )


def line(what: str, value: float, unit: str, ratio: float, limit: float) -> None:
    """One row: the median, its ratio to the yardstick, and the limit that issue 2 sets."""
    verdict = "within" if ratio <= limit else "OVER"
    print(f"{what:<44}{value:>9,.0f} {unit:<4}{ratio:>7.2f} ×   {verdict} {limit:g} ×")


def loading() -> None:
    """Page usable and first pattern, against an empty page that loads Pyodide and imports numpy."""
    build.site()
    times: dict[str, list[float]] = {}
    with tempfile.TemporaryDirectory() as folder, chromium() as browser:
        bare = PlainSite(bare_pyodide(Path(folder)))
        ours = PlainSite(build.DIST)
        for _ in range(ROUNDS):  # in turn, so that whatever else the machine does falls on all
            visit(browser.new_context(), bare.url, times, {"done": "bare"}, "bare")
            context = browser.new_context()
            for kind in ("first visit", "later visit, network on"):
                visit(context, ours.url, times, OUR_MARKS, kind)
            context.set_offline(True)
            visit(context, ours.url, times, OUR_MARKS, "later visit, network off")
            context.close()
        fetched = bytes_before_first_pattern(browser)
        bare.stop()
        ours.stop()
    yardstick = median(times["bare"])
    print(f"loading: median of {ROUNDS}; empty page, Pyodide and numpy: {yardstick:,.0f} ms")
    for kind, limit in (
        ("first visit", 0.9),
        ("later visit, network on", 0.5),
        ("later visit, network off", 0.5),
    ):
        usable, drafted = (median(times[f"{kind}: {what}"]) for what in OUR_MARKS.values())
        line(f"{kind}: page usable", usable, "ms", usable / yardstick, 0.25)
        line(f"{kind}: first pattern", drafted, "ms", drafted / yardstick, limit)
    stock = npm_package("pyodide")
    alone = sum(len(gzip.compress((stock / name).read_bytes())) for name in BARE_FILES)
    line("first visit: gzip before the first pattern", fetched / 1000, "kB", fetched / alone, 1.2)


OUR_MARKS = {"usable": "usable", "first-pattern": "first pattern"}


def visit(context, url: str, times: dict, marks: dict[str, str], kind: str) -> None:
    """Open the page as a visitor would and note when it set its performance marks."""
    page = context.new_page()
    page.goto(url)
    if kind == "bare":
        page.wait_for_function("performance.getEntriesByName('done').length", timeout=120_000)
    else:  # all that a visit loads has to be over, or it would fall on the next one
        page.wait_for_function("document.documentElement.dataset.offline", timeout=120_000)
    for mark, what in marks.items():
        at = page.evaluate(f"performance.getEntriesByName('{mark}')[0].startTime")
        times.setdefault("bare" if kind == "bare" else f"{kind}: {what}", []).append(at)
    page.close()
    if kind == "bare":
        context.close()


def bare_pyodide(folder: Path) -> Path:
    """The yardstick: Pyodide as published, numpy, and a page with nothing else on it."""
    shutil.copytree(npm_package("pyodide"), folder, dirs_exist_ok=True)
    for wheel in wheels():
        if wheel.name.startswith("numpy-"):
            shutil.copy(wheel, folder)
    (folder / "index.html").write_text(BARE_PAGE, encoding="utf-8")
    return folder


def bytes_before_first_pattern(browser) -> int:
    """What a first visit has fetched by the time its pattern is drawn, as gzip."""
    site = PlainSite(build.DIST)
    context = browser.new_context()
    page = context.new_page()
    page.goto(site.url)
    page.wait_for_function("performance.getEntriesByName('first-pattern').length")
    drafted = page.evaluate(
        "performance.timeOrigin + performance.getEntriesByName('first-pattern')[0].startTime"
    )
    context.close()
    site.stop()
    names = [name or "index.html" for when, name in site.asked if when * 1000 < drafted]
    return sum(len(gzip.compress((build.DIST / name).read_bytes())) for name in names)


def redraw() -> None:
    """From a change asked for to the change drawn, once warm; and the longest task meanwhile."""
    took, longest = [], 0.0
    with chromium() as browser:
        plain = PlainSite(build.DIST)
        page = browser.new_page(viewport={"width": 360, "height": 740})
        page.goto(plain.url)
        page.wait_for_selector('html[data-settled="yes"]', timeout=60_000)
        page.wait_for_function("performance.getEntriesByName('rest').length", timeout=60_000)
        page.evaluate("""() => {
            window.longest = 0;
            new PerformanceObserver((list) => {
                for (const e of list.getEntries()) window.longest = Math.max(window.longest, e.duration);
            }).observe({ type: "longtask" });
        }""")
        for i in range(20):
            page.fill("#hem_girth", str(230 + i))
            page.wait_for_timeout(700)
            took.append(page.evaluate(
                "performance.getEntriesByName('drawn')[0].startTime"
                " - performance.getEntriesByName('asked')[0].startTime"
            ))
        longest = page.evaluate("window.longest")
        plain.stop()
    line("a change asked for and drawn, warm (median)", median(took), "ms", median(took) / 60, 1)
    line("longest task on the main thread meanwhile", longest, "ms", longest / 100, 1)


def lay() -> None:
    """The lay against spyrrow, on one thread, with the same time."""
    from tests.bench_lay import main as compare

    compare([])
    published = ROOT.parent / "shared" / "data" / "nesting"
    if published.is_dir():
        compare([str(path) for path in sorted(published.glob("*.json"))])


def sheets() -> None:
    from tests.bench_sheets import sheets as times

    times()


def sewing() -> None:
    from tests.bench_sewing import GARMENTS
    from tests.bench_sewing import main as times

    times(GARMENTS)


TYPED = {"bust_girth": "92", "waist_girth": "78", "torso_length": "38"}
LONGEST_TASK = 100.0  # ms on the main thread after loading: issue 2


def longtasks() -> None:
    """The longest tasks on the main thread, loading over, while someone uses the page."""
    build.site()
    with chromium() as browser:
        site = PlainSite(build.DIST)
        page = browser.new_page(viewport={"width": 360, "height": 740})
        warm_up(page, site.url)
        page.evaluate(
            """() => {
                window.longTasks = [];
                new PerformanceObserver(list => {
                    for (const task of list.getEntries()) window.longTasks.push(task.duration);
                }).observe({ type: "longtask" });
            }"""
        )
        for i in range(10):
            type_and_settle(page, "length", str(105 + i))
        type_and_settle(page, "waist_girth", "nine")
        type_and_settle(page, "waist_girth", "78")
        for garment in ("tunic", "cloak", "apron-dress"):
            page.check(f'input[name="garment"][value="{garment}"]', force=True)
            page.wait_for_function(SETTLED)
        for unit in ("in", "cm"):
            page.check(f'input[name="unit"][value="{unit}"]', force=True)
            page.wait_for_function(SETTLED)
        for _ in range(4):
            page.click("[data-do='zoom:in']")
        with page.expect_download():
            page.click('[id="take-tiled.pdf"]')
        page.wait_for_timeout(300)
        found = sorted(page.evaluate("window.longTasks"), reverse=True)
        site.stop()
    print(f"longtasks: {len(found)} over 50 ms while typing, choosing, zooming and printing")
    longest = found[0] if found else 0.0
    line("longest task on the main thread", longest, "ms", longest / LONGEST_TASK, 1.0)


SETTLED = "document.documentElement.dataset.settled === 'yes'"


def warm_up(page, url: str) -> None:
    """A visitor who has measured, with everything loaded."""
    page.goto(url)
    page.wait_for_function("document.documentElement.dataset.offline", timeout=120_000)
    for name, text in TYPED.items():
        page.fill(f"#{name}", text)
    page.wait_for_function(SETTLED)
    for text in ("104", "103"):
        type_and_settle(page, "length", text)


def type_and_settle(page, name: str, text: str) -> None:
    page.fill(f"#{name}", text)
    page.wait_for_function(SETTLED)


def advice() -> None:
    """Advice on everything that can be chosen at once, warm, against the 20 ms of issue 7."""
    from drafting import workbench

    request = {
        "do": "advise", "garment": "apron-dress", "year": "900-1060", "region": "Denmark", "rank": "farmer",
        "colour": "purple", "fibre": "linen", "weave": "jersey", "thread": "polyester", "trim": "lace",
        "fastening": "zip", "making": "machine", "wearer": "girl",
    }
    took = []
    for _ in range(21):
        start = perf_counter()
        assert workbench.run(request)["ok"]
        took.append((perf_counter() - start) * 1000)
    line("advice, the first time: every statement read", took[0], "ms", took[0] / 20, 10)
    line("advice on a change (median)", median(took[1:]), "ms", median(took[1:]) / 20, 1)


PARTS: dict[str, Callable[[], None]] = {
    "loading": loading, "redraw": redraw, "longtasks": longtasks, "lay": lay, "sheets": sheets,
    "sewing": sewing, "advice": advice,
}


def main(names: list[str]) -> int:
    if unknown := [name for name in names if name not in PARTS]:
        print(f"There is no part called {', '.join(unknown)}; the parts are {', '.join(PARTS)}.")
        return 2
    for name in names or PARTS:
        PARTS[name]()
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
