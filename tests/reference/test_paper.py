"""Paper sizes, and the test squares as a printer would print them."""

import io

import numpy as np
import pypdf
import pytest

from drafting.sheets.paper import PAPERS
from drafting.sheets.tiled_pdf import tiled_pdf
from tests.drafts import drafted
from tests.printed import rasters

A_SIZES = {"A0": (841, 1189), "A1": (594, 841), "A2": (420, 594), "A3": (297, 420), "A4": (210, 297)}
"""source: ISO 216:2007, table 1, mm."""

INCH_SIZES = {"Letter": (8.5, 11), "Tabloid": (11, 17), "Legal": (8.5, 14)}
"""source: ANSI/ASME Y14.1 (sizes A and B); Legal: US office paper. Inches."""


@pytest.mark.parametrize("name", A_SIZES)
def test_a_sizes_are_those_of_the_standard(name):
    assert (PAPERS[name].width, PAPERS[name].height) == A_SIZES[name]


@pytest.mark.parametrize("name", INCH_SIZES)
def test_inch_sizes_are_those_of_the_standard(name):
    width, height = INCH_SIZES[name]
    assert PAPERS[name].width == pytest.approx(25.4 * width)
    assert PAPERS[name].height == pytest.approx(25.4 * height)


@pytest.mark.parametrize("name", [*A_SIZES, *INCH_SIZES])
def test_the_pages_of_the_file_have_the_papers_size(name):
    document = pypdf.PdfReader(io.BytesIO(tiled_pdf(drafted(), paper=name)))
    expected = sorted(A_SIZES.get(name) or (25.4 * v for v in INCH_SIZES[name]))
    for page in document.pages:
        size = sorted(float(v) / 72 * 25.4 for v in page.mediabox[2:])
        assert size == pytest.approx(expected, abs=0.01)


def middles(dark: np.ndarray, least: int) -> list[float]:
    """Middles of the lines, at least `least` px long, that run down the array's first axis."""
    longest = np.zeros(dark.shape[1], dtype=int)
    run = np.zeros(dark.shape[1], dtype=int)
    for row in dark:
        run = np.where(row, run + 1, 0)
        longest = np.maximum(longest, run)
    columns = np.flatnonzero(longest >= least)
    groups = np.split(columns, np.flatnonzero(np.diff(columns) > 1) + 1)
    return [float(group.mean()) for group in groups if len(group)]


@pytest.mark.parametrize("paper", ["A4", "Letter", "full"])
def test_the_test_squares_print_true_within_two_parts_in_a_thousand(paper, tmp_path):
    # source: ISO 216 paper at 300 dpi: 100 mm = 1181.1 px, 4 in = 1200 px. common practice, no
    # source, for the 0.2 %: an eighth of a millimetre in 64 mm is what a ruler shows.
    (page,) = rasters(tiled_pdf(drafted(), paper=paper), tmp_path, 300, 1, 1, corner=(300 * 9, 300 * 12))
    dark = page < 128
    left, right_mm, right_inches = middles(dark, 1150)[:3]
    assert right_mm - left == pytest.approx(100 / 25.4 * 300, rel=0.002)
    assert right_inches - left == pytest.approx(4 * 300, rel=0.002)
    top_mm, bottom_mm, top_inches, bottom_inches = middles(dark.T, 1150)[:4]
    assert bottom_mm - top_mm == pytest.approx(100 / 25.4 * 300, rel=0.002)
    assert bottom_inches - top_inches == pytest.approx(4 * 300, rel=0.002)


@pytest.mark.parametrize("paper", ["A4", "Letter", "A3", "Legal"])
def test_nothing_is_printed_where_a_home_printer_cannot(paper, tmp_path):
    # common practice, no source: home printers leave 3 to 6 mm white; 8 is safe.
    dpi = 50
    margin = int(8 / 25.4 * dpi)
    for page in rasters(tiled_pdf(drafted(), paper=paper), tmp_path, dpi):
        inner = page[margin:-margin, margin:-margin]
        assert (page < 250).sum() == (inner < 250).sum()
