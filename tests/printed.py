"""Reading printed sheets back with other people's tools: pdfplumber, poppler's pdftoppm, ElementTree."""

import io
import re
import subprocess
import xml.etree.ElementTree as ElementTree
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pdfplumber
from PIL import Image

from machine import pdftoppm

SVG = "{http://www.w3.org/2000/svg}"
POINT = 25.4 / 72
"""mm. source: ISO 32000-1:2008, 8.3.2.3."""

Image.MAX_IMAGE_PIXELS = None


def rasters(
    pdf: bytes, folder: Path, dpi: int, first: int = 1, last: int = 0, corner: tuple[int, int] = (0, 0)
) -> list[np.ndarray]:
    """Pages as arrays of grey, 0 black to 255 white, through pdftoppm; of each the whole, or its upper left
    `corner` of so many columns and rows."""
    source = folder / "sheet.pdf"
    source.write_bytes(pdf)
    pages = ["-f", str(first), *(["-l", str(last)] if last else [])]
    cut = ["-x", "0", "-y", "0", "-W", str(corner[0]), "-H", str(corner[1])] if any(corner) else []
    subprocess.run(
        [pdftoppm(), "-r", str(dpi), "-gray", *pages, *cut, str(source), str(folder / "page")],
        check=True,
    )
    return [np.asarray(Image.open(path)) for path in sorted(folder.glob("page-*.pgm"))]


def page_texts(pdf: bytes, count: int | None = None) -> list[str]:
    """Of the first `count` pages, or of all, each label of a drawing by itself; slow on many pages."""
    with pdfplumber.open(io.BytesIO(pdf)) as document:
        return [page.extract_text() for page in document.pages[:count]]


def text_across(pdf: bytes, count: int | None = None) -> str:
    """The first `count` pages, or all, read line by line across the page; white space is one blank."""
    program = Path(pdftoppm()).with_name("pdftotext")  # one package holds both
    last = ["-l", str(count)] if count else []
    read = subprocess.run(
        [program, "-layout", "-enc", "UTF-8", *last, "-", "-"], input=pdf, stdout=subprocess.PIPE, check=True
    )
    return " ".join(read.stdout.decode("utf-8").split())


def svg_pieces(svg: str) -> dict[str, ElementTree.Element]:
    """The group of each piece, by the piece's name."""
    root = ElementTree.fromstring(svg)
    return {g.get("data-piece"): g for g in root.iter(f"{SVG}g") if g.get("data-piece")}


def moved_by(group: ElementTree.Element) -> tuple[float, float]:
    """The group's translation."""
    x, y = re.fullmatch(r"translate\(([-\d.]+) ([-\d.]+)\)", group.get("transform")).groups()
    return float(x), float(y)


def cutting_polygons(group: ElementTree.Element) -> list[list[tuple[float, float]]]:
    """The cutting line, then those of holes, in the piece's own coordinates, mm; all straight lines."""
    found = []
    for path in group.iter(f"{SVG}path"):
        if "cutting" in path.get("class").split():
            d = path.get("d")
            assert set(re.findall("[A-Za-z]", d)) <= {"M", "L", "Z"}
            found.append([tuple(map(float, xy.split())) for xy in re.split("[ML]", d.rstrip("Z"))[1:]])
    return found


def words(svg: str) -> list[str]:
    return ["".join(t.itertext()) for t in ElementTree.fromstring(svg).iter(f"{SVG}text")]


def tile_of(text: str) -> tuple[int, int] | None:
    """Row and column, from 1, as the page's foot gives them."""
    found = re.search(r"row (\d+), column (\d+)", text)
    return (int(found[1]), int(found[2])) if found else None


def register_marks(page: pdfplumber.page.Page) -> Iterator[tuple[float, float]]:
    """Middles of the page's crosses: two lines, 8 mm long each, that halve each other. mm."""
    level, upright = [], []
    for line in page.lines:
        x0, x1, y0, y1 = (line[k] * POINT for k in ("x0", "x1", "top", "bottom"))
        if abs(x1 - x0 - 8) < 0.01 and y1 - y0 < 0.01:
            level.append(((x0 + x1) / 2, y0))
        elif abs(y1 - y0 - 8) < 0.01 and x1 - x0 < 0.01:
            upright.append((x0, (y0 + y1) / 2))
    for x, y in level:
        if any(abs(x - ux) < 0.01 and abs(y - uy) < 0.01 for ux, uy in upright):
            yield x, y


BESIDE_THE_SQUARES = 10 + 101.6 + 3, 10 + 15 + 100 + 4 + 101.6 + 1
"""mm: where the words beside the test squares begin, and where those under the squares do."""


def cover_words(pdf: bytes) -> str:
    """What the covers say beside and under the test squares, in one line; the tiles' words are left out."""
    left, below = (v / POINT for v in BESIDE_THE_SQUARES)
    found = []
    with pdfplumber.open(io.BytesIO(pdf)) as document:
        for page in document.pages:
            if tile_of(page.extract_text()) or (page.page_number > 1 and not found):
                break
            if page.page_number > 1:
                found.append(page.extract_text())
                continue
            found.append(page.crop((left, 0, page.width, below)).extract_text())
            middle = page.width / 2
            halves = [page.crop((x, below, x + middle, page.height)) for x in (0, middle)]
            whole = page.crop((0, below, page.width, page.height))
            crossed = any(word["x0"] < middle < word["x1"] for word in whole.extract_words())
            found += [part.extract_text() for part in ([whole] if crossed else halves)]
    return " ".join(found).replace("\n", " ")
