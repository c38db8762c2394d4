"""Which bolt each part of a kit's garments is laid on. Invented numbers."""

import json
from dataclasses import replace

import pdfplumber
import pytest

from drafting.body.wearer import Wearer
from drafting.cloth.in_the_shop import shop_length, shop_words
from drafting.command.line import main
from drafting.desk.lay_results import lay_json, plan_of
from drafting.kit import Kit, KitCloth, KitGarment, KitWearer, read_kit, write_kit
from drafting.kit.listing import as_text
from drafting.kit.shopping import shop, shop_for_one
from drafting.words.units import format_length
from tests.drafts import draft_of

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
    pattern = draft_of({"garment": garment, "measurements": HILD, "options": options}).pattern
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


def test_two_people_of_one_name_each_have_their_part():
    kit = lined({"main": "c1", "lining": "c2"})
    both = tuple(replace(w, wearer=replace(w.wearer, name="Hild")) for w in kit.wearers)
    text = as_text(shop(replace(kit, wearers=both), seconds=0.05), "cm")
    assert "For Hild (1)" in text and "For Hild (2)" in text


def test_one_drafts_lining_is_laid_on_the_cloth_that_was_typed_for_it():
    drafted = draft_of({
        "garment": "hood", "options": LINED, "measurements": HILD,
        "cloth": {"width": "150"}, "cloths": {"lining": {"width": "90"}},
    })
    steps = shop_for_one(drafted, 0.05)
    with pytest.raises(StopIteration) as end:
        while True:
            next(steps)
    assert [bolt.lay.cloth.width for bolt in end.value.value.bolts] == [1500, 900]


def test_the_command_line_drafts_lays_and_lists_a_whole_kit(tmp_path, capsys):
    kit = lined({"main": "c1", "lining": "c2"})
    file = tmp_path / "troop.kit.json"
    file.write_text(write_kit(kit), encoding="utf-8")
    out = tmp_path / "out"
    assert main(["kit", str(file), "--out", str(out), "--seconds", "0.05"]) == 0
    assert read_kit((out / "kit.json").read_bytes()) == kit
    listed = (out / "shopping-list.txt").read_text(encoding="utf-8")
    assert capsys.readouterr().out.startswith(listed) and "linen, 140 cm wide" in listed
    assert sorted(path.name for path in (out / "bolts" / "brown-wool").iterdir()) == [
        "chalk-plan.json", "chalk-plan.pdf", "lay.json", "lay.svg"]
    laid = json.loads((out / "bolts" / "linen" / "lay.json").read_text(encoding="utf-8"))
    assert len(laid["placements"]) == 2 * cut("hood", "lining") + cut("underdress")
    assert sorted(path.name for path in (out / "01-osgar-hood").iterdir()) == [
        "booklet.pdf", "pattern.json", "pieces.svg", "tiled.pdf"]


def written(kit, tmp_path):
    file = tmp_path / "troop.kit.json"
    file.write_text(write_kit(kit), encoding="utf-8")
    main(["kit", str(file), "--out", str(tmp_path / "out"), "--seconds", "0.05"])
    return tmp_path / "out" / "bolts"


def test_what_the_list_buys_is_what_the_one_plan_of_the_bolt_needs(tmp_path):
    kit = lined({"main": "c1", "lining": "c2"})
    folder = written(kit, tmp_path)
    for bolt in bolts(kit):
        name = bolt.name.replace(" ", "-")
        laid = json.loads((folder / name / "lay.json").read_text(encoding="utf-8"))
        (plan,) = json.loads((folder / name / "chalk-plan.json").read_text(encoding="utf-8"))["plans"]
        assert plan["length"] == pytest.approx(laid["length"], abs=0.001)
        assert laid["to_buy"] == pytest.approx(bolt.lay.cloth.to_buy(plan["length"]), abs=1.0)
        furthest = max(y for p in laid["placements"] for _, y in p["outline"])
        assert furthest == pytest.approx(plan["length"], abs=0.001), "no shorter and no longer than is cut"


def test_the_list_s_length_and_the_plan_s_are_one_number():
    kit = lined({"main": "c1", "lining": "c2"})
    shopping = shop(kit, seconds=0.05)
    listed = as_text(shopping, "mm")
    for bolt in shopping.bolts:
        assert bolt.lay.cut_length == lay_json(bolt.lay)["length"] == plan_of(bolt.lay, "cm").length
        length = format_length(bolt.lay.cut_length, "mm")
        bought = shop_words(shop_length(bolt.lay.cloth, bolt.lay.cut_length, "mm"), "mm")
        assert f"{bolt.name}, {bolt.lay.cloth.width:g} mm wide: {bought} (exactly {length}" in listed


def test_each_piece_on_a_shared_bolt_says_whose_it_is(tmp_path):
    folder = written(lined({"main": "c1", "lining": "c2"}), tmp_path)
    laid = json.loads((folder / "linen" / "lay.json").read_text(encoding="utf-8"))
    whose = {placement["piece"].split(":")[0] for placement in laid["placements"]}
    assert whose == {"Osgar", "Hild's hood", "Hild's underdress"}
    (plan,) = json.loads((folder / "linen" / "chalk-plan.json").read_text(encoding="utf-8"))["plans"]
    assert {piece["title"].split(":")[0] for piece in plan["pieces"]} == whose
    with pdfplumber.open(folder / "linen" / "chalk-plan.pdf") as pdf:
        text = "\n".join(page.extract_text() for page in pdf.pages)
    assert "Hild's underdress: body" in text and "linen" in text


@pytest.mark.parametrize("name", ["../../outside", "/etc/passwd", "..", "a\\b", "C:linen", "…"])
def test_a_bolt_named_like_a_path_stays_inside_the_folder(tmp_path, name):
    kit = lined({"main": "c1", "lining": "c2"})
    kit = replace(kit, cloths=tuple(replace(c, texts={**c.texts, "name": name}) for c in kit.cloths))
    (tmp_path / "deep").mkdir()
    folder = written(kit, tmp_path / "deep")
    assert len(list(folder.iterdir())) == 2
    assert {path.name for path in tmp_path.iterdir()} == {"deep"}
    assert {path.name for path in (tmp_path / "deep").iterdir()} == {"troop.kit.json", "out"}


def test_the_command_line_says_what_of_a_kit_could_not_be_made(tmp_path, capsys):
    kit = lined({"main": "c1"})
    broken = replace(kit, garments=(replace(kit.garments[0], options={"lining": "fur"}), kit.garments[2]))
    file = tmp_path / "troop.kit.json"
    file.write_text(write_kit(broken), encoding="utf-8")
    assert main(["kit", str(file), "--out", str(tmp_path / "out"), "--seconds", "0.05"]) == 1
    assert "Osgar" in capsys.readouterr().err
    assert main(["kit", str(tmp_path / "none.json")]) == 2
    assert "cannot be read" in capsys.readouterr().err


def test_a_kits_patterns_are_those_that_its_bolts_are_laid_with(tmp_path):
    """A tunic on a narrow loom's cloth that shrinks: its pieces are as wide as the washed cloth."""
    kit = Kit(
        wearers=(KitWearer("w1", Wearer("Hild", HILD)),),
        cloths=(KitCloth("c1", {"name": "homespun", "width": "45", "shrinkage_weft": "5"}),),
        garments=(KitGarment("g1", "w1", "tunic", {}, {"main": "c1"}),),
    )
    file = tmp_path / "hild.kit.json"
    file.write_text(write_kit(kit), encoding="utf-8")
    main(["kit", str(file), "--out", str(tmp_path / "out"), "--seconds", "0.05"])
    pattern = json.loads((tmp_path / "out" / "01-hild-tunic" / "pattern.json").read_text())
    laid = json.loads((tmp_path / "out" / "bolts" / "homespun" / "lay.json").read_text())
    cut = {piece["title"]: piece["cut"] for piece in pattern["pieces"]}
    placed = [placement["piece"] for placement in laid["placements"]]
    assert {title: placed.count(title) for title in set(placed)} == cut
    assert any("piecing" in title for title in cut)
    # source: plane arithmetic: 450 mm less 5 %, less two selvedges of 10 mm
    usable = 450 * 0.95 - 20
    for piece in pattern["pieces"]:
        across = [x for x, _ in piece["cutting_line"]]
        assert max(across) - min(across) <= usable + 0.05, piece["title"]
    assert "pieced" in (tmp_path / "out" / "shopping-list.txt").read_text(encoding="utf-8")


def test_a_kits_garments_are_laid_on_their_bolts_and_not_again_for_their_booklets(tmp_path, monkeypatch):
    from drafting.desk import lays

    kit = lined({"main": "c1", "lining": "c2"})
    file = tmp_path / "troop.kit.json"
    file.write_text(write_kit(kit), encoding="utf-8")
    searched = []
    monkeypatch.setattr(lays, "BoltSearch", lambda *asked, **more: searched.append(asked))
    assert main(["kit", str(file), "--out", str(tmp_path / "out"), "--seconds", "0.05"]) == 0
    assert (tmp_path / "out" / "01-osgar-hood" / "booklet.pdf").exists() and searched == []


def test_a_shared_cloth_that_does_not_read_is_named_with_the_garment_it_is_for():
    kit = lined({"main": "c1"})
    cloths = (replace(kit.cloths[0], texts={"name": "brown wool", "width": "broad"}), kit.cloths[1])
    found = shop(replace(kit, cloths=cloths), seconds=0.05)
    assert [bolt.name for bolt in found.bolts] == ["linen"]
    assert [p.message.split(":")[0] for p in found.problems] == ["Osgar, hood", "Hild, hood"]
    assert all("brown wool: Cloth width" in p.message for p in found.problems)
