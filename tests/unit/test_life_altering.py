"""A fitted draft in words: what changed, what the cloth still holds, the work of it."""

import re

from drafting.desk.altering import altered_in_words
from drafting.desk.drafts import sewing_choices
from drafting.life.adjust import fitted
from drafting.life.alteration import alteration
from drafting.life.as_cut import on_the_cloth
from drafting.life.fits import Fit
from tests.drafts import draft_of, request
from tests.reference.test_life_fits import made
from tests.terminal import run

TAPE = ("-m", "stature=166cm", "-m", "bust_girth=94cm", "-m", "waist_girth=81cm", "-m", "hip_girth=102cm",
        "-m", "arm_length=55.5cm")


def work(place, change, name="tunic", options=None):
    before = made(name, options)
    return alteration(before.pattern, on_the_cloth(fitted(before, (Fit(place, change),))))


def test_the_command_line_says_what_changed_and_what_the_cloth_holds(tmp_path):
    done = run("draft", "tunic", *TAPE, "--fit", "chest=+3cm", "--out", str(tmp_path))
    assert done.returncode == 0, done.stderr
    assert "Fitted: chest 3 cm larger, now 112 cm." in done.stdout
    assert "Every other finished measure stays." in done.stdout
    assert "All of it can be done on the cloth as cut" in done.stdout
    assert re.search(r"\d+\. Unpick: felling of", done.stdout)


def test_what_the_cloth_does_not_hold_only_the_next_one_can_have(tmp_path):
    done = run("draft", "tunic", *TAPE, "--fit", "sleeve-length=+5cm", "--out", str(tmp_path))
    assert "Sleeve length: of 5 cm larger the cloth as cut holds" in done.stdout or (
        "only the next one can have it" in done.stdout)


def test_bad_fits_are_sentences_and_nothing_is_written(tmp_path):
    for fit, says in (("chest", "write it as PLACE=CHANGE"), ("chest=3cm", "which way"),
                      ("face=+1cm", "no “face”"),
                      ("chest=-50cm", "cannot be 50 cm smaller")):
        done = run("draft", "tunic", *TAPE, "--fit", fit, "--out", str(tmp_path / "out"))
        assert done.returncode == 2 and says in done.stderr, fit
        assert not (tmp_path / "out").exists()


def test_stitches_are_opened_the_other_way_round_than_they_are_sewn():
    steps = work("chest", 30.0).steps
    kinds = [step.kind for step in steps]
    assert kinds.index("press") > max(i for i, kind in enumerate(kinds) if kind == "unpick")
    assert kinds.index("mark") < kinds.index("sew") < kinds.index("fell")
    opened = [s.title.removeprefix("Unpick: ") for s in steps if s.title.startswith("Unpick: ")]
    closed = [re.sub("^(Sew|Fell|Hem): ", "", s.title) for s in steps if s.kind in ("sew", "fell", "hem")]
    assert opened == closed[::-1]


def test_every_row_that_is_opened_is_sewn_again_as_long():
    """Within what the seams themselves grow by."""
    steps = work("chest", 20.0).steps
    out = sum(s.length for s in steps if s.title.startswith("Unpick: "))
    again = sum(s.length for s in steps if s.kind in ("sew", "fell", "hem"))
    assert abs(out - again) < 0.02 * out


def test_a_hem_that_goes_up_opens_the_hem_and_no_long_seam():
    steps = work("length", -20.0).steps
    assert any(step.title.startswith("Unpick: hem of") for step in steps)
    assert not [step for step in steps if step.kind == "sew" and "side seam" in step.title]


def test_a_growth_tuck_is_let_down_before_anything_is_lacking():
    """Cut with the tuck in it, the cloth is there: the cut pieces are the same. source: plane geometry."""
    before = made("tunic", {"growth_tuck": "3cm"})
    cloth = on_the_cloth(fitted(before, (Fit("length", 40.0),)))
    assert cloth.holds and cloth.tuck_let_down == 40.0
    again = alteration(before.pattern, cloth)
    assert "Let the growth tuck down" in [step.title for step in again.steps]
    assert not on_the_cloth(fitted(made("tunic"), (Fit("length", 40.0),))).holds


def test_nothing_fitted_is_nothing_to_alter():
    assert draft_of(request()).fitted is None
    drafted = draft_of(request(fits={"hem": "-10 cm"}))
    told = altered_in_words(drafted.fitted, sewing_choices(drafted), "cm")
    assert told["done"] == {"hem": "-10 cm"} and told["holds"] and told["steps"] and told["time"]
