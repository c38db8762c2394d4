"""Each measure's drawing: sound SVG, the tape on it, nothing outside the box."""

import re
import xml.etree.ElementTree as ET

import pytest

from drafting.body import MEASURES
from drafting.body.figure import LANDMARKS, figure_svg

SVG = "{http://www.w3.org/2000/svg}"


@pytest.mark.parametrize("name", MEASURES)
def test_a_drawing_shows_the_whole_tape(name: str) -> None:
    measure = MEASURES[name]
    root = ET.fromstring(figure_svg(measure))
    left, top, width, height = map(float, root.attrib["viewBox"].split())
    assert width == height
    tape = measure.tape
    for spot in tape.through:
        x, y = LANDMARKS[tape.view][spot]
        assert top <= y <= top + height
        if tape.shape != "upright":
            assert left <= x <= left + width
    assert len(root.findall(f"{SVG}path")) >= 2


@pytest.mark.parametrize("name", MEASURES)
def test_a_drawing_s_lines_are_legible_at_72_pixels(name: str) -> None:
    root = ET.fromstring(figure_svg(MEASURES[name]))
    per_pixel = float(root.attrib["viewBox"].split()[2]) / 72
    widths = [float(path.attrib["stroke-width"]) / per_pixel for path in root.iter(f"{SVG}path")]
    assert min(widths) >= 1
    assert max(widths) >= 2


def test_drawings_take_the_page_s_colour_and_read_aloud_their_instruction() -> None:
    for measure in MEASURES.values():
        drawing = figure_svg(measure)
        assert not re.search(r"#[0-9a-f]{3,6}|rgb", drawing)
        assert ET.fromstring(drawing).attrib["aria-label"] == measure.instruction


def test_a_girth_lies_level_or_nearly_so_across_the_body() -> None:
    for measure in MEASURES.values():
        if measure.tape.shape == "round":
            (x0, y0), (x1, y1) = (LANDMARKS[measure.tape.view][s] for s in measure.tape.through)
            assert abs(y1 - y0) < 0.3 * abs(x1 - x0)


def test_a_drawing_is_small() -> None:
    assert sum(len(figure_svg(measure)) for measure in MEASURES.values()) < 80_000
