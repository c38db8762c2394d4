"""What a leader does with a kit: two bolts, nothing lost, files, and two kits made one."""

import json

import pytest
from leader import kit_sum

from drafting.kit import read_kit, write_kit
from drafting.kit.marram_farm import demo_kit
from tests.unit.test_kit_on_the_page import kept_before

pytestmark = pytest.mark.browser


def unfold(someone, what, entry):
    """A wearer or a cloth of the kit's section."""
    fold = someone.page.locator(f'[data-{what}="{entry}"]')
    if fold.get_attribute("open") is None:
        fold.locator("summary").click()
    someone.page.wait_for_selector(f'[data-{what}="{entry}"][open] .buttons')


def tick(someone, cloth, *garments):
    unfold(someone, "cloth", cloth)
    for garment in garments:
        someone.page.check(f'[data-cut="{cloth}"][value="{garment}"]')
        someone.settle()


# --- Two bolts ----------------------------------------------------------------------------------------


def test_a_leader_lays_four_peoples_garments_on_two_bolts(leader):
    page = leader.page
    assert not page.is_visible("#field-cut-from-main"), "there is no cloth to choose from yet"
    leader.type(cloth_name="brown wool", cloth_width="150", cloth_price="20")
    for name, girth in (("Osgar", "104"), ("Ebba", "88"), ("Wulf", "110")):
        page.click('#kit [data-do="wearer:another"]')
        leader.settle()
        leader.type(name=name, bust_girth=girth, waist_girth=str(int(girth) - 14), torso_length="40")
    leader.add("w4", "hood")
    leader.show("lining")
    leader.pick("lining", "full")
    page.select_option("#cut-from-main", "new")
    leader.settle()
    assert page.evaluate("document.activeElement.id") == "cloth_name"
    assert leader.typed("cloth_width") == ""
    leader.type(cloth_name="linen", cloth_width="140", cloth_price="10")
    tick(leader, "c1", "g5:main")
    tick(leader, "c2", "g4:main", "g5:lining")
    assert leader.typed("cloth_name") == "brown wool" and leader.typed("cloth_lining_name") == "linen"
    assert page.inner_text("[data-cloth=c2] summary").endswith("140 cm wide, 2 garments")
    kit = leader.kit_file()
    assert kit["version"] == 5
    assert [g["cloths"]["main"] for g in kit["garments"]] == ["c1", "c1", "c1", "c2", "c1"]
    assert kit["garments"][4]["cloths"] == {"main": "c1", "lining": "c2"}
    page.click("[data-do='shop:make']")
    page.wait_for_function("document.getElementById('shop-progress').value > 0.2")
    leader.that_will_do("shop")
    page.wait_for_selector("#shopped[data-current=yes]")
    rows = page.inner_text("#shopping-list")
    assert rows.count("brown wool, 150 cm wide") == rows.count("linen, 140 cm wide") == 1
    assert rows.index("For Osgar") < rows.rindex("brown wool") and "Price" in rows
    page.click("[data-do='bolt:show:0']")
    page.wait_for_selector("#bolt-0 .chalk-piece")
    titles = page.locator("#bolt-0 .chalk-piece summary").all_inner_texts()
    owners = {title.split(". ", 1)[1].split(":")[0] for title in titles}
    assert {"Osgar", "Ebba"} <= {owner.split("'s ")[0] for owner in owners}
    bought = page.inner_text("#bolt-0 dd >> nth=0")
    assert bought in rows
    page.locator("#bolt-0 .chalk-piece summary").first.click()
    assert page.locator("#bolt-0 .close-up >> nth=0").is_visible()
    assert not leader.scrolls_sideways()
    with page.expect_download() as told:
        page.click("[data-do='bolt:take:0:chalk-plan.pdf']")
    assert told.value.suggested_filename == "bolt-chalk-plan.pdf"


def test_a_cloth_is_taken_out_and_comes_back_and_its_change_is_everyones(leader):
    leader.type(cloth_name="brown wool", cloth_width="150")
    leader.add("w1", "hood")
    leader.type(cloth_width="147")
    leader.do("garment:go:g1")
    assert leader.typed("cloth_width") == "147"
    unfold(leader, "cloth", "c1")
    leader.do("cloth:out:c1")
    assert leader.typed("cloth_width") == "" and not leader.page.is_visible("#kit-cloths-part")
    leader.undo()
    assert leader.typed("cloth_width") == "147"
    leader.do("garment:more:g2")
    leader.page.select_option('[data-cloth-of="g2:main"]', "")
    leader.settle()
    assert "1 garment" in leader.page.inner_text("[data-cloth=c1] summary")
    leader.undo()
    assert "2 garments" in leader.page.inner_text("[data-cloth=c1] summary")
    leader.reload()
    assert leader.typed("cloth_name") == "brown wool"


# --- Nothing is lost ----------------------------------------------------------------------------------


def test_what_was_done_just_before_the_page_was_left_is_found_again(leader):
    leader.new_kit()
    leader.page.fill("#name", "Osgar")
    leader.close_page_and_come_back()
    assert leader.typed("name") == "Osgar", "though that kit was never saved yet"
    leader.saved()
    leader.page.fill("#kit-title-text", "Market day")
    leader.close_page_and_come_back()
    assert leader.typed("kit-title-text") == "Market day"
    leader.saved()
    leader.page.select_option('[data-add="w1"]', "hood")
    leader.close_page_and_come_back()
    assert leader.garments() == ["Apron dress", "Hood"]
    assert leader.typed("kit-title-text") == "Market day"


def test_a_step_marked_as_sewn_is_found_after_a_reload(leader):
    page = leader.page
    leader.go("sewing")
    page.wait_for_selector("#steps .step")
    page.locator("[data-step]").first.check()
    assert leader.text("steps-done").startswith("1 of ")
    assert "1 of " in page.inner_text(".kit-go")
    leader.reload()
    assert "1 of " in page.inner_text(".kit-go")
    leader.go("sewing")
    page.wait_for_selector("#steps .step")
    assert page.locator("[data-step]").first.is_checked()
    leader.do("garment:more:g1")
    leader.do("garment:sewn:g1")
    page.wait_for_function("document.getElementById('kit-sum').textContent.endsWith('1 sewn')")
    leader.undo()
    assert leader.text("kit-sum").endswith("0 sewn") and "1 of " in page.inner_text(".kit-go")


def test_what_is_deleted_comes_back_garment_wearer_and_kit(leader):
    page = leader.page
    leader.add("w1", "hood")
    page.click('#kit [data-do="wearer:another"]')
    leader.settle()
    leader.type(name="Osgar")
    before = leader.kit_file()
    unfold(leader, "wearer", "w1")
    leader.do("garment:more:g2")
    page.select_option('[data-give="g2"]', "w2")
    kit_sum(leader, "2 wearers, 4 garments")
    leader.undo()
    assert leader.kit_file() == before
    for button, left in (("garment:out:g2", "2 wearers, 2"), ("garment:leave:w1", "1 wearer, 1")):
        leader.do(button)
        kit_sum(leader, left)
        leader.undo()
        assert leader.kit_file() == before
    leader.saved()
    gone = leader.kit_id()
    leader.new_kit()
    leader.page.wait_for_selector(f'[data-do="kit:remove:{gone}"]')
    leader.do(f"kit:remove:{gone}")
    assert "gone from this device" in leader.text("notices") and leader.kept(f"get('{gone}')")
    with page.expect_download():
        page.click("#notice-sure [data-do='kit:save']")
    leader.do("kit:sure")
    page.wait_for_function("document.getElementById('done-text').textContent === 'The kit is deleted.'")
    assert leader.kept(f"get('{gone}')") is None
    leader.undo()
    page.wait_for_function("document.getElementById('kits-kept').innerText.includes('Hild')")
    page.locator("#kits-kept li", has_text="Hild").first.locator("button", has_text="Open").click()
    kit_sum(leader, "2 wearers, 3")
    assert leader.kit_file() == before


def test_the_browser_is_asked_once_to_keep_what_is_worth_keeping(leader):
    leader.reload()
    assert leader.page.evaluate("promised") == 0
    leader.add("w1", "hood")
    leader.add("w1", "tunic")
    leader.until("promised === 1")
    leader.unfold("kits-here")
    leader.noticed("promised not to clear it", "kit-safe")
    leader.kit_file()
    assert leader.page.evaluate("promised") == 1


def test_the_other_tabs_kit_is_taken_and_ones_own_comes_back(leader):
    leader.add("w1", "hood")
    leader.saved()
    first = leader.page
    second = leader.new_page()
    leader.open()
    leader.type(name="Ebba")
    leader.saved()
    leader.page = first
    first.wait_for_selector("#notice-tabs")
    first.click("[data-do='tabs:theirs']")
    first.wait_for_function("document.getElementById('name').value === 'Ebba'")
    leader.undo()
    first.wait_for_function("document.getElementById('name').value === 'Hild'")
    leader.do("kit:copy")
    leader.noticed("from another tab", "kits-kept")
    assert "Ebba" in first.inner_text("#kits-kept")
    second.close()


# --- Files, and two kits made one ---------------------------------------------------------------------


def test_a_kits_file_opens_beside_ones_own_and_a_bad_one_changes_nothing(leader):
    before = leader.kit_file()
    for text, words in (("{", "cut off"), (json.dumps({**before, "version": 99}), "later Ellwand")):
        leader.open_kit(text)
        leader.noticed(words, "kit-said")
        assert leader.kit_file() == before
    first = json.loads(write_kit(demo_kit()))
    first["version"] = 1
    for garment in first["garments"]:
        garment["cloth"] = garment.pop("cloths")["main"]
    leader.open_kit(json.dumps(first))
    kit_sum(leader, "3 wearers, 6 garments")
    then = write_kit(demo_kit()).replace('"bust_girth"', '"upper_chest_girth"')
    assert read_kit(json.dumps(leader.kit_file())) == read_kit(then)
    leader.noticed("Hild", "kits-kept")


def test_a_kit_that_an_earlier_version_kept_here_opens_as_it_was(leader):
    kept = kept_before()
    leader.page.evaluate(
        "text => ellwand.kits.save('old', 0, text, {title: 'Before', names: 'Hild', garments: 4})",
        json.dumps(kept))
    leader.page.evaluate("document.getElementById('kits-here').open = false")
    leader.unfold("kits-here")
    leader.noticed("Before", "kits-kept")
    leader.do("kit:use:old")
    kit_sum(leader, "2 wearers, 4 garments")
    assert leader.typed("cloth_width") == "150"
    cloths = leader.kit_file()["cloths"]
    assert {"id": "c2", "name": "lining", "width": "90", "piecing": "half"} in cloths


def test_two_kits_become_one_the_conflict_is_shown_and_nothing_is_dropped(leader):
    theirs = leader.kit_file()
    theirs["title"] = "Theirs"
    theirs["wearers"][0]["measurements"]["bust_girth"] = "99"
    theirs["wearers"].append({"id": "w7", "name": "Osgar", "measurements": {"bust_girth": "104"}})
    theirs["garments"] += [
        {"id": "g7", "wearer": "w7", "garment": "tunic", "cloths": {"main": "c7"}},
        {"id": "g8", "wearer": "w7", "garment": "cap", "done": ["made up"]},
    ]
    theirs["cloths"].append({"id": "c7", "name": "grey wool"})
    leader.saved()
    own = leader.kit_id()
    leader.open_kit(json.dumps(theirs))
    kit_sum(leader, "2 wearers, 3")
    leader.saved()
    other = leader.kit_id()
    leader.do(f"kit:use:{own}")
    kit_sum(leader, "1 wearer, 1")
    before = leader.kit_file()
    leader.do(f"kit:merge:{other}")
    assert "Save this kit as a file first" in leader.text("notices")
    kit_sum(leader, "1 wearer, 1")
    leader.do("kit:sure")
    kit_sum(leader, "3 wearers, 4 garments")
    assert "Both kits have a wearer called Hild, measured differently" in leader.text("notices")
    both = leader.kit_file()
    girths = sorted(w["measurements"]["bust_girth"] for w in both["wearers"])
    assert girths == ["104", "92", "99"]
    assert {g["garment"] for g in both["garments"]} == {"apron-dress", "tunic", "cap"}
    assert ["made up"] in [g["done"] for g in both["garments"]]
    assert "grey wool" in [c.get("name") for c in both["cloths"]]
    leader.undo()
    kit_sum(leader, "1 wearer, 1")
    assert leader.kit_file() == before


def test_a_person_measured_twice_is_one_again_as_either_kit_has_it_and_it_can_be_undone(leader):
    theirs = leader.kit_file()
    measured = {"bust_girth": "99", "waist_girth": "80"}
    theirs["wearers"][0].update(measured="2026-10-12", measurements=measured)
    leader.saved()
    own = leader.kit_id()
    leader.open_kit(json.dumps(theirs))
    leader.until("document.getElementById('bust_girth').value === '99'")
    leader.saved()
    other = leader.kit_id()
    leader.do(f"kit:use:{own}")
    leader.do(f"kit:merge:{other}")
    leader.do("kit:sure")
    kit_sum(leader, "2 wearers, 2 garments")
    said = leader.text("notices")
    assert "of 2026-10-12" in said and "bust girth 92 cm and 99 cm" in said
    before = leader.kit_file()
    leader.page.locator("#notice-remeasured-w2 button", has_text="Take theirs (2026-10-12)").click()
    kit_sum(leader, "1 wearer, 1 garment")
    leader.settle()
    assert leader.typed("bust_girth") == "99" and leader.kit_file()["wearers"][0]["measured"] == "2026-10-12"
    leader.undo()
    assert leader.kit_file() == before
