"""The SVG files that are taken away beside the pieces: the lay and the gallery, read back and measured."""

import re
from functools import cache

import pytest
from defusedxml import ElementTree
from PIL import ImageFont
from shapely.geometry import Point, Polygon, box

from drafting.cloth.cloth import Cloth
from drafting.desk.lay_results import lay_json, plan_of
from drafting.garments import GARMENTS
from drafting.lay.bolt import BoltLay, ToCut, lay_on_bolt
from drafting.sheets.fonts import REGULAR, font_path
from drafting.sheets.gallery import gallery_svg
from drafting.sheets.lay_file import lay_file_svg
from tests.wardrobe import draft

SVG = "{http://www.w3.org/2000/svg}"
CLOTHS = {
    "wide": Cloth(width=1500.0),
    "narrow, with selvedges": Cloth(width=750.0, selvedge=12.0),
    "folded": Cloth(width=1500.0, selvedge=10.0, folded=True),
}


@cache
def laid(name: str) -> BoltLay:
    return lay_on_bolt([ToCut(draft("tunic"))], CLOTHS[name], seconds=60, max_rounds=2)


@cache
def lay_of(name: str):
    bolt = laid(name)
    return ElementTree.fromstring(lay_file_svg(bolt.layout, bolt.cloth, plan=plan_of(bolt, "cm")))


def polygon(path) -> Polygon:
    numbers = [float(n) for n in re.findall(r"-?[\d.]+", path.get("d"))]
    return Polygon(list(zip(numbers[::2], numbers[1::2], strict=True)))


def rect(element):
    x, y, width, height = (float(element.get(key)) for key in ("x", "y", "width", "height"))
    return box(x, y, x + width, y + height)


def of_class(root, tag: str, name: str) -> list:
    return [e for e in root.iter(f"{SVG}{tag}") if name in (e.get("class") or "").split()]


@pytest.mark.parametrize("name", CLOTHS)
def test_a_millimetre_of_the_lay_is_a_millimetre_of_its_file(name):
    root = lay_of(name)
    left, top, width, height = (float(n) for n in root.get("viewBox").split())
    assert (left, top) == (0, 0)
    assert (root.get("width"), root.get("height")) == (f"{width:.2f}mm", f"{height:.2f}mm")
    (cloth,) = of_class(root, "rect", "cloth")
    bolt = laid(name)
    assert float(cloth.get("width")) == pytest.approx(bolt.cloth.laid_width, abs=0.01)
    assert float(cloth.get("height")) == pytest.approx(bolt.cut_length, abs=0.01)


@pytest.mark.parametrize("name", CLOTHS)
def test_the_lays_file_holds_the_outlines_of_lay_json(name):
    root, bolt = lay_of(name), laid(name)
    (cloth,) = map(rect, of_class(root, "rect", "cloth"))
    left, top = cloth.bounds[0] + bolt.cloth.selvedge, cloth.bounds[1]
    drawn = [polygon(path) for path in of_class(root, "path", "piece")]
    there = [Polygon([(x + left, y + top) for x, y in placed["outline"]])
             for placed in lay_json(bolt)["placements"]]
    assert len(drawn) == len(there) > 4
    for outline in there:
        assert min(outline.symmetric_difference(d).area for d in drawn) < 0.005 * outline.length
    for outline in drawn:
        assert cloth.buffer(0.01).covers(outline)


@pytest.mark.parametrize("name", CLOTHS)
def test_everything_in_the_lays_file_says_what_it_is(name):
    root, plan = lay_of(name), plan_of(laid(name), "cm")
    groups = root.findall(f"{SVG}g")
    told = [(group.findtext(f"{SVG}title"), group.findtext(f"{SVG}desc")) for group in (root, *groups)]
    assert all(title and desc for title, desc in told)
    titles = [title for title, _ in told]
    for number, piece in enumerate(plan.pieces, 1):
        assert f"{number}. {piece.title}" in titles and f"Marks of {piece.title}" in titles
    assert ("The fold" in titles) is laid(name).cloth.folded


@pytest.mark.parametrize("name", CLOTHS)
def test_every_mark_of_the_plan_lies_in_its_ring(name):
    root, plan = lay_of(name), plan_of(laid(name), "cm")
    (cloth,) = map(rect, of_class(root, "rect", "cloth"))
    rings = [Point(float(c.get("cx")), float(c.get("cy"))) for c in of_class(root, "circle", "mark")]
    marks = [at for piece in plan.pieces for _, at in piece.rings]
    for ring, mark in zip(rings, marks, strict=True):
        assert ring.distance(Point(mark.x + cloth.bounds[0], mark.y + cloth.bounds[1])) < 0.01


def test_the_heading_of_a_long_lay_is_no_wider_than_its_narrow_cloth():
    """source: Pillow (FreeType), which sets the words in DejaVu Sans, a wide face."""
    bolt = lay_on_bolt([ToCut(draft("underdress"))], CLOTHS["narrow, with selvedges"], seconds=60,
                       max_rounds=2)
    assert bolt.cut_length > 8 * bolt.cloth.width
    root = ElementTree.fromstring(lay_file_svg(bolt.layout, bolt.cloth))
    (heading,) = of_class(root, "text", "dim")
    em = ImageFont.truetype(font_path(REGULAR), 1000).getlength(heading.text) / 1000
    assert em * float(heading.get("font-size")) < float(root.get("viewBox").split()[2])


def test_the_gallery_shows_every_cutting_line_in_its_true_shape():
    patterns = [draft(name) for name in GARMENTS]
    root = ElementTree.fromstring(gallery_svg(patterns, title="All of <them>"))
    assert root.findtext(f"{SVG}title") == "All of <them>" and root.findtext(f"{SVG}desc")
    cells = root.findall(f"{SVG}svg")
    for cell, pattern in zip(cells, patterns, strict=True):
        assert cell.findtext(f"{SVG}title").startswith(pattern.title)
        groups = {group.get("data-piece"): group for group in cell.iter(f"{SVG}g")}
        for piece in pattern.pieces:
            group = groups[piece.name]
            assert group.findtext(f"{SVG}title") == piece.title
            assert group.findtext(f"{SVG}desc").startswith(f"cut {piece.cut}")
            outline, *_ = of_class(group, "path", "cut")
            expected = Polygon([tuple(p) for p in piece.cutting_line])
            assert polygon(outline).area == pytest.approx(expected.area, rel=5e-3)
            assert polygon(outline).length == pytest.approx(expected.length, rel=2e-3)


def test_files_are_svgwrites_own():
    """source: svgwrite's manual: a Drawing says `baseProfile`, `version` and holds its `defs`."""
    bolt = laid("wide")
    for text in (lay_file_svg(bolt.layout, bolt.cloth), gallery_svg([draft("cap")], title="One")):
        root = ElementTree.fromstring(text)
        assert text.startswith('<?xml version="1.0" encoding="utf-8"?>')
        assert (root.get("baseProfile"), root.get("version")) == ("full", "1.1")
        assert root.find(f"{SVG}defs") is not None
