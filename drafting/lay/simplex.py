"""A small linear program solver: the dual simplex method with an explicit inverse of the basis.

It suits the lay: few variables (two a piece and the length), several hundred sparse rows of which
only few matter, and a start that is optimal for the costs but violates rows.

Source: Lemke 1954, "The dual method of solving the linear programming problem"; the elastic rows:
Brown & Graves 1975, as told by Chinneck 2008, "Feasibility and infeasibility in optimization",
section 6.1.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Numbers = NDArray[np.float64]
Indices = NDArray[np.intp]

NEARLY_ZERO = 1e-9


@dataclass(frozen=True, eq=False)
class Rows:
    """Inequalities sum_k weight[r, k] · z[index[r, k]] >= least[r], at most four entries a row.

    elastic: True where a row may be given up at a high price when the others cannot be met.
    """

    index: Indices
    weight: Numbers
    least: Numbers
    elastic: NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class Solved:
    """z: the optimum, or the last point reached. given_up: rows that were not met.

    finished: False when some row that is not elastic cannot be met, or the pivots ran out.
    """

    z: Numbers
    given_up: Indices
    finished: bool
    pivots: int


def minimise(
    cost: Numbers,
    low: Numbers,
    high: Numbers,
    rows: Rows,
    price: float = 100.0,
    tolerance: float = 1e-9,
) -> Solved:
    """The z between `low` and `high` of least cost·z that meets `rows` within `tolerance`.

    No cost may be 0, or pivots may go round in circles. price: what an elastic row costs for each
    unit by which it is missed.
    """
    size = len(cost)
    inverse = np.diag(np.sign(cost))
    multiplier = np.abs(cost)
    z = np.where(cost > 0, low, high).astype(float)
    count = len(rows.least)
    active = np.full(size, -1)
    cap = np.full(size, np.inf)
    ratio = np.empty(size)
    # +1 for a row that is kept to, -1 for one given up, which is to be taken back once it is met.
    stance = np.ones(count)
    shortfall = np.empty(count + 2 * size)
    by_row = shortfall[:count]
    by_low, by_high = shortfall[count : count + size], shortfall[count + size :]
    columns = [np.ascontiguousarray(rows.index[:, k]) for k in range(rows.index.shape[1])]
    weights = [np.ascontiguousarray(rows.weight[:, k]) for k in range(rows.index.shape[1])]
    most = 60 * size + 200
    for pivot in range(most):
        by_row[:] = rows.least
        for column, weight in zip(columns, weights, strict=True):
            by_row -= weight * z[column]
        by_row *= stance
        np.subtract(low, z, out=by_low)
        np.subtract(z, high, out=by_high)
        worst = int(shortfall.argmax())
        missing = float(shortfall[worst])
        if missing <= tolerance:
            return Solved(z, np.flatnonzero(stance < 0), True, pivot)
        taken_back = False
        if worst < count:
            taken_back = stance[worst] < 0
            direction = stance[worst] * rows.weight[worst] @ inverse[rows.index[worst]]
        elif worst < count + size:
            direction = inverse[worst - count].copy()
        else:
            direction = -inverse[worst - count - size]
        # Each multiplier has to stay between 0 and its cap; the first to get there leaves.
        room = np.where(direction > 0, multiplier, cap - multiplier)
        size_of = np.abs(direction)
        ratio.fill(np.inf)
        np.divide(room, size_of, out=ratio, where=size_of > NEARLY_ZERO)
        leaving = int(ratio.argmin())
        step = float(ratio[leaving])
        is_elastic = worst < count and bool(rows.elastic[worst])
        if is_elastic and step > price:
            multiplier -= price * direction
            stance[worst] = -stance[worst]
            continue
        if step == np.inf:
            return Solved(z, np.flatnonzero(stance < 0), False, pivot)
        pivotal = float(direction[leaving])
        if pivotal < 0:
            stance[active[leaving]] = -1.0
        multiplier -= step * direction
        column = inverse[:, leaving] / pivotal
        z += column * missing
        direction[leaving] -= 1.0
        inverse -= column[:, None] * direction
        if taken_back:
            inverse[:, leaving] = -inverse[:, leaving]
            stance[worst] = 1.0
        multiplier[leaving] = price - step if taken_back else step
        cap[leaving] = price if is_elastic else np.inf
        active[leaving] = worst
    return Solved(z, np.flatnonzero(stance < 0), False, most)
