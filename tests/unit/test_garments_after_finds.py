"""The garments that follow one find each: true on all bodies, on few sheets, in few marks."""

import io

import pypdf
import pytest

from drafting.garments import GARMENTS
from drafting.kit.marram_farm import HILD
from drafting.sewing.picture import svg
from drafting.sewing.plan import sewing_plan
from drafting.sewing.step_pictures import step_pictures
from drafting.sheets.tiled_pdf import tiled_pdf
from drafting.words.problems import BadInput
from drafting.worn.assembly import hung_copies
from tests.bodies.survey import needs_survey
from tests.drafts import draft_of
from tests.survey_rules import worst_hem, worst_seam
from tests.sweep import children, survey_bodies, sweep
from tests.unit.test_chalk import plan_for
from tests.wardrobe import draft

AFTER_FINDS = ("caftan", "wide-trousers", "viborg-shirt", "thorsberg-trousers", "skjoldehamn-tunic")
MOST_SHEETS, MOST_MARKS = 18, 48
"""source: the goal set for this project."""


@needs_survey
@pytest.mark.parametrize("name", AFTER_FINDS)
def test_bodies_of_the_survey_and_children_pass(name):
    """source of the bodies: ANSUR II, Gordon et al. 2014; all of them: python -m tests.sweep."""
    for bodies in (survey_bodies(GARMENTS[name], every=400), children(GARMENTS[name], 12)):
        outcome = sweep(GARMENTS[name], bodies)
        assert not outcome.refused and not outcome.not_mended
        assert outcome.share >= 0.9, outcome.failed


@pytest.mark.parametrize("name", AFTER_FINDS)
def test_it_takes_few_sheets_and_few_marks_and_is_true(name):
    made = [draft(name), draft_of({"garment": name, "measurements": HILD.measurements}).pattern]
    for pattern in made:
        assert worst_seam(pattern) <= 0.5 and worst_hem(pattern) <= 3
    assert len(pypdf.PdfReader(io.BytesIO(tiled_pdf(made[0]))).pages) <= MOST_SHEETS
    assert plan_for(made[0]).count <= MOST_MARKS


@pytest.mark.parametrize("name", [name for name in AFTER_FINDS if GARMENTS[name].worn is None])
def test_what_cannot_be_hung_yet_says_so(name):
    with pytest.raises(BadInput, match=f"{GARMENTS[name].title}: it cannot be shown worn yet"):
        hung_copies(GARMENTS[name], draft(name))


@pytest.mark.parametrize(("name", "options", "seam"), [
    ("caftan", {}, "left front strip to front"), ("viborg-shirt", {}, "quilting"),
    ("hood", {"crown": "comb"}, "comb"),
])
def test_what_is_not_sewn_right_sides_together_is_not_drawn_so(name, options, seam):
    plan = sewing_plan(draft(name, options))
    step = next(step for step in plan.steps if seam in step.seams)
    drawn = step_pictures(plan)[step.number - 1]
    assert "seen from the end" in svg(drawn, "cm") and "right sides together" not in svg(drawn, "cm")
