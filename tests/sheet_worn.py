"""A sheet of every garment on a slim woman, a stout man and a child of five, to be looked at: site/worn.png.

    python -m tests.sheet_worn [GARMENT ...]

The bodies are invented, for demo drafts. Chromium makes the picture of what drafting.worn.views paints.
"""

import shutil
import sys
from pathlib import Path

import numpy as np
from playwright.sync_api import sync_playwright

from drafting.body import complete
from drafting.garments import GARMENTS
from drafting.worn.cloth_forces import ClothFeel
from drafting.worn.figure import NEEDS
from drafting.worn.hanging import Worn
from drafting.worn.seen import figure_seen, frame
from drafting.worn.views import VIEWS, painted, style
from tests.sweep_worn import hang

SHEET = Path(__file__).parent.parent / "site" / "worn.png"
PEOPLE = {
    "a slim woman": {"stature": 1720.0, "bust_girth": 820.0, "waist_girth": 640.0, "hip_girth": 880.0},
    "a stout man": {"stature": 1760.0, "bust_girth": 1220.0, "waist_girth": 1200.0, "hip_girth": 1180.0},
    "a child of five": {"stature": 1100.0, "bust_girth": 580.0, "waist_girth": 550.0, "hip_girth": 610.0},
}
COLOUR = "#8a6f52"
CELL, SIDE, WORDS = 900.0, 1900.0, 130.0
"""mm of the wearers: a cell's width and height, and the line beneath."""


def cell(worn: Worn, left: float, top: float) -> str:
    """Seen from the front, as large as fits."""
    low, high = frame(worn)
    points, faces = figure_seen(worn, coarse=True)
    wide = 2.1 * float(np.abs(np.concatenate([points, worn.points])[:, 0]).max())
    scale = min(CELL / wide, SIDE / (high - low))
    _, right, away = VIEWS[0]
    paths = "".join(f'<path d="{path}" class="{look}"/>' for path, look in painted(
        worn, points, faces, np.array(right), np.array(away), 0.0, high))
    at = left + CELL / 2, top + SIDE - (high - low) * scale
    return f'<g transform="translate({at[0]:.0f} {at[1]:.0f}) scale({scale:.3f})">{paths}</g>'


def main() -> None:
    names = sys.argv[1:] or [name for name, garment in GARMENTS.items() if garment.worn]
    drawn, height = [], (SIDE + WORDS) * len(PEOPLE)
    for row, values in enumerate(PEOPLE.values()):
        for column, name in enumerate(names):
            garment = GARMENTS[name]
            feel = ClothFeel(150.0, 26.0) if garment.usual_fibre == "linen" else ClothFeel(250.0, 20.0)
            body = complete(values, tuple(dict.fromkeys(garment.needs + garment.uses + NEEDS)))
            _, worn = hang(garment, body, feel)
            drawn.append(cell(worn, column * CELL, row * (SIDE + WORDS)))
            print(name, flush=True)
    width = CELL * len(names)
    words = "".join(f'<text x="{(k + 0.5) * CELL:.0f}" y="{height - 30:.0f}" class="w">{GARMENTS[name].title}'
                    "</text>" for k, name in enumerate(names))
    svg = (f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:.0f} {height:.0f}" width="1600">'
           f"<style>{style(COLOUR)} .w{{font-size:96px}} path{{stroke-width:5}}</style>"
           f"{''.join(drawn)}{words}</svg>")
    with sync_playwright() as player:
        browser = player.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        page = browser.new_page(viewport={"width": 1600, "height": int(1600 * height / width) + 1})
        page.set_content(f"<style>body{{margin:0;background:#fff}}</style>{svg}")
        page.screenshot(path=str(SHEET))
        browser.close()


if __name__ == "__main__":
    main()
