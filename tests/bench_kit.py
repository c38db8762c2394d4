"""How long a large kit takes to open, and what it does to the main thread. Invented people."""

import json
from collections.abc import Iterator
from dataclasses import replace
from statistics import median
from time import perf_counter

from drafting.garments import GARMENTS
from drafting.kit import KitGarment, KitWearer, write_kit
from drafting.kit.marram_farm import demo_kit
from tests.bench_loading import ROUNDS, SETTLED
from tests.bench_results import Row

WEARERS, EACH = 30, 6
DONE = {
    "file": "its file chosen", "kept": "kept here and opened", "garment": "another garment",
    "key": "a measure typed",
}
SHOWN = "document.getElementById('kit-sum').textContent.startsWith('{} wearers, {} garments')"


def large_kit(wearers: int = WEARERS, each: int = EACH) -> str:
    """Marram Farm's kit file for a whole troop, all cut from its two bolts."""
    farm = demo_kit()
    people = tuple(
        KitWearer(f"w{i}", replace(one, name=f"{one.name} {i}"))
        for i in range(wearers) for one in [farm.wearers[i % len(farm.wearers)].wearer]
    )
    kinds = list(GARMENTS)[:each]
    garments = tuple(
        KitGarment(f"g{i}x{j}", f"w{i}", kind, {}, {"main": farm.cloths[j % 2].id})
        for i in range(wearers) for j, kind in enumerate(kinds)
    )
    return write_kit(replace(farm, wearers=people, garments=garments))


def measure(page) -> tuple[dict[str, list[float]], dict[str, float]]:
    """(ms by what was done, the longest task over 50 ms meanwhile); `page` is loaded and at rest."""
    shown = SHOWN.format(WEARERS, WEARERS * EACH)
    took: dict[str, list[float]] = {which: [] for which in DONE}
    longest = dict.fromkeys(took, 0.0)
    file = {"name": "troop.kit.json", "mimeType": "application/json", "buffer": large_kit().encode()}

    def watch(what: str, script: str, act) -> None:
        page.evaluate("window.longTasks.length = 0")
        took[what].append(_until(page, script, act))
        longest[what] = max(longest[what], *page.evaluate("window.longTasks"), 0.0)

    page.evaluate("document.getElementById('kits-here').open = true")
    for _ in range(ROUNDS):
        watch("file", shown, lambda: page.set_input_files("#kit-file", file))
        kept = json.loads(page.evaluate("localStorage.getItem('ellwand ' + location.pathname)"))["kit"]
        _leave(page)
        watch("kept", shown, lambda k=kept: page.click(f"[data-do='kit:use:{k}']"))
        for number in (40, 100):
            gone = f"document.querySelector('#wearer-list').selectedIndex === {number}"
            watch("garment", gone, lambda n=number: page.select_option("#wearer-list", index=n))
        for text in ("93", "92"):
            watch("key", SETTLED, lambda t=text: page.fill("#needed input", t))
        _leave(page)
    page.click(f"[data-do='kit:use:{kept}']")
    page.wait_for_function(shown)
    page.wait_for_timeout(1000)
    return took, longest


def rows(took: dict, longest: dict, back: list[float]) -> Iterator[Row]:
    """To a second, or for a task to a tenth of one."""
    for which, what in DONE.items():
        yield Row(f"{what}, until it is shown", took[which], "ms", median(took[which]) / 1000, 1)
        yield Row(f"{what}: longest task", [longest[which]], "ms", longest[which] / 100, 1)
    yield Row("the page loaded again with it, until usable", back, "ms", median(back) / 1000, 1)


def _leave(page) -> None:
    """For a kit with nothing in it."""
    page.click("[data-do='kit:new']")
    page.wait_for_function(SHOWN.format("1", "1").replace("wearers, 1 garments", "wearer, 1 garment"))
    page.wait_for_function(SETTLED)
    page.wait_for_timeout(600)


def _until(page, script: str, act) -> float:
    """ms from what is done until it is shown and drawn."""
    start = perf_counter()
    act()
    page.wait_for_function(script)
    took = (perf_counter() - start) * 1000
    page.wait_for_function(SETTLED)
    page.wait_for_timeout(600)  # so that its saving falls on it, too
    return took


def come_back(page) -> float:
    """ms from a reload until the kit is on the page again and can be worked with."""
    page.reload()
    page.wait_for_function(SETTLED)
    return page.evaluate("performance.getEntriesByName('usable')[0].startTime")
