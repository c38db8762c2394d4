"""A garment of two cloths: each is laid by itself. Outlines are measured with shapely (GEOS)."""

import json
from itertools import combinations

import pytest
from shapely.geometry import Polygon

from drafting.command.line import main
from drafting.desk import lays
from drafting.desk.lay_search import LaySearch, read_lay_search
from drafting.desk.lays import rounds_of
from drafting.requests import workbench
from drafting.words.problems import BadInput
from tests.drafts import draft_of

ROUNDS = 200
COAT = {
    "garment": "wrap-coat", "options": {"lining": "full"},
    "measurements": {"bust_girth": "96cm", "waist_girth": "80cm", "hip_girth": "104cm",
                     "arm_length": "56cm", "stature": "168cm"},
    "cloth": {"width": "75cm"}, "cloths": {"lining": {"width": "60cm", "on_hand": "4 m", "price": "12"}},
    "max_rounds": ROUNDS,
}


def search_of(values):
    return read_lay_search(values, ("main", "lining"))


def lay(values):
    return lays.lay(draft_of(values), search_of(values))


def test_each_cloth_has_its_own_pieces_width_and_length():
    main_lay, lining = lay(COAT)
    pattern = draft_of(COAT).pattern
    for bolt, width in ((main_lay, 730), (lining, 580)):
        cut = {p.title for p in pattern.pieces if p.cloth == bolt.part}
        assert {p.piece for p in bolt.layout.placements} == cut
        assert len(bolt.layout.placements) == sum(p.cut for p in pattern.pieces if p.cloth == bolt.part)
        outlines = [Polygon(p.outline) for p in bolt.layout.placements]
        assert max(o.bounds[2] for o in outlines) <= width + 1e-6
        assert max(o.bounds[3] for o in outlines) == pytest.approx(bolt.cut_length)
        assert all(a.intersection(b).area < 0.01 for a, b in combinations(outlines, 2))
    assert main_lay.missing is None and lining.missing == pytest.approx(lining.cut_length - 4000)


def test_a_lining_of_which_nothing_is_said_is_laid_on_usual_linen():
    # common practice, no source: linen is sold 140 cm wide
    bolts = lay({**COAT, "cloths": {}})
    assert [bolt.cloth.width for bolt in bolts] == [750, 1400]
    assert [bolt.cloth.width for bolt in lay({**COAT, "cloth": {}, "cloths": {}})] == [1500, 1400]


def test_pieces_of_the_lining_are_pieced_to_the_linings_width_alone():
    pattern = draft_of({**COAT, "cloth": {"width": "150cm"}}).pattern
    strips = {p.name: p.cloth for p in pattern.pieces if "piecing" in p.name}
    assert strips and set(strips.values()) == {"lining"}


@pytest.mark.parametrize(
    ("texts", "field", "words"),
    [
        ({"width": "3cm"}, "cloth_lining_width", "not even a strap"),
        ({"width": "7cm"}, "cloth_lining_width", "too little"),
        ({"price": "dear"}, "cloth_lining_price", "amount"),
        ({"piecing": "thirds"}, "cloth_lining_piecing", "two-thirds"),
        ({"sheen": "dull"}, "cloth_lining_sheen", "no “sheen”"),
    ],
)
def test_what_is_wrong_with_the_linings_cloth_is_told_at_its_field(texts, field, words):
    with pytest.raises(BadInput) as caught:
        draft_of({**COAT, "cloths": {"lining": texts}})
    assert any(p.field == field and words in p.message for p in caught.value.problems)


@pytest.mark.parametrize("cloths", ["linen", ["linen"], {"lining": "linen"}, {"lining": ["linen"]}])
def test_cloths_that_are_no_texts_get_a_sentence(cloths):
    with pytest.raises(BadInput):
        draft_of({**COAT, "cloths": cloths})


def test_a_cloth_that_the_garment_does_not_use_is_left_aside():
    plain = {**COAT, "options": {}, "cloths": {"lining": {"width": "wide"}}}
    assert [bolt.part for bolt in lay(plain)] == ["main"]


def test_the_rounds_of_lays_make_the_very_same_lays_again():
    bolts = lay({**COAT, "seconds": 600, "max_rounds": {"main": 150, "lining": 250}})
    assert rounds_of(bolts) == {"main": 150, "lining": 250}
    again = lay({**COAT, "seconds": 600, "max_rounds": rounds_of(bolts)})
    assert [b.layout.placements for b in again] == [b.layout.placements for b in bolts]


def test_whoever_has_seen_enough_gets_a_sound_lay_of_what_is_left():
    steps = lays.lay_in_steps(draft_of(COAT), LaySearch(60, seed=7))
    first = next(steps)
    assert first.bolt.part == "main" and 0 <= first.done < 0.5
    with pytest.raises(StopIteration) as end:
        steps.send(True)
    bolts = end.value.value
    assert [bolt.part for bolt in bolts] == ["main", "lining"]
    assert all(bolt.layout.utilisation > 0.5 for bolt in bolts)


def test_the_workbench_tells_the_main_cloths_lay_and_the_further_ones():
    result = workbench.run({**COAT, "do": "lay"})
    (lining,) = result["further"]
    assert (result["part"], lining["part"]) == ("main", "lining")
    assert lining["missing"].endswith(" cm") and result["missing"] is None
    assert lining["price"] is not None and result["price"] is None
    assert all("lining" in piece["title"] for piece in lining["chalk"]["pieces"])
    assert json.loads(json.dumps(result)) == result


def test_a_lay_of_a_cloth_that_there_is_not_is_refused():
    result = workbench.run({**COAT, "options": {}, "do": "file", "kind": "lay-lining.svg"})
    assert not result["ok"] and result["problems"][0]["message"].endswith("lay.svg.")


def test_the_command_line_writes_every_cloths_lay(tmp_path, capsys):
    given = [f"{name}={text}" for name, text in COAT["measurements"].items()]
    flags = [part for each in given for part in ("-m", each)]
    status = main(["draft", "wrap-coat", *flags, "-o", "lining=full", "--cloth-width", "75cm",
                   "--lining-width", "60cm", "--seconds", "0.2", "--out", str(tmp_path)])
    said = capsys.readouterr().out
    assert status == 0 and "Lining cloth 60 cm wide" in said
    for name, width in (("lay.json", 750), ("lay-lining.json", 600)):
        assert json.loads((tmp_path / name).read_text())["cloth"]["width"] == width
    assert (tmp_path / "lay-lining.svg").exists()


def test_a_lay_that_is_watched_tells_how_far_it_is_and_ends_with_what_run_answers():
    seconds, rounds = 0.2, 0
    while rounds < 2:  # a loaded machine needs longer for as many
        seconds *= 2
        asked = {**COAT, "do": "lay", "seconds": seconds, "max_rounds": None, "seed": 77}
        *steps, last = workbench.lay_in_steps(asked)
        rounds = min(last["rounds"].values())
    assert steps and all(step["ok"] and step["going_on"] for step in steps)
    done = [step["done"] for step in steps]
    assert done == sorted(done) and 0 <= done[0] <= done[-1] <= 1
    assert {step["cloth"] for step in steps} <= {"main", "lining"}
    assert last == workbench.run({**asked, "seconds": 600, "max_rounds": last["rounds"]})
