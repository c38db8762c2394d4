"""Each file of dist/ missing, cut off and damaged: what the page says, and that it comes right again.

The files are read from dist/, so that a new one cannot be forgotten: it belongs to one of the groups.
"""

import random
from fnmatch import fnmatch

import pytest
from playwright.sync_api import TimeoutError
from visitor import MEASURED, Visitor, until

pytestmark = pytest.mark.browser

PAGE = ("index.html",)
FIRST = ("whole.js",)
STARTING = ("start.js", "store.js", "last.js", "pyscript/*", "micropython/*", "app/program.bin")
LATER = ("app/later.txt",)
STYLE = ("style.css",)
WORKER = (
    *("worker.py", "pyodide/start.js", "pyodide/pyodide*", "pyodide/python_stdlib.zip"),
    "pyodide/drafting-*.whl",
)
REST = tuple(f"pyodide/{name}-*.whl" for name in (
    "drafting_rest", "stdlib_rest", "drafting_fonts", "svgwrite", "pillow", "reportlab", "segno", "numpy",
))  # fmt: skip
WORN = ("turn.js",)
QUIET = (
    *("sw.js", "pyodide/snapshot-*.bin", "pyodide/unpack.js"),
    *("manifest.webmanifest", "icons/*", "figures.svg"),
)
GROUPS = (PAGE, FIRST, STARTING, LATER, STYLE, WORKER, REST, WORN, QUIET)
KINDS = ("missing", "cut off", "damaged")
"""Damaged: as long as it should be, and of random bytes."""

REST_SAID = "What printing needs could not be fetched"
NOT_KEPT = "The page could not be kept on this device"


def files_of(dist, *groups):
    names = sorted(path.relative_to(dist).as_posix() for path in dist.rglob("*") if path.is_file())
    return [name for name in names if any(fnmatch(name, p) for group in groups for p in group)]


def spoil(site, dist, kind, *names):
    """Have the server answer so for these files, and rightly for all others."""
    site.missing, site.spoiled = set(), {}
    for name in names:
        content = (dist / name).read_bytes()
        asked_as = "" if name == "index.html" else name
        if kind == "missing":
            site.missing.add(asked_as)
        elif kind == "cut off":
            site.spoiled[asked_as] = content[: len(content) // 2]
        else:
            site.spoiled[asked_as] = random.Random(len(content)).randbytes(len(content))


class Unlucky(Visitor):
    def until(self, place, said):
        """Wait until a place says so, and see that no more is shown than a sentence."""
        self.page.wait_for_function(
            "([place, said]) => { const at = document.querySelector(place);"
            " return at?.checkVisibility() && at.innerText.includes(said); }",
            arg=[place, said],
        )
        seen = self.page.inner_text("body")
        for inner in ("Traceback", "JsProxy", "Error:", "undefined", "[object"):
            assert inner not in seen
        return self.page.inner_text(place)

    def until_usable(self):
        self.page.wait_for_function("document.documentElement?.dataset.usable")

    def go(self):
        self.page.goto(self.site.url, wait_until="commit")

    def press(self, what):
        """As if there were a button: the page offers this one only after a fault."""
        self.page.evaluate(
            "what => { const button = document.createElement('button'); button.dataset.do = what;"
            " document.body.append(button); button.click(); button.remove(); }",
            what,
        )


@pytest.fixture
def someone(chromium, site):
    site.fleeting = True
    visitor = Unlucky(chromium, site)
    yield visitor
    visitor.close()


def test_every_file_belongs_to_one_group(dist):
    for name in files_of(dist, ("*",)):
        groups = [group for group in GROUPS if any(fnmatch(name, pattern) for pattern in group)]
        assert len(groups) == 1, f"what does the page say when {name} is missing or damaged?"
    assert all(files_of(dist, (pattern,)) for group in GROUPS for pattern in group)


@pytest.mark.parametrize("kind", KINDS)
def test_a_page_that_cannot_start_says_what_is_wrong_and_comes_right(someone, site, dist, kind):
    expected = {name: f"Its part {name} is missing or damaged." for name in files_of(dist, STARTING)}
    expected["whole.js"] = "Ellwand could not start."
    if kind == "cut off":
        expected["index.html"] = "The page itself arrived cut off."
    for name, said in expected.items():
        spoil(site, dist, kind, name)
        someone.go()
        try:
            someone.until(".start-failed", said)
        except TimeoutError as error:
            raise AssertionError(f"{name}: {someone.page.inner_text('#notices')!r}") from error
        assert "load the page again" in someone.page.inner_text(".start-failed")
        assert not someone.page.is_visible("#loading")
    spoil(site, dist, kind, "app/program.bin")
    someone.go()
    someone.until("#start-failed-why", "What you typed is kept.")
    someone.page.fill("#waist_girth", "78,5")
    someone.page.fill("#name", "Hild")
    spoil(site, dist, kind)
    someone.page.click("#start-again")
    someone.until_usable()
    assert someone.typed("waist_girth") == "78,5" and someone.typed("name") == "Hild"
    assert not someone.page.is_visible(".start-failed")


def test_what_comes_later_is_asked_for_again_and_nothing_done_meanwhile_is_lost(someone, site, dist):
    (later,) = files_of(dist, LATER)
    spoil(site, dist, "missing", later)
    someone.go()
    someone.until_usable()
    someone.page.fill("#kit-title-text", "Our troop")
    someone.until("#notice-later", "A part of this page could not be fetched")
    someone.type(**MEASURED, year="980")
    assert "checks pass" in someone.text("status"), "drawing goes on without it"
    someone.reload()
    someone.until("#notice-later", "What you typed is kept.")
    spoil(site, dist, "cut off", later)
    someone.page.evaluate("document.getElementById('notice-later').dataset.before = 'yes'")
    someone.page.click("#notice-later button")
    someone.page.wait_for_selector("#notice-later:not([data-before])")
    someone.page.click("[data-do='kit:save']")
    spoil(site, dist, "")
    with someone.page.expect_download():
        someone.page.click("#notice-later button")
    assert someone.typed("kit-title-text") == "Our troop" and someone.typed("year") == "980"
    assert someone.text("kit-sum").startswith("1 wearer, 1 garment")
    someone.saved()
    someone.reload()
    someone.page.wait_for_selector("html[data-whole]")
    assert someone.typed("kit-title-text") == "Our troop" and someone.typed("year") == "980"
    assert someone.typed("bust_girth") == "92" and not someone.page.is_visible("#notice-later")


def test_a_page_opened_where_what_comes_later_is_needed_starts_without_it(someone, site, dist):
    spoil(site, dist, "missing", *files_of(dist, LATER))
    link = "#apron-dress&v=2&unit=cm&bust_girth=104cm&waist_girth=88cm&torso_length=41cm&end"
    for opened_at in ("#sewing", link):
        someone.page.goto("about:blank")
        someone.open(opened_at)
        someone.until("#notice-later", "A part of this page could not be fetched")
    spoil(site, dist, "")
    someone.page.click("#notice-later button")
    someone.page.click("[data-do=theirs]")
    someone.settle()
    assert someone.typed("bust_girth") == "104"


def test_a_page_without_its_style_works_and_says_why_it_looks_plain(someone, site, dist):
    for kind in KINDS:
        spoil(site, dist, kind, *files_of(dist, STYLE))
        someone.go()
        someone.until("#no-style", "its style did not arrive")
        someone.until_usable()
        assert not someone.page.is_visible(".start-failed")
    spoil(site, dist, "")
    someone.page.click("#no-style button")
    someone.page.wait_for_function("document.body && getComputedStyle(document.body).margin === '0px'")
    someone.until_usable()
    assert not someone.page.is_visible("#no-style")


def test_a_worker_that_lacks_a_file_is_told_with_the_name_and_comes_right(someone, site, dist):
    """The page stays; each fault meets another try at starting the worker."""
    spoil(site, dist, "missing", "pyodide/start.js")
    someone.go()
    someone.until("#trouble", "do not run")
    someone.until("#status", "The drafting tools do not run.")
    someone.page.click("#show-me")
    assert someone.page.evaluate("document.activeElement.id") == "trouble"
    someone.type(settled=False, **MEASURED)
    for kind in KINDS:
        for name in files_of(dist, WORKER):
            spoil(site, dist, kind, name)
            someone.page.click("#retry")
            someone.page.wait_for_function(
                "document.documentElement.dataset.engine === 'starting' || "
                "!document.getElementById('trouble').checkVisibility()"
            )
            said = someone.until("#trouble", "do not run")
            assert name in said or name == "pyodide/start.js" and "missing or damaged" in said
            assert "What you typed is kept" in said and "try again" in said
            assert not someone.page.is_visible("#loading")
    spoil(site, dist, "")
    someone.page.click("#retry")
    someone.settle()
    assert someone.typed("bust_girth") == "92" and someone.text("trouble") == ""
    assert someone.pattern()["measurements"]["bust_girth"] == 920


@pytest.mark.parametrize("last", ["pillow", "stdlib_rest"])
def test_what_printing_needs_is_said_to_be_missing_until_all_of_it_is_there(someone, site, dist, last):
    names = files_of(dist, REST)
    for kind in KINDS:
        spoil(site, dist, kind, *names)
        if kind == KINDS[0]:
            someone.open()
        else:
            someone.page.click("#notice-rest button")
            someone.page.wait_for_selector("#notice-rest", state="detached")
        someone.until("#notice-rest", REST_SAID)
    someone.page.click('[id="take-tiled.pdf"]')
    someone.until('[id="took-tiled.pdf"]', "could not be fetched: check the connection, then try again.")
    (late,) = [name for name in names if last in name]
    spoil(site, dist, "damaged", late)
    someone.page.click("#notice-rest button")
    someone.page.wait_for_selector("#notice-rest", state="detached")
    someone.until("#notice-rest", REST_SAID)
    someone.type(**MEASURED)
    assert "checks pass" in someone.text("status") and someone.text("trouble") == ""
    spoil(site, dist, "")
    someone.page.click("#notice-rest button")
    someone.page.wait_for_selector("#notice-rest", state="detached")
    assert someone.download("tiled.pdf").startswith(b"%PDF-")


def test_a_garment_is_not_hung_without_what_paints_it_and_is_once_that_comes(someone, site, dist):
    spoil(site, dist, "missing", *WORN)
    someone.open()
    someone.unfold("wear-part")
    for kind in KINDS:
        spoil(site, dist, kind, *WORN)
        someone.page.click("[data-do=wear]")
        someone.until("#wear-said", "could not be fetched: check the connection, then try again.")
        someone.page.evaluate("document.getElementById('wear-said').textContent = ''")
    spoil(site, dist, "")
    someone.page.click("[data-do=wear]")
    someone.page.click("[data-do=stop-wear]")
    someone.page.wait_for_selector("#wear-picture")


def test_without_the_small_things_the_page_works_and_says_it_is_not_kept(someone, site, dist):
    spoil(site, dist, "missing", *files_of(dist, QUIET))
    someone.open()
    someone.until("#offline", NOT_KEPT)
    spoil(site, dist, "")
    for kind in KINDS:
        for name in files_of(dist, QUIET):
            spoil(site, dist, kind, name)
            someone.page.evaluate("document.getElementById('offline').textContent = ''")
            forget = """async name => {
                for (const key of await caches.keys()) await (await caches.open(key)).delete(name);
            }"""
            someone.page.evaluate(forget, name)
            someone.press("rest")
            someone.until("#offline", NOT_KEPT)
    spoil(site, dist, "")
    someone.press("rest")
    someone.until("#offline", "the page works with no network")


BREAK = """async ([names, whole]) => {
    for (const key of await caches.keys()) {
        const cache = await caches.open(key);
        for (const name of names) {
            const url = new URL(name, location.href).href, kept = await cache.match(url);
            const bytes = new Uint8Array(await kept.arrayBuffer());
            const broken = whole ? bytes.map((byte) => byte ^ 0x5a) : bytes.slice(0, bytes.length / 2);
            await cache.put(url, new Response(broken, {headers: kept.headers}));
        }
    }
}"""


MENDED = """async () => {
    for (const key of await caches.keys()) {
        const cache = await caches.open(key);
        const listed = await (await cache.match("files-and-hashes.json")).json();
        for (const name of ["whole.js", "index.html"]) {
            const kept = await (await cache.match(name)).arrayBuffer();
            const hash = new Uint8Array(await crypto.subtle.digest("SHA-256", kept));
            if (listed[name] !== `sha256-${btoa(String.fromCharCode(...hash))}`) return false;
        }
    }
    return true;
}"""


def test_what_the_cache_holds_broken_is_fetched_anew(someone, site, dist):
    someone.open()
    someone.until_offline_ready()

    def break_in_cache(*groups, whole=False):
        someone.page.evaluate(BREAK, [files_of(dist, *groups), whole])
        someone.page.goto("about:blank")
        someone.go()

    break_in_cache(STARTING, STYLE)
    someone.until("#start-failed-why", "is missing or damaged.")
    someone.page.fill("#waist_girth", "78")
    someone.page.click("#start-again")
    someone.until_usable()
    assert someone.typed("waist_girth") == "78" and not someone.page.is_visible("#no-style")
    break_in_cache(WORKER, whole=True)
    someone.until("#trouble", "is missing or damaged")
    someone.page.click("#retry")
    someone.settle()
    break_in_cache(REST, ("pyodide/snapshot-*",), ("app/*", "worker.py"), whole=True)
    someone.settle()
    someone.page.wait_for_selector("#loading", state="hidden")
    assert someone.text("notices") == "" and someone.text("trouble") == "", "mended silently"
    break_in_cache(FIRST, PAGE)
    until(someone.page, MENDED)
    someone.go()
    someone.until_usable()
