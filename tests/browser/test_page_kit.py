"""The kit on the page: several wearers and garments, kept whatever happens, in tabs and files."""

import json
import random

import pytest
from leader import Leader, kit_sum
from test_page_trouble import NO_DATABASE
from visitor import MEASURED

from tests.unit.test_kit_on_the_page import FIRST_RECORD

pytestmark = pytest.mark.browser

KILLS = 200
IN_A_FRAME = """() => new Promise(done => {
    const frame = document.createElement("iframe");
    Object.assign(frame, {src: "alone.html?frame", onload: done});
    document.body.append(frame);
})"""
WHERE_AND_WHAT_IS_KEPT_THEN_SAVE_ON = """async () => {
    const where = await ellwand.kits.where();
    const kept = await ellwand.kits.get("kill");
    const found = kept ? JSON.parse(kept.text) : {revision: 0, filling: ""};
    saveOn();
    return [where, found.revision, found.filling.length];
}"""
STORE_ALONE = """<!doctype html><script>globalThis.ellwand = {};</script><script src="store.js"></script>
<script>async function saveOn() {
    const seen = await ellwand.kits.get("kill");
    let revision = seen?.revision ?? 0;
    for (;;) {
        const text = JSON.stringify({revision: revision + 1, filling: "x".repeat(60000)});
        const result = await ellwand.kits.save("kill", revision, text, {});
        if (!result.saved) return;
        revision = result.saved;
        await acknowledged(revision);
    }
}</script>"""


@pytest.fixture
def leader(profiles):
    someone = Leader(profiles, profiles.site)
    yield someone
    assert someone.errors == []
    assert not someone.scrolls_sideways()
    someone.close()


@pytest.fixture
def newcomer(profiles):
    """In a browser that may lack something, or has something from before."""
    someone = Leader(profiles, profiles.site)
    yield someone
    assert someone.errors == []
    assert not someone.scrolls_sideways()
    someone.close()


def two_garments(leader):
    leader.open()
    leader.type(name="Hild", **MEASURED)
    leader.add("w1", "hood")


def test_a_garment_more_is_copied_taken_out_and_brought_back(leader):
    two_garments(leader)
    assert leader.garments() == ["Apron dress", "Hood"]
    leader.do("garment:more:g2")
    leader.do("garment:copy:g2")
    assert leader.garments() == ["Apron dress", "Hood", "Hood"]
    leader.do("garment:out:g2")
    assert leader.garments() == ["Apron dress", "Hood"]
    leader.page.click("[data-do=undo]")
    leader.settle()
    assert leader.garments() == ["Apron dress", "Hood", "Hood"]
    leader.do("garment:go:g1")
    assert leader.page.is_checked("input[name=garment][value=apron-dress]")
    assert leader.page.evaluate("document.activeElement.id") == "garment-title"
    leader.reload()
    assert leader.garments() == ["Apron dress", "Hood", "Hood"]
    assert [g["garment"] for g in leader.kit_file()["garments"]] == ["apron-dress", "hood", "hood"]


def test_the_demo_never_mixes_with_ones_own(leader):
    two_garments(leader)
    own = leader.kit_file()
    leader.do("kit:demo")
    kit_sum(leader, "3 wearers")
    leader.noticed("invented")
    leader.do("garment:go:g1")
    leader.type(bust_girth="97")
    leader.do("kit:back")
    kit_sum(leader, "1 wearer")
    assert leader.kit_file() == own
    leader.do("kit:demo")
    kit_sum(leader, "3 wearers")
    assert leader.typed("bust_girth") == "97"


def test_the_record_of_an_earlier_version_is_taken_over_silently(newcomer):
    newcomer.runs_first(
        "if (!sessionStorage.seen) { sessionStorage.seen = 1;"
        f"localStorage.setItem('ellwand ' + location.pathname, {json.dumps(json.dumps(FIRST_RECORD))}) }}"
    )
    newcomer.open()
    assert newcomer.text("notices") == ""
    assert newcomer.typed("name") == "Hild" and newcomer.typed("length") == "115"
    assert newcomer.typed("cloth_width") == "150" and newcomer.typed("paper") == "A3"
    assert newcomer.text("kit-sum").startswith("2 wearers, 4 garments")
    newcomer.reload()
    assert newcomer.text("kit-sum").startswith("2 wearers, 4 garments")


def test_two_tabs_never_write_over_each_other(leader):
    two_garments(leader)
    leader.do("garment:go:g1")
    leader.saved()
    first = leader.page
    second = leader.new_page()
    leader.open()
    leader.type(length="111")
    leader.saved()
    leader.page = first
    first.wait_for_selector("#notice-tabs")
    leader.type(length="122")
    first.wait_for_function("document.getElementById('notice-tabs').textContent.includes('of its own')")
    assert leader.typed("length") == "122"
    first.click("[data-do='tabs:theirs']")
    first.wait_for_function("document.getElementById('length').value === '111'")
    leader.do("kit:copy")
    leader.noticed("from another tab", "kits-kept")
    leader.page = second


def test_without_a_database_kits_are_kept_all_the_same(newcomer):
    newcomer.runs_first(NO_DATABASE)
    two_garments(newcomer)
    assert newcomer.kept("where()") == "storage"
    newcomer.saved()
    newcomer.reload()
    assert newcomer.garments() == ["Apron dress", "Hood"]
    newcomer.do("kit:new")
    newcomer.noticed("Hild", "kits-kept")


def test_a_page_closed_while_typing_has_lost_nothing(leader):
    leader.open()
    leader.type(**MEASURED)
    rng = random.Random(8)
    for i in range(6):
        leader.show("length")
        leader.page.fill("#length", str(110 + i))
        leader.page.wait_for_timeout(rng.randrange(0, 450))
        leader.page.close()
        leader.new_page()
        leader.page.goto(leader.site.url)
        leader.until("document.documentElement.dataset.usable")
        assert leader.typed("length") == str(110 + i)
    leader.settle()


def test_two_hundred_kills_while_saving_lose_nothing_saved(chromium, site):
    """Of every ten one closes the page; the others take away the frame that it stands in."""
    context = chromium.new_context()
    context.route("**/alone.html*", lambda route: route.fulfill(body=STORE_ALONE, content_type="text/html"))
    known = [0]
    context.expose_function("acknowledged", lambda revision: known.append(revision))
    rng = random.Random(200)
    for i in range(KILLS):
        if i % 10 == 0:
            page = context.new_page()
            page.goto(site.url + "alone.html")
        closes = i % 10 == 9
        if not closes:
            page.evaluate(IN_A_FRAME)
        saving = page.frames[0 if closes else -1]
        where, revision, filled = saving.evaluate(WHERE_AND_WHAT_IS_KEPT_THEN_SAVE_ON)
        assert where == "database"
        assert revision >= max(known) and filled == (60000 if revision else 0)
        page.wait_for_timeout(rng.randrange(1, 40))
        if closes:
            page.close()
        else:
            page.evaluate("document.querySelector('iframe').remove()")
    assert max(known) > KILLS // 2
    context.close()
