"""What the sewing plan and the booklet cost, against drafting the same garment, in one run.

    python tests/bench_sewing.py [GARMENT …]
"""

import sys
from pathlib import Path
from statistics import median
from time import perf_counter

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from drafting.sewing import plan_json, sewing_plan  # noqa: E402
from drafting.sheets.booklet import booklet  # noqa: E402
from drafting.truing import true_up  # noqa: E402
from tests.sewn import sewn  # noqa: E402

ROUNDS = 7


GARMENTS = ["apron-dress", "underdress", "tunic", "trousers", "wrap-coat", "hood", "cloak"]


def milliseconds(work) -> float:
    work()  # once to warm up
    times = []
    for _ in range(ROUNDS):
        start = perf_counter()
        work()
        times.append(1000 * (perf_counter() - start))
    return median(times)


def main(garments: list[str]) -> None:
    print(f"median of {ROUNDS}, ms; in brackets over drafting and truing the same garment")
    print(f"{'':14}{'draft':>8}{'plan':>14}{'with pictures':>18}{'booklet':>16}{'kB':>6}")
    for garment in garments:
        checks = true_up(sewn(garment))
        draft = milliseconds(lambda garment=garment: true_up(sewn(garment)))
        row = f"{garment:14}{draft:8.0f}"
        for work, width in (
            (lambda garment=garment: sewing_plan(sewn(garment)), 14),
            (lambda garment=garment: plan_json(sewn(garment)), 18),
            (lambda garment=garment, checks=checks: booklet(sewn(garment), checks=checks), 16),
        ):
            taken = milliseconds(work)
            row += f"{f'{taken:.0f} ({taken / draft:.1f} ×)':>{width}}"
        print(row + f"{len(booklet(sewn(garment), checks=checks)) / 1000:6.0f}")


if __name__ == "__main__":
    main(sys.argv[1:] or GARMENTS)
