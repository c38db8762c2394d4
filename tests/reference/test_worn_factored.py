"""A mesh's matrix taken apart and solved, against numpy's dense solution of it."""

import numpy as np
import pytest

from drafting.worn.factored import Entries, Factored


def grid(rows: int, columns: int, apart: int = 1) -> Entries:
    """The neighbours of sheets of points, each tied to its own place a little."""
    number = np.arange(apart * rows * columns).reshape(apart, rows, columns)
    pairs = np.concatenate([
        np.stack([number[:, :-1].ravel(), number[:, 1:].ravel()], 1),
        np.stack([number[:, :, :-1].ravel(), number[:, :, 1:].ravel()], 1)])
    stiff = 1.0 + (np.arange(len(pairs)) % 7)
    a, b = pairs.T
    every = number.ravel()
    return Entries(np.concatenate([a, b, a, b, every]), np.concatenate([a, b, b, a, every]),
                   np.concatenate([stiff, stiff, -stiff, -stiff, np.full(len(every), 0.1)]))


@pytest.mark.parametrize("entries", [grid(30, 17), grid(9, 9, apart=3), grid(1, 5)],
                         ids=["a sheet", "three sheets", "a line"])
def test_it_solves_as_numpy_does(entries):
    # source: numpy.linalg.solve (LAPACK) of the same matrix, dense
    count = int(entries.rows.max()) + 1
    dense = np.zeros((count, count))
    np.add.at(dense, (entries.rows, entries.columns), entries.values)
    right = np.sin(np.arange(3.0 * count)).reshape(count, 3)
    found = Factored(count, entries).solve(right)
    assert found == pytest.approx(np.linalg.solve(dense, right), abs=1e-4)
    assert found != pytest.approx(np.linalg.solve(dense + 0.01 * np.eye(count), right), abs=1e-4)
