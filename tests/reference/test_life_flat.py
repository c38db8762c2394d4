"""A garment measured flat and drafted again is equal to itself: the pieces of pattern.json, measured by
shapely.

source of the limit: the project's own numbers, 5 mm in every finished measure.
"""

import pytest

from drafting.body.measures import MEASURES
from drafting.desk.flat_order import read_flat_order
from drafting.garments import GARMENTS
from drafting.life.measured_flat import flat_names, from_flat, read_flat
from drafting.words.problems import BadInput
from tests.reference.test_life_fits import made, polygons
from tests.terminal import run
from tests.wardrobe import ASTA, TAM

LIMIT = 5.0


def flat_texts(pattern) -> list[tuple[str, str]]:
    """As one would measure it on a table: girths as their halves, to the millimetre."""
    found = []
    for name, finished in flat_names(pattern).items():
        if name == "waist_depth":
            mm = next(level.depth for level in pattern.levels if level.kind == "waist")
        else:
            mm = pattern.finished[finished]
        found.append((name, f"{mm / 2 if name.startswith('half_') else mm:.0f} mm"))
    return found


def again(name, options, values):
    before = made(name, options, values)
    texts = {one: two for one, two in flat_texts(before.pattern)}
    names = flat_names(made(name, options).pattern)
    flat = read_flat(before.garment, [(n, t) for n, t in texts.items() if n in names], options, "cm")
    return before, from_flat(before.garment, flat, options)


CASES = [(name, {}, values) for name in GARMENTS for values in (ASTA, TAM)] + [
    ("tunic", {"neckline": "round"}, ASTA), ("tunic", {"gores": "all"}, ASTA),
    ("trousers", {"waist": "belt-loops"}, ASTA),
    ("apron-dress", {"style": "wrapped"}, ASTA), ("cloak", {"shape": "half-circle"}, ASTA),
    ("tunic", {"body_width": "narrow"}, ASTA),
]


@pytest.mark.parametrize(("name", "options", "values"), CASES)
def test_measured_flat_and_drafted_again_it_is_equal_to_itself(name, options, values):
    before, found = again(name, options, values)
    after = found.sized.pattern.finished
    off = {key: round(after.get(key, 0.0) - mm, 1) for key, mm in before.pattern.finished.items()
           if abs(after.get(key, 0.0) - mm) > LIMIT}
    assert off == {}
    assert found.misses == {}


def test_the_pieces_are_as_large_as_those_that_were_measured():
    before, found = again("tunic", {}, ASTA)
    was, now = polygons(before.pattern)["body"].bounds, polygons(found.sized.pattern)["body"].bounds
    assert now[2] - now[0] == pytest.approx(was[2] - was[0], abs=LIMIT)
    assert now[3] - now[1] == pytest.approx(was[3] - was[1], abs=2 * LIMIT)


def test_the_ease_taken_off_is_what_lies_between_garment_and_body():
    _, found = again("tunic", {}, ASTA)
    pattern, body = found.sized.pattern, found.sized.body
    assert found.ease["bust_girth"] == pytest.approx(pattern.finished["bust_girth"] - body["bust_girth"])
    assert 60 < found.ease["bust_girth"] < 260


def test_a_body_that_is_given_stays_and_the_ease_is_found():
    before = made("tunic")
    flat = {"bust_girth": before.pattern.finished["bust_girth"] + 40, "length": 1000.0}
    found = from_flat(before.garment, flat, {}, given=ASTA)
    assert {name: found.sized.body[name] for name in ASTA} == ASTA
    assert found.ease["bust_girth"] == pytest.approx(flat["bust_girth"] - ASTA["bust_girth"], abs=LIMIT)


def test_what_is_at_odds_with_itself_is_told():
    done = run("draft", "trousers", "--from-garment", "half_hips=55cm", "half_waist=30cm", "length=95cm")
    assert done.returncode == 2
    assert "goes with the other measures" in done.stderr


def test_what_does_not_read_is_told():
    tunic = GARMENTS["tunic"]
    with pytest.raises(BadInput, match="no “half_knee” to measure flat: there is"):
        read_flat(tunic, [("half_knee", "30")], {})
    with pytest.raises(BadInput, match="half_chest: "):
        read_flat(tunic, [("half_chest", "wide")], {})
    with pytest.raises(BadInput, match="Nothing was measured"):
        read_flat(tunic, [], {})
    assert read_flat(tunic, [("half-chest", "52")], {}) == {"bust_girth": 1040.0}
    assert "bust_girth" in MEASURES


def test_a_garment_measured_larger_than_its_cloth_is_a_sentence():
    """A tunic's two panels of 52 cm by 1 m are 1.04 m² before any sleeve, and 60 cm of cloth 1.48 m wide
    between its selvedges 0.89 m². source: plane geometry"""
    asked = {"garment": "tunic", "from_garment": {"half_chest": "52 cm", "length": "100 cm"}}
    with pytest.raises(BadInput, match="it cannot be cut from that. Measure the garment again, or"):
        read_flat_order({**asked, "cloth": {"width": "150 cm", "on_hand": "60 cm"}})
    assert read_flat_order({**asked, "cloth": {"width": "150 cm", "on_hand": "4 m"}}).body
    assert read_flat_order({**asked, "cloth": {"width": "150 cm"}}).body
