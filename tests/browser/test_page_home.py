"""What is kept belongs to the page by either of its addresses, and stops no start whatever it is."""

import json

import pytest
from visitor import EMPTY, MEASURED, Visitor

pytestmark = pytest.mark.browser


@pytest.fixture
def guest(profiles):
    """Who has opened the page before."""
    someone = Visitor(profiles, profiles.site)
    yield someone
    assert someone.errors == []
    someone.close()


def elsewhere(guest, script, given=None):
    """Do something to what is kept while the page is not open."""
    guest.page.goto(guest.site.url + EMPTY)
    return guest.page.evaluate(script, given)


def test_with_and_without_index_html_it_is_one_home(guest):
    guest.open("index.html")
    guest.type(name="Hild", **MEASURED)
    guest.saved()
    guest.open()
    assert guest.typed("bust_girth") == "92" and guest.typed("name") == "Hild"
    guest.type(bust_girth="93")
    guest.page.wait_for_function("localStorage.getItem('ellwand ' + location.pathname + ' last')")
    guest.open("index.html")
    assert guest.typed("bust_girth") == "93"
    assert guest.page.evaluate("performance.getEntriesByName('last-pattern').length") == 1


TO_FORMER = """async (file) => {
    const home = `ellwand ${location.pathname.replace(file, "")}`, former = `${home}index.html`;
    for (const store of [localStorage, sessionStorage])
        for (const key of Object.keys(store)) {
            const value = store.getItem(key);
            store.removeItem(key);
            if (store === localStorage) store.setItem(key.replace(home, former), value);
        }
    const opened = (name) => new Promise((done) => {
        const request = indexedDB.open(name, 1);
        request.onupgradeneeded = () => request.result.createObjectStore("kits", { keyPath: "id" });
        request.onsuccess = () => done(request.result);
    });
    const [from, to] = [await opened(home), await opened(former)];
    await new Promise((done) => {
        from.transaction("kits").objectStore("kits").getAll().onsuccess = ({ target }) => {
            const writing = to.transaction("kits", "readwrite");
            for (const kit of target.result) writing.objectStore("kits").put(kit);
            writing.oncomplete = done;
        };
    });
    from.close();
    to.close();
    await new Promise((done) => { indexedDB.deleteDatabase(home).onsuccess = done; });
}"""
LEFT = """async () => [
    ...Object.keys(localStorage), ...(await indexedDB.databases()).map(({ name }) => name),
].filter((name) => name.includes("index.html"))"""


def test_what_was_kept_by_the_other_address_alone_has_moved_in(guest):
    guest.open()
    guest.type(name="Hild", **MEASURED)
    guest.saved()
    elsewhere(guest, TO_FORMER, EMPTY)
    guest.open()
    assert guest.typed("bust_girth") == "92" and guest.typed("name") == "Hild"
    assert guest.page.evaluate(LEFT) == []
    guest.type(name="Wulf")
    guest.saved()
    elsewhere(guest, TO_FORMER, EMPTY)
    guest.open("index.html")
    assert guest.typed("name") == "Wulf"


WITHIN = """([file, name, way, value]) => {
    const key = `ellwand ${location.pathname.replace(file, "")}${name}`;
    if (!way) return localStorage.setItem(key, value);
    const kept = JSON.parse(localStorage.getItem(key));
    const last = way.pop(), inner = way.reduce((one, step) => one[step], kept);
    if (!(last in inner)) throw new Error(`${name} keeps no ${last}`);
    inner[last] = value;
    localStorage.setItem(key, JSON.stringify(kept));
}"""
WRONG = (
    ("", ["view"], {"visiting": {"apron-dress": {"done": 7}}, "pace": 7, "step": ["x"], "chalking": {},
                    "open": {"x": 7}, "doing": 7}),
    (" laid", [0, "result", "chalk"], 7), (" laid", [0, "result"], {"chalk": {"pieces": 7}}),
    (" laid", [0, "request"], 7), (" laid", None, "7"), (" laid", None, "[7]"),
    (" sewn", [0, "result", "steps"], 7), (" sewn", [0, "result", "steps"], [{"id": 7}]),
    (" last", ["drawing"], 7), (" last", ["worn"], 7), (" last", None, "[7]"),
    (" parts", None, "7"), (" parts", None, "{"), (" part", None, "[7]"), (" place", None, '[7, "x"]'),
)  # fmt: skip
KIT = "sessionStorage.getItem('ellwand ' + location.pathname)"


def test_nothing_that_is_kept_of_a_wrong_kind_stops_a_start(guest):
    guest.open()
    guest.type(name="Hild", **MEASURED)
    guest.go("sewing")
    guest.page.wait_for_selector(".step")
    guest.lay(enough=True)
    kept = guest.page.evaluate("({...localStorage})")
    for name, way, value in WRONG:
        elsewhere(guest, "kept => Object.assign(localStorage, kept)", kept)
        guest.page.evaluate(WITHIN, [EMPTY, name, way, value])
        guest.open()
        assert guest.typed("bust_girth") == "92", (name, way)
        guest.go("sewing")
        guest.page.wait_for_selector(".step")
        guest.go("cutting")
        guest.type(waist_girth="80")
        guest.type(waist_girth="78")
        assert "checks pass" in guest.text("status") and guest.errors == [], (name, way)


CHANGED_NOTE = {"kit": 7, "title": 7, "cloths": {"main": 7}, "draft": 7, "whole": 7, "at": 7}


def test_a_note_of_unsaved_changes_of_a_wrong_kind_leaves_what_was_saved(guest):
    guest.open()
    guest.type(name="Hild", **MEASURED)
    guest.saved()
    for key, value in CHANGED_NOTE.items():
        elsewhere(guest, WITHIN, [EMPTY, "", ["changes"], 1_000_000])
        guest.page.evaluate(WITHIN, [EMPTY, "", ["dirty"], True])
        guest.page.evaluate(WITHIN, [EMPTY, "", [key], value])
        guest.open()
        assert guest.typed("bust_girth") == "92" and guest.typed("name") == "Hild", key
        guest.type(waist_girth="78")
        guest.saved()


BROKEN_KITS = (
    {"garments": [{"id": "g1", "wearer": "w9", "garment": "apron-dress"}]}, {"wearers": [7]}, {"cloths": [7]},
    {"wearers": [{"id": 7}]}, {"garments": 7}, {"impression": 7}, {"title": 7},
)  # fmt: skip


def test_a_kept_kit_with_a_wrong_kind_in_it_is_said_to_be_unreadable_and_stays(guest):
    guest.open()
    guest.type(name="Hild", **MEASURED)
    guest.saved()
    own = guest.page.evaluate(KIT)
    whole = json.loads(guest.page.evaluate("id => ellwand.kits.get(id).then(kept => kept.text)", own))
    for number, broken in enumerate(BROKEN_KITS):
        text = json.dumps({**whole, **broken})
        guest.page.evaluate(
            "([id, text]) => ellwand.kits.save(id, 0, text, {}).then(() => ellwand.kits.use(id))",
            [f"bad{number}", text])
        guest.reload()
        assert "cannot be read" in guest.text("notices"), broken
        assert guest.page.evaluate("id => ellwand.kits.get(id).then(k => k.text)", f"bad{number}") == text
    guest.page.evaluate("id => ellwand.kits.use(id)", own)
    guest.reload()
    assert guest.typed("name") == "Hild"
