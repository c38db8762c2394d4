"""How soon a garment hangs at rest, against scipy's L-BFGS-B on the same energy to the same residual.

A part of tests/bench.py: `python tests/bench.py worn`. source of the limit: issue 18.
"""

from statistics import median
from time import perf_counter

import numpy as np
from scipy.optimize import minimize

from drafting.body import complete
from drafting.garments import GARMENTS, read_options
from drafting.worn.assembly import assembled, fastened, hung_copies
from drafting.worn.cloth_forces import ClothFeel
from drafting.worn.drape import Hanging
from drafting.worn.figure import NEEDS, figure
from drafting.worn.hanging import CLOTH_THICKNESS, SIDE, hang_in_steps
from drafting.worn.mesh import sewn
from drafting.worn.touching import FRICTION
from tests.bench_results import Row
from tests.wardrobe import ASTA

ROUNDS = 3
GARMENT = "apron-dress"
FEEL = ClothFeel(250.0, 20.0)
MOST = 20_000
"""Looks at the energy that scipy may take, and no more than so many."""


def rows() -> list[Row]:
    garment = GARMENTS[GARMENT]
    body = complete(ASTA, tuple(dict.fromkeys(garment.needs + garment.uses + NEEDS)))
    pattern = garment.draft(body, read_options(garment, {}, body))
    ours, first, theirs = [], [], []
    for _ in range(ROUNDS):
        began, steps = perf_counter(), hang_in_steps(garment, pattern, body, FEEL)
        while True:
            try:
                if next(steps).rests:
                    first.append(1000 * (perf_counter() - began))
            except StopIteration as end:
                residual = end.value.residual
                break
        ours.append(1000 * (perf_counter() - began))
        theirs.append(by_scipy(garment, pattern, body, residual))
    return [
        Row("a dress hung, at rest", ours, "ms", median(ours) / median(theirs), 1.0),
        Row("the same in large triangles", first, "ms", median(first) / median(theirs), 1.0),
    ]


def by_scipy(garment, pattern, body, residual: float) -> float:
    """ms until the largest force left is that part of the garment's weight, looking anew where the body is as
    often as ours does."""
    began = perf_counter()
    copies = hung_copies(garment, pattern)
    pattern, shown = fastened(garment, pattern), figure(body, "beside")
    mesh = sewn(pattern, copies, SIDE, fastened=True)
    made = assembled(garment, pattern, shown, mesh)
    stacks = [stack.grown(garment.worn.beneath + CLOTH_THICKNESS) for stack in shown.stacks.values()]
    cloth = Hanging(mesh, made.start, FEEL, stacks, made.hold, FRICTION)
    x, looks = made.start, 0

    def energy(flat):
        found, slope = cloth.energy_and_slope(flat.reshape(-1, 3))
        return found, slope.ravel()

    while looks < MOST:
        cloth.touching.look(x)
        slope = cloth.energy_and_slope(x)[1]
        if looks and np.sqrt((slope * slope).sum(1).max()) <= residual * cloth.cloth.weight:
            break
        done = minimize(energy, x.ravel(), jac=True, method="L-BFGS-B",
                        options={"maxiter": 100, "maxcor": 8, "ftol": 0.0, "gtol": 1e-9})
        x, looks = done.x.reshape(-1, 3), looks + done.nfev
    return 1000 * (perf_counter() - began)
