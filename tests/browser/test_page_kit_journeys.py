"""What a leader does with a kit, from the bolts to the hand-over. Two people share the page's loads."""

import io
import json
import random

import numpy
import pytest
from leader import Leader
from PIL import Image
from visitor import MEASURED, Gate

from drafting.body.wearer import Wearer
from drafting.demo import demo_kit
from drafting.kit import read_kit, together, unpack, write_kit
from tests.scanning import scan
from tests.unit.test_kit_on_the_page import kept_before

pytestmark = pytest.mark.browser

LINK = "#tunic&v=1&unit=cm&bust_girth=104cm&end"
PHONE_CAN = """
    window.shared = [];
    navigator.canShare = () => true;
    navigator.share = async data => { shared.push(data); };
    window.promised = 0;
    if (navigator.storage) navigator.storage.persist = async () => { promised += 1; return true; };
"""


@pytest.fixture(scope="module")
def people(chromium, module_site):
    """A leader, and a newcomer who has opened the page before."""
    found = []
    for _ in range(2):
        someone = Leader(chromium, module_site, device_scale_factor=2)
        someone.context.add_init_script(PHONE_CAN)
        found.append(someone.open())
    yield found
    for someone in found:
        assert someone.errors == []
        someone.close()


@pytest.fixture
def leader(people):
    """With a kit of their own on the page, of which only Hild's apron dress is there."""
    someone = people[0]
    someone.new_kit()
    someone.type(name="Hild", **MEASURED)
    yield someone
    assert not someone.scrolls_sideways()


@pytest.fixture
def newcomer(people):
    return people[1]


def kit_sum(someone, words):
    someone.page.wait_for_function(
        "words => document.getElementById('kit-sum').textContent.startsWith(words)", arg=words)


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
    assert kit["version"] == 2
    assert [g["cloths"]["main"] for g in kit["garments"]] == ["c1", "c1", "c1", "c2", "c1"]
    assert kit["garments"][4]["cloths"] == {"main": "c1", "lining": "c2"}
    page.click("[data-do='shop:make']")
    page.wait_for_function("document.getElementById('shop-progress').value > 0.2", timeout=60_000)
    page.click("[data-do='shop:stop']")
    page.wait_for_selector("#shopped[data-current=yes]", timeout=60_000)
    rows = page.inner_text("#shopping-list")
    assert rows.count("brown wool, 150 cm wide") == rows.count("linen, 140 cm wide") == 1
    assert rows.index("For Osgar") < rows.rindex("brown wool") and "Price" in rows


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
    leader.do("sew")
    page.wait_for_selector("#steps .step")
    page.locator("[data-step]").first.check()
    assert leader.text("steps-done").startswith("1 of ")
    assert "1 of " in page.inner_text(".kit-go")
    leader.reload()
    assert "1 of " in page.inner_text(".kit-go")
    leader.do("sew")
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
    assert "Ebba" in first.inner_text("#kits-kept") and "from another tab" in first.inner_text("#kits-kept")
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
    assert read_kit(json.dumps(leader.kit_file())) == demo_kit()
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
    assert "Both kits have a Hild, measured differently" in leader.text("notices")
    both = leader.kit_file()
    girths = sorted(w["measurements"]["bust_girth"] for w in both["wearers"])
    assert girths == ["104", "92", "99"]
    assert {g["garment"] for g in both["garments"]} == {"apron-dress", "tunic", "cap"}
    assert ["made up"] in [g["done"] for g in both["garments"]]
    assert "grey wool" in [c.get("name") for c in both["cloths"]]
    leader.undo()
    kit_sum(leader, "1 wearer, 1")
    assert leader.kit_file() == before


# --- Handed over --------------------------------------------------------------------------------------


def kit_link(someone, names):
    someone.unfold("kit-hand")
    someone.page.set_checked("#kit-names", names)
    someone.page.evaluate("document.getElementById('kit-link').value = ''")
    someone.page.click("[data-do='kit:link']")
    someone.until("document.getElementById('kit-link').value")
    return someone.typed("kit-link")


def test_a_kit_is_handed_over_and_merged_into_the_newcomers_own(leader, newcomer):
    leader.type(cloth_name="brown wool")
    leader.add("w1", "hood")
    link = kit_link(leader, names=False)
    assert "Hild" not in write_kit(unpack(link.partition("#")[2]))
    link = kit_link(leader, names=True)
    newcomer.new_kit()
    newcomer.type(name="Osgar", **MEASURED)
    before = newcomer.kit_file()
    newcomer.page.goto("about:blank")
    newcomer.open("#" + link.partition("#")[2])
    newcomer.noticed("A kit of 1 wearer, 2 garments")
    assert newcomer.kit_file() == before
    newcomer.page.click("[data-do='handed:merge']")
    kit_sum(newcomer, "2 wearers, 3 garments")
    both = newcomer.kit_file()
    assert [w["name"] for w in both["wearers"]] == ["Osgar", "Hild"]
    assert [c.get("name") for c in both["cloths"]] == ["brown wool"]
    newcomer.undo()
    assert newcomer.kit_file() == before
    assert newcomer.text("notices") == "" and "#" not in newcomer.page.url


def test_a_kits_link_and_file_are_shared_where_the_browser_can(leader):
    link = kit_link(leader, names=True)
    leader.page.click("#share-kit")
    leader.until("shared.length === 1")
    assert leader.page.evaluate("shared.pop().url") == link
    written = leader.kit_file()
    leader.page.click("[data-do='share:kit-said']")
    leader.until("shared.length === 1")
    assert json.loads(leader.page.evaluate("shared.pop().files[0].text()")) == written


def test_the_kits_codes_on_the_screen_read_as_its_link(leader):
    """source: OpenCV's QR code detectors, on the screenshot."""
    page = leader.page
    rng = random.Random(8)
    people = "".join(rng.choices("abcdefghijklmnopqrstuvwxyzþðæł", k=900))
    leader.page.fill("#kit-title-text", people[:100])
    for name in (people[100 + 40 * i:140 + 40 * i] for i in range(8)):
        page.click('#kit [data-do="wearer:another"]')
        leader.settle()
        leader.type(name=name, bust_girth=str(rng.randrange(800, 1200) / 10))
    link = kit_link(leader, names=True)
    page.click("#kit-qr")
    page.wait_for_selector("#qr-code svg")
    found = []
    while True:
        page.evaluate("document.getElementById('qr-code').scrollIntoView({block: 'start'})")
        page.wait_for_timeout(300)
        screen = Image.open(io.BytesIO(page.screenshot())).convert("L")
        found.append(scan(numpy.asarray(screen)).partition("#")[2])
        if not page.is_visible("#qr-next") or leader.text("qr-label").endswith(f" of {len(found)}"):
            break
        page.click("#qr-next")
    assert len(found) > 1
    rng.shuffle(found)
    assert together(found) == unpack(link.partition("#")[2])
    before = page.inner_html("#qr-code")
    page.fill("#kit-title-text", "Market day")
    page.wait_for_function("before => document.getElementById('qr-code').innerHTML !== before", arg=before)
    page.click("[data-do='qr:close']")


def test_a_kit_too_long_for_a_link_is_to_go_as_a_file(leader):
    rng = random.Random(3)
    kit = demo_kit()
    for _ in range(110):
        kit = kit.with_wearer(Wearer(name="".join(rng.choices("abcdefghijklmnopqrstuvwxyz", k=80))))
    leader.open_kit(write_kit(kit))
    kit_sum(leader, "113 wearers")
    leader.unfold("kit-hand")
    leader.page.check("#kit-names")
    leader.page.click("[data-do='kit:link']")
    leader.noticed("save it as a file", "took-kit-link")
    assert not leader.text("kit-link-shown")


@pytest.mark.parametrize("answer", ["theirs", "handed:merge", "file"])
def test_nothing_that_comes_while_the_demo_is_open_goes_into_it(leader, newcomer, answer):
    own = leader.kit_file()
    leader.do("kit:demo")
    kit_sum(leader, "3 wearers")
    farm = leader.kit_file()
    if answer == "theirs":
        leader.page.evaluate("hash => { location.hash = hash }", LINK)
        leader.noticed("Marram Farm's kit stays as it is")
    elif answer == "handed:merge":
        newcomer.new_kit()
        newcomer.type(name="Osgar", **MEASURED)
        leader.page.evaluate(
            "hash => { location.hash = hash }", kit_link(newcomer, names=True).partition("#")[2])
        leader.noticed("A kit of 1 wearer")
    if answer == "file":
        wearer = {"format": "ellwand-wearer", "version": 1, "name": "Osgar", "unit": "cm",
                  "measurements": {"bust_girth": "104"}}
        leader.page.set_input_files("#wearer-file", {
            "name": "osgar.json", "mimeType": "application/json", "buffer": json.dumps(wearer).encode()})
    else:
        leader.page.click(f"[data-do='{answer}']")
    kit_sum(leader, "2 wearers, 2 garments")
    both = leader.kit_file()
    assert own["wearers"][0] in both["wearers"] and own["garments"][0] in both["garments"]
    assert "invented" not in leader.text("notices")
    leader.do("kit:demo")
    kit_sum(leader, "3 wearers")
    assert leader.kit_file() == farm


def test_a_newcomers_first_page_is_the_link_of_a_kit_and_waits_for_the_tools(chromium, module_site, leader):
    """In a fresh profile, with the drafting tools slow to come."""
    link = kit_link(leader, names=True)
    someone = Leader(chromium, module_site)
    gate = Gate(someone.page, "**/pyodide/*.wasm")
    someone.open("#" + link.partition("#")[2], settled=False)
    someone.noticed("It is read as soon as the drafting tools run")
    someone.page.select_option('[data-add="w1"]', "cap")
    gate.open()
    someone.noticed("A kit of 1 wearer")
    someone.settle()
    assert someone.garments() == ["Apron dress", "Cap"]
    someone.page.click("[data-do='handed:own']")
    kit_sum(someone, "1 wearer, 1 garment")
    assert someone.typed("name") == "Hild"
    someone.reload()
    assert someone.typed("name") == "Hild" and someone.text("notices") == ""
    assert someone.errors == []
    someone.close()
