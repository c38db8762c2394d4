"""Bodies that nobody measured: seeded children from 90 to 160 cm, and strategies for hypothesis."""

import random
from dataclasses import dataclass
from functools import cache

from hypothesis import strategies as st

from drafting.body.children import typical_child
from drafting.body.joint import Joint, joint, known_names

CHILD_STATURES = (900.0, 1600.0)


@dataclass(frozen=True)
class MadeUpChild:
    """A child's measures in mm, with an age in months that goes with the stature."""

    age_months: int
    values: dict[str, float]


@cache
def made_up_children(count: int = 200, seed: int = 20261125) -> tuple[MadeUpChild, ...]:
    """Children whose statures spread evenly over 90 to 160 cm; the same for the same seed.

    All girths of a child lie off the typical ones by one common share and each by one of its own,
    lengths and heights by smaller ones: demo data.
    """
    rng = random.Random(seed)
    return tuple(_child(rng, rng.uniform(*CHILD_STATURES)) for _ in range(count))


def _child(rng: random.Random, stature: float) -> MadeUpChild:
    build = rng.gauss(0, 0.05)
    values = {"stature": round(stature)}
    for name, typical in typical_child(stature).items():
        if name in ("stature", "weight_kg"):
            continue
        if name.endswith("height"):
            off = rng.gauss(0, 0.005)
        elif name == "head_girth" or not name.endswith("girth"):
            off = rng.gauss(0, 0.012)
        else:
            off = build + rng.gauss(0, 0.015)
        values[name] = round(typical * (1 + off))
    return MadeUpChild(_usual_age(stature), {name: float(mm) for name, mm in values.items()})


def _usual_age(stature: float) -> int:
    from drafting.body.growth import stature_at

    return min(range(24, 200), key=lambda months: abs(stature_at(0, None, months) - stature))


@st.composite
def likely_bodies(draw: st.DrawFn, model: Joint | None = None) -> dict[str, float]:
    """Whole bodies, mm, as the joint distribution knows them: every measure given the ones before.

    Wide of the typical, up to 2.5 SD in each step, but never at odds with itself.
    """
    chosen = joint() if model is None else model
    values: dict[str, float] = {"stature": draw(st.floats(900, 1950))}
    for name in known_names():
        if name not in values:
            step = chosen.estimate(name, values)
            values[name] = round(step.mean + draw(st.floats(-2.5, 2.5)) * step.sd, 1)
    return values


def any_measurements(smallest: int = 0) -> st.SearchStrategy[dict[str, float]]:
    """Any measures with any lengths from a millimetre to a hundred metres, likely or not."""
    return st.dictionaries(
        st.sampled_from(known_names()), st.floats(1, 100_000), min_size=smallest, max_size=8
    )
