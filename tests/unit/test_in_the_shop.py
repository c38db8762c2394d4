"""What is asked for in a shop: the exact length, squaring and shrinking in it, to a mark of its rule.

The length comes back from the shop's figure by what a person with the cloth would do: wash it, cut 5 cm off.
"""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drafting.body.wearer import Wearer
from drafting.cloth.cloth import Cloth, read_cloth
from drafting.cloth.in_the_shop import USUAL_SHRINKAGE, shop_length, shop_words, usual_shrinkage
from drafting.kit import Kit, KitCloth, KitGarment, KitWearer
from drafting.kit.listing import listing, listing_in_steps
from drafting.kit.shopping import shop
from drafting.period.things import THINGS
from drafting.requests.catalogue import describe
from drafting.sewing.cloths import HANDLED_AS
from drafting.words.problems import BadInput
from tests.terminal import run

UNITS = {"cm": 100.0, "in": 914.4 / 8}  # mm: 10 cm; a yard is 914.4 mm (agreement of 1959), its eighth


@given(length=st.floats(1, 60_000), shrinks=st.floats(0, 0.25), unit=st.sampled_from(sorted(UNITS)))
def test_washed_and_squared_there_is_enough_and_no_mark_to_spare(length, shrinks, unit):
    """common practice, no source: up to the next 10 cm, with 5 cm for squaring, more where it shrinks."""
    bought = shop_length(Cloth(shrinkage_warp=shrinks, shrinkage_said=True), length, unit)
    assert bought * (1 - shrinks) - 50 >= length - 0.1
    assert (bought - UNITS[unit]) * (1 - shrinks) - 50 < length + 0.1
    assert bought / UNITS[unit] == pytest.approx(round(bought / UNITS[unit]))


@pytest.mark.parametrize(("typed", "of_a_yard"), [
    ("22 a yard", 22), ("22/yd", 22), ("22,5 per yard", 22.5), ("10 a foot", 30), ("100 a metre", 91.44)])
def test_a_price_is_of_the_length_that_is_said(typed, of_a_yard):
    """source: the agreement of 1959: a yard is 0.9144 m, and three feet."""
    assert read_cloth({"price": typed}).price_of(914.4) == pytest.approx(of_a_yard)
    assert read_cloth({"price": "100"}) == read_cloth({"price": "100 a metre"})
    with pytest.raises(BadInput, match="is not an amount such as 250"):
        read_cloth({"price": "5 a parrot"})


@pytest.mark.parametrize(("mm", "unit", "said"), [
    (2800.0, "cm", "2.8 m"), (2800.0, "mm", "2.8 m"), (3000.0, "cm", "3.0 m"), (100.0, "cm", "0.1 m"),
    (914.4, "in", "1 yd"), (914.4 * 3.125, "in", "3 1/8 yd"), (914.4 * 0.5, "in", "1/2 yd"),
    (914.4 * 2.75, "in", "2 3/4 yd"),
])
def test_it_is_said_as_in_a_shop(mm, unit, said):
    assert shop_words(mm, unit) == said


def test_what_a_fibre_usually_shrinks_is_counted_in_unless_something_is_said():
    unsaid, none = read_cloth({"fibre": "linen"}), read_cloth({"fibre": "linen", "shrinkage_warp": "0"})
    assert unsaid.shrinkage_warp == none.shrinkage_warp == 0, "the exact figure stays what the lay says"
    assert shop_length(none, 2000, "cm") == pytest.approx(2100)
    # source: plane arithmetic: 2050 mm over what 5 % leave is 2158 mm
    assert shop_length(unsaid, 2000, "cm") == pytest.approx(2200)
    unwashed = read_cloth({"fibre": "linen", "washed_first": "no"})
    assert shop_length(unwashed, 2000, "cm") == pytest.approx(2100)


def test_every_fibre_that_is_sewn_has_a_usual_shrinkage():
    assert set(USUAL_SHRINKAGE) == set(HANDLED_AS)
    assert all(0 < weft <= warp <= 0.10 for warp, weft in USUAL_SHRINKAGE.values())
    assert usual_shrinkage("mithril") == (0.0, 0.0)


def test_what_a_fibre_usually_shrinks_is_said_beside_it():
    """common practice, no source: the figures themselves are those that the shop's length counts in."""
    shrinking = describe()["shrinking"]
    assert set(shrinking) == set(THINGS["fibre"])
    assert shrinking["linen"].startswith("Usual for linen in the first wash: 5% along, 3% across.")
    assert "synthetics in the first wash: 1% along" in shrinking["synthetic"]
    told = run("advise", "tunic", "--year", "900", "--region", "York", "--fibre", "flax").stdout
    assert "Usual for linen in the first wash: 5% along" in told


def test_a_fibre_that_is_named_beside_a_cloth_counts_in_what_to_buy(tmp_path):
    wrapped = run("draft", "leg-wraps", "-m", "calf_girth=36", "--cloth-width", "150", "--seconds", "0.2",
                  "--fibre", "flax", "--out", str(tmp_path))
    assert "5% for shrinking, as linen usually does counted in" in wrapped.stdout, wrapped.stderr


# Invented measurements.
MEN = {f"w{n}": {"waist_girth": f"{80 + n}", "hip_girth": f"{96 + n}", "inside_leg_height": f"{76 + n}",
                 "crotch_length": f"{70 + n}", "stature": f"{170 + n}", "shoulder_girth": f"{112 + n}",
                 "head_girth": "57"}
       for n in range(4)}


def troop(garment, options):
    return Kit(
        wearers=tuple(KitWearer(key, Wearer(f"Man {key}", texts)) for key, texts in MEN.items()),
        garments=tuple(KitGarment(f"g{key}", key, garment, options, {"main": "c1"}) for key in MEN),
        cloths=(KitCloth("c1", {"name": "grey wool", "width": "150", "fibre": "wool"}),),
    )


def rows(kit, unit="cm"):
    made = listing(shop(kit, seconds=0.02), unit)
    assert not [part for part in made.parts if part.title == "Not in this list"]
    return {row.what: row for part in made.parts if part.to_buy for row in part.rows}


def test_the_cords_of_a_troop_are_one_length_to_buy():
    row = rows(troop("trousers", {"waist": "drawstring"}))["cord or braid for the drawstring"]
    assert re.fullmatch(r"\d+\.\d m", row.amount), row
    number, shortest, longest = re.match(r"(\d+) of ([\d.]+) cm to ([\d.]+) cm", row.remark).groups()
    assert int(number) == len(MEN)
    assert len(MEN) * float(shortest) <= 100 * float(row.amount[:-2]) <= len(MEN) * float(longest) + 10


def test_a_list_of_many_is_told_garment_by_garment():
    kit = troop("hood", {})
    told = [step.doing for step in listing_in_steps(shop(kit, seconds=0.02), "cm")]
    assert told == [f"Listing {n} of {len(MEN)}" for n in range(1, len(MEN) + 1)]


def test_the_brooches_of_a_troop_are_counted():
    row = rows(troop("cloak", {"closure": "brooch"}))["a brooch or a large pin"]
    assert row.amount == f"{len(MEN)} or more"


def test_the_cloth_of_a_troop_is_to_be_asked_for_and_its_exact_length_told():
    kit = troop("hood", {})
    row = rows(kit)["grey wool, 150 cm wide"]
    assert re.fullmatch(r"\d+\.\d m", row.amount)
    exact = float(re.match(r"exactly ([\d.]+) cm", row.remark).group(1))
    # source: plane arithmetic on what wool usually shrinks
    assert 100 * float(row.amount[:-2]) * 0.95 - 5 == pytest.approx(exact, abs=10)
    assert 100 * float(row.amount[:-2]) * 0.95 - 5 >= exact - 0.1
    assert re.fullmatch(r"[\d /]+ yd", next(iter(rows(kit, "in").values())).amount)
    notes = listing(shop(kit, seconds=0.02), "cm").parts[0].notes
    assert "5 cm for squaring the ends and 5% for shrinking, as wool usually does" in notes[0]
