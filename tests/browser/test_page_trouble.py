"""When things fail: storage, the worker, a slow answer. The draft is kept, and the page says what to do."""

import json
from pathlib import Path

import pytest
from refusals import FORBIDDEN, FULL, NO_DATABASE
from visitor import EMPTY, FORGET, MEASURED, SETTLED, Visitor, serve_changed, serve_changed_modules, until

from tests.fuzz_storage import fills

pytestmark = pytest.mark.browser


@pytest.fixture
def visitor(chromium, site):
    """On a first visit."""
    someone = Visitor(chromium, site)
    yield someone
    assert someone.errors == []
    someone.close()


@pytest.fixture
def guest(profiles):
    """Who has opened the page before."""
    someone = Visitor(profiles, profiles.site)
    yield someone
    assert someone.errors == []
    someone.close()


@pytest.mark.parametrize("trouble", [FULL, FORBIDDEN], ids=["full", "forbidden"])
def test_without_storage_the_draft_is_kept_in_the_address_and_that_is_said(guest, trouble):
    guest.runs_first(NO_DATABASE + trouble)
    guest.open()
    guest.type(name="Hild", **MEASURED)
    assert "in this page's address" in guest.text("notices")
    assert "Hild" not in guest.page.url
    before = guest.pattern()
    guest.reload()
    assert guest.typed("bust_girth") == "92" and guest.typed("name") == "Hild"
    assert "came by a link" not in guest.text("notices")
    assert guest.pattern() == before


HANGING = """
    const silent = { get: () => ({}), getAll: () => ({}), put: () => ({}), delete: () => ({}) };
    const transaction = IDBDatabase.prototype.transaction;
    IDBDatabase.prototype.transaction = function (...asked) {
        if (this.name.startsWith("ellwand")) return { objectStore: () => silent };
        return transaction.apply(this, asked);
    };
"""


def test_a_database_that_never_answers_is_given_up_and_what_is_typed_is_kept(visitor, dist):
    serve_changed(visitor.context, dist, "store.js", ("LONGEST = 10000", "LONGEST = 300"))
    visitor.context.add_init_script(HANGING)
    visitor.open()
    visitor.type(**MEASURED)
    visitor.page.wait_for_function("document.getElementById('notices').innerText.includes('address')")
    before = visitor.pattern()
    visitor.reload()
    assert visitor.typed("bust_girth") == "92"
    assert visitor.pattern() == before


NO_WORKER = "window.Worker = class extends EventTarget { postMessage() {} terminate() {} };"
UNREADABLE = (
    "{", "null", "[]", '"x"', "{}", '{"version": 1}', '{"version": 99, "draft": {}}', "\0", "x" * 200_000,
    '{"version": 1, "draft": {"garment": "ball-gown"}}',
    '{"version": 1, "draft": {"garment": "apron-dress", "measurements": [1]}}',
    '{"version": 1, "draft": {"garment": "apron-dress", "measurements": {"bust_girth": 92}}}',
    '{"version": 1, "draft": {"garment": "apron-dress", "wardrobe": {"apron-dress": "x"}}}',
    '{"version": 2, "kit": 7, "dirty": true}', '{"version": 2, "kit": "k1", "dirty": true, "draft": null}',
)  # fmt: skip


def test_unreadable_storage_is_survived_put_aside_and_said(guest):
    """The page is left before the worker has started, so there is none, but for the last."""
    guest.runs_first(NO_WORKER)
    key = f"'ellwand ' + location.pathname.replace('{EMPTY}', '')"
    for kept in UNREADABLE:
        if kept is UNREADABLE[-1]:
            guest.page.close()
            guest.runs_first("")
        guest.page.goto(guest.site.url + EMPTY)
        guest.page.evaluate(FORGET)
        guest.page.evaluate(f"kept => localStorage.setItem({key}, kept)", kept)
        guest.page.goto(guest.site.url, wait_until="commit")
        guest.page.wait_for_function("document.documentElement?.dataset.usable")
        assert "cannot be read" in guest.text("notices"), kept[:80]
        assert guest.page.evaluate(f"localStorage.getItem({key} + ' unreadable')") == kept
    guest.settle()
    assert "checks pass" in guest.text("status")
    guest.page.evaluate("ellwand.kits.save('bad', 0, '{', {}).then(() => ellwand.kits.use('bad'))")
    guest.reload()
    assert "cannot be read" in guest.text("notices"), "a kit in the database"
    assert guest.page.evaluate("ellwand.kits.get('bad').then(kept => kept.text)") == "{"
    guest.type(**MEASURED)
    guest.reload()
    assert guest.typed("bust_girth") == "92"


def test_a_kit_that_cannot_be_read_is_taken_away_and_restored_byte_for_byte(guest):
    kept = '{"format": "ellwand-kit", "version": 99, "what": "a later page\\u2019s"}'
    guest.open()
    guest.type(**MEASURED)
    guest.saved()
    guest.page.evaluate("kept => ellwand.kits.save('later', 0, kept, {title: 'later', garments: 3})", kept)
    guest.go("kit")
    guest.page.evaluate("document.getElementById('kits-here').open = true")
    with guest.page.expect_download() as download:
        guest.page.click("[data-do='kit:file:later']")
    assert Path(download.value.path()).read_text() == kept
    guest.page.click("[data-do='kit:remove:later']")
    guest.page.click("[data-do='kit:sure']")
    guest.page.wait_for_selector("[data-do='kit:file:later']", state="detached")
    guest.page.click("[data-do=undo]")
    guest.page.wait_for_selector("[data-do='kit:file:later']")
    assert guest.page.evaluate("ellwand.kits.get('later').then(kept => kept.text)") == kept


def test_storage_that_fills_up_meanwhile_is_said_and_nothing_typed_is_lost(guest):
    guest.open()
    guest.type(name="Hild", **MEASURED)
    guest.saved()
    aborted = "IDBObjectStore.prototype.put = function () { this.transaction.abort(); };"
    guest.page.evaluate(f"() => {{ {FULL} {aborted} }}")
    guest.type(bust_girth="95")
    guest.page.wait_for_selector("#notices .notice:visible")
    assert "in this page's address" in guest.text("notices")
    guest.reload()
    assert guest.typed("bust_girth") == "95" and guest.typed("waist_girth") == "78"
    assert guest.typed("name") == "Hild"


def kept_text(someone):
    """What the database holds of the kit that is open."""
    key = "'ellwand ' + location.pathname"
    return someone.page.evaluate(f"""ellwand.kits.get(sessionStorage.getItem({key}))
        .then(kept => kept?.text ?? '')""")


@pytest.mark.parametrize("trouble", [
    """const put = IDBObjectStore.prototype.put;
       IDBObjectStore.prototype.put = function () {
         IDBObjectStore.prototype.put = put; this.transaction.abort(); };""",
    "indexedDB.deleteDatabase('ellwand ' + location.pathname);",
], ids=["one save fails", "the database is wanted elsewhere"])
def test_saving_goes_on_after_it_failed_once(guest, trouble):
    guest.open()
    guest.type(name="Hild", **MEASURED)
    guest.saved()
    guest.page.evaluate(f"() => {{ {trouble} }}")
    guest.type(bust_girth="95")
    until(guest.page, lambda: '"95"' in kept_text(guest))
    assert '"78"' in kept_text(guest) and "Hild" in kept_text(guest)
    guest.page.wait_for_function("!document.querySelector('#notice-kept')")
    guest.type(bust_girth="96")
    guest.saved()
    guest.reload()
    assert guest.typed("bust_girth") == "96" and guest.typed("name") == "Hild"


def test_a_note_that_could_not_be_renewed_never_replaces_what_was_saved_after_it(guest):
    """As localStorage leaves it that is nearly full: the note is an older one, and not saved by its word."""
    guest.open()
    guest.type(name="Hild", **MEASURED)
    guest.saved()
    older = guest.page.evaluate("""() => {
        const key = 'ellwand ' + location.pathname, note = JSON.parse(localStorage.getItem(key));
        note.dirty = true;
        note.changes -= 1;
        note.draft.measurements = { bust_girth: '61' };
        localStorage.setItem(key, JSON.stringify(note));
        return note.by; }""")
    assert older == guest.page.evaluate("ellwand.kits.tab")
    guest.reload()
    assert guest.typed("bust_girth") == "92" and guest.typed("waist_girth") == "78"


def test_storage_filled_to_its_last_letters_loses_nothing(chromium, site):
    assert list(fills(chromium, site.url, seed=1, count=2)) == []


def at_year(visitor, year):
    """Another visit, on a device whose clock says so."""
    visitor.page.close()
    visitor.new_page().add_init_script(f"""
        const Right = Date, shift = Right.UTC({year}, 5, 15) - Right.now();
        Date = class extends Right {{
            constructor(...given) {{ given.length ? super(...given) : super(Right.now() + shift); }}
            static now() {{ return Right.now() + shift; }}
        }};
    """)
    return visitor.open()


def test_a_clock_that_is_wrong_breaks_nothing(visitor):
    """Kits, the last pattern, a child's growth, the files for offline, from one wrong year to another."""
    at_year(visitor, 2040)
    visitor.type(name="Hild", **MEASURED)
    assert visitor.page.input_value("#measured").startswith("2040-06-1")
    visitor.until_offline_ready()
    at_year(visitor, 1970)
    assert visitor.typed("bust_girth") == "92" and visitor.text("notices") == ""
    assert visitor.page.evaluate("performance.getEntriesByName('last-pattern').length") == 1
    assert "pass" in visitor.text("status")
    visitor.type(waist_girth="80")
    visitor.show("born")
    visitor.page.fill("#born", "2032-03-01")
    visitor.settle()
    said = visitor.problem("born") + visitor.problem("measured") + visitor.text("growth")
    assert said.endswith(".") and "Traceback" not in visitor.page.inner_text("body")
    visitor.saved()
    at_year(visitor, 2026)
    assert visitor.typed("waist_girth") == "80" and visitor.page.input_value("#born") == "2032-03-01"
    visitor.page.fill("#born", "2018-03-01")
    visitor.page.fill("#measured", "2026-06-01")
    visitor.settle()
    assert visitor.problem("born") == visitor.problem("measured") == ""
    assert visitor.pattern()["measurements"]["waist_girth"] == 800
    visitor.until_offline_ready()


def test_strange_but_readable_storage_is_used_as_far_as_it_goes(guest):
    kept = {
        "version": 1, "view": {"tone": "plaid", "open": 7},
        "draft": {"garment": "apron-dress", "unit": "ell", "paper": "B7",
                  "measurements": MEASURED, "wardrobe": {"ball-gown": {"length": "9"}}},
    }  # fmt: skip
    guest.runs_first(
        f"localStorage.setItem('ellwand ' + location.pathname, {json.dumps(json.dumps(kept))})"
    )
    guest.open()
    assert guest.typed("upper_chest_girth") == "92"
    assert guest.pattern()["measurements"]["upper_chest_girth"] == 920
    assert guest.download("tiled.pdf").startswith(b"%PDF-")


def change_worker(visitor, dist, first):
    """Give the visitor a worker.py that does something before it answers a draft."""
    visitor.site.missing.add("sw.js")  # what it keeps is the worker as it was, and no route leads round it
    serve_changed(
        visitor.page, dist, "worker.py",
        (
            "async def run(request):\n",
            f"async def run(request):\n{first}    return await answered(request)\n\n\n"
            "async def answered(request):\n",
        ),
    )


def ask_worker(visitor, request):
    return visitor.page.evaluate(
        "async request => JSON.parse("
        "await document.querySelector('script[name^=drafting]').xworker.sync.run(request))",
        json.dumps(request),
    )


def test_a_late_answer_never_covers_a_newer_one_and_one_is_asked_at_a_time(visitor, dist):
    """The worker is made slow, and slowest for what was asked first."""
    change_worker(visitor, dist, """\
    global _under_way
    _under_way = globals().get("_under_way", 0) + 1
    assert _under_way == 1, "two requests at once"
    await asyncio.sleep(1.5 if '"141"' in request else 0.2)
    _under_way -= 1
""")
    visitor.open()
    visitor.type(**MEASURED)
    visitor.until_asked(lambda: visitor.type(settled=False, length="141"))
    for text in ("101", "102", "103"):
        visitor.type(settled=False, length=text)
    visitor.settle()
    assert visitor.pattern()["finished"]["length"] == 1030
    visitor.unfold("finished-part")
    assert "103 cm" in visitor.text("finished")
    assert ask_worker(visitor, {"do": "demo-kit"})["ok"], "no older request is still under way"
    visitor.stands_still()
    assert "103 cm" in visitor.text("finished")
    assert visitor.text("trouble") == ""


def test_the_page_answers_while_the_worker_is_busy(visitor, dist):
    change_worker(visitor, dist, "    import time\n    time.sleep(1)\n")
    visitor.open()
    visitor.until_asked(lambda: visitor.type(settled=False, **MEASURED))
    took = visitor.page.evaluate(
        """() => new Promise(done => {
            const begun = performance.now();
            document.querySelector("[data-do='zoom:in']").click();
            requestAnimationFrame(() => done(performance.now() - begun));
        })"""
    )
    assert visitor.page.get_attribute("#cloth", "data-zoomed") == "yes"
    assert took < 500
    assert not visitor.page.evaluate(SETTLED), "the worker has not answered yet"
    visitor.settle()


def test_a_worker_that_does_not_start_is_said_keeps_the_draft_and_can_be_tried_again(visitor, site):
    site.missing.add("pyodide/pyodide.asm.wasm")
    visitor.open(settled=False)
    visitor.page.wait_for_selector("#trouble", state="visible")
    assert "try again" in visitor.text("trouble").lower()
    assert "could not be loaded: the server answered 404." in visitor.text("trouble-text")
    assert "JsProxy" not in visitor.text("trouble") and visitor.text("loading") == ""
    visitor.type(settled=False, **MEASURED)
    assert visitor.text("not-current")
    visitor.page.click('[id="take-tiled.pdf"]')
    visitor.page.wait_for_function("document.getElementById('took-tiled.pdf').textContent")
    site.missing.clear()
    visitor.errors.clear()  # the browser's own note that the file is missing
    visitor.page.click("#retry")
    visitor.settle()
    assert visitor.text("trouble") == ""
    assert visitor.typed("bust_girth") == "92"
    assert visitor.pattern()["measurements"]["bust_girth"] == 920


def test_a_worker_that_is_killed_comes_back_by_itself_and_answers(visitor, dist):
    """The times after which silence is told, and counts as death, are cut down for the test."""
    serve_changed_modules(visitor.context, dist, {
        "engine": (("\nCALL = 60 ", "\nCALL = 5 "), ("\nSLOW = 10 ", "\nSLOW = 1 ")),
        "running": (("\nRESTART = 3 * CALL\n", "\nRESTART = 0\n"),),
    })
    page = visitor.page
    visitor.open()
    visitor.type(**MEASURED)
    visitor.until_offline_ready()
    visitor.kill_worker()
    visitor.type(settled=False, bust_girth="97")
    page.wait_for_selector("#notice-slow >> text=not answered for a while")
    page.wait_for_function("document.getElementById('status').textContent.includes('again')")
    visitor.settle()
    assert visitor.text("trouble") == visitor.text("notices") == ""
    assert visitor.pattern()["measurements"]["bust_girth"] == 970

    page.click("#lay")
    page.wait_for_function("document.getElementById('lay-progress').value > 0")
    visitor.kill_worker()
    page.wait_for_selector("#laid:not([hidden])")
    assert page.get_attribute("#laid", "data-current") == "yes" and visitor.text("lay-said") == ""

    with page.expect_download() as caught:
        page.click('[id="take-tiled.pdf"]')
        visitor.kill_worker()
    assert Path(caught.value.path()).read_bytes().startswith(b"%PDF-")

    visitor.kill_worker()
    visitor.type(settled=False, bust_girth="95")
    page.click("#notice-slow button")
    visitor.settle()
    assert visitor.text("trouble") == visitor.text("notices") == ""
    assert visitor.pattern()["measurements"]["bust_girth"] == 950


def test_what_goes_wrong_inside_is_a_sentence_not_a_traceback(visitor, dist):
    change_worker(
        visitor, dist, '    if "13.75" in request:\n        raise RuntimeError("spindle")\n'
    )
    visitor.open()
    visitor.type(**MEASURED)
    visitor.type(settled=False, scoop="13.75")
    visitor.page.wait_for_selector("#trouble", state="visible")
    assert "Traceback" not in visitor.page.inner_text("body")
    assert visitor.typed("scoop") == "13.75"
    visitor.page.fill("#scoop", "3")
    visitor.page.click("#retry")
    visitor.settle()
    assert visitor.text("trouble") == ""
