"""Bodies for every test: the ANSUR II survey when it is at hand, made-up children, strategies."""

from tests.bodies.made_up import MadeUpChild, any_measurements, likely_bodies, made_up_children
from tests.bodies.mistakes import Mistake, plant
from tests.bodies.survey import ANSUR_CSV, SurveyBody, ansur_bodies, needs_survey

__all__ = [
    "ANSUR_CSV",
    "MadeUpChild",
    "Mistake",
    "SurveyBody",
    "ansur_bodies",
    "any_measurements",
    "likely_bodies",
    "made_up_children",
    "needs_survey",
    "plant",
]
