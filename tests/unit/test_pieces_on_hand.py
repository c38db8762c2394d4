"""Pieces of cloth that someone has: as they are typed, and a garment cut from them. Invented; measured with
shapely (GEOS).
"""

import json
from itertools import combinations

import pytest
from shapely import affinity
from shapely.geometry import Polygon

from drafting.body.wearer import Wearer
from drafting.cloth.cloth import read_cloth
from drafting.desk import lays
from drafting.desk.lay_results import bolt_in_words, lay_files, lay_json, plan_of
from drafting.desk.lay_search import LaySearch
from drafting.desk.less_cloth import ways_to_save
from drafting.kit import Kit, KitCloth, KitGarment, KitWearer, read_kit, write_kit
from drafting.kit.listing import listing, listing_text
from drafting.kit.marram_farm import HILD
from drafting.kit.shopping import shop
from drafting.lay.bolt import BoltSearch, ToCut, lay_on_bolt
from drafting.lay.on_hand import _wanting
from drafting.requests import workbench
from drafting.words.problems import BadInput
from tests.chalked import Redrawn
from tests.drafts import draft_of
from tests.terminal import run
from tests.wardrobe import draft

RAG = "brown rag | 0 0 | 90 6 | 130 0 | 125 50 | 80 42 | 76 90 | 12 86 | 6 40 | stain | 30 30 | 42 28 | 45 42"
TUNIC = {"garment": "tunic", "unit": "cm", "measurements": dict(HILD.measurements)}


def corners(ring):
    return [(p.x, p.y) for p in ring]


def cut(name, part="main", **cloth):
    return lay_on_bolt([ToCut(draft(name), "Ada")], read_cloth(cloth), part=part, max_rounds=4)


def test_a_piece_is_read_as_it_is_measured_corner_by_corner():
    (piece,) = read_cloth({"remnant_1": RAG}).remnants
    assert piece.name == "brown rag"
    assert corners(piece.outline)[:3] == [(0, 0), (900, 60), (1300, 0)]
    assert [corners(hole) for hole in piece.holes] == [[(300, 300), (420, 280), (450, 420)]]


@pytest.mark.parametrize(("text", "unit", "box"), [
    ("60 × 90", "cm", (600, 900)), ("60 x 90", "cm", (600, 900)), ("in cm | 60 by 90", "in", (600, 900)),
    ("24 x 36 1/2", "in", (609.6, 927.1)), ("92,5 cm × 1 m 12", "in", (925, 1120)),
    ("0;0 | 24 1/2; 0 | 24 1/2; 36 | 0; 36", "in", (622.3, 914.4)),
    ("0 0\n92,5 0\n92,5 80\n0 80\n0 0", "cm", (925, 800)),
])
def test_lengths_are_typed_as_people_type_them(text, unit, box):
    # source: International yard and pound agreement 1959, an inch is 25.4 mm
    (piece,) = read_cloth({"remnant_1": text}, unit).remnants
    assert Polygon(corners(piece.outline)).bounds == pytest.approx((0, 0, *box))
    assert len(piece.outline) == 4 and piece.name == "piece 1"


@pytest.mark.parametrize(("text", "says"), [
    ("bow | 0 0 | 90 90 | 90 0 | 0 90", "“bow” has an outline that crosses or touches itself"),
    ("0 0 | 90 0", "“piece 1” has an outline of fewer than three corners"),
    ("flat | 0 0 | 90 0 | 45 0", "crosses or touches itself"),
    ("dot | 0.1 x 0.1", "next to no area"),
    ("rag | 60 × 90 | stain | 70 10 | 80 10 | 80 20", "“rag” has a hole or stain that is not wholly inside"),
    ("rag | 60 × 90 | stain | 5 5 | 8 8", "a hole or stain of fewer than three corners"),
    ("rag | 60 90 12 | 5 5 | 8 8", "a corner “60 90 12” that does not read: give two lengths"),
    ("rag | far off | 5 5 | 8 8", "a corner “far off” that does not read"),
    ("rag | -5 0 | 5 5 | 8 8", "below zero"), ("rag", "fewer than three corners"),
])
def test_what_is_no_piece_of_cloth_is_told_beside_its_field(text, says):
    with pytest.raises(BadInput) as error:
        read_cloth({"remnant_1": "60 x 90", "remnant_2": text.replace("piece 1", "piece 2")})
    (problem,) = error.value.problems
    assert problem.field == "cloth_remnant_2" and says.replace("piece 1", "piece 2") in problem.message


def test_too_many_alike_or_on_folded_cloth_are_told_in_one_sentence():
    many = {f"remnant_{n}": f"{40 + n} x 90" for n in range(1, 501)}
    for texts, says in ((many, "500 pieces of cloth are given: at most 60 are laid at once."),
                        ({"remnant_1": "rag | 60 x 90", "remnant_2": "rag | 50 x 90"}, "both|called “rag”"),
                        ({"remnant_1": "60 x 90", "folded": "yes"}, "single layer")):
        with pytest.raises(BadInput) as error:
            read_cloth(texts)
        (problem,) = error.value.problems
        assert problem.field == "cloth_remnant_1" and says.split("|")[-1] in problem.message


@pytest.mark.parametrize("name", ["tunic", "apron-dress", "trousers"])
def test_all_is_cut_once_clear_of_stains_and_each_other_from_pieces_first(name):
    bolt = cut(name, remnant_1=RAG, remnant_2="60 x 90", remnant_3="../odd | 120 x 25")
    pieces = {piece.title: piece.cut for piece in draft(name).pieces}
    found = [placed.piece for lay in (*bolt.on_hand, bolt) for placed in lay.layout.placements]
    assert sorted(found) == sorted(title for title, count in pieces.items() for _ in range(count))
    assert any(lay.layout.placements for lay in bolt.on_hand)
    for lay in bolt.on_hand:
        cloth = Polygon(corners(lay.piece.outline), [corners(hole) for hole in lay.piece.holes])
        lying = [Polygon(placed.outline) for placed in lay.layout.placements]
        lying += [Polygon(ring) for ring in lay.left_over]
        assert all(cloth.buffer(0.02).contains(one) for one in lying)
        assert all(one.intersection(other).area < 1.0 for one, other in combinations(lying, 2))
    assert bolt.layout.area_bound < cut(name).layout.area_bound


def test_the_warp_runs_down_a_piece_as_it_does_down_the_bolt():
    """A strap is 4 cm wide and 85 long along the warp: it goes on cloth 90 long, not on cloth 90 wide."""
    down, across = (cut("apron-dress", remnant_1=size) for size in ("20 x 90", "90 x 20"))
    on = [[placed.piece for placed in lay.on_hand[0].layout.placements] for lay in (down, across)]
    assert "back strap" in on[0] and "back strap" not in on[1]


def test_what_is_chalked_on_a_piece_is_measured_from_its_own_edges():
    bolt = cut("tunic", remnant_1=RAG, remnant_2="60 x 90")
    told = json.loads(lay_files([bolt], "cm", title="", name=None)["chalk-plan.json"])
    assert [(plan["part"], plan["cloth"]) for plan in told["plans"]] == [
        ("main", "brown rag"), ("main", "piece 2"), ("main", "main")]
    plans = {plan["cloth"]: Redrawn(plan) for plan in told["plans"]}
    lay = next(lay for lay in bolt.on_hand if lay.piece.name == "piece 2")
    for piece in plan_of(lay, "cm").pieces:
        drawn = Polygon(plans["piece 2"].lines[piece.title]["outline", ""])
        true = Polygon(corners(piece.true.outline))
        assert drawn.symmetric_difference(true).area / true.length < 3.0  # source: the plan's contract, 3 mm
    told = bolt_in_words(bolt, "cm")
    on = next(piece for piece in told["chalk"]["pieces"] if piece["title"].endswith(", on piece 2"))
    assert on["before"][0].startswith("Lay piece 2 flat") and on["columns"][1] == "from top edge"
    titles = [piece["title"] for piece in told["chalk"]["pieces"]]
    assert len(set(titles)) == len(titles) == sum(len(lay.layout.placements) for lay in (*bolt.on_hand, bolt))
    assert f">{len(titles) - len(bolt.layout.placements) + 1}. " in told["picture"], "numbers go on"


def test_pieces_of_two_cloths_that_have_one_name_have_a_plan_each():
    order = [ToCut(draft("hood", {"lining": "full"}), "Ada")]
    bolts = [lay_on_bolt(order, read_cloth({"remnant_1": size}, part=part), part=part, max_rounds=1)
             for part, size in (("main", "120 x 120"), ("lining", "110 x 130"))]
    told = json.loads(lay_files(bolts, "cm", title="", name=None)["chalk-plan.json"])
    found = {(plan["part"], plan["cloth"]): plan for plan in told["plans"]}
    assert set(found) == {("main", "piece 1"), ("main", "main"), ("lining", "piece 1"), ("lining", "lining")}
    for bolt in bolts:
        plan = found[bolt.part, "piece 1"]
        assert (plan["width"], len(plan["pieces"])) == (
            bolt.on_hand[0].layout.width, len(bolt.on_hand[0].layout.placements))
        assert plan["pieces"]


def test_what_finds_no_place_is_named_and_what_is_left_is_said_and_can_be_typed_again():
    told = bolt_in_words(cut("tunic", remnant_1=RAG, remnant_2="60 x 90", on_hand="4 m"), "cm")
    assert told["notes"][0].startswith("From the cloth that is there already: ")
    assert "No place there for: body" in told["notes"][0]
    assert len(told["on_hand"][0]["left_over"]) >= 3
    for of in (*told["on_hand"], told):
        for keep, said in zip(of["keep"], of["left_over"], strict=True):
            (again,) = read_cloth({"remnant_1": keep}, "in").remnants
            width, length = (float(text.split()[0]) * 10 for text in said.split(" × "))
            assert Polygon(corners(again.outline)).bounds == pytest.approx((0, 0, width, length), abs=0.6)


def test_where_all_of_it_is_cut_from_pieces_nothing_is_bought():
    bolt = cut("tunic", remnant_1="3 m x 3 m")
    assert bolt.cut_length == 0 and not bolt.layout.placements and bolt.missing is None
    told = bolt_in_words(bolt, "cm")
    assert (told["buy_length"], told["shop_length"], told["picture"]) == ("nothing", "nothing", "")
    assert lay_json(bolt)["on_hand"][0]["name"] == "piece 1"
    files = lay_files([bolt], "cm", title="Tunic", name=None)
    assert files["chalk-plan.pdf"].startswith(b"%PDF-")
    drafted = draft_of({**TUNIC, "cloth": {"remnant_1": "3 m x 3 m"}})
    assert ways_to_save(drafted, LaySearch(seconds=0.1)) == ()
    torn = BoltSearch([ToCut(draft("tunic"))], read_cloth({"remnant_1": "3 m x 3 m"})).torn()
    assert torn.cut_length == 0


def test_nothing_fits_is_said_too():
    assert "Nothing fits on the cloth that is there already. No place there for: body" in bolt_in_words(
        cut("tunic", remnant_1="5 x 5"), "cm")["notes"][0]


def test_the_rest_of_a_pair_is_cut_the_other_way_round_from_the_bolt():
    """source: of numbers that alternate from an odd one on, as many are odd as even, or one more."""
    for numbers in ({1, 2, 3}, {1, 2}, {1}, set(), {3, 4}):
        assert _wanting(numbers) is None
    assert _wanting({2}) == 1 and _wanting({1, 3}) == 0
    coat = lay_on_bolt([ToCut(draft("wrap-coat"), "Ada")],
                       read_cloth({"two_sided": "no", "remnant_1": "62 x 150"}), max_rounds=4)
    placed = [(p.piece, p.mirrored) for lay in (*coat.on_hand, coat) for p in lay.layout.placements]
    mirrored = {piece.title for piece in draft("wrap-coat").pieces if piece.mirrored and piece.cut == 2}
    assert mirrored
    for title in mirrored:
        assert sorted(way for name, way in placed if name == title) == [False, True], title


def test_a_garment_s_pieces_are_joined_across_pieces_of_cloth_where_that_is_asked_for():
    """source: plane arithmetic: what is 35 cm wide holds no body of some 60, but its parts."""
    strips = {f"remnant_{n}": f"strip {n} | 35 × 260" for n in range(1, 8)}
    order = {**TUNIC, "cloth": strips}
    whole, joined = (draft_of({**order, "cloth": {**strips, "piecing": how}})
                     for how in ("when-needed", "from-hand"))
    assert not [piece for piece in whole.pattern.pieces if "piecing" in piece.name]
    assert len(joined.pattern.seams) > len(whole.pattern.seams) and not joined.failing
    for drafted, everything in ((whole, False), (joined, True)):
        cloth = drafted.order.cloth("main")
        bolt = lay_on_bolt([ToCut(drafted.pattern)], cloth, max_rounds=1)
        assert (bolt.cut_length == 0) is everything
    (body,) = [piece for piece in whole.pattern.pieces if piece.name == "body"]
    parts = [piece for piece in joined.pattern.pieces if piece.name.startswith("body")]
    sewn = [Polygon(corners(piece.outline.polygon)) for piece in (body, *parts)]
    assert sum(one.area for one in sewn[1:]) == pytest.approx(sewn[0].area, rel=1e-3)
    assert max(Polygon(corners(p.cutting_line)).bounds[2] - Polygon(corners(p.cutting_line)).bounds[0]
               for p in joined.pattern.pieces) <= 350.1


def test_the_same_pieces_give_the_same_lay():
    one, other = (cut("apron-dress", remnant_1=RAG, remnant_2="60 x 90") for _ in range(2))
    assert [lay.layout.placements for lay in one.on_hand] == [lay.layout.placements for lay in other.on_hand]


def test_a_turned_piece_s_marks_lie_where_its_outline_does():
    bolt = cut("tunic", remnant_1=RAG, remnant_2="60 x 90")
    for lay in bolt.on_hand:
        for placed in lay_json(lay)["placements"]:
            shape = Polygon(placed["outline"])
            for mark in placed["marks"]:
                assert shape.buffer(0.01).contains(affinity.translate(Polygon(
                    [(0, 0), (0.001, 0), (0, 0.001)]), *mark["at"]))


def test_a_kit_s_cloth_of_pieces_serves_all_its_garments(tmp_path):
    kit = Kit(
        wearers=(KitWearer("w1", Wearer("Hild", measurements=dict(HILD.measurements))),),
        cloths=(KitCloth("c1", {"name": "rags", "remnant_1": "3 m x 4 m"}),),
        garments=tuple(KitGarment(f"g{n}", "w1", "tunic", cloths={"main": "c1"}) for n in (1, 2)),
    )
    assert read_kit(write_kit(kit)) == kit
    shopping = shop(kit, seconds=0.2)
    (bolt,) = shopping.bolts
    assert len(bolt.lay.on_hand[0].layout.placements) + len(bolt.lay.layout.placements) == 16
    assert "rags: nothing (all of it comes from what is there already)" in listing_text(
        listing(shopping, "cm"))
    file = tmp_path / "kit.json"
    file.write_text(write_kit(kit), encoding="utf-8")
    done = run("kit", str(file), "--out", str(tmp_path / "out"))
    assert done.returncode == 0, done.stderr
    assert json.loads((tmp_path / "out/bolts/rags/lay.json").read_text(encoding="utf-8"))["on_hand"]


def test_the_command_line_takes_pieces_from_a_file(tmp_path):
    file = tmp_path / "rags.txt"
    file.write_text("brown rag\n0 0\n90 6\n130 0\n125 90\n10 86\n\n60 × 90\n", encoding="utf-8")
    measured = [flag for name, text in HILD.measurements.items() for flag in ("-m", f"{name}={text}")]
    done = run("draft", "tunic", *measured, "--remnants", str(file), "--seconds", "0.2",
               "--out", str(tmp_path / "out"))
    assert done.returncode == 0, done.stderr
    assert "From the cloth that is there already: " in done.stdout
    assert "Left over of brown rag: " in done.stdout
    for missing, says in (("nowhere.txt", "Cannot read"), ("empty.txt", "is empty")):
        (tmp_path / "empty.txt").write_text(" \n")
        done = run("draft", "tunic", *measured, "--remnants", str(tmp_path / missing), "--out",
                   str(tmp_path / "none"))
        assert done.returncode == 2 and says in done.stderr


def test_the_page_is_told_how_a_piece_looks():
    told = workbench.run({**TUNIC, "do": "draft", "cloth": {"remnant_1": RAG}})
    (piece,) = told["remnants"]
    assert piece["name"] == "brown rag" and 'viewBox="0 0 1300 900"' in piece["picture"]
    assert workbench.run({**TUNIC, "do": "draft"})["remnants"] == []
    assert lays.lay(draft_of({**TUNIC, "cloth": {"remnant_1": RAG}}), LaySearch(seconds=0.1))[0].on_hand
