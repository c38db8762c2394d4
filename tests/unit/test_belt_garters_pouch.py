"""What is no more than lengths and rectangles, and the notions that go with it."""

from math import cos, hypot, pi, sin

import pytest
from shapely.geometry import Polygon

from drafting.garments import GARMENTS
from drafting.pattern import as_json
from drafting.period.advice import advise
from drafting.period.choice import Choice
from drafting.sewing.materials import materials
from drafting.sewing.plan import sewing_plan
from drafting.words.problems import BadInput
from tests.wardrobe import ASTA, TAM, draft, failing

NAMES = ("woven-belt", "garters", "pouch")


def sizes(pattern):
    (piece,) = as_json(pattern)["pieces"]
    x0, y0, x1, y1 = Polygon(piece["sewing_line"]).bounds
    return x1 - x0, y1 - y0


@pytest.mark.parametrize("name", NAMES)
def test_all_is_true_for_a_grown_body_and_a_childs(name):
    for values in (ASTA, TAM):
        assert not failing(draft(name, values=values))


def test_a_belt_goes_round_over_the_clothes_and_hangs():
    options = {"hanging_end": "30cm", "over_clothes": "6cm", "width": "2cm"}
    belt = draft("woven-belt", options, waist_girth=800.0)
    assert sizes(belt) == pytest.approx((20, 800 + 60 + 300))
    assert failing(draft("woven-belt", {"hanging_end": "2cm"})) == {"goes round and closes"}
    tied = draft("woven-belt", {"hanging_end": "20cm", "closes": "tied"})
    assert failing(tied) == {"goes round and closes"}


def test_a_band_of_cloth_is_cut_twice_as_wide_and_turned_in():
    pattern = draft("woven-belt", {"made": "cloth", "width": "3cm"})
    (piece,) = as_json(pattern)["pieces"]
    x0, _, x1, _ = Polygon(piece["cutting_line"]).bounds
    assert x1 - x0 == pytest.approx(2 * 30 + 2 * 8) and not failing(pattern)


def test_crossed_garters_are_as_long_as_two_helices_round_the_calf():
    """source: plane geometry, summed here turn by turn: a helix on a cylinder of the leg's mean girth."""
    body = {"ankle_girth": 230.0, "calf_girth": 370.0, "under_knee_girth": 350.0, "knee_height": 480.0}
    options = {"style": "crossed", "crossings": "6", "tie": "40cm", "room_beneath": "0"}
    pattern = draft("garters", options, body)
    height = 0.74 * 480
    girth = 0.75 * (230 + 370) / 2 + 0.25 * (370 + 350) / 2
    steps = [(girth / 2 / pi * cos(2 * pi * 3 * i / 999), girth / 2 / pi * sin(2 * pi * 3 * i / 999),
              height * i / 999) for i in range(1000)]
    end = sum(hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]) for a, b in zip(steps, steps[1:], strict=False))
    assert pattern.finished["length"] == pytest.approx(2 * end + 350 + 400, rel=0.02)
    assert draft("garters", {"tie": "40cm", "room_beneath": "0"}, body).finished["length"] == 750
    assert failing(draft("garters", {"tie": "5cm"}, body)) == {"long enough to tie"}


def test_a_pouch_is_one_rectangle_and_the_hand_goes_in():
    pattern = draft("pouch", {"width": "16cm", "depth": "18cm"})
    assert sizes(pattern) == pytest.approx((160, 360))
    assert failing(draft("pouch", {"width": "8cm"})) == {"the hand goes in"}
    with pytest.raises(BadInput, match="give .* or less, or a deeper pouch"):
        draft("pouch", {"depth": "6cm", "hem_depth": "4cm"})


def test_a_pouch_is_neither_basted_nor_tried_on():
    kinds = [step.kind for step in sewing_plan(draft("pouch")).steps]
    assert "fit" not in kinds and kinds[-2] == "edge"


@pytest.mark.parametrize(("name", "options", "wanted"), [
    ("woven-belt", {}, "buckle"), ("pouch", {}, "draw the mouth shut"),
    ("pouch", {"closes": "frame"}, "handles"),
    ("mantle", {}, "brooch"), ("mantle", {"closure": "two-brooches"}, "a pair"),
])
def test_what_no_cloth_stands_for_is_on_the_list(name, options, wanted):
    bought = " ".join(thing.what for thing in materials(sewing_plan(draft(name, options))))
    assert wanted in bought


def test_bands_crossed_up_the_calf_are_a_womans_only_where_a_statement_says_so():
    """from memory: Clauss 1976, women of the 6th and 7th centuries between Franks and Bavarians."""
    def verdict(year, region, wearer):
        choice = Choice("garters", (year, year), region, wearer=wearer, options={"style": "crossed"})
        return [a.severity for a in advise(choice) if a.topic == "cut"]

    assert verdict(650, "franks", "woman") == ["right"] == verdict(950, "england", "man")
    assert verdict(950, "england", "woman") == ["unusual"] == verdict(800, "franks", "woman")


def test_they_cannot_be_shown_worn_yet():
    assert all(GARMENTS[name].worn is None for name in (*NAMES, "mantle"))
