"""Someone who uses the page in a browser: opens it, types, reads what it says, takes files away."""

import base64
import hashlib
import json
import time
from contextlib import suppress
from pathlib import Path

from playwright.sync_api import Error

import build
from starting import PROGRAM, packed, unpacked
from tests.conftest import PATIENCE

PARTS = ("wearer", "garment", "pieces", "cutting", "chalking", "sewing", "kit", "take-away")
SETTLED = "document.documentElement.dataset.settled === 'yes'"
OFFLINE_READY = "document.documentElement.dataset.offline === 'ready'"
PHONE = {"width": 360, "height": 740}
DESKTOP = {"width": 1280, "height": 800}
MEASURED = {"bust_girth": "92", "waist_girth": "78", "torso_length": "38"}
"""An invented volunteer of Marram Farm."""


STANDS_STILL = "() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))"
NOTED = "JSON.parse(localStorage.getItem('ellwand ' + ellwand.home))"
HEARD = "said => document.getElementById(said).textContent || !document.getElementById('done').hidden"

WATCH_THE_WORK = """([place, enough]) => {
    const working = document.getElementById(`${place}-working`);
    const progress = document.getElementById(`${place}-progress`);
    window.workWas = "";
    const look = () => {
        workWas = working.hidden ? workWas && "over" : "going on";
        if (working.hidden || !enough || !(progress.position > 0)) return;
        enough = false;
        working.querySelector("button").click();
    };
    new MutationObserver(look).observe(working, { attributes: true, childList: true, subtree: true });
}"""
"""A small lay may come and go while Playwright does not look."""


def until(page, condition):
    """Ask again and again until a condition holds: a Python function, or a script that makes a promise.

    Playwright's own wait_for_function takes a promise itself for true.
    """
    latest = time.monotonic() + PATIENCE
    while not (condition() if callable(condition) else page.evaluate(condition)):
        assert time.monotonic() < latest, f"not within {PATIENCE} s: {condition}"
        page.wait_for_timeout(50)


class Gate:
    """Holds back what is asked for at an address until it is opened."""

    def __init__(self, page, address) -> None:
        self._held: list = []
        self._is_open = False
        page.route(address, lambda route: self._come(route))

    def _come(self, route):
        if self._is_open:
            route.continue_()
        else:
            self._held.append(route)

    def open(self):
        self._is_open = True
        for route in self._held:
            route.continue_()
        self._held.clear()


def serve_changed(context, dist, name, *changes):
    """Give a page or a context a file with (before, after) changed in it, and hashes to match."""
    text = (dist / name).read_text(encoding="utf-8")
    serve_instead(context, dist, name, with_changes(text, name, changes).encode())


def serve_changed_modules(context, dist, modules):
    """The same with modules of the page's own Python, in source, which MicroPython looks for first."""
    program = unpacked((dist / PROGRAM).read_bytes())
    for name, changes in modules.items():
        source = (build.SITE / "app" / f"{name}.py").read_text(encoding="utf-8")
        program[f"{name}.py"] = with_changes(source, name, changes).encode()
    serve_instead(context, dist, PROGRAM, packed(program))


def with_changes(text, name, changes):
    for before, after in changes:
        assert text.count(before) == 1, f"{before!r} in {name}"
        text = text.replace(before, after)
    return text


def serve_instead(context, dist, name, content):
    before = {at: (dist / at).read_bytes() for at in (name, "whole.js", "index.html")}
    for at in ("whole.js", "index.html"):  # a script's hash stands in both
        old, new = hash_of(before[name]), hash_of(content)
        serve(context, name, content)
        assert old in before[at]
        before["index.html"] = before["index.html"].replace(old, new)
        name, content = at, before[at].replace(old, new)
    serve(context, "", content)


def serve(context, name, content):
    kinds = {"py": "text/x-python", "js": "text/javascript", "bin": "application/octet-stream"}
    kind = kinds.get(name.rpartition(".")[2], "text/html")
    context.route(
        lambda url: url.split("?")[0].split("#")[0].endswith("/ellwand/" + name),
        lambda route: route.fulfill(body=content, content_type=kind),
    )


def hash_of(content):
    return b"sha256-" + base64.b64encode(hashlib.sha256(content).digest())


# By the page itself: what it wrote as it was left may not have reached the browser yet.
FORGET = """async () => {
    localStorage.clear();
    sessionStorage.clear();
    for (const { name } of await indexedDB.databases()) {
        await new Promise((done) => {
            Object.assign(indexedDB.deleteDatabase(name), { onsuccess: done, onerror: done });
        });
    }
}"""


EMPTY = "icons/icon-180.png"
"""The site's origin, without the page."""
# As the page does at the end of a first visit.
KEEP_OFFLINE = """async () => {
    const { installing } = await navigator.serviceWorker.register("../sw.js", { scope: "../" });
    await new Promise((done, failed) => {
        installing.addEventListener("statechange", () => {
            if (installing.state === "activated") done();
            if (installing.state === "redundant") failed(new Error("the site is not whole"));
        });
    });
}"""


def one_that_has_been_here(context, site):
    """An empty page of a context that has the site in its cache: that takes a fourth of a first visit."""
    page = context.new_page()
    page.goto(site.url + EMPTY)
    page.evaluate(KEEP_OFFLINE)
    page.reload()
    return page


class Profiles:
    """Stands in for the browser where it does not matter that a visit is the first.

    A context and its first page are used again by the next who asks for one like it, emptied of all that a
    visitor leaves behind, but with the site in its cache: a page starts there in half the time. What the
    service worker answers from that cache cannot be routed, and what was served once cannot be made to fail.
    """

    def __init__(self, chromium, site) -> None:
        self.site = site
        self._chromium = chromium
        self._like: dict = {}  # by context: its options
        self._free: list = []

    def new_context(self, **options):
        context = next((one for one in self._free if self._like[one] == options), None)
        if context:
            self._free.remove(context)
        else:
            context = self._chromium.new_context(**options)
            self._like[context] = options
            one_that_has_been_here(context, self.site)
        page = context.pages[0]
        page.evaluate(FORGET)
        page.set_viewport_size(options["viewport"])
        page.emulate_media(media="null", color_scheme="null", reduced_motion=options["reduced_motion"])
        return context

    def take_back(self, context, own):
        """With no page but `own`, or a new one. It is emptied when it is given out: a tab may still write."""
        context.set_offline(False)
        context.clear_permissions()
        kept = context.new_page() if own.is_closed() else own
        kept.unroute_all()
        for page in context.pages:
            if page is not kept:
                page.close()
        kept.goto(self.site.url + EMPTY)
        self._free.append(context)


class Hands:
    """A page whose parts are shown one at a time, for whoever looks for a thing as a person does: goes to
    the part where it is, and finds it there; to do something with it, unfolds what it is in. All else is
    Playwright's page."""

    GOING = ("click", "fill", "check", "uncheck", "set_checked", "select_option", "press", "focus", "hover",
             "inner_text", "is_visible", "wait_for_selector", "locator", "set_input_files")
    DOING = ("click", "fill", "check", "uncheck", "set_checked", "select_option", "press", "focus", "hover")
    REACH = """([selector, unfold]) => {
        const sought = document.querySelector(selector);
        const part = sought?.closest("main > section");
        if (part && !part.checkVisibility()) document.querySelector(`nav a[href="#${part.id}"]`).click();
        if (!unfold || !sought) return;
        const from = sought.closest("summary") ? sought.closest("details").parentElement : sought;
        const fold = from.closest("details:not([open])");
        if (fold) fold.open = true;
    }"""

    def __init__(self, page) -> None:
        self._page = page

    def __getattr__(self, name):
        does = getattr(self._page, name)
        if name not in self.GOING:
            return does

        def go_and_do(selector, *args, **options):
            self.reach(selector, name in self.DOING)
            return does(selector, *args, **options)

        return go_and_do

    def reach(self, selector, unfold=False):
        """Nothing where it is shown already, or not on the page."""
        with suppress(Error):  # a selector of Playwright's own kind: its element must be shown already
            self._page.evaluate(self.REACH, [selector, unfold])


class Visitor:
    """A fresh profile (a browser context of its own) on a phone, or at a desk; or one of `Profiles`."""

    def __init__(self, browser, site, screen=PHONE, **options) -> None:
        self.site = site
        self._browser = browser
        self.context = browser.new_context(
            viewport=screen, has_touch=screen is PHONE, locale="en-GB",
            reduced_motion="reduce", **options,
        )
        self.asked: list[str] = []
        self.errors: list[str] = []
        self.context.on("request", self._note)
        self._met: list = []
        self._first = ""
        self.page = self._meet(self.context.pages[0]) if self.context.pages else self.new_page()
        self._own = self._met[-1]

    def _note(self, request):
        self.asked.append(request.url)

    def _hear(self, error):
        self.errors.append(str(error))

    def _meet(self, page):
        page.on("pageerror", self._hear)
        self._met.append(page)
        return Hands(page)

    def go(self, part):
        """To a part of the page."""
        self.page.reach(f"#{part}")

    def new_page(self):
        self.page = self._meet(self.context.new_page())
        if self._first:
            self.page.add_init_script(self._first)
        return self.page

    def open(self, fragment="", settled=True):
        self.page.goto(self.site.url + fragment)
        if settled:
            self.settle()
        return self

    def keep_a_link(self, fragment):
        """Open a link and have its draft in the kit, body and all."""
        self.open(fragment)
        self.page.click("[data-do=theirs]")
        self.settle()
        self.page.click("[data-do=done]")

    def runs_first(self, script):
        """In a page of its own, which is closed in the end: what a script replaces there stays replaced."""
        self._first = script
        self.new_page()

    def reload(self):
        self.page.reload()
        self.settle()

    def settle(self):
        """Wait until the page shows, or refuses, what is typed."""
        self.page.wait_for_function(SETTLED)

    def until_offline_ready(self):
        self.page.wait_for_function(OFFLINE_READY)

    def until_asked(self, do):
        """Do what makes the page ask the worker for a drawing, and wait until it has asked."""
        before = self.page.evaluate("performance.now()")
        do()
        self.page.wait_for_function(
            "before => performance.getEntriesByName('asked')[0]?.startTime > before", arg=before)

    def saved(self):
        """Wait until the database holds what stands on the page."""
        self.page.wait_for_function(f"!{NOTED}.dirty")

    def stands_still(self):
        """Wait until the page is laid out and painted as it is now."""
        self.page.evaluate(STANDS_STILL)

    def turn(self, screen):
        """Change the size of the screen."""
        self.page.set_viewport_size(screen)
        self.page.wait_for_function("width => innerWidth === width", arg=screen["width"])
        self.stands_still()

    def choose_file(self, box, said, content, name="a.json"):
        """Choose a file; wait until the page has said something of it, in that place or by offering undo."""
        self.page.evaluate(
            "said => { document.getElementById(said).textContent = '';"
            " document.getElementById('done').hidden = true; }", said)
        if isinstance(content, str):
            content = content.encode("utf-8", "surrogatepass")
        self.page.set_input_files(box, {"name": name, "mimeType": "application/json", "buffer": content})
        self.page.wait_for_function(HEARD, arg=said)

    def lay(self, button="#lay", enough=False):
        """To the end; or until there is one, if any is good `enough`: then "That will do" is pressed."""
        self._work("lay", button, enough)

    def make_list(self):
        """The shopping list, with the first lays that are found."""
        self._work("shop", "[data-do='shop:make']", True)

    def _work(self, place, button, enough):
        self.page.evaluate(WATCH_THE_WORK, [place, enough])
        self.page.click(button)
        self.page.wait_for_function("window.workWas === 'over'")

    def that_will_do(self, place):
        """Press that button, unless the work is over by now."""
        self.page.evaluate(
            "id => { const working = document.getElementById(id);"
            " if (!working.hidden) working.querySelector('button').click(); }", f"{place}-working")
        self.page.wait_for_selector(f"#{place}-working", state="hidden")

    def kill_worker(self):
        """What a browser that runs out of memory does; it tells nobody."""
        self.page.evaluate("document.querySelector('script[name^=drafting]').xworker.terminate()")

    def type(self, settled=True, **texts):
        for name, text in texts.items():
            self.show(name)
            self.page.fill(f"#{name}", text)
        if settled:
            self.settle()

    def pick(self, group, value):
        self.show(group)
        self.page.check(f'input[name="{group}"][value="{value}"]', force=True)
        self.settle()

    def show(self, name):
        """Unfold the group that a field is in."""
        self.page.evaluate(
            "name => { const fold = document.getElementById('field-' + name)?.closest('details');"
            " if (fold) fold.open = true; }",
            name,
        )

    def unfold(self, *names):
        self.page.evaluate(
            "names => names.forEach(name => { document.getElementById(name).open = true })", list(names))

    def text(self, place):
        """What stands at a place as one can see it; empty when it is not shown."""
        return self.page.inner_text(f"#{place}") if self.page.is_visible(f"#{place}") else ""

    def typed(self, name):
        return self.page.input_value(f"#{name}")

    def problem(self, name):
        return self.text(f"{name}-problem")

    def drawing(self):
        """The outlines on the cloth, so that two drawings can be compared."""
        return self.page.eval_on_selector_all(
            "#cloth .cut", "lines => lines.map(line => line.getAttribute('d'))"
        )

    def download(self, kind) -> bytes:
        said = f"took-{kind}"
        self.page.evaluate("said => { document.getElementById(said).textContent = '' }", said)
        with self.page.expect_download() as caught:
            self.page.click(f'[id="take-{kind}"]')
            self.page.wait_for_function(
                "said => document.getElementById(said).textContent.endsWith('.')", arg=said)
            assert "in your downloads" in self.page.text_content(f'[id="{said}"]')
        return Path(caught.value.path()).read_bytes()

    def pattern(self) -> dict:
        return json.loads(self.download("pattern.json"))

    def link(self, with_name=False) -> str:
        self.page.set_checked("#with-name", with_name)
        self.page.evaluate("document.querySelector('#link').value = ''")
        self.page.click("[data-do=copy-link]")
        self.page.wait_for_function("document.querySelector('#link').value")
        return self.page.input_value("#link")

    def scrolls_sideways(self) -> bool:
        return self.page.evaluate(
            "document.documentElement.scrollWidth > document.documentElement.clientWidth"
        )

    def close(self):
        if isinstance(self._browser, Profiles):
            self.context.remove_listener("request", self._note)
            for page in self._met:
                page.remove_listener("pageerror", self._hear)
            self._browser.take_back(self.context, self._own)
        else:
            self.context.close()
