"""The lay as the page shows it: read at arm's length on a phone, and with the end of the cloth one has."""

import re
from dataclasses import replace
from io import BytesIO
from xml.etree import ElementTree

import pytest

from drafting.cloth.cloth import Cloth
from drafting.desk.lay_results import plan_of
from drafting.lay.bolt import ToCut, lay_on_bolt
from drafting.sheets.chalk_plan import LayDrawing, chalk_plan_pdf
from drafting.sheets.lay_file import lay_file_svg
from drafting.sheets.lay_picture import lay_svg
from drafting.sheets.paper import PAPERS
from tests.wardrobe import draft

SVG = "{http://www.w3.org/2000/svg}"
PHONE = 340.0
"""px across which a lay is shown on a screen of 360. source: the page's own margins."""

LEAST = 9.0
"""px. common practice, no source: smaller letters are no longer read on a phone."""


def picture(name, **cloth):
    bolt = lay_on_bolt([ToCut(draft(name), "Ada")], Cloth(**cloth), max_rounds=1)
    return bolt, ElementTree.fromstring(lay_svg(bolt.layout, bolt.cloth, plan=plan_of(bolt, "cm")))


def of(svg, tag, name):
    return [one for one in svg.iter(SVG + tag) if name in (one.get("class") or "").split()]


@pytest.mark.parametrize(("name", "cloth"), [
    ("apron-dress", {}), ("underdress", {"width": 1100}), ("tunic", {"width": 700}), ("leg-wraps", {})])
def test_what_each_piece_is_called_is_read_on_a_phone(name, cloth):
    _, svg = picture(name, **cloth)
    wide = float(svg.get("viewBox").split()[2])
    labels = of(svg, "text", "label")
    assert labels
    for number, label in enumerate(labels, 1):
        assert float(label.get("font-size")) * PHONE / wide >= LEAST, label.text
        assert label.text.split(".")[0] == str(number)


def test_each_piece_says_which_of_the_plan_s_it_is_when_it_is_tapped():
    bolt, svg = picture("apron-dress")
    tapped = [g.get("data-number") for g in svg.iter(SVG + "g")]
    assert tapped == [str(n) for n in range(len(bolt.layout.placements))]


def ends(svg):
    """How far down the end of the cloth on hand is drawn."""
    (line,) = of(svg, "path", "end")
    (y,) = {float(y) for _, y in re.findall(r"([\d.]+)[ ,]([\d.]+)", line.get("d"))}
    return y


def test_the_end_of_cloth_that_is_too_short_is_drawn_where_it_is_and_what_is_wanting_beyond():
    bolt, svg = picture("apron-dress", on_hand=1500.0)
    (cloth,), (wanting,) = of(svg, "rect", "cloth"), of(svg, "rect", "wanting")
    top = float(cloth.get("y"))
    assert ends(svg) == pytest.approx(top + 1500, abs=0.1)
    assert float(wanting.get("y")) == pytest.approx(top + 1500, abs=0.1)
    assert float(wanting.get("height")) == pytest.approx(bolt.missing, abs=0.2)
    said = of(svg, "text", "dim")[-1]
    assert said.text == f"The cloth on hand ends {bolt.missing / 10:.1f} cm too soon"
    assert float(said.get("y")) <= float(svg.get("viewBox").split()[3])


def test_of_cloth_that_is_enough_the_end_is_drawn_where_it_is_near_and_told_where_it_is_far():
    bolt, _ = picture("apron-dress")
    near = bolt.cut_length + 200
    _, svg = picture("apron-dress", on_hand=near)
    (cloth,) = of(svg, "rect", "cloth")
    assert float(cloth.get("height")) == pytest.approx(near, abs=0.2)
    assert ends(svg) == pytest.approx(float(cloth.get("y")) + near, abs=0.1)
    assert of(svg, "text", "dim")[-1].text == "The cloth on hand ends here, 20 cm left over"
    _, svg = picture("apron-dress", on_hand=20_000.0)
    assert not of(svg, "path", "end") and not of(svg, "rect", "wanting")
    assert "goes on for" in of(svg, "text", "dim")[-1].text
    assert len(of(picture("apron-dress")[1], "text", "dim")) == 1, "nothing is said of cloth there is none of"


def test_the_file_shows_the_end_as_well():
    bolt, _ = picture("apron-dress", on_hand=1500.0)
    file = ElementTree.fromstring(lay_file_svg(bolt.layout, bolt.cloth))
    (line,) = of(file, "path", "end")
    top = float(of(file, "rect", "cloth")[0].get("y"))
    assert f"{top + 1500:.3f}" in line.get("d") or f"{top + 1500:g}" in line.get("d")


def test_the_printed_plan_shows_where_the_cloth_on_hand_ends():
    """Read by pdfplumber: how far down the cloth's box the heavy line lies."""
    pdfplumber = pytest.importorskip("pdfplumber")
    bolt, _ = picture("apron-dress")
    for on_hand, says in ((1500.0, "ends "), (bolt.cut_length + 200, "ends here, 20 cm left over"),
                          (20_000.0, "goes on for "), (None, "")):
        lay = LayDrawing(plan_of(bolt, "cm"), bolt.layout, replace(bolt.cloth, on_hand=on_hand))
        with pdfplumber.open(BytesIO(chalk_plan_pdf([lay], paper=PAPERS["A4"], title=""))) as pdf:
            page = pdf.pages[0]
            cloth = max(page.rects, key=lambda rect: rect["height"])
            lines = [line["top"] for line in page.lines if line["linewidth"] > 2]
            text = page.extract_text()
        assert f"The cloth on hand {says}" in text if says else "The cloth on hand" not in text
        scale = cloth["width"] / bolt.cloth.width
        drawn = on_hand if on_hand and on_hand < 10_000 else None
        ends = [(top - cloth["top"]) / scale for top in lines]
        assert ends == pytest.approx([drawn] if drawn else [], abs=3)
        assert cloth["height"] / scale == pytest.approx(max(drawn or 0, bolt.cut_length), abs=3)
        assert page.height - cloth["bottom"] > 30, "the words under it are on the page"
