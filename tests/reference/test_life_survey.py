"""Fits on bodies of the survey, a few of them; all 500: `python -m tests.survey_fits`.

source of the bodies: ANSUR II (Gordon et al. 2014, NATICK/TR-15/007); source of the limits: the project's own
numbers, 0.5 mm for a seam, 3 mm for a hem, 0.1 mm there and back.
"""

from tests.bodies.survey import needs_survey
from tests.survey_fits import sweep_fits

SEAM, HEM, BACK = 0.5, 3.0, 0.1


@needs_survey
def test_fits_on_survey_bodies_keep_seams_and_hems_and_what_is_promised_lies_within_the_cloth():
    found = sweep_fits(3, seed=7)
    assert found.fits > 4 * found.refused and found.promised > 5
    assert found.seam < SEAM and found.off < SEAM and found.hem < HEM and found.back < BACK
    assert found.beyond == []
