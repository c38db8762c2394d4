"""Which bolt each part of a kit's garments is laid on. Invented numbers."""

from dataclasses import replace

from drafting.body.wearer import Wearer
from drafting.kit import Kit, KitCloth, KitGarment, KitWearer
from drafting.kit.listing import as_text
from drafting.kit.shopping import kit_of_one, shop
from drafting.requests import draft

LINED = {"lining": "full"}
OSGAR = {"head_girth": "57", "shoulder_girth": "118", "stature": "176"}
HILD = {"head_girth": "55", "shoulder_girth": "104", "stature": "165", "bust_girth": "92",
        "waist_girth": "78", "hip_girth": "100", "torso_length": "38", "arm_length": "58"}


def lined(cloths):
    """Osgar's and Hild's lined hoods, Hild's underdress, and two bolts."""
    return Kit(
        wearers=(KitWearer("w1", Wearer("Osgar", OSGAR)), KitWearer("w2", Wearer("Hild", HILD))),
        garments=(
            KitGarment("g1", "w1", "hood", LINED, cloths),
            KitGarment("g2", "w2", "hood", LINED, cloths),
            KitGarment("g3", "w2", "underdress", {}, {"main": "c2"}),
        ),
        cloths=(KitCloth("c1", {"name": "brown wool", "width": "150", "price": "20"}),
                KitCloth("c2", {"name": "linen", "width": "140", "price": "10"})),
    )


def bolts(kit):
    return shop(kit, seconds=0.05).bolts


def cut(garment, part=None):
    """How many pieces one is cut in."""
    options = LINED if garment == "hood" else {}
    pattern = draft({"garment": garment, "measurements": HILD, "options": options})[0]
    return sum(piece.cut for piece in pattern.pieces if part in (None, piece.cloth))


def test_a_lining_is_laid_with_all_else_that_is_cut_from_its_cloth():
    wool, linen = bolts(lined({"main": "c1", "lining": "c2"}))
    assert (wool.name, linen.name) == ("brown wool", "linen")
    assert len(wool.lay.layout.placements) == 2 * cut("hood", "main")
    assert len(linen.lay.layout.placements) == 2 * cut("hood", "lining") + cut("underdress")
    assert {share.owner for share in linen.lay.shares()} == {"Osgar", "Hild"}
    text = as_text(shop(lined({"main": "c1", "lining": "c2"}), seconds=0.05), "cm")
    assert text.count("brown wool, 150 cm wide") == text.count("linen, 140 cm wide") == 1


def test_a_lining_no_cloth_was_chosen_for_has_a_bolt_of_its_own():
    found = bolts(lined({"main": "c1"}))
    assert [bolt.name for bolt in found] == ["brown wool", "linen", "lining"]
    assert found[2].lay.cloth.width == 1400


def test_a_garment_may_be_lined_with_its_own_cloth():
    wool, _ = bolts(lined({"main": "c1", "lining": "c1"}))
    assert len(wool.lay.layout.placements) == 2 * cut("hood")


def test_two_cloths_that_go_by_one_name_are_told_apart():
    kit = lined({"main": "c1"})
    nameless = tuple(replace(cloth, texts={"width": "150"}) for cloth in kit.cloths)
    assert [bolt.name for bolt in bolts(replace(kit, cloths=nameless))] == ["cloth", "cloth (2)", "lining"]


def test_a_cloth_without_a_name_is_called_by_its_looks():
    kit = lined({"main": "c1"})
    cloths = (replace(kit.cloths[0], texts={"fibre": "wool", "colour": "madder"}), kit.cloths[1])
    assert bolts(replace(kit, cloths=cloths))[0].name == "madder wool"


def test_one_drafts_lining_is_laid_on_the_cloth_that_was_typed_for_it():
    kit = kit_of_one({
        "garment": "hood", "options": LINED, "measurements": HILD,
        "cloth": {"width": "150"}, "cloths": {"lining": {"width": "90"}},
    })
    assert [bolt.lay.cloth.width for bolt in bolts(kit)] == [1500, 900]
