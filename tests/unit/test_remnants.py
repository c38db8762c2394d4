"""Cloth as one has it: outlines with holes, several at once. Invented; measured with shapely (GEOS)."""

import json
import re

import pytest
from shapely.geometry import LinearRing, Polygon

from drafting.command.line import main

RAG = [[0, 0], [900, 60], [1300, 0], [1250, 500], [800, 420], [760, 900], [120, 860], [60, 400]]
STAIN = [[300, 300], [420, 280], [450, 420], [320, 450]]
CORNER = [[0, 0], [700, 0], [0, 700]]


def box(length, width):
    return [[0, 0], [length, 0], [length, width], [0, width]]


PIECES = [{"name": "sleeve", "quantity": 2, "rotations": [0, 180],
           "outline": [[0, 0], [400, 60], [400, 300], [0, 360]]},
          {"name": "gusset", "quantity": 6, "rotations": [0, 90], "outline": box(150, 150)}]
CLOTHS = [{"name": "rag", "outline": RAG, "holes": [STAIN], "grain": 30},
          {"name": "corner", "outline": CORNER}]


def laid(tmp_path, capsys, *flags, **content):
    file = tmp_path / "order.json"
    file.write_text(json.dumps(content), encoding="utf-8")
    code = main(["lay", str(file), "--seconds", "1", *flags])
    told = capsys.readouterr()
    return code, told.out, told.err


def test_pieces_and_what_is_left_lie_in_the_cloth_clear_of_stains_and_each_other(tmp_path, capsys):
    code, out, _ = laid(tmp_path, capsys, "--json", pieces=PIECES, cloths=CLOTHS)
    made = json.loads(out)
    assert code == 0 and made["without_a_place"] == {}
    assert sum(len(cloth["placements"]) for cloth in made["cloths"]) == 8
    for cloth, given in zip(made["cloths"], CLOTHS, strict=True):
        whole = Polygon(given["outline"], given.get("holes", []))
        lying = [Polygon(p["outline"]) for p in cloth["placements"]]
        lying += [Polygon(it["outline"]) for it in cloth["left_over"]]
        for number, one in enumerate(lying):
            assert whole.buffer(0.02).contains(one), given["name"]
            assert all(one.intersection(other).area < 1.0 for other in lying[:number])
    assert len(made["cloths"][0]["left_over"]) >= 3


def test_what_does_not_fit_is_named_and_goes_on_the_bolt_where_there_is_one(tmp_path, capsys):
    cloak = {"name": "cloak", "outline": box(1600, 500)}
    code, out, _ = laid(tmp_path, capsys, pieces=[*PIECES, cloak], cloths=CLOTHS)
    assert code == 1 and "Without a place: cloak." in out
    code, out, _ = laid(tmp_path, capsys, pieces=[*PIECES, cloak], cloths=CLOTHS, width=600)
    assert code == 0 and "On a bolt 600 wide: 1 pieces in 1600.0 of length" in out


def test_every_copy_is_cut_as_it_is_drawn_from_a_cloth_and_from_the_bolt(tmp_path, capsys):
    """source: plane geometry: turned, a polygon keeps the way round it is drawn; turned over, it does not."""
    left = {"name": "left front", "quantity": 5, "rotations": [0, 180],
            "outline": [[0, 0], [500, 0], [500, 120], [0, 330]]}
    cloths = [{"name": "rag", "outline": box(520, 480)}, {"name": "bit", "outline": box(520, 340)}]
    _, out, _ = laid(tmp_path, capsys, "--json", pieces=[left], width=800, cloths=cloths)
    made = json.loads(out)
    placed = [each["placements"] for each in (*made["cloths"], made["bolt"])]
    assert all(placed) and sum(map(len, placed)) == 5
    assert sorted(p["copy"] for p in placed[-1]) == list(range(1, len(placed[-1]) + 1))
    for one in (one for on_one in placed for one in on_one):
        assert not one["mirrored"]
        assert LinearRing(one["outline"]).is_ccw == LinearRing(left["outline"]).is_ccw


def test_a_piece_is_joined_from_parts_only_where_it_may_be(tmp_path, capsys):
    """source: plane arithmetic: 400 in two parts with 15 to sew on each is 215 across."""
    strips = [{"name": name, "outline": box(500, 216)} for name in ("one", "two")]
    panel = {"name": "panel", "outline": box(480, 400)}
    assert "Without a place: panel" in laid(tmp_path, capsys, pieces=[panel], cloths=strips)[1]
    code, out, _ = laid(tmp_path, capsys, pieces=[{**panel, "may_be_pieced": True}], cloths=strips)
    assert code == 0 and "panel is joined from 2 parts." in out


@pytest.mark.parametrize(("cloths", "says"), [
    ([{"name": "bow", "outline": [[0, 0], [900, 900], [900, 0], [0, 900]]}],
     "“bow” has an outline that crosses"),
    ([{"name": "rag", "outline": RAG, "holes": [[[2000, 0], [2100, 0], [2100, 90]]]}], "not wholly inside"),
    ([{"name": str(n), "outline": CORNER} for n in range(500)], "500 cloths are given: at most 60"),
    ([{"name": "flat", "outline": [[0, 0], [9, 0], [18, 0]]}], "without an area"),
    ([], "at least one"), ([{"name": "a", "outline": CORNER, "grain": "warp"}], "no number of degrees"),
])
def test_a_cloth_that_is_none_is_told_in_a_sentence(tmp_path, capsys, cloths, says):
    code, _, told = laid(tmp_path, capsys, pieces=PIECES, cloths=cloths)
    assert code == 2 and re.search(says, told), told


def test_a_remnant_smaller_than_any_piece_is_left_aside_and_said_so(tmp_path, capsys):
    scrap = {"name": "../scrap", "outline": box(90, 90)}
    code, out, _ = laid(tmp_path, capsys, pieces=PIECES, cloths=[scrap, *CLOTHS])
    assert code == 0 and "../scrap: nothing is cut from it" in out
    assert [path.name for path in tmp_path.iterdir()] == ["order.json"], "a name is no path"
