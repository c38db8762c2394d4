#!/usr/bin/env python3
"""How fast it is, as ratios measured in one run on one machine. A benchmark, not a test.

    python tests/bench.py             every part
    python tests/bench.py loading     the parts named

Run it with the Python of .venv. A part is a function without arguments that prints its table; add
one and name it in PARTS. One that returns what its ratios are to has its rows kept in
tests/bench-results.json, and the README's table written anew.
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
from tests import bench_results  # noqa: E402
from tests.bench_results import Row  # noqa: E402
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


ROWS: list[Row] = []  # of the part that is running


def line(what: str, value: float | list[float], unit: str, ratio: float, limit: float) -> None:
    """One row: the median, its ratio to the yardstick, and the limit that an issue sets."""
    take(Row(what, value if isinstance(value, list) else [value], unit, ratio, limit))


def take(row: Row) -> None:
    ROWS.append(row)
    print(row.text(), flush=True)


def loading() -> str:
    """Page usable and first pattern, against an empty page that loads Pyodide and imports numpy."""
    build.site()
    times: dict[str, list[float]] = {}
    with tempfile.TemporaryDirectory() as folder, chromium() as browser:
        bare = PlainSite(bare_pyodide(Path(folder)))
        ours = PlainSite(build.DIST)
        for _ in range(ROUNDS):  # in turn, so that whatever else the machine does falls on all
            visit(browser.new_context(), bare.url, times, {"done": "bare"}, "bare")
            context = browser.new_context()
            visit(context, ours.url, times, OUR_MARKS, "first visit", TYPED)
            visit(context, ours.url, times, LATER_MARKS, "later visit")
            context.set_offline(True)
            visit(context, ours.url, times, LATER_MARKS, "later visit, network off")
            context.close()
        fetched = bytes_before_first_pattern(browser)
        bare.stop()
        ours.stop()
    yardstick = median(times["bare"])
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
        line(f"{kind}: {what}", found, "ms", median(found) / yardstick, limit)
    for kind in ("later visit", "later visit, network off"):
        found = times[f"{kind}: last pattern shown"]
        line(f"{kind}: last pattern shown, to 300 ms", found, "ms", median(found) / 300, 1)
    stock = npm_package("pyodide")
    alone = sum(len(gzip.compress((stock / name).read_bytes())) for name in BARE_FILES)
    line("first visit: gzip before the first pattern", fetched / 1000, "kB", fetched / alone, 1.2)
    return (f"an empty page with Pyodide and numpy, {yardstick:,.0f} ms "
            f"({min(times['bare']):,.0f} to {max(times['bare']):,.0f})")


OUR_MARKS = {"usable": "page usable", "first-pattern": "first pattern", "rest": "all loaded"}
LATER_MARKS = {**OUR_MARKS, "last-pattern": "last pattern shown"}
LAST_KEPT = "localStorage.getItem('ellwand ' + location.pathname + ' last')"


def visit(context, url: str, times: dict, marks: dict[str, str], kind: str, typed=()) -> None:
    """Open the page as a visitor would and note when it set its marks; then type what is given."""
    page = context.new_page()
    page.goto(url)
    if kind == "bare":
        page.wait_for_function("performance.getEntriesByName('done').length", timeout=120_000)
    else:  # all that a visit loads has to be over, or it would fall on the next one
        page.wait_for_function("document.documentElement.dataset.offline", timeout=120_000)
    for mark, what in marks.items():
        at = page.evaluate(f"performance.getEntriesByName('{mark}')[0].startTime")
        times.setdefault("bare" if kind == "bare" else f"{kind}: {what}", []).append(at)
    for name in typed:
        page.fill(f"#{name}", typed[name])
    if typed:
        page.wait_for_function(SETTLED)
        page.wait_for_function(LAST_KEPT)
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


def memory() -> str:
    """What the page's renderer process holds once all is loaded, against bare Pyodide with numpy's."""
    build.site()
    held: dict[str, list[float]] = {"bare": [], "first visit": [], "later visit": []}
    with tempfile.TemporaryDirectory() as folder:
        bare, ours = PlainSite(bare_pyodide(Path(folder))), PlainSite(build.DIST)
        for _ in range(ROUNDS):
            with chromium() as browser:
                held["bare"].append(renderer_megabytes(browser.new_context(), browser, bare.url, BARE_DONE))
            with chromium() as browser:
                context = browser.new_context()
                for kind in ("first visit", "later visit"):
                    held[kind].append(renderer_megabytes(context, browser, ours.url, KEPT))
        bare.stop()
        ours.stop()
    yardstick = median(held["bare"])
    for kind in ("first visit", "later visit"):
        line(f"{kind}: memory of the page", held[kind], "MB", median(held[kind]) / yardstick, 1.6)
    return f"the renderer process of an empty page with Pyodide and numpy, {yardstick:,.0f} MB"


BARE_DONE = "performance.getEntriesByName('done').length"
KEPT = "document.documentElement.dataset.offline"


def renderer_megabytes(context, browser, url: str, until: str) -> float:
    """Proportional set size of the largest renderer, after a garbage collection; Linux only."""
    page = context.new_page()
    page.goto(url)
    page.wait_for_function(until, timeout=180_000)
    context.new_cdp_session(page).send("HeapProfiler.collectGarbage")
    page.wait_for_timeout(1000)
    processes = browser.new_browser_cdp_session().send("SystemInfo.getProcessInfo")["processInfo"]
    sizes = []
    for process in processes:
        if process["type"] == "renderer":
            rollup = Path(f"/proc/{process['id']}/smaps_rollup").read_text()
            sizes.append(next(int(text.split()[1]) for text in rollup.splitlines() if text[:4] == "Pss:"))
    page.close()
    return max(sizes) / 1000


def redraw() -> str:
    """From a change asked for to the change drawn, once warm; and the longest task meanwhile."""
    with chromium() as browser:
        plain = PlainSite(build.DIST)
        page = browser.new_page(viewport={"width": 360, "height": 740})
        warm_up(page, plain.url)
        watch_long_tasks(page)
        grown = [redrawn(page, str(230 + i)) for i in range(20)]
        page.evaluate("document.getElementById('more-measures').open = true")
        page.select_option("#age_months", index=8)
        for name, text in CHILD.items():
            page.fill(f"#{name}", text)
        page.wait_for_function(SETTLED)
        child = [redrawn(page, str(130 + i)) for i in range(20)]
        longest = max(page.evaluate("window.longTasks"), default=0.0)
        plain.stop()
    line("a change asked for and drawn, warm", grown, "ms", median(grown) / 60, 1)
    line("the same for a child, growth told", child, "ms", median(child) / 60, 1)
    line("longest task on the main thread meanwhile", longest, "ms", longest / 100, 1)
    return "60 ms for a change, 100 ms for a task"


CHILD = {"bust_girth": "63", "waist_girth": "57", "torso_length": "26", "length": "80"}


def redrawn(page, hem: str) -> float:
    type_and_settle(page, "hem_girth", hem)
    return page.evaluate(
        "performance.getEntriesByName('drawn')[0].startTime"
        " - performance.getEntriesByName('asked')[0].startTime"
    )


def watch_long_tasks(page) -> None:
    page.evaluate(
        """() => {
            window.longTasks = [];
            new PerformanceObserver(list => {
                for (const task of list.getEntries()) window.longTasks.push(task.duration);
            }).observe({ type: "longtask" });
        }"""
    )


def growth() -> str:
    """Drafting 1, 10 and 100 garments in a row: what each costs, against one alone."""
    from drafting.demo import HILD
    from drafting.workbench import run

    request = {"do": "draft", "garment": "tunic", "unit": "cm", "measurements": dict(HILD.measurements)}
    run(request)  # reads every table
    took: dict[int, list[float]] = {1: [], 10: [], 100: []}
    for _ in range(ROUNDS):
        for count, times in took.items():
            start = perf_counter()
            for i in range(count):
                run({**request, "options": {"length": str(80 + i / 4)}})  # no two alike
            times.append((perf_counter() - start) * 1000 / count)
    for count, times in took.items():
        line(f"drafting {count}: each", times, "ms", median(times) / median(took[1]), 1.5)
    return "a tunic drafted alone"


def lay() -> str:
    """Cloth length against spyrrow's, on one thread, with the same time."""
    from tests.bench_lay import rows

    published = ROOT.parent / "shared" / "data" / "nesting"
    for row in rows(sorted(published.glob("*.json"))):
        take(row)
    return "spyrrow's length of cloth, given the same time on one thread"


def sheets() -> str:
    """What is drawn and written, in the browser's Pyodide."""
    from tests.bench_sheets import YARDSTICK, rows

    for row in rows():
        take(row)
    return YARDSTICK


def sewing() -> str:
    """The order of work and the booklet, in this Python."""
    from tests.bench_sewing import rows

    for row in rows():
        take(row)
    return "drafting and truing the same garment; for the booklet, its tiled PDF"


def kit() -> str:
    """A kit of 30 wearers with 6 garments each: opened, worked in, and there again after a reload."""
    from tests import bench_kit

    build.site()
    with chromium() as browser:
        site = PlainSite(build.DIST)
        page = browser.new_page(viewport={"width": 360, "height": 740})
        warm_up(page, site.url)
        watch_long_tasks(page)
        took, longest = bench_kit.measure(page)
        back = [bench_kit.come_back(page) for _ in range(ROUNDS)]
        site.stop()
    for which, what in (
        ("file", "its file chosen"), ("kept", "kept here and opened"), ("garment", "another garment"),
        ("key", "a measure typed"),
    ):
        line(f"{what}, until it is shown", took[which], "ms", median(took[which]) / 1000, 1)
        line(f"{what}: longest task", longest[which], "ms", longest[which] / LONGEST_TASK, 1)
    line("the page loaded again with it, until usable", back, "ms", median(back) / 1000, 1)
    return "1,000 ms to open, 100 ms for a task; 30 wearers with 6 garments each"


TYPED = {"bust_girth": "92", "waist_girth": "78", "torso_length": "38"}
LONGEST_TASK = 100.0  # ms on the main thread after loading: issue 2


def longtasks() -> None:
    """The longest tasks on the main thread, loading over, while someone uses the page."""
    build.site()
    with chromium() as browser:
        site = PlainSite(build.DIST)
        page = browser.new_page(viewport={"width": 360, "height": 740})
        warm_up(page, site.url)
        watch_long_tasks(page)
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


PARTS: dict[str, Callable[[], str | None]] = {
    "loading": loading, "memory": memory, "growth": growth, "redraw": redraw, "longtasks": longtasks,
    "kit": kit, "lay": lay, "sheets": sheets, "sewing": sewing, "advice": advice,
}


def main(names: list[str]) -> int:
    if unknown := [name for name in names if name not in PARTS]:
        print(f"There is no part called {', '.join(unknown)}; the parts are {', '.join(PARTS)}.")
        return 2
    for name in names or PARTS:
        ROWS.clear()
        on = bench_results.machine()
        yardstick = PARTS[name]()
        if yardstick and ROWS:
            print(f"{name}: 1 × is {yardstick}. {on}")
            bench_results.keep(name, yardstick, ROWS, on)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
