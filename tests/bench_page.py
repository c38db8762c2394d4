"""How fast the page follows once it is warm, and how long it keeps its main thread.

A part of tests/bench.py: `python tests/bench.py redraw longtasks kit`. source of the limits: issues 2
and 8.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from statistics import median

import build
from tests import bench_kit
from tests.bench_loading import KEPT, ROUNDS, SETTLED, TYPED, chromium
from tests.bench_results import Row
from tests.browser.visitor import Hands
from tests.conftest import PlainSite

LONGEST_TASK = 100.0  # ms on the main thread after loading
CHILD = {"bust_girth": "63", "waist_girth": "57", "torso_length": "26", "length": "80"}


@contextmanager
def warm_page() -> Iterator:
    """A visitor's phone: measured, with everything loaded, its long tasks watched from now on."""
    build.site()
    with chromium() as browser:
        site = PlainSite(build.DIST)
        page = Hands(browser.new_page(viewport={"width": 360, "height": 740}))
        page.goto(site.url)
        page.wait_for_function(KEPT, timeout=120_000)
        for name, text in TYPED.items():
            page.fill(f"#{name}", text)
        page.wait_for_function(SETTLED)
        for text in ("104", "103"):
            type_and_settle(page, "length", text)
        page.evaluate(
            """() => {
                window.longTasks = [];
                new PerformanceObserver(list => {
                    for (const task of list.getEntries()) window.longTasks.push(task.duration);
                }).observe({ type: "longtask" });
            }"""
        )
        yield page
        site.stop()


def type_and_settle(page, name: str, text: str) -> None:
    page.evaluate("for (const fold of document.querySelectorAll('#options details')) fold.open = true")
    page.fill(f"#{name}", text)
    page.wait_for_function(SETTLED)


def long_tasks(page) -> list[float]:
    """ms of each task over 50 ms, the longest first; [0.0] when there was none."""
    return sorted(page.evaluate("window.longTasks"), reverse=True) or [0.0]


def redraw() -> tuple[str, list[Row]]:
    """From a change asked for to the change drawn, once warm; and the longest task meanwhile."""
    with warm_page() as page:
        grown = [redrawn(page, str(230 + i)) for i in range(20)]
        page.evaluate("document.getElementById('more-measures').open = true")
        page.select_option("#age_months", index=8)
        for name, text in CHILD.items():
            page.fill(f"#{name}", text)
        page.wait_for_function(SETTLED)
        child = [redrawn(page, str(130 + i)) for i in range(20)]
        longest = long_tasks(page)[0]
    return "60 ms for a change, 100 ms for a task", [
        Row("a change asked for and drawn, warm", grown, "ms", median(grown) / 60, 1),
        Row("the same for a child, growth told", child, "ms", median(child) / 60, 1),
        Row("longest task on the main thread meanwhile", [longest], "ms", longest / LONGEST_TASK, 1),
    ]


def redrawn(page, hem: str) -> float:
    type_and_settle(page, "hem_girth", hem)
    return page.evaluate(
        "performance.getEntriesByName('drawn')[0].startTime"
        " - performance.getEntriesByName('asked')[0].startTime"
    )


def longtasks() -> tuple[str, list[Row]]:
    """The longest tasks on the main thread, loading over, while someone uses the page."""
    with warm_page() as page:
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
        found = long_tasks(page)
    what = "longest task: typing, choosing, printing"
    return "100 ms for a task on the main thread", [Row(what, found[:1], "ms", found[0] / LONGEST_TASK, 1)]


def kit() -> tuple[str, list[Row]]:
    """A kit of 30 wearers with 6 garments each: opened, worked in, and there again after a reload."""
    with warm_page() as page:
        took, longest = bench_kit.measure(page)
        back = [bench_kit.come_back(page) for _ in range(ROUNDS)]
    rows = list(bench_kit.rows(took, longest, back))
    return "1,000 ms to open, 100 ms for a task; 30 wearers with 6 garments each", rows
