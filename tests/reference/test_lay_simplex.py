"""The linear program solver against scipy's, which wraps HiGHS.

source: Huangfu & Hall 2018, "Parallelizing the dual revised simplex method" (HiGHS).
"""

import numpy as np
import pytest

from drafting.lay.simplex import Rows, minimise

linprog = pytest.importorskip("scipy.optimize").linprog


@pytest.mark.parametrize("elastic_share", [0.0, 0.5, 1.0])
def test_least_cost_agrees_with_highs_and_so_does_infeasibility(elastic_share):
    random = np.random.default_rng(int(10 * elastic_share))
    met = 0
    for _ in range(100):
        size, count = random.integers(3, 30), random.integers(1, 120)
        index = random.integers(0, size, (count, 4))
        weight = random.normal(size=(count, 4))
        least = random.normal(size=count) * random.choice([0.3, 3])
        cost = random.normal(size=size)
        elastic = random.random(count) < elastic_share
        rows = Rows(index, weight, least, elastic)
        low, high = np.full(size, -3.0), np.full(size, 3.0)
        solved = minimise(cost, low, high, rows, price=7.0)

        matrix = np.zeros((count, size))
        for k in range(4):
            np.add.at(matrix, (np.arange(count), index[:, k]), weight[:, k])
        missed = np.zeros((count, int(elastic.sum())))
        missed[np.flatnonzero(elastic), np.arange(missed.shape[1])] = 1.0
        reference = linprog(
            np.concatenate((cost, np.full(missed.shape[1], 7.0))),
            A_ub=-np.hstack((matrix, missed)),
            b_ub=-least,
            bounds=[(-3, 3)] * size + [(0, None)] * missed.shape[1],
        )
        assert solved.finished == (reference.status == 0)
        if solved.finished:
            met += 1
            shortfall = np.maximum(least - matrix @ solved.z, 0)
            assert shortfall[~elastic].max(initial=0) < 1e-6
            total = cost @ solved.z + 7.0 * shortfall[elastic].sum()
            assert total == pytest.approx(reference.fun, rel=1e-6, abs=1e-6)
    assert met > 10
