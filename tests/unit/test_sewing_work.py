"""Stitches, treatments, pace, materials: what a step comes to."""

import math
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drafting.pattern import SeamTreatment, StitchKind
from drafting.sewing import (
    Choices,
    calibrate,
    finished_weight,
    materials,
    plan_json,
    sewing_plan,
    span_in_words,
)
from drafting.sewing.cloths import LINEN, WOOL, SewnCloth, usual_cloths
from drafting.sewing.felling import laid_towards, side_of
from drafting.sewing.materials import thread_needed
from drafting.sewing.naming import together
from drafting.sewing.pace import TYPICAL
from drafting.sewing.sections import section
from drafting.sewing.stitches import STITCHES, Stack
from drafting.sewing.treatments import EDGES, SEAMS, Site, edge_treatment
from drafting.words.problems import BadInput
from drafting.words.wording import spell
from tests.sewn import sewn

SITE = Site(length=1000.0, allowance=25.0, stitch="running", ground=1.0, other=1.0)


def test_run_and_fell_takes_one_row_to_join_and_one_to_finish():
    treatment = SEAMS["run-and-fell"]
    (join,), (finish,) = treatment.join(SITE), treatment.finish(SITE)
    assert (join.stitch, join.stack.whole) == ("running", 2.0)
    assert (finish.stitch, finish.stack.ground, finish.stack.fold) == ("fell", 1.0, 2.0)
    assert treatment.iso_4916 == "2.04"  # from memory: ISO 4916:1991, class 2


def test_felling_the_heavier_cloth_over_takes_more_thread():
    """A 2 mm cloth folded over a 1 mm one lies higher at its edge than the other way round."""
    rows = [SEAMS["run-and-fell"].finish(Site(1000, 25, "running", ground, other))[0]
            for ground, other in ((1.0, 2.0), (2.0, 1.0))]
    assert rows[0].path > rows[1].path


def test_every_treatment_and_stitch_that_a_seam_may_name_is_known_and_has_its_picture():
    assert set(SEAMS) == set(get_args(SeamTreatment)) and set(STITCHES) == set(get_args(StitchKind))
    assert all(section(name) for name in SEAMS)


def test_every_treatment_has_rows_and_sentences():
    for treatment in (*SEAMS.values(), *EDGES.values()):
        rows = (*treatment.join(SITE), *treatment.finish(SITE))
        assert rows and all(row.path > row.length for row in rows), treatment.kind
        assert treatment.provenance


def test_a_facings_outer_edge_is_felled_over_its_own_length():
    site = Site(600.0, 6.0, "running", 1.0, 1.0, outer=846.0)
    (row,) = SEAMS["faced"].finish(site)
    assert row.length == 846.0


@pytest.mark.parametrize("lengths", [{}, {"back": 5.0}])
@pytest.mark.parametrize("garment", ["tunic", "underdress", "wrap-coat"])
def test_a_neck_with_a_narrow_allowance_is_back_stitched_short(garment, lengths):
    """common practice, no source: back stitch of 3 mm where the allowance is 6 mm."""
    plan = sewing_plan(sewn(garment), Choices(stitch_lengths=lengths))
    (step,) = (step for step in plan.steps if step.kind == "face")
    (seam,) = step.task.seams
    assert seam.allowance == 6
    assert (step.rows[0].stitch, step.rows[0].stitch_length) == ("back", 3)
    assert any("back stitch, stitches 0.3 cm long" in spell(s, "cm") for s in step.sentences)
    (line,) = (line for line in plan.seam_table if line.name == seam.name)
    assert line.stitch == "back"


def test_a_narrow_folded_edge_is_rolled_and_a_wide_one_turned_twice():
    assert edge_treatment(6.0).kind == "rolled"
    assert edge_treatment(24.0).kind == "double-turned"


@given(st.floats(1, 5000), st.floats(1, 12), st.sampled_from(sorted(STITCHES)))
def test_shorter_stitches_are_more_and_take_more_thread(length, size, name):
    stitch = STITCHES[name]
    assert stitch.count(length, size) >= stitch.count(length, size * 1.5)
    assert stitch.thread(length, Stack(1, 1), size) > stitch.thread(length, Stack(1, 1), size * 1.5)


# Pace


def test_a_timed_seam_sets_the_pace_of_every_stitch():
    pace = calibrate(60, 120)
    assert pace.per_minute["running"] == pytest.approx(30)
    share = 30 / TYPICAL.per_minute["running"]
    assert pace.per_minute["fell"] == pytest.approx(TYPICAL.per_minute["fell"] * share)
    assert pace.timed and not TYPICAL.timed


def test_twice_the_pace_halves_the_stitching_but_not_the_pinning():
    slow, fast = (sewing_plan(sewn(), Choices(pace=calibrate(rate, 60))) for rate in (20, 40))
    stitching = slow.work.minutes - fast.work.minutes
    by_hand = sum(row.count / slow.choices.pace.per_minute[row.stitch]
                  for step in slow.steps for row in step.rows) / 2
    assert stitching == pytest.approx(by_hand)


@pytest.mark.parametrize(("garment", "least", "most"), [("hood", 3, 4), ("apron-dress", 8, 12)])
def test_a_practised_sewers_hours(garment, least, most):
    """common practice, no source: a hood takes 3 to 4 hours by hand, an apron dress 8 to 12."""
    assert least <= sewing_plan(sewn(garment)).work.minutes / 60 <= most


def test_every_step_takes_time_and_basting_and_pressing_take_more():
    plan = sewing_plan(sewn())
    assert all(step.work.minutes > 0 for step in plan.steps)
    (basted,) = (step for step in plan.steps if step.kind == "baste")
    assert basted.work.minutes > TYPICAL.minutes_a_step


@pytest.mark.parametrize(("minutes", "told"), [
    (600, "8 to 12 h"), (210, "3 to 4 h"), (100, "1½ to 2 h"), (60, "50 to 70 min"), (2, "5 min"),
])
def test_a_total_is_told_as_a_span(minutes, told):
    """Four to six fifths of it, worked out by hand, to half hours."""
    assert span_in_words(minutes) == told


def test_the_plan_in_json_keeps_the_number_and_adds_the_span():
    work = plan_json(sewn(), pictures=False)["work"]
    assert work["least_minutes"] < work["minutes"] < work["most_minutes"]
    assert work["time"] == span_in_words(work["minutes"])


@pytest.mark.parametrize("stitches, seconds, stitch, field", [
    (0, 60, "running", "stitches"), (50, 0, "running", "seconds"), (50, 60, "cross", "stitch"),
    (5000, 1, "running", "seconds"), (10, 1e9, "running", "seconds"),
    (math.nan, 60, "running", "stitches"), (50, math.nan, "running", "seconds"),
    (math.inf, 60, "running", "seconds"),
])
def test_a_pace_no_hand_has_gets_a_sentence_at_its_field(stitches, seconds, stitch, field):
    with pytest.raises(BadInput) as caught:
        calibrate(stitches, seconds, stitch)
    assert field in [problem.field for problem in caught.value.problems]
    assert all(problem.message.endswith(".") for problem in caught.value.problems)


# Cloth, weight, thread


def test_thickness_comes_from_weight_and_density():
    """300 g/m² at 0.30 g/cm³ are 300 / (0.30 × 10⁶) m = 1 mm."""
    assert WOOL.thickness == pytest.approx(1.0)
    assert LINEN.thickness == pytest.approx(0.4)
    assert SewnCloth("wool", 300, 1.4).thickness == 1.4


@pytest.mark.parametrize("fibre, weight", [("nylon", 200), ("wool", 0), ("wool", -3), ("wool", math.nan)])
def test_a_cloth_that_cannot_be_is_refused(fibre, weight):
    with pytest.raises(ValueError):
        SewnCloth(fibre, weight)


def test_the_garments_weight_is_its_cutting_polygons_by_shapely():
    """source: shapely's area of the cutting lines in pattern.json, less the holes."""
    shapely = pytest.importorskip("shapely")
    from drafting.pattern import as_json

    pattern = sewn("tunic")
    plan = sewing_plan(pattern)
    pieces = as_json(pattern)["pieces"]
    area = sum(shapely.Polygon(p["cutting_line"], p.get("holes", [])).area * p["cut"] for p in pieces)
    weight = plan.cloths["main"].weight
    assert finished_weight(plan) == pytest.approx(area * weight / 1e6, rel=1e-3)


def test_thread_is_bought_with_some_to_spare_and_in_whole_reels():
    plan = sewing_plan(sewn("underdress"))
    (need,) = thread_needed(plan, reel=10_000.0)
    assert need.kind.startswith("linen")
    assert need.taken == pytest.approx(sum(step.work.thread for step in plan.steps))
    assert need.reels * 10_000.0 >= need.to_buy > need.taken
    assert (need.reels - 1) * 10_000.0 < need.to_buy


def test_materials_follow_the_options():
    def listed(*args, **options):
        return " | ".join(spell(f"{m.what} {m.amount}", "cm")
                          for m in materials(sewing_plan(sewn(*args, **options))))

    assert "brooches 2" in listed() and "beads" in listed()
    assert "brooches" not in listed(strap_style="single")
    assert "drawstring" in listed("trousers", waist="drawstring")
    assert "a belt" in listed("trousers", waist="belt-loops")
    assert "lining" in listed("wrap-coat", lining="full")
    assert "linen thread" in listed("underdress") and "wool thread" in listed("tunic")


def test_only_linings_are_taken_to_be_lighter():
    cloths = usual_cloths(sewn("wrap-coat", lining="full"))
    assert cloths["lining"].weight < cloths["main"].weight


# Which way a seam is laid


@pytest.mark.parametrize("garment, seam, side", [
    ("apron-dress", "front to left side", "side"), ("apron-dress", "back to left side", "back"),
    ("tunic", "left side gore, front edge", "side gore"), ("tunic", "left side gore, back edge", "body"),
    ("wrap-coat", "left shoulder", "back"), ("tunic", "left gusset to front", "gusset"),
    ("tunic", "left sleeve to armhole", "sleeve"),
])
def test_seams_are_felled_towards_the_back_or_down(garment, seam, side):
    """common practice, no source."""
    pattern = sewn(garment)
    (found,) = (s for s in pattern.seams if s.name == seam)
    assert side_of(found, laid_towards(pattern, found))[0].piece == side


def test_a_sleeve_is_felled_towards_its_back_edge():
    pattern = sewn("tunic")
    (found,) = (s for s in pattern.seams if s.name == "left sleeve underarm")
    assert side_of(found, laid_towards(pattern, found))[0].edge == "back underarm"


# Names


@pytest.mark.parametrize("names, told", [
    (["left sleeve", "right sleeve"], "left and right sleeve"),
    (["crown", "back"], "crown and back"),
    (["left gusset to front", "left gusset to back", "right gusset to front", "right gusset to back"],
     "left and right gusset to front and back"),
    (["front"], "front"), (["a b", "c d", "e f"], "a b, c d and e f"),
])
def test_names_alike_are_drawn_together(names, told):
    assert together(names) == told
