"""How long the sheets take, once warm: in the browser's Pyodide, and in this Python for comparison.

    python tests/bench_sheets.py

`preview`, `svg` and `pdf` are rows of (what, milliseconds, limit in milliseconds or None).
source of the limits: issue 2: a change redrawn within 60 ms, a tiled PDF of an adult's dress within
half a second.
"""

import json
import sys
import tempfile
from pathlib import Path
from statistics import median
from time import perf_counter

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

Row = tuple[str, float, float | None]

MEASURE = '''
from time import perf_counter

def times(do, rounds):
    do()
    found = []
    for _ in range(rounds):
        start = perf_counter()
        do()
        found.append((perf_counter() - start) * 1000)
    return found

from drafting import requests, workbench
from drafting.sheets.preview import preview_svg
from drafting.sheets.svg import pieces_svg
from drafting.sheets.tiled_pdf import tiled_pdf

request = {"do": "draft", "garment": "apron-dress", "unit": "cm",
           "measurements": {"bust_girth": "92", "waist_girth": "78", "torso_length": "38"},
           "options": {"length": "115", "hem_girth": "240"}}
pattern = requests.draft(request)[0]
found = {
    "preview": times(lambda: preview_svg(pattern), 15),
    "draft, truing and preview": times(lambda: workbench.run(request), 15),
    "pieces.svg": times(lambda: pieces_svg(pattern), 7),
    "tiled.pdf, A4": times(lambda: tiled_pdf(pattern, paper="A4"), 5),
    "tiled.pdf, US Letter": times(lambda: tiled_pdf(pattern, paper="Letter"), 5),
    "tiled.pdf, full": times(lambda: tiled_pdf(pattern, paper="full"), 5),
}
'''
LIMITS = {"preview": None, "draft, truing and preview": 60.0, "tiled.pdf, A4": 500.0,
          "tiled.pdf, US Letter": 500.0, "tiled.pdf, full": 500.0}

PAGE = """<!doctype html><script type="module">
import { loadPyodide } from "./pyodide.mjs";
const python = await loadPyodide();
await python.loadPackage(
  ["drafting", "drafting-fonts", "stdlib-rest", "svgwrite", "pillow", "reportlab"]);
python.runPython("import sys; sys.path.append('/lib/python3.12/site-packages/stdlib_rest.zip')");
globalThis.measure = (code) => {
  python.runPython(code);
  return python.runPython("import json; json.dumps(found)");
};
document.title = "ready";
</script>"""


def in_this_python() -> list[Row]:
    space: dict = {}
    exec(compile(MEASURE, "measure", "exec"), space)  # noqa: S102 - the same text the browser runs
    return [(f"{what} (CPython)", median(times), None) for what, times in space["found"].items()]


def in_the_browser() -> list[Row]:
    """As a phone's browser would: Pyodide in Chromium, the packages that dist/ ships."""
    import shutil

    from playwright.sync_api import sync_playwright

    import build
    from tests.conftest import CHROMIUM_FLAGS, PlainSite

    build.site()
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        shutil.copytree(build.DIST / "pyodide", folder, dirs_exist_ok=True)
        (Path(folder) / "index.html").write_text(PAGE, encoding="utf-8")
        site = PlainSite(Path(folder))
        browser = playwright.chromium.launch(
            executable_path=build.browser(), args=list(CHROMIUM_FLAGS)
        )
        page = browser.new_page()
        page.goto(site.url)
        page.wait_for_function("document.title == 'ready'", timeout=120_000)
        found = json.loads(page.evaluate("code => measure(code)", MEASURE))
        browser.close()
        site.stop()
    return [(what, median(times), LIMITS.get(what)) for what, times in found.items()]


def preview() -> list[Row]:
    return [row for row in in_the_browser() if "preview" in row[0]]


def svg() -> list[Row]:
    return [row for row in in_the_browser() if "svg" in row[0]]


def pdf() -> list[Row]:
    return [row for row in in_the_browser() if "pdf" in row[0]]


def sheets() -> None:
    """A part of tests/bench.py: every row, against its limit where the issue sets one."""
    start = perf_counter()
    for what, milliseconds, limit in [*in_the_browser(), *in_this_python()]:
        verdict = "" if limit is None else "within" if milliseconds <= limit else "OVER"
        print(f"{what:<44}{milliseconds:>9,.1f} ms   {verdict} {f'{limit:g} ms' if limit else ''}")
    print(f"(measured in {perf_counter() - start:.0f} s)")


if __name__ == "__main__":
    sheets()
