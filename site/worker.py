"""The worker: hands the page's requests to drafting.requests.workbench. It never touches the page.

JSON text both ways:
    hello() -> {"start": "snapshot" or "plain"}, at once; from a snapshot with what version() says
    version() -> {"version": …}; raises when drafting cannot be imported
    run(request) -> the result
    run_bytes(request) -> [result, bytes]: its "bytes" apart, as a Uint8Array (undefined when there
        are none); waits for the packages that files are written with
    lay(request), save(request), shop(request), wear(request) -> the result, after posting {ellwand: "step",
        text} with those that workbench.lay_in_steps, save_in_steps, shop_in_steps or wear_in_steps gives
        first; everything else is answered meanwhile
    stop(): what is under way ends with the best it has
    load_rest(kept=False) -> {"failed": {package: sentence}}; what failed may be asked for again. With
        the whole site in the browser's cache, `kept`, nothing is fetched before it is quiet
"""

import asyncio
import importlib
import json
import os
import sys
import time

import js
import pyodide_js
from pyodide.ffi import to_js

__export__ = ["hello", "version", "run", "run_bytes", "lay", "save", "shop", "wear", "stop", "load_rest"]

# What is loaded while the user looks, and what each is imported as, in this order; ours when used.
OURS = {"stdlib-rest": "", "drafting": "", "drafting-rest": ""}
DRAWING = {"svgwrite": "svgwrite"}
FILES = {
    "drafting-fonts": "",
    "pillow": "PIL.Image",
    "reportlab": "reportlab.pdfgen.canvas",
}
CODES = {"segno": "segno"}
LAY = {"numpy": "numpy"}
GROUPS = (OURS, CODES, DRAWING, FILES, LAY)
OF_A_LAY = ("lay.json", "lay.svg", "lay-lining.json", "lay-lining.svg", "chalk-plan.pdf",
            "chalk-plan.json")

SITE_PACKAGES = next(path for path in sys.path if path.endswith("site-packages"))

_loading = asyncio.Lock()
_announced = set()  # packages whose bytes the page's progress bar already counts
_imported = set()
_stop = False
_busy_until = 0.0
LEISURE = 2  # seconds without a request after which what may be wanted next is imported


class _NotYet:
    """Last on sys.meta_path: notes that a module was wanted that may still be on its way."""

    wanted = False

    @classmethod
    def find_spec(cls, name, path=None, target=None):
        cls.wanted = True


sys.meta_path.append(_NotYet)


def _text(value):
    """As JSON. MicroPython's reader makes two halves of the escapes that stand for an emoji."""
    return json.dumps(value, ensure_ascii=False)


def hello():
    return _text({"start": js.ellwandStart, **(_version() if js.ellwandStart == "snapshot" else {})})


def version():
    return _text(_version())


def _version():
    from drafting import __version__
    from drafting.requests import workbench  # noqa: F401

    return {"version": __version__}


async def run(request):
    from drafting.requests import workbench

    request = json.loads(request)
    _NotYet.wanted = False
    result = workbench.run(request)
    for group in (OURS, CODES, LAY):  # a first draft needs none; what does is answered when they are here
        if _NotYet.wanted and _missing(group):
            failed = await _load(group)
            if failed and not result["ok"]:
                return _text(_refused(failed))
            _NotYet.wanted = False
            result = workbench.run(request)
    _was_asked()
    return _text(result)


async def run_bytes(request):
    from drafting.requests import workbench

    request = json.loads(request)
    failed = {**await _load(OURS), **await _load(DRAWING), **await _load(FILES)}
    if request.get("cloth") or request.get("cloths") or request.get("kind") in OF_A_LAY:
        failed.update(await _load(LAY))
    result = _refused(failed) if failed else workbench.run(request)
    content = result.pop("bytes", None)
    _was_asked()
    return to_js([_text(result), content])


async def lay(request):
    return await _watched("lay_in_steps", request)


async def save(request):
    return await _watched("save_in_steps", request)


async def shop(request):
    return await _watched("shop_in_steps", request)


async def wear(request):
    return await _watched("wear_in_steps", request)


async def _watched(name, request):
    global _stop
    from drafting.requests import workbench

    failed = {**await _load(OURS), **await _load(LAY)}
    if failed:
        return _text(_refused(failed))
    _stop = False
    steps = getattr(workbench, name)(json.loads(request))
    result = next(steps)
    while result.get("going_on"):
        said = {"ellwand": "step", "of": name, "text": _text(result)}
        _was_asked()
        js.postMessage(to_js(said, dict_converter=js.Object.fromEntries))
        await asyncio.sleep(0.001)  # whatever came meanwhile goes first
        result = steps.send(_stop)
    return _text(result)


def _was_asked():
    global _busy_until
    _busy_until = time.monotonic()


def _refused(failed):
    """The result where packages are missing: {package: sentence}."""
    message = f"{', '.join(failed)} could not be fetched: check the connection, then try again."
    problem = {"field": "", "message": message, "severity": "error", "also": []}
    return {"ok": False, "problems": [problem]}


def stop():
    global _stop
    _stop = True


async def load_rest(kept=False):
    if not kept:
        _announce([name for group in GROUPS for name in _missing(group)])
    failed = {}
    for group in GROUPS:
        if kept:
            await _leisure()
        failed.update(await _fetch(group))
    if not _missing(OURS):
        asyncio.create_task(_import_at_leisure())
    return _text({"failed": failed})


async def _import_at_leisure():
    for group in GROUPS:
        for name in _to_import(group):
            await _leisure()
            _import(group, name)


async def _leisure():
    """Unpacking and importing hold up whatever is asked meanwhile: wait until it is quiet for a while."""
    while (wait := _busy_until + LEISURE - time.monotonic()) > 0:
        await asyncio.sleep(wait)


async def _load(group):
    """Have the group's packages imported: {package: sentence} of those that cannot be had."""
    failed = await _fetch(group)
    if not failed and not _missing(OURS):
        for name in _to_import(group):
            await asyncio.sleep(0)  # a redraw that came meanwhile goes first
            _import(group, name)
    return failed


def _to_import(group):
    """What is here and not imported yet."""
    return [name for name in group if group[name] and name not in _imported and name not in _missing(group)]


def _import(group, name):
    importlib.import_module(group[name])
    _imported.add(name)


async def _fetch(group):
    """Fetch the group's packages that are not here yet: {package: sentence} of those that fail."""
    async with _loading:
        missing = _missing(group)
        if missing:
            _announce(missing)
            await pyodide_js.loadPackage(to_js(missing))
            _announced.difference_update(missing)
            _add_rest_of_the_library()
        missing = _missing(group)
        return {name: f"{name} could not be loaded: is there a network connection?" for name in missing}


def _announce(names):
    """Tell the page's progress bar what is about to be fetched, unless it counts that already."""
    if not _announced.issuperset(names):
        _announced.update(names)
        js.ellwandExpect(to_js(names))


def _add_rest_of_the_library():
    """The standard library comes in two parts; site/prepare/pack.py says which is where."""
    path = f"{SITE_PACKAGES}/stdlib_rest.zip"
    if path not in sys.path and os.path.exists(path):
        sys.path.append(path)


def _missing(group):
    loaded = pyodide_js.loadedPackages.to_py()
    return [name for name in group if name not in loaded]
