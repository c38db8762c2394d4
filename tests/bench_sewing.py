"""What the sewing plan and the booklet cost, against the draft and its tiled PDF, in one run.

A part of tests/bench.py: `python tests/bench.py sewing`.
"""

from collections.abc import Callable
from statistics import median
from time import perf_counter

from drafting.checks.truing import true_up
from drafting.sewing import plan_json, sewing_plan
from drafting.sheets.booklet import booklet
from drafting.sheets.tiled_pdf import tiled_pdf
from tests.bench_results import Row
from tests.sewn import sewn

ROUNDS = 5
GARMENTS = ("apron-dress", "underdress", "tunic", "trousers", "wrap-coat", "hood", "cloak")
DRAFT, PLAN, PICTURES, PDF, BOOKLET = "draft", "plan", "pictures", "tiled PDF", "booklet"


def milliseconds(work: Callable[[], object]) -> float:
    work()  # once to warm up
    times = []
    for _ in range(ROUNDS):
        start = perf_counter()
        work()
        times.append(1000 * (perf_counter() - start))
    return median(times)


def times_of(garment: str) -> dict[str, float]:
    pattern = sewn(garment)
    checks = true_up(pattern)
    return {
        DRAFT: milliseconds(lambda: true_up(sewn(garment))),
        PLAN: milliseconds(lambda: sewing_plan(sewn(garment))),
        PICTURES: milliseconds(lambda: plan_json(sewn(garment))),
        PDF: milliseconds(lambda: tiled_pdf(pattern)),
        BOOKLET: milliseconds(lambda: booklet(pattern, checks=checks)),
    }


def rows() -> list[Row]:
    """Of each kind of work one row: the time for every garment, and the median of the ratios."""
    found = [times_of(garment) for garment in GARMENTS]
    return [
        Row(what, [one[work] for one in found], "ms",
            median(one[work] / one[against] for one in found), limit)
        for what, work, against, limit in (
            ("the order of work, to its draft", PLAN, DRAFT, 2.0),
            ("the same with its pictures", PICTURES, DRAFT, 8.0),
            ("the booklet, to the tiled PDF", BOOKLET, PDF, 5.0),
        )
    ]
