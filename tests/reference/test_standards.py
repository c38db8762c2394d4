"""Numbers of standards that stand in the package: the inch, clothing sizes, seams, children's cords."""

import pytest

from drafting.body import SIZE_TABLE
from drafting.period.cautions_due import cautions_for
from drafting.period.choice import read_choice
from drafting.period.impression import Impression
from drafting.sewing.treatments import SEAMS
from drafting.words import cautions as words
from drafting.words.units import parse_length
from tests.wardrobe import draft

WOMEN = "84/68/92, 88/72/96, 92/76/100, 96/80/104, 100/84/108, 104/88/112, 110/94/117"
"""from memory: EN 13402-3, women's bust / waist / hip, cm."""


@pytest.mark.parametrize(("typed", "inches"), [("1 in", 1), ("1 ft", 12), ("1 yd", 36), ('36 1/4"', 36.25)])
def test_an_inch_is_25_4_mm_exactly_and_a_foot_and_a_yard_so_many_of_them(typed, inches):
    # source: International yard and pound agreement 1959; NIST SP 811
    assert parse_length(typed, "cm") == pytest.approx(25.4 * inches, abs=1e-9)


def test_women_s_sizes_are_those_of_the_standard():
    ours = ", ".join(
        "/".join(f"{mm / 10:.0f}" for mm in size.values.values())
        for name, size in SIZE_TABLE.items()
        if name.startswith("woman")
    )
    assert ours == WOMEN


def test_a_run_and_felled_seam_is_the_standard_s_lapped_and_felled_one():
    # from memory: ISO 4916:1991, class 2, 2.04
    assert SEAMS["run-and-fell"].iso_4916 == "2.04"


def told(garment, age=None, stature=None, **more):
    choice = read_choice(Impression(**{"garment": garment, "year": "900", "region": "Norway", **more}))
    return {c.sentence for c in cautions_for(choice, age_years=age, stature=stature)}


@pytest.mark.parametrize("garment", ["hood", "cap", "head-scarf", "cloak"])
def test_no_cords_at_the_head_or_neck_of_a_child_under_seven(garment):
    # source: Finnish Safety and Chemicals Agency on EN 14682: no cords at hood, head and neck up to
    # 7 years or 134 cm; none with free ends from 7 to 14.
    assert words.CORDS in told(garment, age=6.9)
    assert words.CORDS in told(garment, stature=1340)
    assert words.CORDS in told(garment, wearer="child")
    assert words.CORDS_OLDER in told(garment, age=7)
    assert words.CORDS_OLDER in told(garment, age=13.9)
    assert not {words.CORDS, words.CORDS_OLDER} & told(garment, age=14)
    assert not {words.CORDS, words.CORDS_OLDER} & told(garment)


@pytest.mark.parametrize(("stature", "ties"), [(1340.0, 0), (1350.0, 2)])
def test_a_cap_has_no_ties_up_to_the_stature_of_a_child_of_seven(stature, ties):
    # from memory: EN 14682, children under 7 years, up to 1,340 mm
    assert len(draft("cap", {}, {"stature": stature, "head_girth": 530.0}).attachments) == ties


def test_dress_straps_and_allowances_are_what_dressmakers_take():
    # common practice, no source: front and back a third of the girth each and the sides a sixth; a strap
    # cut 40 mm wide, folded in four; 25 mm for a run-and-felled seam; a hem of 12 mm turned twice
    dress = draft("apron-dress", {"shaping": "straight", "hem_girth": "240cm"})
    hems = {name: dress.piece(name).outline["hem"].length for name in ("front", "back", "side")}
    assert hems == pytest.approx({"front": 800.0, "back": 800.0, "side": 400.0}, abs=0.5)
    assert dress.options["strap_cut_width"] == 40 and dress.piece("back strap").cut == 2
    assert {seam.allowance for seam in dress.seams if seam.treatment == "run-and-fell"} == {25.0}
    assert dress.piece("front").allowance("hem") == 2 * 12.0
