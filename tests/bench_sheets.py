"""How long the sheets take in the browser's Pyodide, once warm.

A part of tests/bench.py: `python tests/bench.py sheets`. source of the limits: issue 2: a change redrawn
within 60 ms, a tiled PDF of an adult's dress within half a second.
"""

import json
import shutil
import tempfile
from pathlib import Path
from statistics import median

import build
from tests.bench_loading import chromium
from tests.bench_results import Row
from tests.conftest import PlainSite

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

from drafting.desk.drafts import draft
from drafting.desk.order import read_order
from drafting.requests import workbench
from drafting.sheets.preview import preview_svg
from drafting.sheets.svg import pieces_svg
from drafting.sheets.tiled_pdf import tiled_pdf

request = {"do": "draft", "garment": "apron-dress", "unit": "cm",
           "measurements": {"bust_girth": "92", "waist_girth": "78", "torso_length": "38"},
           "options": {"length": "115", "hem_girth": "240"}}
pattern = draft(read_order(request)).pattern
found = {
    "preview": times(lambda: preview_svg(pattern), 15),
    "draft, truing and preview": times(lambda: workbench.run(request), 15),
    "pieces.svg": times(lambda: pieces_svg(pattern), 7),
    "tiled.pdf, A4": times(lambda: tiled_pdf(pattern, paper="A4"), 5),
    "tiled.pdf, US Letter": times(lambda: tiled_pdf(pattern, paper="Letter"), 5),
    "tiled.pdf, full": times(lambda: tiled_pdf(pattern, paper="full"), 5),
}
'''
A_CHANGE, A_FILE = 60.0, 500.0
YARDSTICK = f"{A_CHANGE:.0f} ms for what is drawn on a change, {A_FILE:.0f} ms for a file"

PAGE = """<!doctype html><script type="module">
import { loadPyodide } from "./pyodide.js";
const python = await loadPyodide();
await python.loadPackage(
  ["drafting", "drafting-fonts", "drafting-rest", "stdlib-rest", "svgwrite", "pillow", "reportlab"]);
python.runPython(`import sys
sys.path.append(next(path for path in sys.path if path.endswith("site-packages")) + "/stdlib_rest.zip")`);
globalThis.measure = (code) => {
  python.runPython(code);
  return python.runPython("import json; json.dumps(found)");
};
document.title = "ready";
</script>"""


def rows() -> list[Row]:
    """As a visitor's browser would: Pyodide in Chromium, the packages that dist/ ships."""
    build.site()
    with tempfile.TemporaryDirectory() as folder, chromium() as browser:
        shutil.copytree(build.DIST / "pyodide", folder, dirs_exist_ok=True)
        (Path(folder) / "index.html").write_text(PAGE, encoding="utf-8")
        site = PlainSite(Path(folder))
        page = browser.new_page()
        page.goto(site.url)
        page.wait_for_function("document.title == 'ready'", timeout=120_000)
        found: dict[str, list[float]] = json.loads(page.evaluate("code => measure(code)", MEASURE))
        site.stop()
    limits = {what: A_CHANGE if "preview" in what else A_FILE for what in found}
    return [Row(what, times, "ms", median(times) / limits[what], 1.0) for what, times in found.items()]
