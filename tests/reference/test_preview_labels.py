"""The preview's words as Chromium sets them: apart, inside the drawing, and large enough to read."""

import itertools
from functools import partial

import pytest
from shapely.geometry import LineString, Polygon, box

from drafting.garments import GARMENTS
from drafting.sheets.preview import preview_svg
from drafting.sheets.svg import pieces_svg
from tests.drafts import drafted
from tests.wardrobe import ASTA, TAM, draft

CHILD = {"bust_girth": "58", "waist_girth": "54", "torso_length": "22", "stature": "110"}
LARGE = {"bust_girth": "140", "waist_girth": "135", "torso_length": "45", "hip_girth": "150"}
"""Invented bodies, for demo drafts."""

DRAFTS = {
    "adult": drafted,
    "child with a tuck": lambda: drafted(
        CHILD, {"length": "62", "hem_girth": "140", "growth_tuck": "4"}),
    "large": lambda: drafted(LARGE, {"hem_girth": "320"}),
    "scooped": lambda: drafted(options={"scoop": "6", "shaping": "straight"}),
    "flared from the top": lambda: drafted(options={"shaping": "a-line", "hem_girth": "480"}),
    "no straps": lambda: drafted(options={"strap_style": "none"}),
    "wide strips": lambda: drafted(options={"strap_cut_width": "12", "front_loop": "20"}),
    **{f"{name} for {who}": partial(draft, name, values=values)
       for name in GARMENTS for who, values in (("Asta", ASTA), ("Tam", TAM))},
}

# Each text's box as set, turned with it: its corners on the screen.
TEXTS = """() => [...document.querySelectorAll("svg text")].map(text => {
    const b = text.getBBox(), m = text.getScreenCTM();
    const corner = (x, y) => { const p = new DOMPoint(x, y).matrixTransform(m); return [p.x, p.y] };
    return [text.textContent, parseFloat(getComputedStyle(text).fontSize) * Math.hypot(m.a, m.b), [
        corner(b.x, b.y), corner(b.x + b.width, b.y),
        corner(b.x + b.width, b.y + b.height), corner(b.x, b.y + b.height)]];
})"""
CUTS = """(selector) => [...document.querySelectorAll(selector)].map(path => {
    const m = path.getScreenCTM(), count = 400, length = path.getTotalLength();
    return [...Array(count + 1).keys()].map(i => {
        const p = path.getPointAtLength(length * i / count).matrixTransform(m); return [p.x, p.y] });
})"""


@pytest.fixture(scope="module")
def page(chromium):
    page = chromium.new_page(viewport={"width": 360, "height": 740})
    yield page
    page.close()


def show(page, svg: str, style: str = "svg { display: block; width: 100vw; height: auto }"):
    page.set_content(f"<style>body {{ margin: 0; font-family: sans-serif }} {style}</style>{svg}")
    return [(text, size, Polygon(corners)) for text, size, corners in page.evaluate(TEXTS)]


@pytest.mark.parametrize("unit", ["cm", "in", "mm"])
@pytest.mark.parametrize("draft", DRAFTS)
def test_words_on_a_phone_are_legible_apart_and_inside(draft, unit, page):
    texts = show(page, preview_svg(DRAFTS[draft](), unit=unit))
    frame = box(*page.evaluate(
        "() => { const r = document.querySelector('svg').getBoundingClientRect();"
        " return [r.left, r.top, r.right, r.bottom] }"))
    assert frame.bounds[2] == pytest.approx(360)
    assert len(texts) > 1
    for text, size, shape in texts:
        # common practice, no source: below about 9 px figures cannot be told apart on a phone.
        assert size >= 9, text
        assert frame.buffer(0.5).covers(shape), text
    for (a, _, one), (b, _, two) in itertools.combinations(texts, 2):
        # Chromium rounds the height of a line to whole px.
        assert one.buffer(-0.25).disjoint(two.buffer(-0.25)), (a, b)


@pytest.mark.parametrize("draft", DRAFTS)
def test_words_on_a_phone_lie_clear_of_the_cutting_lines(draft, page):
    texts = show(page, preview_svg(DRAFTS[draft]()))
    for cut in page.evaluate(CUTS, "path.cut"):
        ring = LineString(cut)
        for text, _, shape in texts:
            # Chromium's box holds room for accents and tails, which figures do not use.
            assert ring.intersection(shape.buffer(-1)).length < 0.5, text


@pytest.mark.parametrize("draft", DRAFTS)
def test_printed_words_are_apart_and_on_the_sheet(draft, page):
    svg = pieces_svg(DRAFTS[draft](), name="Þóra Łucja Жанна").split("?>", 1)[1]
    texts = show(page, svg, style="")
    frame = box(*page.evaluate(
        "() => { const r = document.querySelector('svg').getBoundingClientRect();"
        " return [r.left, r.top, r.right, r.bottom] }"))
    for text, size, shape in texts:
        assert size >= 4 * 96 / 25.4, f"{text} is at least 4 mm high"
        assert frame.covers(shape), text
    for (a, _, one), (b, _, two) in itertools.combinations(texts, 2):
        assert one.intersection(two).area < 4, (a, b)


def test_the_preview_is_named_for_those_who_hear_the_page(page):
    show(page, preview_svg(drafted()))
    pieces = "front, side, back, opening facing, back strap, front loop"
    found = page.get_by_role("img", name=f"Apron dress: {pieces}")
    assert found.count() == 1


def test_the_preview_leaves_every_colour_to_the_page():
    svg = preview_svg(drafted())
    for colour in ("#", "rgb", "black", "white", "style="):
        assert colour not in svg
