#!/usr/bin/env python3
"""How fast it is, as ratios measured in one run on one machine. A benchmark, not a test.

    python tests/bench.py             every part
    python tests/bench.py loading     the parts named

Run it with the Python of .venv. A part is a function without arguments that returns what its ratios are to
and its rows; add one and name it in PARTS. Its rows are kept in tests/bench-results.json; from them
tests/bench-results.md and the README's headlines are written anew. What each trick buys takes half an hour.
"""

import sys
from collections.abc import Callable, Iterable
from pathlib import Path
from statistics import median
from time import perf_counter

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from tests import (  # noqa: E402
    bench_lay,
    bench_loading,
    bench_page,
    bench_results,
    bench_sewing,
    bench_sheets,
    bench_slow,
    bench_tricks,
    bench_way,
    bench_worn,
)
from tests.bench_results import Grid, Row  # noqa: E402

ROUNDS = 5


def growth() -> tuple[str, list[Row]]:
    """Drafting 1, 10 and 100 garments in a row: what each costs, against one alone."""
    from drafting.kit.marram_farm import HILD
    from drafting.requests.workbench import run

    request = {"do": "draft", "garment": "tunic", "unit": "cm", "measurements": dict(HILD.measurements)}
    run(request)  # reads every table
    took: dict[int, list[float]] = {1: [], 10: [], 100: []}
    for _ in range(ROUNDS):
        for count, times in took.items():
            start = perf_counter()
            for i in range(count):
                run({**request, "options": {"length": str(80 + i / 4)}})  # no two alike
            times.append((perf_counter() - start) * 1000 / count)
    return "a tunic drafted alone", [
        Row(f"drafting {count}: each", times, "ms", median(times) / median(took[1]), 1.5)
        for count, times in took.items()
    ]


def lay() -> tuple[str, Iterable[Row]]:
    """Cloth length against spyrrow's, on one thread, with the same time."""
    published = ROOT.parent / "shared" / "data" / "nesting"
    rows = bench_lay.rows(sorted(published.glob("*.json")))
    return "spyrrow's length of cloth, given the same time on one thread", rows


def sheets() -> tuple[str, Iterable[Row]]:
    """What is drawn and written, in the browser's Pyodide."""
    return bench_sheets.YARDSTICK, bench_sheets.rows()


def sewing() -> tuple[str, Iterable[Row]]:
    """The order of work and the booklet, in this Python."""
    return "drafting and truing the same garment; for the booklet, its tiled PDF", bench_sewing.rows()


def advice() -> tuple[str, list[Row]]:
    """Advice on everything that can be chosen at once. source of the limit: issue 7"""
    from drafting.requests import workbench

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
    return "20 ms for advice on a change", [
        Row("advice, the first time: every statement read", took[:1], "ms", took[0] / 20, 10),
        Row("advice on a change, warm", took[1:], "ms", median(took[1:]) / 20, 1),
    ]


def tricks() -> tuple[str, Grid]:
    """What each trick of the loading buys: everything with it and without it, in one run."""
    return "the page with all of them", bench_tricks.tricks()


def worn() -> tuple[str, list[Row]]:
    """A garment hung on its wearer, in this Python."""
    return "scipy's L-BFGS-B on the same energy to the same residual", bench_worn.rows()


PARTS: dict[str, Callable[[], tuple[str, Iterable[Row] | Grid]]] = {
    "loading": bench_loading.loading, "memory": bench_loading.memory, "growth": growth,
    "redraw": bench_page.redraw, "longtasks": bench_page.longtasks, "kit": bench_page.kit,
    "lay": lay, "sheets": sheets, "sewing": sewing, "advice": advice,
    "tricks": tricks, "way": bench_way.way, "worn": worn, "slow": bench_slow.slow,
}


def main(names: list[str]) -> int:
    if unknown := [name for name in names if name not in PARTS]:
        print(f"There is no part called {', '.join(unknown)}; the parts are {', '.join(PARTS)}.")
        return 2
    for name in names or PARTS:
        on = bench_results.machine()
        yardstick, measured = PARTS[name]()
        rows: list[Row] | Grid = []
        if isinstance(measured, Grid):
            rows = measured
            print("\n".join(measured.table()))
        else:
            for row in measured:  # some are measured only now
                rows.append(row)
                print(row.text(), flush=True)
        print(f"{name}: 1 × is {yardstick}. {on}")
        bench_results.keep(name, yardstick, rows, on)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
