"""The kit on the page as plain values, and what the workbench does for it. Invented numbers throughout."""

import copy
import json

import pytest

import kitbefore
import kitcloths
import kittexts
import kitvalues
from drafting.kit import model
from drafting.period.house_rules import FORMAT, VERSION
from drafting.requests import workbench

GARMENTS = ["apron-dress", "tunic", "hood"]
LENGTHS = {"apron-dress": ["length", "hem_girth"], "tunic": ["length"], "hood": []}
PERSON = {"unit": "in", "name": "Ebba", "sex": "woman", "age_months": "96", "measured": "2026-11-01",
          "born": "", "measurements": {"bust_girth": "25"}, "start": {}}
FIRST_RECORD = {
    "version": 1,
    "view": {"open": ["more-measures"], "pace": {"stitches": "40"},
             "done": {"apron-dress": ["s1", "s2"], "hood": ["h1"]}},
    "draft": {
        "garment": "apron-dress", "unit": "cm", "name": "Hild", "paper": "A3", "sex": "woman",
        "age_months": "", "measured": "2026-11-25", "born": "1990-01-02",
        "start": {"waist_girth": "78"}, "measurements": {"bust_girth": "92", "waist_girth": "78"},
        "cloth": {"cloth_width": "150", "cloth_nap": "yes"},
        "wardrobe": {"apron-dress": {"length": "115"}, "tunic": {"length": "100", "neck": "slit"}},
    },
    "wearers": [PERSON],
}
"""As the page wrote it while it kept one draft."""


def file_of(kit):
    result = workbench.run({"do": "write-kit", "kit": kittexts.to_file(kit)})
    assert result["ok"], result
    return result["text"]


def test_the_record_of_one_draft_becomes_a_kit_and_loses_nothing():
    kit, view = kitbefore.from_version_1(FIRST_RECORD, GARMENTS, LENGTHS)
    assert view == {"open": ["more-measures"], "pace": {"stitches": "40"}}
    draft = kitvalues.draft_of(kit, kit["at"], LENGTHS).to_plain()
    old = FIRST_RECORD["draft"]
    for key in old:
        if key not in ("wardrobe", "cloth", "measurements"):
            assert draft[key] == old[key], key
    under_the_arms = {**old["measurements"]}
    under_the_arms["upper_chest_girth"] = under_the_arms.pop("bust_girth")
    assert draft["measurements"] == under_the_arms
    assert draft["cloths"] == {"main": {"width": "150", "nap": "yes"}, "lining": {}}
    hild, ebba = kit["wearers"]
    assert {key: ebba[key] for key in PERSON} == {**PERSON, "measurements": {"upper_chest_girth": "25"}}
    owned = {g["garment"]: g for g in kitvalues.garments_of(kit, hild["id"])}
    assert {kind: owned[kind]["options"] for kind in ("apron-dress", "tunic")} == old["wardrobe"]
    assert owned["apron-dress"]["done"] == ["s1", "s2"] and owned["hood"]["done"] == ["h1"]
    (hers,) = kitvalues.garments_of(kit, ebba["id"])
    assert hers["options"] == {"length": "115 cm"}, "her tape reads inches"


def test_another_unit_for_a_wearer_keeps_the_meaning_of_all_their_garments():
    kit, _ = kitbefore.from_version_1(FIRST_RECORD, GARMENTS, LENGTHS)
    draft = kitvalues.draft_of(kit, kit["at"], LENGTHS)
    draft.switch_unit("in", LENGTHS)
    kitvalues.put_draft(kit, draft, LENGTHS)
    tunic = next(g for g in kit["garments"] if g["garment"] == "tunic")
    assert tunic["options"]["length"] == "100 cm"
    assert kit["cloths"][0]["width"] == "150", "the cloth's own unit is the kit's"


WRONG = (7, True, None, [], {}, "x", [7], {"x": 7}, [[]], {"id": "w1"})


def places(value, way=()):
    """Every place in plain values, as the way to it."""
    yield way
    within = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, inner in within:
        yield from places(inner, (*way, key))


def changed(values, way, to):
    if not way:
        return to
    copied = copy.copy(values)
    copied[way[0]] = changed(values[way[0]], way[1:], to)
    return copied


def use(kit):
    """All that a start does with a kit, and the first change and the first saving after it."""
    assert not kitvalues.is_empty(kit)
    assert [kitvalues.called(kit, wearer) for wearer in kitvalues.by_name(kit)]
    assert all(kitcloths.called(kit, cloth) for cloth in kit["cloths"])
    draft = kitvalues.draft_of(kit, kit["at"], LENGTHS)
    draft.put("options", "length", "120")
    draft.switch_unit("in", LENGTHS)
    kitvalues.put_draft(kit, draft, LENGTHS)
    return json.dumps(kittexts.to_file(kit)), kittexts.to_keep(kit)


def test_a_kept_kit_with_anything_of_a_wrong_kind_is_refused_or_can_be_used():
    kit, _ = kitbefore.from_version_1(FIRST_RECORD, GARMENTS, LENGTHS)
    kept = json.loads(kittexts.to_keep(kit))
    read = refused = 0
    for way in places(kept):
        for wrong in WRONG:
            text = json.dumps(changed(kept, way, wrong))
            try:
                taken = kittexts.from_kept(text, GARMENTS, LENGTHS)
            except ValueError:
                refused += 1
                continue
            read += 1
            use(taken)
    assert read > 100 and refused > 300


def test_a_kit_comes_back_from_what_is_kept_and_from_its_file():
    kit, _ = kitbefore.from_version_1(FIRST_RECORD, GARMENTS, LENGTHS)
    assert kittexts.from_kept(kittexts.to_keep(kit), GARMENTS, LENGTHS) == kit
    read = workbench.run({"do": "read-kit", "text": file_of(kit)})
    again = kittexts.from_file(read["kit"], GARMENTS[0], LENGTHS)
    for which in ("wearers", "cloths", "garments"):
        assert again[which] == kit[which]


def kept_before():
    """A kit as version 1 of the page kept it: one cloth a garment, its lining's fields among that's."""
    kit, _ = kitbefore.from_version_1(FIRST_RECORD, GARMENTS, LENGTHS)
    for garment in kit["garments"]:
        garment["cloth"] = garment.pop("cloths").get("main")
    kit["cloths"][0].update({"lining_width": "90", "lining_piecing": "half"})
    return {**kit, "format": "ellwand-kit", "version": 1}


def test_a_kit_that_was_kept_before_linings_had_cloths_loses_nothing():
    kit = kittexts.from_kept(json.dumps(kept_before()), GARMENTS, LENGTHS)
    draft = kitvalues.draft_of(kit, kit["at"], LENGTHS)
    assert draft.cloths == {
        "main": {"width": "150", "nap": "yes"},
        "lining": {"width": "90", "piecing": "half", "name": "lining"},
    }
    assert kittexts.from_kept(kittexts.to_keep(kit), GARMENTS, LENGTHS) == kit


def test_the_page_keeps_kits_as_the_file_has_them():
    assert (kittexts.FORMAT, kittexts.VERSION) == (model.FORMAT, model.VERSION)


def edit(kit, **texts):
    draft = kitvalues.draft_of(kit, kit["at"], LENGTHS)
    for name, text in texts.items():
        draft.put("cloth", name, text)
    kitvalues.put_draft(kit, draft, LENGTHS)
    return kitvalues.entry(kit["garments"], kit["at"])["cloths"]


def test_what_is_typed_of_main_cloth_and_lining_goes_into_a_cloth_each():
    kit = kitvalues.fresh("hood")
    assert edit(kit, cloth_width="150", cloth_lining_width="90", cloth_lining_name="linen") == {
        "main": "c1", "lining": "c2"}
    assert kit["cloths"] == [{"id": "c1", "width": "150"}, {"id": "c2", "width": "90", "name": "linen"}]


def test_a_cloth_that_is_changed_is_changed_for_all_that_is_cut_from_it():
    kit = kitvalues.fresh("hood")
    edit(kit, cloth_width="150")
    kitcloths.cut_from(kit, "g1", "lining", "c1")
    other = kitvalues.add_garment(kit, "w1", "tunic", {}, {"main": "c1"})
    for field, text in (("cloth_width", "140"), ("cloth_lining_width", "90"), ("cloth_width", "")):
        edit(kit, **{field: text})
        kit["at"] = other
        draft = kitvalues.draft_of(kit, other, LENGTHS)
        assert draft.get("cloth", "cloth_width") == text
        kit["at"] = "g1"
    assert edit(kit, cloth_width="120") == {"main": "c1", "lining": "c1"}, "emptied, it is the same still"


def test_the_first_cloth_is_everyones_and_a_second_is_ones_own():
    kit = kitvalues.fresh("hood")
    for _ in range(2):
        kitvalues.add_garment(kit, "w1", "tunic")
    edit(kit, cloth_width="150")
    assert [g["cloths"] for g in kit["garments"]] == [{"main": "c1"}] * 3
    kitcloths.another(kit, "g1", "main")
    edit(kit, cloth_name="linen")
    assert [g["cloths"]["main"] for g in kit["garments"]] == ["c2", "c1", "c1"]
    assert kitcloths.called(kit, kit["cloths"][0]) == "cloth, 150 cm wide"


def test_a_cloth_more_leaves_the_one_before_in_the_kit():
    kit = kitvalues.fresh("hood")
    edit(kit, cloth_name="brown wool")
    assert kitcloths.another(kit, "g1", "main") == "c2"
    assert edit(kit, cloth_name="linen") == {"main": "c2"}
    assert [kitcloths.called(kit, cloth) for cloth in kit["cloths"]] == ["brown wool", "linen"]
    kitcloths.another(kit, "g1", "main")
    kitcloths.cut_from(kit, "g1", "main", "c1")
    assert len(kit["cloths"]) == 2, "one of which nothing was said goes again"


def test_a_cloth_taken_out_comes_back_with_what_was_cut_from_it():
    kit = kitvalues.fresh("hood")
    edit(kit, cloth_name="brown wool", cloth_lining_name="linen")
    before = json.dumps(kit)
    gone = kitcloths.take_out(kit, "c1")
    assert kit["garments"][0]["cloths"] == {"lining": "c2"}
    kitcloths.put_back(kit, gone)
    assert json.loads(json.dumps(kit, sort_keys=True)) == json.loads(before)


def test_a_lining_counts_as_cut_only_where_there_is_one():
    kit = kitvalues.fresh("hood")
    edit(kit, cloth_lining_name="linen")
    assert kitcloths.uses(kit, "c1") == []
    kit["garments"][0]["options"]["lining"] = "full"
    assert [(g["id"], part) for g, part in kitcloths.uses(kit, "c1")] == [("g1", "lining")]


def test_a_draft_from_elsewhere_takes_the_place_of_nobody():
    kit = kitvalues.fresh("hood")
    theirs = kitvalues.draft_of(kitbefore.from_version_1(FIRST_RECORD, GARMENTS, LENGTHS)[0], "g1", LENGTHS)
    kit["at"] = kitvalues.add_draft(kit, theirs)
    assert [w["name"] for w in kit["wearers"]] == ["Hild"] and len(kit["garments"]) == 1
    assert kitvalues.draft_of(kit, kit["at"], LENGTHS).cloths == theirs.cloths
    kitvalues.add_draft(kit, theirs)
    assert len(kit["wearers"]) == 2


def test_a_wearer_without_a_name_gets_a_number_in_the_file():
    assert '"name": "Wearer 1"' in file_of(kitvalues.fresh("tunic"))


@pytest.mark.parametrize("touched", [False, True])
def test_looking_through_the_kinds_leaves_only_what_was_decided(touched):
    kit = kitvalues.fresh("apron-dress")
    if touched:
        kit["garments"][0]["options"] = {"length": "110"}
        kit["looking"] = ""
    for kind in ("tunic", "hood", "tunic", "hood"):
        kit["at"] = kitvalues.look_at(kit, kind)
    kinds = [g["garment"] for g in kit["garments"]]
    assert kinds == (["apron-dress", "hood"] if touched else ["hood"])


def test_what_is_taken_out_comes_back_beside_what_was_added_since():
    kit, _ = kitbefore.from_version_1(FIRST_RECORD, GARMENTS, LENGTHS)
    before = [(w["name"], len(kitvalues.garments_of(kit, w["id"]))) for w in kit["wearers"]]
    gone = kitvalues.take_out(kit, [g["id"] for g in kitvalues.garments_of(kit, "w2")], "w2")
    kitvalues.add_garment(kit, kitvalues.add_wearer(kit, PERSON), "tunic")
    kitvalues.put_back(kit, gone)
    after = [(w["name"], len(kitvalues.garments_of(kit, w["id"]))) for w in kit["wearers"]]
    assert sorted(after) == sorted([*before, ("Ebba", 1)])
    assert len({w["id"] for w in kit["wearers"]}) == 3


@pytest.mark.parametrize("with_the_wearer", [True, False])
def test_what_was_all_there_was_comes_back_and_what_stood_in_for_it_goes(with_the_wearer):
    kit = kitvalues.fresh("apron-dress")
    kit["wearers"][0].update(name="Ebba", measurements={"bust_girth": "92"})
    kit["garments"][0]["options"] = {"length": "110"}
    before = copy.deepcopy((kit["wearers"], kit["garments"]))
    gone = kitvalues.take_out(kit, ["g1"], "w1" if with_the_wearer else "")
    kitvalues.stand_somewhere(kit, "apron-dress", LENGTHS)
    assert kit["garments"] != before[1]
    kitvalues.put_back(kit, gone)
    assert (kit["wearers"], kit["garments"]) == before


def test_merging_keeps_both_and_says_what_differs():
    mine = workbench.run({"do": "demo-kit"})["kit"]
    theirs = workbench.run({"do": "demo-kit"})["kit"]
    theirs["wearers"][0]["measurements"]["bust_girth"] = "97 cm"
    merged = workbench.run({"do": "merge-kits", "mine": mine, "theirs": theirs})
    assert len(merged["kit"]["wearers"]) == len(mine["wearers"]) + 1
    assert "Hild" in merged["conflicts"][0]


def test_two_garments_alike_stay_two_when_kits_are_merged():
    mine = workbench.run({"do": "demo-kit"})["kit"]
    theirs = workbench.run({"do": "demo-kit"})["kit"]
    theirs["garments"].append({**theirs["garments"][0], "id": "g9"})
    merged = workbench.run({"do": "merge-kits", "mine": mine, "theirs": theirs})
    assert len(merged["kit"]["garments"]) == len(theirs["garments"])


def page_kit(values):
    return kittexts.from_file(values, GARMENTS[0], LENGTHS)


def test_undoing_a_merge_leaves_what_was_done_since():
    mine, theirs = (workbench.run({"do": "demo-kit"})["kit"] for _ in range(2))
    for one in theirs["wearers"]:
        one["name"] += " of the other farm"
    theirs["cloths"][0]["name"] = "grey wool"
    before = page_kit(mine)
    merged = page_kit(workbench.run({"do": "merge-kits", "mine": mine, "theirs": theirs})["kit"])
    kit = json.loads(json.dumps(merged))
    assert len(kit["wearers"]) == 2 * len(before["wearers"])
    kit["garments"][0]["progress"] = "checks pass"
    kitvalues.unmerge(kit, before, merged)
    kit["garments"][0]["progress"] = ""
    assert kit == {**before, "at": kit["at"]}, "nothing was done since: all is as before"

    kit = json.loads(json.dumps(merged))
    kit["wearers"][0]["measurements"]["bust_girth"] = "93 cm"
    theirs_now = next(g for g in kit["garments"] if not kitvalues.entry(before["garments"], g["id"]))
    theirs_now["options"]["length"] = "99"
    kitvalues.add_garment(kit, "w1", "hood")
    kitvalues.unmerge(kit, before, merged)
    assert kit["wearers"][0]["measurements"]["bust_girth"] == "93 cm"
    assert theirs_now in kit["garments"] and kitvalues.entry(kit["wearers"], theirs_now["wearer"])
    assert len(kit["garments"]) == len(before["garments"]) + 2
    assert len(kit["wearers"]) == len(before["wearers"]) + 1


@pytest.mark.parametrize("request_", [
    {"do": "read-kit", "text": "{"}, {"do": "read-kit"}, {"do": "write-kit"},
    {"do": "write-kit", "kit": {"format": "ellwand-kit", "version": 9}}, {"do": "merge-kits", "mine": []},
])
def test_what_is_no_kit_gets_a_sentence(request_):
    answer = workbench.run(request_)
    assert not answer["ok"]
    assert "Ellwand itself" not in answer["problems"][0]["message"]


def test_long_house_rules_go_with_a_kit_into_its_file_its_link_and_another_kit():
    rules = {"format": FORMAT, "version": VERSION, "group": "Marram Farm",
             "message": "Ask at the gate before you buy. " * 8}
    made = workbench.run({"do": "read-kit", "text": json.dumps({
        "format": "ellwand-kit", "version": 1, "title": "", "unit": "cm", "house_rules": rules,
    })})
    assert made["ok"], made
    page = made["kit"]
    assert len(page["impression"]["rules"]) > 200
    shared = workbench.run({"do": "share-kit", "kit": json.dumps(page)})
    assert shared["ok"], shared
    opened = workbench.run({"do": "open-link", "fragments": [shared["fragment"]]})
    assert "Ask at the gate" in opened["kit"]
    merged = workbench.run({"do": "merge-kits", "mine": page, "theirs": page})
    assert merged["ok"] and merged["kit"]["impression"] == page["impression"]
    written = json.loads(workbench.run({"do": "write-kit", "kit": page})["text"])
    assert written["house_rules"]["group"] == "Marram Farm"
