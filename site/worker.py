"""The worker: hands the page's requests to drafting.workbench. It never touches the page.

One message protocol, JSON both ways:
    hello() -> JSON {"start": "snapshot" or "plain", "version": …}
    run(request) -> result
    run_bytes(request) -> [result, file]: the result without its "bytes", which come as a Uint8Array
        (or null, when the result says what is wrong instead)
    load_rest() -> JSON {"ready": […], "failed": {package: sentence}}

Names are exported even when drafting itself fails to import: `hello` then raises, with the reason.
"""

import asyncio
import importlib
import json

import js
import pyodide_js
from pyodide.ffi import to_js

__export__ = ["hello", "run", "run_bytes", "load_rest"]

# Loaded while the user looks, and the module that each is imported by; ours are imported when used.
REST = {
    "drafting": "",
    "drafting-fonts": "",
    "svgwrite": "svgwrite",
    "pillow": "",
    "reportlab": "reportlab.pdfgen.canvas",
    "segno": "segno",
    "numpy": "numpy",
}

_rest: asyncio.Future | None = None


def hello():
    from drafting import __version__, workbench  # noqa: F401

    return json.dumps({"start": js.ellwandStart, "version": __version__})


def run(request):
    from drafting import workbench

    return json.dumps(workbench.run(json.loads(request)))


async def run_bytes(request):
    from drafting import workbench

    await load_rest()
    result = workbench.run(json.loads(request))
    content = result.pop("bytes", None)
    return to_js([json.dumps(result), content])


async def load_rest():
    """Load what the files and the lay need, once; a failed load may be asked for again."""
    global _rest
    if _rest is None or (_rest.done() and json.loads(_rest.result())["failed"]):
        _rest = asyncio.ensure_future(_load_rest())
    return await _rest


async def _load_rest():
    names = [name for name in REST if name not in pyodide_js.loadedPackages.to_py()]
    js.ellwandExpect(to_js(names))
    await pyodide_js.loadPackage(to_js(names))
    loaded = pyodide_js.loadedPackages.to_py()
    failed = {
        name: f"{name} could not be loaded: is there a network connection?"
        for name in REST
        if name not in loaded
    }
    for name, module in REST.items():
        await asyncio.sleep(0)  # a redraw that came meanwhile goes first
        if module and name not in failed:
            importlib.import_module(module)
    return json.dumps({"ready": [name for name in REST if name not in failed], "failed": failed})
