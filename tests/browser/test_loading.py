"""The page loads: first visit, later visits, no network, updates, and what is said when it cannot."""

import base64
import gzip
import hashlib
import json
import os
import shutil
from pathlib import Path
from types import SimpleNamespace

import pytest
from visitor import EMPTY, OFFLINE_READY, one_that_has_been_here, until

import build
from fetching import npm_package

pytestmark = pytest.mark.browser

DRAFTED = "performance.getEntriesByName('first-pattern').length > 0"
REGISTRATION = "navigator.serviceWorker.getRegistration()"
WORKER = "document.querySelector('script[name^=drafting]').xworker.sync"
DRESS = {
    "garment": "apron-dress",
    "measurements": {"bust_girth": "92cm", "waist_girth": "78cm", "torso_length": "38cm"},
    "options": {"length": "115cm", "hem_girth": "240cm"},
    "unit": "cm",
}
# source: the files that Pyodide's documentation tells to host for loadPyodide(), 0.27.7
BARE_PYODIDE = (
    "pyodide.mjs",
    "pyodide.asm.js",
    "pyodide.asm.wasm",
    "python_stdlib.zip",
    "pyodide-lock.json",
)


WATCH_THE_PROGRESS = """
    window.said = [];
    const Plain = Worker;
    window.Worker = class extends Plain {
        constructor(...options) {
            super(...options);
            this.addEventListener("message", ({ data }) => {
                if (data?.ellwand === "progress") said.push([data.part, data.loaded, data.total]);
            });
        }
    };
"""


@pytest.fixture
def context(chromium):
    fresh = chromium.new_context()
    yield fresh
    fresh.close()


@pytest.fixture(scope="module")
def first(chromium, module_site):
    """A first visit to its end: what was asked of whom, and when; what was said; in whose context."""
    context = chromium.new_context()
    urls = []
    context.on("request", lambda request: urls.append(request.url))
    page = context.new_page()
    page.add_init_script(WATCH_THE_PROGRESS)
    page.goto(module_site.url)
    page.wait_for_function(OFFLINE_READY)
    drafted = page.evaluate(
        "performance.timeOrigin + performance.getEntriesByName('first-pattern')[0].startTime"
    )
    before = [name or "index.html" for when, name in module_site.asked if when * 1000 < drafted]
    start, said = start_of(page), page.evaluate("said")
    yield SimpleNamespace(context=context, urls=urls, before_the_pattern=before, start=start, said=said)
    context.close()


@pytest.fixture
def returning(first, module_site):
    """The context of that first visit; the server may be stopped, and runs again afterwards."""
    for page in first.context.pages:
        page.close()
    yield first.context
    module_site.stop()
    module_site.start(module_site.port)


@pytest.fixture
def guest(context, copy, serve):
    """(a context that has been here, the site it has been to), which serves a copy of dist/."""
    site = serve(copy)
    one_that_has_been_here(context, site).close()
    return context, site


@pytest.fixture
def copy(dist, tmp_path):
    """A copy of dist/ that a test may change, by replacing files: they are links to the real ones."""
    return shutil.copytree(dist, tmp_path / "dist", copy_function=os.link)


def visit(context, site, until=OFFLINE_READY):
    page = context.new_page()
    page.goto(site.url)
    page.wait_for_function(until)
    return page


def ask_worker(page, function, request):
    return page.evaluate(
        f"async ([request]) => Array.from(await {WORKER}.{function}(request) ?? [], "
        "(part) => part instanceof Uint8Array ? Array.from(part) : part)",
        [json.dumps(request)],
    )


def start_of(page):
    return page.evaluate(f"async () => JSON.parse(await {WORKER}.hello()).start")


def pdf_of_dress(page):
    result, content = ask_worker(
        page, "run_bytes", {"do": "file", "kind": "tiled.pdf", "paper": "A4", **DRESS}
    )
    assert json.loads(result)["ok"], result
    return bytes(content)


def test_first_visit_needs_no_special_headers_and_no_other_origin(first, module_site):
    assert first.start == "plain"
    own = (module_site.url, f"blob:{module_site.origin}/")
    assert first.urls and [url for url in first.urls if not url.startswith(own)] == []


def test_server_that_knows_only_html_and_scripts_is_enough(context, site):
    # common practice, no source: old servers' tables lack .mjs, .wasm, .webmanifest, .whl
    site.media_types = {".html": "text/html", ".js": "text/javascript", ".css": "text/css"}
    visit(context, site)
    assert start_of(visit(context, site)) == "snapshot"


def test_the_policy_forbids_other_origins(context, site, serve, dist):
    page = visit(context, site, DRAFTED)
    refused = "url => fetch(url).then(() => 'answered', () => 'refused')"
    assert page.evaluate(refused, serve(dist).url) == "refused"
    assert page.evaluate(refused, site.url) == "answered"


def test_bytes_before_the_first_pattern_are_little_more_than_bare_pyodides(first, dist):
    asked = first.before_the_pattern
    heavy = [name for name in asked if name.startswith("pyodide/")]
    assert len(heavy) == len(set(heavy)), f"asked for twice: {sorted(heavy)}"
    ours = sum(len(gzip.compress((dist / name).read_bytes())) for name in asked)
    pyodide = npm_package("pyodide")
    bare = sum(len(gzip.compress((pyodide / name).read_bytes())) for name in BARE_PYODIDE)
    assert "pyodide/pyodide.asm.wasm" in asked
    assert ours <= 1.2 * bare, f"{ours / bare:.2f} × bare Pyodide's: {sorted(asked)}"


def test_progress_counts_the_bytes_of_both_parts_to_the_end(first, dist):
    said = first.said
    parts = {"first": ["pyodide.asm.wasm", "python_stdlib.zip", "drafting-*.whl"], "rest": ["*.whl"]}
    sizes = {
        part: sum(path.stat().st_size for name in names for path in (dist / "pyodide").glob(name))
        for part, names in parts.items()
    }
    (ours,) = (dist / "pyodide").glob("drafting-*.whl")
    sizes["rest"] -= ours.stat().st_size  # it came with the first part
    for part, size in sizes.items():
        loaded = [done for of, done, total in said if of == part]
        assert {total for of, done, total in said if of == part} == {size}, part
        assert loaded == sorted(loaded), part
        assert loaded[-1] == size, part


def test_later_visit_starts_from_the_snapshot_and_works_with_the_server_gone(returning, module_site):
    module_site.stop()
    page = visit(returning, module_site)
    assert start_of(page) == "snapshot"
    assert pdf_of_dress(page).startswith(b"%PDF-")


def test_query_and_fragment_open_the_page_offline_too(returning, module_site):
    module_site.stop()
    page = returning.new_page()
    for address in ("index.html", "?from=home-screen", "#apron-dress&bust_girth=92cm"):
        page.goto("about:blank")
        page.goto(module_site.url + address)
        page.wait_for_function(DRAFTED)


def test_broken_snapshot_is_survived_by_a_plain_start(guest):
    context, site = guest
    page = visit(context, site, "document.documentElement.dataset.unpacked === 'yes'")
    page.evaluate(
        """async () => {
            for (const name of await caches.keys()) {
                const cache = await caches.open(name);
                for (const { url } of await cache.keys())
                    if (url.includes("/snapshot-")) await cache.put(url, new Response("broken"));
            }
        }"""
    )
    page.close()
    assert start_of(visit(context, site, DRAFTED)) == "plain"


def test_request_that_needs_more_than_the_first_draft_waits_for_it(context, site):
    page = visit(context, site, "document.documentElement.dataset.engine === 'running'")
    answer = page.evaluate(
        f"async ([request]) => JSON.parse(await {WORKER}.run(request))",
        [json.dumps({"do": "sew", **DRESS})],
    )
    assert answer["ok"], answer


def test_package_that_cannot_be_fetched_is_named_and_may_be_asked_for_again(context, site, dist):
    (wheel,) = (path.name for path in (dist / "pyodide").glob("reportlab-*.whl"))
    site.missing.add(f"pyodide/{wheel}")
    page = visit(context, site, DRAFTED)
    load_rest = f"async () => JSON.parse(await {WORKER}.load_rest()).failed"
    failed = page.evaluate(load_rest)
    assert list(failed) == ["reportlab"]
    assert failed["reportlab"].endswith("is there a network connection?")
    site.missing.clear()
    assert page.evaluate(load_rest) == {}
    assert pdf_of_dress(page).startswith(b"%PDF-")


def replace(path: Path, text: str) -> None:
    path.unlink()
    path.write_text(text, encoding="utf-8")


def publish_new_version(folder: Path, release: str = "999.0") -> None:
    """A changed page of a release, and the service worker's list brought up to date with it."""
    index, worker = folder / "index.html", folder / "sw.js"
    changed = index.read_text(encoding="utf-8").replace("<html", '<html data-edition="second"')
    replace(index, changed)
    code = worker.read_text(encoding="utf-8")
    line = next(line for line in code.splitlines() if line.startswith("const BUILD = "))
    listed = json.loads(line.removeprefix("const BUILD = ").rstrip(";"))
    digest = base64.b64encode(hashlib.sha256(changed.encode()).digest()).decode()
    listed["files"]["index.html"] = f"sha256-{digest}"
    replace(worker, code)
    build.fill_in(worker, {**listed, "version": "second", "release": release})


ALTER = """async ([names, more]) => {
    for (const key of await caches.keys()) {
        const cache = await caches.open(key);
        for (const name of names) {
            const url = new URL(`../${name}`, location.href).href, kept = await cache.match(url);
            const altered = new Blob([more, await kept.arrayBuffer()]);
            await cache.put(url, new Response(altered, {headers: kept.headers}));
        }
    }
}"""
"""From the EMPTY page: put something before what the caches hold of some files."""
HELD = """async name => {
    const hashes = [];
    for (const key of await caches.keys()) {
        const kept = await (await caches.open(key)).match(new URL(`../${name}`, location.href).href);
        const hash = await crypto.subtle.digest("SHA-256", await kept.arrayBuffer());
        hashes.push(`sha256-${btoa(String.fromCharCode(...new Uint8Array(hash)))}`);
    }
    return hashes;
}"""
WORKERS = ("pyodide/start.js", "pyodide/pyodide.js", "pyodide/pyodide.asm.js", "pyodide/unpack.js")


def empty_page(context, site):
    page = context.new_page()
    page.goto(site.url + EMPTY)
    return page


@pytest.mark.parametrize("name", WORKERS[:3])
def test_a_script_of_the_worker_that_was_altered_in_the_cache_never_runs(guest, dist, name):
    context, site = guest
    empty = empty_page(context, site)
    empty.evaluate(ALTER, [[name], "fetch('altered');\n"])
    page = visit(context, site, DRAFTED)
    assert not {asked for _, asked in site.asked if asked.endswith("altered")}
    assert start_of(page) == "snapshot"
    assert empty.evaluate(HELD, name) == [build.digest(dist / name)], "it is put in order"


def test_a_script_of_the_worker_that_cannot_be_put_in_order_is_named(guest):
    context, site = guest
    empty_page(context, site).evaluate(ALTER, [["pyodide/pyodide.js"], "fetch('altered');\n"])
    site.missing.add("pyodide/pyodide.js")
    page = visit(context, site, "document.getElementById('trouble').checkVisibility()")
    assert "pyodide/pyodide.js could not be loaded: it is missing or damaged." in page.inner_text("#trouble")
    assert not {asked for _, asked in site.asked if asked.endswith("altered")}


def test_what_was_altered_in_the_cache_does_not_survive_an_update(guest, copy):
    context, site = guest
    visit(context, site, "document.documentElement.dataset.unpacked === 'yes'").close()
    (wheel,) = (f"pyodide/{path.name}" for path in (copy / "pyodide").glob("segno-*.whl"))
    altered = [*WORKERS, wheel, "pyodide/pyodide.asm.wasm"]
    empty = empty_page(context, site)
    empty.evaluate(ALTER, [altered, "0;"])
    publish_new_version(copy)
    site.asked.clear()
    empty.evaluate(f"{REGISTRATION}.then(r => r.update())")
    until(empty, f"{REGISTRATION}.then(r => r.waiting?.state === 'installed')")
    assert {name for _, name in site.asked} == {"sw.js", "index.html", *altered}, "the snapshot is copied"
    for name in altered:
        assert build.digest(copy / name) in empty.evaluate(HELD, name), name


def test_half_published_update_leaves_the_old_version_working(guest, copy):
    context, site = guest
    publish_new_version(copy)
    replace(copy / "index.html", "<!doctype html> cut off")  # not what the list says
    site.asked.clear()
    page = visit(context, site)
    until(page, lambda: "index.html" in {name for _, name in site.asked})  # the update is tried
    until(page, f"{REGISTRATION}.then(r => !r.installing && !r.waiting)")
    page.close()
    site.stop()
    page = visit(context, site)
    assert page.evaluate("document.documentElement.dataset.edition ?? 'first'") == "first"


def test_complete_update_is_offered_and_keeps_what_is_being_typed(guest, copy):
    context, site = guest
    publish_new_version(copy)
    site.asked.clear()
    page = visit(context, site)
    until(page, f"{REGISTRATION}.then(r => r.waiting?.state === 'installed')")
    assert {name for _, name in site.asked} <= {"sw.js", "index.html"}, "only what changed is fetched again"
    page.locator("[data-do=newer]").wait_for()
    assert "A newer Ellwand (999.0) has been fetched." in page.inner_text("#notices")
    page.fill("#bust_girth", "104")
    page.fill("#waist_girth", "90,")
    assert page.evaluate("document.documentElement.dataset.edition") is None, "offered, not forced"
    page.evaluate("window.before = true")
    page.click("[data-do=newer]")
    page.wait_for_function("!window.before && document.documentElement?.dataset.usable")
    assert page.input_value("#bust_girth") == "104" and page.input_value("#waist_girth") == "90,"
    until(page, "caches.keys().then(names => names.length === 1)")
    page.close()
    site.stop()
    page = visit(context, site)
    assert page.evaluate("document.documentElement.dataset.edition") == "second"
    assert start_of(page) == "snapshot"


def test_use_it_now_works_in_each_tab(guest, copy):
    context, site = guest
    publish_new_version(copy)
    tabs = [visit(context, site), visit(context, site)]
    for tab in tabs:
        tab.locator("[data-do=newer]").wait_for()
    for tab in tabs:
        tab.evaluate("window.before = true")
        tab.click("[data-do=newer]")
        tab.wait_for_function("!window.before && document.documentElement?.dataset.usable")
        assert tab.evaluate("document.documentElement.dataset.edition") == "second"


def test_a_host_that_goes_back_to_an_earlier_version_is_not_said_to_have_a_newer_one(guest, copy):
    context, site = guest
    publish_new_version(copy, release="0.0.9")
    page = visit(context, site)
    page.locator("[data-do=newer]").wait_for()
    said = page.inner_text("#notices")
    assert "newer" not in said
    assert f"gone back to an earlier Ellwand: 0.0.9, where you have {build.VERSION}." in said
