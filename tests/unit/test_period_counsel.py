"""All that is said on a request: with parts of it missing, in the booklet, in the sewing, on the shelf."""

import json

import pytest

from drafting.both.link import read_link, write_link
from drafting.cloth.cloth import read_cloth
from drafting.desk.drafts import sewing_choices
from drafting.desk.order import read_cloths, read_impression
from drafting.kit.rules import for_a_file, for_the_page
from drafting.period.counsel import counsel, fibre_of
from drafting.period.impression import Impression
from drafting.period.things import THINGS
from drafting.requests import workbench
from drafting.sewing.care import CARE, care_for
from drafting.sewing.cloths import HANDLED_AS
from drafting.words.problems import BadInput
from tests.drafts import draft_of
from tests.printed import text_across

DRESS = {"garment": "apron-dress", "measurements": {"bust_girth": "92", "waist_girth": "78",
                                                    "torso_length": "38"}}
DANISH = {"year": "980", "region": "Denmark", "rank": "farmer"}
RULES = json.dumps({
    "format": "ellwand-house-rules", "version": 1, "group": "Marram Farm", "years": [850, 950],
    "regions": ["denmark"], "ranks": ["farmer", "poor"], "colours": ["walnut", "weld"],
    "not_allowed": ["zip", "wristwatches"], "message": "Ask Hild before you buy cloth.",
})


def answer(**request):
    result = workbench.run({"do": "advise", **DRESS, **request})
    json.dumps(result)
    return result


def booklet_words(**request):
    result = workbench.run({"do": "file", "kind": "booklet.pdf", **DRESS, **request})
    assert result["ok"], result
    return text_across(result["bytes"])


def test_without_year_and_region_there_are_cautions_and_no_advice():
    result = answer(cloth={"fibre": "polyester", "colour": "madder"})
    assert result["ok"] and result["advice"] == [] and result["choice"] is None
    said = " ".join(c["sentence"] for c in result["cautions"])
    assert "Synthetics melt" in said and "gloves" in said
    assert result["dye"] == "madder"


def test_a_cloths_fibre_weave_and_colour_are_advised_on():
    result = answer(**DANISH, cloth={"fibre": "cotton", "weave": "velvet", "colour": "purple"})
    assert {a["field"] for a in result["advice"]} >= {"garment", "fibre", "weave", "colour"}


def test_what_is_drafted_unless_told_otherwise_is_advised_on_as_if_it_was_chosen():
    cloak = {"garment": "cloak", "year": "950", "region": "norway"}
    assert answer(**cloak, options={}) == answer(**cloak, options={"shape": "rectangle"})
    half = answer(**cloak, options={"shape": "half-circle"})
    assert any(a["field"] == "options.shape" for a in half["advice"])


def test_a_year_without_a_region_asks_for_the_region():
    assert [p["field"] for p in answer(year="980")["problems"]] == ["region"]


def test_forgivingly_what_does_not_read_is_told_and_the_rest_is_advised_on():
    bad = {"region": "Atlantis", "year": "980", "house_rules": RULES, "cloth": {"colour": "madder"}}
    assert not answer(**bad)["ok"]
    result = answer(**bad, forgiving=True)
    assert result["ok"] and [p["field"] for p in result["problems"]] == ["region"]
    assert "Atlantis" in result["problems"][0]["message"]
    assert result["advice"] == [] and result["house"]["group"] == "Marram Farm"
    result = answer(**DANISH, forgiving=True, cloth={"colour": "octarine"}, house_rules="no rules")
    assert {p["field"] for p in result["problems"]} == {"colour", "house_rules"}
    assert [a["field"] for a in result["advice"]] == ["garment"]


def test_rules_on_years_and_lands_wait_until_those_are_chosen():
    fields = {r["field"] for r in answer(house_rules=RULES, cloth={"colour": "woad"})["house"]["rulings"]}
    assert fields == {"colour"}
    placed = answer(year="980", region="Birka", house_rules=RULES)["house"]["rulings"]
    assert {r["field"] for r in placed} == {"year", "region"}


def test_nothing_is_offered_that_the_group_does_not_have():
    asked = {**DANISH, "year": "900", "cloth": {"colour": "madder", "fibre": "wool"}}
    ours = {a["value"] for told in answer(**asked)["advice"] for a in told["alternatives"]}
    assert "bark-brown" in ours
    kept = {a["value"] for told in answer(**asked, house_rules=RULES)["advice"]
            for a in told["alternatives"]}
    assert kept and kept <= {"walnut", "weld"}


def test_a_groups_file_is_told_in_sentences_and_fills_the_impression_where_it_leaves_no_choice():
    result = workbench.run({"do": "read-house-rules", "text": RULES})
    assert result["ok"] and result["group"] == "Marram Farm"
    assert result["fills"] == {"year": "850-950", "region": "denmark"}
    said = " ".join(result["shows"])
    for words in ("850–950", "Denmark", "walnut brown", "zip, wristwatches"):
        assert words in said
    again = workbench.run({"do": "read-house-rules", "text": result["link_text"]})
    assert again == result
    by_values = workbench.run({"do": "read-house-rules", "text": json.dumps(result["values"])})
    assert by_values == result


@pytest.mark.parametrize("text", ["", None, 7, "{", "[]", "PK\x03\x04"])
def test_what_are_no_house_rules_is_refused_in_a_sentence(text):
    result = workbench.run({"do": "read-house-rules", "text": text})
    assert not result["ok"] and result["problems"][0]["field"] == "house_rules"


def test_only_what_is_asked_counts_as_asked():
    width = {"cloth": {"width": "150"}, "rank": "farmer"}
    assert not read_impression(DRESS).asks and not read_impression({**DRESS, **width}).asks
    for asked in ({"year": "980"}, {"cloth": {"colour": "woad"}}, {"activities": ["fire"]}):
        assert read_impression({**DRESS, **asked}).asks


# --- In the booklet -------------------------------------------------------------------------------


def test_the_booklet_says_what_is_right_who_says_so_and_what_the_group_says():
    text = booklet_words(**DANISH, cloth={"colour": "purple"}, house_rules=RULES)
    assert text.index("The organiser's own rules come first") < text.index("What Marram Farm says")
    assert text.index("What Marram Farm says") < text.index("Our advice for a farmer")
    for words in ("Ask Hild before you buy cloth.", "Marram Farm shows 850–950, not 980.",
                  "✓ Apron dress: right", "! Purple of madder and woad: unusual", "from memory: ",
                  "Right instead: ", "Chrome and tin are poisonous"):
        assert words in text, words


def test_the_booklet_says_nothing_twice_and_nothing_unasked():
    assert "For your time and place" not in booklet_words()
    asked = booklet_words(**DANISH)
    for sentence in ("Some skins do not bear wool", "Shears and needles are sharp"):
        assert asked.count(sentence) == 1


def test_the_booklet_names_what_it_could_not_advise_on():
    text = booklet_words(year="980", region="Atlantis", cloth={"colour": "madder"})
    assert "Left out: “Atlantis” is no region" in text


# --- In the cloth and the sewing ------------------------------------------------------------------


def test_a_cloths_looks_are_texts_that_change_no_cut():
    cloth = read_cloth({"fibre": " wool ", "weave": "2/2 twill", "colour": "octarine"})
    assert (cloth.fibre, cloth.weave, cloth.colour) == ("wool", "2/2 twill", "octarine")
    looks = {"fibre": "wool", "colour": "woad"}
    assert read_cloths({"cloth": looks}, "cm") is None
    assert read_cloths({"cloth": {**looks, "width": "60"}}, "cm").of("main").colour == "woad"
    with pytest.raises(BadInput):
        read_cloths({"cloth": {**looks, "sheen": "high"}}, "cm").of("main")
    cloak = {"garment": "cloak", "measurements": {"stature": "168"}, "options": {"shape": "half-circle"}}
    assert draft_of({**cloak, "cloth": looks}).pattern == draft_of(cloak).pattern


@pytest.mark.parametrize(("fibre", "care", "thread"), [
    ("wool", "full it", "wool thread"), ("flax", "iron it damp", "linen thread"),
    ("silk", "Silk: wash", "silk"),
    ("polyester", "label", "wool thread"), ("hemp", "Hemp: wash the cloth hot", "linen thread"),
])
def test_the_care_and_the_thread_are_the_fibres(fibre, care, thread):
    plan = workbench.run({"do": "sew", **DRESS, "cloth": {"fibre": fibre}})
    assert any(care in sentence for sentence in plan["care"])
    assert plan["thread"][0]["kind"].startswith(thread)


def test_the_cloths_weight_is_the_garments():
    light = workbench.run({"do": "sew", **DRESS, "cloth": {"fibre": "wool", "weight": "200"}})
    heavy = workbench.run({"do": "sew", **DRESS, "cloth": {"fibre": "wool", "weight": "400"}})
    assert heavy["weight"] == pytest.approx(2 * light["weight"], abs=2)


def test_a_fibre_that_is_not_known_leaves_the_usual_cloth():
    asked = {**DRESS, "cloth": {"fibre": "mithril"}}
    assert fibre_of(read_impression(asked)) is None
    assert sewing_choices(draft_of(asked)).cloths["main"].fibre == "wool"


def test_every_fibre_that_can_be_chosen_can_be_sewn_and_cared_for():
    assert set(HANDLED_AS) == set(THINGS["fibre"])
    for fibre in HANDLED_AS:
        assert care_for([fibre]) and all("{" not in s for s in care_for([fibre]))
    assert care_for(["wool", "wool"]) == CARE["wool"]


# --- In a link ------------------------------------------------------------------------------------


def test_the_impression_and_the_rules_travel_in_a_link():
    rules = workbench.run({"do": "read-house-rules", "text": RULES})["link_text"]
    written = {"garment": "tunic", "measurements": {"stature": "168cm"}, "options": {},
               "cloth": {"cloth_colour": "woad"}, "year": "850-950", "region": "the Danelaw",
               "rank": "farmer", "rules": rules}
    read, said = read_link(write_link(written), ["stature"], ["tunic"])
    assert said == [] and read == {**written, **read}
    assert {name: read[name] for name in ("year", "region", "rank", "rules")} == {
        name: written[name] for name in ("year", "region", "rank", "rules")
    }


def test_counsel_refuses_a_garment_that_is_none():
    with pytest.raises(BadInput):
        counsel(Impression(garment="ball-gown"))


# --- In a kit -------------------------------------------------------------------------------------


def test_rules_move_between_a_kits_file_and_the_page_and_back():
    kit = {"impression": {"year": "900"}, "house_rules": json.loads(RULES), "wearers": []}
    shown = for_the_page(kit)
    assert shown["house_rules"] is None and shown["impression"]["rules"].startswith("1~gMarram Farm")
    assert for_a_file(shown) == kit
    assert for_a_file({"impression": {}}) == for_the_page({"impression": {}}) == {"impression": {}}


def test_rules_that_do_not_read_stay_where_they_are():
    for kit in ({"impression": {"rules": "9~zzz"}, "house_rules": None},
                {"impression": {}, "house_rules": {"format": "another"}}):
        assert for_a_file(kit) == kit and for_the_page(kit) == kit
