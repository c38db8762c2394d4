"""Fit the joint distribution of body measures from ANSUR II, as drafting/body/data/adults.json.

    python -m tests.reference.refit_estimates            compares with the data in the package
    python -m tests.reference.refit_estimates --write    writes it anew

Each sex is one multivariate normal: mean, standard deviation, correlation. The mean of a normal
conditioned on any of its parts is the ordinary least-squares fit on those parts, so one small table
serves every combination of measurements that someone may or may not have taken.

Measures the survey did not take are built from those it did, with an error of their own.
"""

import json
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np

from tests.bodies.survey import TAPED, Row, SurveyBody, ansur_bodies

DATA = Path(__file__).parents[2] / "drafting" / "body" / "data" / "adults.json"

BUILT: dict[str, tuple[Callable[[Row], float], float]] = {
    # Under the arms it is less round than at the fullest, most of all with a large bust; men's chests
    # are fullest hardly lower than that: common practice, no source.
    "upper_chest_girth": (
        lambda row: (0.94 if row["is_woman"] else 0.985) * row["bust_or_chest_girth"], 22.0,
    ),
    # The flare starts where the maker wants it, from the top of the pelvis to a little above, so
    # the level is free by a few fingers: common practice, no source.
    "torso_length": (lambda row: row["axilla_height"] - row["waist_height"], 35.0),
    # Up the back to the middle of the shoulder and down the front, and over the shoulder's
    # thickness: common practice, no source.
    "brooch_strap_length": (
        lambda row: row["acromial_height"] + row["cervicale_height"]
        - 2 * row["axilla_height"] + 90.0,
        25.0,
    ),
    # The root of the neck at the side lies about as high as the cervicale: common practice, no
    # source.
    "crown_to_shoulder_length": (lambda row: row["stature"] - row["cervicale_height"], 10.0),
    # Under the chin and over the front of the crown: bitragion arcs of the same survey are about
    # 1.0 (frontal with submandibular) to 1.12 (coronal with submandibular) of the head girth,
    # from memory: ANSUR II.
    "face_length": (lambda row: 1.08 * row["head_girth"], 25.0),
    # Hairline to hollow of the nape over the crown: common practice, no source.
    "crown_to_nape_length": (lambda row: 0.66 * row["head_girth"], 20.0),
    # The thumb laid into the palm adds about an eighth: common practice, no source.
    "folded_hand_girth": (lambda row: 1.12 * row["hand_girth"], 8.0),
    # The leg is a little narrower under the knee than at the calf: common practice, no source.
    "under_knee_girth": (lambda row: 0.92 * row["calf_girth"], 14.0),
}  # fmt: skip


def names() -> list[str]:
    """The rows of the table: every measure, and mass in kg, which no tape shows."""
    return [*TAPED, *BUILT, "weight_kg"]


def matrix(bodies: list[SurveyBody]) -> np.ndarray:
    """One row a body, one column a name, mm (mass in kg), without the built measures' own error."""
    return np.array(
        [
            [*body.values.values(), *(of(body.row) for of, _ in BUILT.values()), body.weight_kg]
            for body in bodies
        ]
    )


def fit(bodies: list[SurveyBody]) -> dict[str, list[float]]:
    """Mean, SD and the rows of the correlation's lower triangle (without its diagonal of ones)."""
    columns = matrix(bodies)
    own_error = np.array([0.0] * len(TAPED) + [sd for _, sd in BUILT.values()] + [0.0])
    covariance = np.cov(columns, rowvar=False) + np.diag(own_error**2)
    sd = np.sqrt(np.diag(covariance))
    correlation = covariance / np.outer(sd, sd)
    lower = [round(float(correlation[i, j]), 4) for i in range(len(sd)) for j in range(i)]
    return {
        "mean": [round(float(m), 2) for m in columns.mean(axis=0)],
        "sd": [round(float(s), 3) for s in sd],
        "correlation": lower,
    }


def table(bodies: tuple[SurveyBody, ...] | None = None) -> dict[str, Any]:
    """The whole of adults.json."""
    survey = ansur_bodies() if bodies is None else bodies
    return {
        "source": "ANSUR II, the US Army's survey of 2012, 1,986 women and 4,082 men: "
        "Gordon et al. 2014, NATICK/TR-15/007, public domain; fitted by "
        "tests/reference/refit_estimates.py, which also says how each built measure is built",
        "built": list(BUILT),
        "names": names(),
        "woman": fit([body for body in survey if body.sex == "woman"]),
        "man": fit([body for body in survey if body.sex == "man"]),
    }


def agrees(stored: dict[str, Any], fitted: dict[str, Any]) -> bool:
    """Whether two tables differ by no more than a unit of the last place they are rounded to."""
    if any(stored[key] != fitted[key] for key in ("source", "built", "names")):
        return False
    return all(
        len(stored[sex][key]) == len(fitted[sex][key])
        and np.allclose(stored[sex][key], fitted[sex][key], rtol=0, atol=1.01 * last_place)
        for sex in ("woman", "man")
        for key, last_place in (("mean", 0.01), ("sd", 0.001), ("correlation", 0.0001))
    )


def main() -> int:
    """Prints whether the data in the package agree with the fit; 0 when they do."""
    fitted = table()
    if "--write" in sys.argv:
        DATA.write_text(json.dumps(fitted, ensure_ascii=False, separators=(",", ":")) + "\n")
    same = agrees(json.loads(DATA.read_text()), fitted)
    print(f"{DATA.name}: {'as fitted' if same else 'differs from the fit'}")
    return 0 if same else 1


if __name__ == "__main__":
    sys.exit(main())
