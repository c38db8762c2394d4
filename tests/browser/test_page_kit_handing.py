"""A kit handed over from end to end: links, codes, files, and what comes while the demo is open."""

import io
import json
import random

import numpy
import pytest
from leader import Leader, kit_link, kit_sum
from PIL import Image
from visitor import MEASURED, Gate

from drafting.body.wearer import Wearer
from drafting.kit import together, unpack, write_kit
from drafting.kit.marram_farm import demo_kit
from tests.scanning import scan

pytestmark = pytest.mark.browser

LINK = "#tunic&v=2&unit=cm&bust_girth=104cm&end"


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
    assert newcomer.text("notices") == "" and newcomer.page.url.endswith("/ellwand/#kit"), "no link's"


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
        leader.stands_still()
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
