"""The memory snapshot lies unpacked in the cache, and a start makes do with it packed."""

import gzip
import json

import pytest

pytestmark = pytest.mark.browser

UNPACKED = "document.documentElement.dataset.unpacked === 'yes'"
SNAPSHOT = """async () => {
    const kept = await caches.match(%s);
    return [kept.headers.has("unpacked"), (await kept.arrayBuffer()).byteLength];
}"""
PACK_AGAIN = """async () => {
    for (const name of await caches.keys())
        await (await caches.open(name)).put(%s, await fetch(%s, { cache: "reload" }));
}"""
WORKER = "document.querySelector('script[name^=drafting]').xworker.sync"


@pytest.fixture
def snapshot(dist):
    (path,) = (dist / "pyodide").glob("snapshot-*.bin")
    return path


@pytest.fixture
def page(chromium, site):
    context = chromium.new_context()
    page = context.new_page()
    page.goto(site.url)
    page.wait_for_function(UNPACKED)
    yield page
    context.close()


def test_it_is_unpacked_once_the_page_is_kept_by_a_worker_that_ends(page, snapshot):
    size = len(gzip.decompress(snapshot.read_bytes()))
    assert page.evaluate(SNAPSHOT % json.dumps(f"pyodide/{snapshot.name}")) == [True, size]
    assert [worker.url for worker in page.workers if "unpack" in worker.url] == []


def test_a_start_unpacks_it_itself_when_the_visit_before_ended_too_soon(page, snapshot):
    address = json.dumps(f"pyodide/{snapshot.name}")
    page.evaluate(PACK_AGAIN % (address, address))
    assert page.evaluate(SNAPSHOT % address) == [False, snapshot.stat().st_size]
    page.reload()
    page.wait_for_function(UNPACKED)
    assert json.loads(page.evaluate(f"{WORKER}.hello()"))["start"] == "snapshot"
    assert page.evaluate(SNAPSHOT % address)[0]
