"""The 6,068 adults of ANSUR II (Gordon et al. 2014, NATICK/TR-15/007), in this project's names.

The survey lies beside the project (../shared/data/ansur2.csv), not in it; tests that need it are
marked with `needs_survey` and say so when it is not there.
"""

import csv
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Literal

import pytest

ANSUR_CSV = Path(__file__).parents[2].parent / "shared" / "data" / "ansur2.csv"

needs_survey = pytest.mark.skipif(
    not ANSUR_CSV.exists(), reason="the ANSUR II survey is not beside the project"
)

Row = Mapping[str, float]

TAPED: Mapping[str, Callable[[Row], float]] = {
    "stature": lambda row: row["stature"],
    "head_girth": lambda row: row["head_girth"],
    "neck_base_girth": lambda row: row["neck_base_girth"],
    "shoulder_width": lambda row: row["biacromial_breadth"],
    "shoulder_girth": lambda row: row["shoulder_girth"],
    "bust_girth": lambda row: row["bust_or_chest_girth"],
    "back_waist_length": lambda row: row["waist_back_length"],
    "waist_girth": lambda row: row["waist_girth"],
    "hip_girth": lambda row: row["hip_girth"],
    "arm_length": lambda row: row["sleeve_outseam"],
    "upper_arm_girth": lambda row: row["upper_arm_girth_flexed"],
    "wrist_girth": lambda row: row["wrist_girth"],
    "hand_girth": lambda row: row["hand_girth"],
    "crotch_length": lambda row: row["crotch_length"],
    "thigh_girth": lambda row: row["thigh_girth"],
    "calf_girth": lambda row: row["calf_girth"],
    "ankle_girth": lambda row: row["ankle_girth"],
    "heel_ankle_girth": lambda row: row["heel_ankle_girth"],
    "cervicale_height": lambda row: row["cervicale_height"],
    "axilla_height": lambda row: row["axilla_height"],
    "waist_height": lambda row: row["waist_height"],
    "inside_leg_height": lambda row: row["crotch_height"],
    "knee_height": lambda row: row["knee_height"],
}
"""Measures that the survey took, by their names in its file."""


@dataclass(frozen=True)
class SurveyBody:
    """One adult of the survey: taped measures in mm, mass in kg, age in years."""

    sex: Literal["woman", "man"]
    age: float
    weight_kg: float
    values: Mapping[str, float]
    row: Row


@cache
def ansur_bodies() -> tuple[SurveyBody, ...]:
    """All bodies of the survey, in the order of its file."""
    with ANSUR_CSV.open(newline="") as lines:
        return tuple(_body(line) for line in csv.DictReader(lines))


def _body(line: dict[str, str]) -> SurveyBody:
    row = {name: float(value) for name, value in line.items() if name != "sex"}
    row["is_woman"] = float(line["sex"] == "f")
    return SurveyBody(
        sex="woman" if line["sex"] == "f" else "man",
        age=row["age"],
        weight_kg=row["weight_kg"],
        values={name: of(row) for name, of in TAPED.items()},
        row=row,
    )
