"""What a try-on leaves for the next garment of its kind, and what the kit tells of each garment's life.

Invented days, people and answers throughout.
"""

import json
from dataclasses import replace

import pytest

import kitvalues
from drafting.both.link import read_link, write_link
from drafting.both.lives import fit_left, has_it_now, story
from drafting.desk.drafts import draft
from drafting.kit import Kit, KitGarment, KitWearer, merge, pack, read_kit, unpack, write_kit
from drafting.kit.marram_farm import demo_kit
from drafting.kit.model import LifeEvent
from drafting.kit.orders import order_of
from drafting.kit.readkit import from_values
from drafting.kit.stories import stories
from drafting.requests import workbench
from drafting.words.problems import BadInput

TRIED_ON = LifeEvent("fitted", "2026-11-20", "", {"chest": "tight 3 cm"}, {"chest": "+3 cm"})
SEWN = LifeEvent("sewn", "2026-12-06")
HANDED_ON = LifeEvent("handed on", "2027-03-01", "w1")


def with_life(kit: Kit, garment_id: str, *life: LifeEvent, **changed: object) -> Kit:
    return replace(kit, garments=tuple(
        replace(one, life=life, **changed) if one.id == garment_id else one for one in kit.garments))


def test_a_life_comes_back_from_the_file_and_the_link():
    kit = with_life(demo_kit(), "g3", TRIED_ON, SEWN, HANDED_ON, taken_up={"chest": "+1 cm"})
    assert read_kit(write_kit(kit)) == kit
    assert unpack(pack(kit, names=True)) == kit


FOURTH_VERSION = {
    "format": "ellwand-kit", "version": 4, "title": "Marram Farm", "unit": "cm", "impression": {},
    "wearers": [{"id": "w1", "name": "Hild", "unit": "cm", "measurements": {"stature": "166"}}],
    "cloths": [], "garments": [
        {"id": "g1", "wearer": "w1", "garment": "cloak", "cloths": {}, "options": {"fold_over": "0"},
         "done": ["a"]}],
    "house_rules": None,
}
"""As the fourth version wrote it: nothing was told of a garment but what was done of it."""


def test_a_kit_of_the_fourth_version_has_garments_of_which_nothing_is_told():
    kit = read_kit(json.dumps(FOURTH_VERSION))
    assert kit.garments == (KitGarment("g1", "w1", "cloak", {"fold_over": "0"}, {}, ("a",)),)
    assert read_kit(write_kit(kit)) == kit


@pytest.mark.parametrize("event", (
    {"what": "eaten"}, {"what": "sewn", "date": "yesterday"}, {"what": "sewn", "wearer": "w9"},
    {"what": "sewn", "size": "3"}, {"what": "fitted", "felt": {"chest": 3}}, 3,
))
def test_what_never_becomes_of_a_garment_is_a_sentence_and_costs_no_garment(event):
    values = json.loads(write_kit(demo_kit()))
    values["garments"][0]["life"] = [{"what": "cut", "date": ""}, event]
    with pytest.raises(BadInput):
        from_values(values)
    aside = []
    kit = from_values(values, aside)
    assert kit.garments[0].life == (LifeEvent("cut"),) and len(aside) == 1


def test_two_kits_made_one_tell_all_that_either_tells_in_the_order_of_its_days():
    mine, theirs = (with_life(demo_kit(), "g3", *life) for life in ((TRIED_ON, HANDED_ON), (SEWN, TRIED_ON)))
    merged = merge(mine, theirs)
    assert merged.conflicts == () and len(merged.kit.garments) == len(mine.garments)
    assert merged.kit.garments[2].life == (TRIED_ON, SEWN, HANDED_ON)


def test_a_merged_life_names_its_people_by_their_ids_in_the_kit_of_both():
    theirs = with_life(demo_kit(), "g3", HANDED_ON)
    hild = replace(theirs.wearers[0].wearer, name="Hild of the mill")
    theirs = replace(theirs, wearers=(KitWearer("w1", hild), *theirs.wearers[1:]))
    kit = merge(demo_kit(), theirs).kit
    (told,) = [event.wearer for one in kit.garments for event in one.life]
    assert kit.wearer(told).name == "Hild of the mill"


def test_a_garment_of_the_kit_is_drafted_with_what_it_took_up_and_says_so():
    """The lengths of both fits add up. source: plane geometry"""
    kit = demo_kit()
    plain, taken = (draft(order_of(kit, replace(kit.garments[2], taken_up=fits)))
                    for fits in ({}, {"chest": "+3 cm"}))
    before, after = (one.pattern.finished["bust_girth"] for one in (plain, taken))
    assert after - before == pytest.approx(30.0, abs=0.5)
    assert any("earlier try-on" in note for note in taken.pattern.notes)
    request = {"do": "draft", "garment": "tunic", "measurements": dict(kit.wearers[1].wearer.measurements),
               "taken_up": {"chest": "+3 cm"}}
    told, as_asked = workbench.run(request), workbench.run({**request, "taken_up": {}})
    assert told["options"]["chest_ease"] == as_asked["options"]["chest_ease"]
    bad = workbench.run({**request, "taken_up": {"face": "+3 cm"}})
    assert [p["field"] for p in bad["problems"]] == ["taken_up"]


def test_a_link_to_a_draft_carries_what_it_took_up():
    drawn = {"garment": "tunic", "measurements": {"bust_girth": "92cm"}, "options": {},
             "taken_up": {"sleeve-length": "+2 cm"}}
    link = write_link(drawn)
    assert "&v=4&" in link and read_link(link, {"bust_girth"}, {"tunic"}) == (drawn, [])
    assert "&v=3&" in write_link({**drawn, "taken_up": {}})


def garments(*life, kind="tunic"):
    return [{"garment": kind, "wearer": "w3", "life": [event.as_values() for event in life]}]


def test_the_last_try_on_of_the_kind_on_that_wearer_is_what_is_left():
    later = LifeEvent("fitted", "2027-01-10", "", {}, {"chest": "+1 cm"})
    assert fit_left(garments(TRIED_ON, later), "w3", "tunic") == ("2027-01-10", {"chest": "+1 cm"})
    assert fit_left(garments(later, TRIED_ON), "w3", "tunic")[0] == "2027-01-10"
    assert fit_left(garments(TRIED_ON), "w3", "hood") == ("", {})
    assert fit_left(garments(TRIED_ON), "w1", "tunic") == ("", {})
    of_another = replace(TRIED_ON, wearer="w1")
    assert fit_left(garments(of_another), "w1", "tunic")[0] == "2026-11-20"
    assert fit_left(garments(TRIED_ON), "w3", "tunic", "2026-12-01") == ("", {}), "measured anew since"


def test_the_page_takes_a_fit_up_in_the_next_of_its_kind_and_in_nothing_else():
    kit = kitvalues.fresh("tunic")
    first = kit["garments"][0]
    first["life"].append(TRIED_ON.as_values())
    again = kitvalues.add_garment(kit, "w1", "tunic")
    other = kitvalues.add_garment(kit, "w1", "hood")
    for_another = kitvalues.copy_garment(
        kit, first["id"], kitvalues.add_wearer(kit, kitvalues.nobody("cm")), {})
    taken = {one["id"]: one["taken_up"] for one in kit["garments"]}
    assert taken == {first["id"]: {}, again: {"chest": "+3 cm"}, other: {}, for_another: {}}
    assert kitvalues.draft_of(kit, again, {}).taken_up == {"chest": "+3 cm"}


def test_the_story_of_a_garment_is_told_in_sentences():
    let_out = LifeEvent("altered", "2027-01-05", "", {}, {"chest": "+2 cm"})
    kit = with_life(demo_kit(), "g5", TRIED_ON, SEWN, let_out, HANDED_ON)
    (line,) = stories(kit)
    assert line == (
        "Ebba's apron dress: Measured: 2026-10-03. Tried on, chest tight 3 cm, 2026-11-20. Sewn, 2026-12-06. "
        "Let out: chest +2 cm, 2027-01-05. Handed on to Hild, 2027-03-01.")
    assert has_it_now(kit.garments[4].as_values()) == "w1"
    assert story({"life": [{"what": "altered", "date": "", "fits": {"a": "+1", "b": "-1"}}]}, "", str) == [
        "Altered: a +1, b −1."]
