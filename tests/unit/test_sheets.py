"""Sheets: what is written on them, what is drawn, and what cannot be broken out of."""

import io
import re
import subprocess
import sys
import xml.etree.ElementTree as ElementTree
from collections import Counter

import pdfplumber
import pypdf
import pytest
from pypdf.generic import ContentStream

from drafting.geometry import Edge, Outline, Path, Point
from drafting.pattern import Pattern, Piece
from drafting.sheets.boxes import Box, BoxGround
from drafting.sheets.paper import PAPERS
from drafting.sheets.preview import preview_svg
from drafting.sheets.svg import pieces_svg
from drafting.sheets.text import clean, text_width
from drafting.sheets.tiled_pdf import tiled_pdf
from drafting.sheets.tiles import Grid, Tiling, tiling
from drafting.words.problems import BadInput
from tests.drafts import drafted
from tests.printed import SVG, page_texts, words
from tests.wardrobe import draft

NASTY = [
    "<script>alert(1)</script>",
    "</text></svg><svg onload='x'>",
    '" onclick="alert(1)',
    "]]> <!-- & &amp; -->",
    ") Tj ET Q 1 0 0 rg 0 0 999 999 re f (",
    "\\) endstream endobj \\(",
    "A\u202eB\u2066C",
    "nul\x00bell\x07escape\x1b[31m\x85next",
    "two\nlines\r\ttabs\u2028more",
    "\ud800 lonely \ufffe",
    "🧵 emoji 𝔉𝔯𝔞𝔨𝔱𝔲𝔯",
    "x" * 500,
]
EUROPEAN = ["Łucja", "Þóra", "Жанна", "Ελένη", "Ågot Ærø", "Žofie Řehořová", "Ģirts", "Őrsi", "Gündüz",
            "Ԥәшә", "Ünal Ğ", "Caoimhe", "Lluís Ŀ"]


@pytest.mark.parametrize("name", NASTY)
def test_a_name_stays_text_in_the_svg(name):
    svg = pieces_svg(drafted(), name=name)
    plain = pieces_svg(drafted(), name="Þóra")
    root, usual = ElementTree.fromstring(svg.encode()), ElementTree.fromstring(plain.encode())
    assert [e.tag for e in root.iter()] == [e.tag for e in usual.iter()]
    assert not any(key.startswith("on") for e in root.iter() for key in e.attrib)
    assert any(clean(name) in text for text in words(svg))


def drawing_operators(page) -> Counter:
    """How often each operator stands in the page's content, but for those that set text."""
    operations = ContentStream(page.get_contents(), page.pdf).operations
    return Counter(operator for _, operator in operations if not operator.startswith(b"T"))


@pytest.mark.parametrize("name", NASTY)
def test_a_name_stays_text_in_the_pdf(name):
    pdf, usual = (tiled_pdf(drafted(), paper="A3", name=n) for n in (name, "Þóra"))
    document, other = (pypdf.PdfReader(io.BytesIO(p)) for p in (pdf, usual))
    assert len(document.pages) == len(other.pages)
    for page, same in zip(document.pages, other.pages, strict=True):
        assert drawing_operators(page) == drawing_operators(same)
    assert document.metadata.title.startswith("Apron dress")
    with pdfplumber.open(io.BytesIO(pdf)) as a, pdfplumber.open(io.BytesIO(usual)) as b:
        assert len(a.pages[0].rects) == len(b.pages[0].rects)


@pytest.mark.parametrize("name", EUROPEAN)
def test_names_in_any_european_alphabet_print_and_can_be_copied(name):
    pdf = tiled_pdf(drafted(), paper="A3", name=name)
    for text in page_texts(pdf, 3):
        assert name in text
    fonts = {
        font["/FontDescriptor"]["/FontName"]
        for page in pypdf.PdfReader(io.BytesIO(pdf)).pages
        for font in (f.get_object() for f in page["/Resources"]["/Font"].values())
        if "/FontDescriptor" in font
    }
    assert any("DejaVuSans" in font for font in fonts)


def test_control_and_direction_marks_are_dropped_and_letters_composed():
    assert clean("A\u202eB\u200fC\x00D\n E") == "A B C D E"
    assert clean("L\u0301o\u0308") == "Ĺö"
    assert len(clean("x" * 500)) == 60 and clean("x" * 500).endswith("…")


def test_the_first_page_says_how_to_check_the_scale_and_what_was_measured():
    pattern = drafted({"hip_girth": "100cm"})
    text = page_texts(tiled_pdf(pattern, name="Þóra", whole=True), 1)[0].replace("\n", " ")
    for part in (
        "Apron dress", "Þóra", "Test square, 100 mm", "print again at 100 % (“actual size”)",
        "Test square, 4 inches", "The finished garment", "Hem girth 240 cm",
        "Drafted for these measurements", "Hip girth 100 cm", "estimated ±", "crosses meet",
        "side: cut 2, mirrored (left side, right side)", "open fire", "Hang the dress",
        "front to left side", "page 1 of",
    ):
        assert part in text, part
    assert "⟨" not in text


def test_lengths_are_in_the_readers_unit_everywhere():
    pattern = drafted()
    for unit, other in (("in", "cm"), ("cm", "in")):
        printed = page_texts(tiled_pdf(pattern, paper="full", unit=unit))
        # The test squares and the sentences about them name their own units.
        printed[0] = re.sub(r"(?<!\d)(100 mm|4 in(ches)?)(?!\w)", "", printed[0])
        for text in (
            " | ".join(words(pieces_svg(pattern, unit=unit))),
            " | ".join(words(preview_svg(pattern, unit=unit))),
            "\n".join(printed),
        ):
            assert re.search(rf"\d {unit}\b", text)
            assert not re.search(rf"\d {other}\b", text), text


def test_every_edge_of_every_piece_is_labelled_with_its_length():
    pattern = drafted()
    texts = words(pieces_svg(pattern))
    for piece in pattern.pieces:
        for edge in piece.outline.edges:
            assert any(text.startswith(f"{edge.name} · ") for text in texts), edge.name
    assert "left · 115 cm" in texts


def test_each_piece_says_its_name_how_many_to_cut_and_of_what_garment():
    svg = pieces_svg(drafted(), name="Þóra")
    texts = words(svg)
    for line in ("front", "side", "cut 2, mirrored", "Apron dress · Þóra"):
        assert line in texts
    groups = [g for g in ElementTree.fromstring(svg).iter(f"{SVG}g") if g.get("data-piece")]
    for group in groups:
        assert group[0].tag == f"{SVG}title" and group[0].text
        assert group[1].tag == f"{SVG}desc" and group[1].text.startswith("Cut ")
    assert [g.get("data-piece") for g in groups] == [
        "front", "side", "back", "opening facing", "back strap", "front loop"]


def classes(svg: str) -> list[str]:
    return [e.get("class") for e in ElementTree.fromstring(svg).iter() if e.get("class")]


def test_fold_tuck_and_level_lines_are_drawn_and_told_apart_without_colour():
    pattern = drafted(options={"growth_tuck": "4"})
    found = classes(pieces_svg(pattern))
    assert found.count("inner tuck") == 6 and found.count("inner fold") == 6
    assert found.count("inner level") == 3
    seen = classes(preview_svg(pattern))
    assert seen.count("inner tuck") == 6 and seen.count("inner fold") == 6
    dashes = {}
    for path in ElementTree.fromstring(pieces_svg(pattern)).iter(f"{SVG}path"):
        kind = path.get("class").split()[-1]
        dashes.setdefault(kind, set()).add((path.get("stroke-width"), path.get("stroke-dasharray")))
    looks = [look for kind in ("cutting", "sewing", "fold", "tuck", "level") for look in dashes[kind]]
    assert len(set(looks)) == len(looks) == 5


def test_fold_and_tuck_lines_are_printed_each_with_its_own_dashes():
    pdf = tiled_pdf(drafted(options={"growth_tuck": "4"}), paper="full")
    with pdfplumber.open(io.BytesIO(pdf)) as document:
        page = document.pages[0]
        dashes = {}
        for line in [*page.lines, *page.curves]:
            pattern = tuple(round(d * 25.4 / 72, 2) for d in (line.get("dash") or [[]])[0] or ())
            dashes[pattern] = dashes.get(pattern, 0) + 1
    assert dashes[10, 2, 1.5, 2] >= 6
    assert dashes[6, 1.5, 1.2, 1.5, 1.2, 1.5] >= 6
    assert dashes[0.8, 2.4] >= 3
    assert dashes[4, 2] >= 20


def test_holes_and_slits_are_drawn_where_the_garment_has_them():
    tunic = draft("tunic")
    kinds = {inner.kind for piece in tunic.pieces for inner in piece.inner_lines}
    assert {"hole", "slit"} <= kinds
    found = classes(pieces_svg(tunic))
    assert "inner cutting" in found and "inner sewing" in found and "inner slit" in found


def test_notches_cross_the_allowance_from_the_sewing_to_the_cutting_line():
    pattern = drafted()
    svg = ElementTree.fromstring(pieces_svg(pattern))
    lines = [e for e in svg.iter(f"{SVG}line") if e.get("class") == "notch"]
    assert len(lines) == sum(len(piece.notches) for piece in pattern.pieces)
    for line in lines:
        x1, y1, x2, y2 = (float(line.get(k)) for k in ("x1", "y1", "x2", "y2"))
        assert 23 < ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5 < 27


def test_the_same_pattern_gives_the_same_bytes_in_every_run():
    again = (
        "import sys, hashlib; from tests.drafts import drafted;"
        "from drafting.sheets.tiled_pdf import tiled_pdf;"
        "print(hashlib.sha256(tiled_pdf(drafted(), name='Þóra')).hexdigest())"
    )
    runs = {
        subprocess.run([sys.executable, "-c", again], capture_output=True, text=True, check=True).stdout
        for _ in range(2)
    }
    assert len(runs) == 1
    assert pieces_svg(drafted()) == pieces_svg(drafted())


def test_drawing_loads_no_library_before_it_is_needed():
    heavy = ("svgwrite", "reportlab", "PIL", "numpy")
    script = (
        "import sys, drafting.requests.workbench, drafting.sheets.preview, drafting.sheets.svg,"
        "drafting.sheets.tiled_pdf; from tests.drafts import drafted;"
        "drafting.sheets.preview.preview_svg(drafted());"
        f"print([m for m in {heavy!r} if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


@pytest.mark.parametrize("paper", ["B9", "", "a 4", "x" * 300, "<b>"])
def test_an_unknown_paper_is_refused_in_a_sentence_that_names_those_there_are(paper):
    with pytest.raises(BadInput) as caught:
        tiled_pdf(drafted(), paper=paper)
    (problem,) = caught.value.problems
    assert problem.field == "paper"
    assert all(name in problem.message for name in PAPERS)
    assert len(problem.message) < 250


@pytest.mark.parametrize("overlap", [0, -3, 4.9, 41, float("nan"), float("inf")])
def test_an_overlap_out_of_range_is_refused(overlap):
    with pytest.raises(BadInput) as caught:
        tiled_pdf(drafted(), overlap=overlap)
    assert caught.value.problems[0].field == "overlap"


@pytest.mark.parametrize("paper", [" a4 ", "LETTER", "Roll  914"])
def test_papers_are_known_in_any_capitals(paper):
    assert tiled_pdf(drafted(), paper=paper).startswith(b"%PDF")


def test_one_sheet_at_full_size_is_one_page_that_holds_words_and_squares_too():
    texts = page_texts(tiled_pdf(drafted(), paper="full"))
    assert len(texts) == 1
    assert "Test square, 100 mm" in texts[0] and "Drafted for these" in texts[0]


def test_a_roll_is_never_cut_up_when_the_pieces_fit_its_width():
    pages = pypdf.PdfReader(io.BytesIO(tiled_pdf(drafted(), paper="roll 914"))).pages
    assert len(pages) == 1
    assert float(pages[0].mediabox.width) * 25.4 / 72 == pytest.approx(914, abs=0.01)


def square(x: float, y: float, side: float) -> list[Point]:
    return [Point(x, y), Point(x + side, y), Point(x + side, y + side), Point(x, y + side)]


def test_only_tiles_whose_cells_an_outline_touches_are_kept():
    grid = Grid.over(1000, 700, 200, 200, 10)
    assert (grid.rows, grid.columns) == (4, 6)
    # One square within the first tile, one across the join of the last row's last two.
    kept = tiling(grid, [square(20, 20, 100), square(930, 640, 40)])
    assert kept.tiles == ((0, 0), (3, 4), (3, 5))
    # In an overlap, beyond its middle, the other tile shows it.
    assert tiling(grid, [square(191, 20, 5)]).tiles == ((0, 0), (0, 1))
    assert tiling(grid, [square(196, 20, 3)]).tiles == ((0, 1),)


def test_a_tile_wholly_inside_a_piece_is_printed_so_that_the_paper_holds_together():
    grid = Grid.over(900, 900, 200, 200, 10)
    assert len(tiling(grid, [square(0, 0, 900)]).tiles) == grid.rows * grid.columns == 25


def test_marks_stand_only_where_there_is_a_neighbour_to_meet():
    grid = Grid(2, 2, 200, 200, 10)
    alone = Tiling(grid, ((0, 0),))
    assert alone.marks((0, 0)) == [] and alone.joins((0, 0)) == []
    across = Tiling(grid, ((0, 0), (1, 1)))
    assert across.marks((0, 0)) == across.marks((1, 1)) == [Point(195, 195)]


def test_a_box_meets_what_crosses_it_and_nothing_else():
    upright = Box(0, 0, 1, 0, 10, 2)
    turned = Box(0, 0, 0, 1, 10, 2)
    assert upright.meets_box(turned)
    assert not upright.meets_box(Box(0, 13, 0, 1, 10, 2))
    assert upright.meets_side((-20, 1, 20, 1)) and upright.meets_side((0, 0, 1, 1))
    assert not upright.meets_side((-20, 3, 20, 3)) and not upright.meets_side((9, 10, 20, 1))


def test_a_box_is_inside_only_when_clear_of_lines_and_boxes():
    ground = BoxGround(square(0, 0, 100), square(-10, -10, 120), [(50, 0, 50, 100)])
    assert ground.inside(Box(25, 50, 1, 0, 15, 5))
    assert not ground.inside(Box(45, 50, 1, 0, 15, 5))
    assert ground.inside(Box(45, 50, 1, 0, 15, 5), over_lines=True)
    assert not ground.inside(Box(5, 50, 1, 0, 15, 5))
    assert not ground.outside(Box(-5, 50, 1, 0, 3, 3)) and ground.outside(Box(-20, 50, 1, 0, 3, 3))
    ground.take(Box(25, 50, 1, 0, 15, 5))
    assert not ground.inside(Box(25, 52, 1, 0, 15, 5))


def test_text_is_never_wider_than_it_was_taken_for():
    # source: DejaVu Sans' own advance widths, the widest face the sheets are set in.
    from drafting.sheets.ink import prepare_reportlab, printed_width

    prepare_reportlab()
    for text in ("115 cm", "45 1/4 in", "cut 2, mirrored", "waist · 27.7 cm", "Gusset", "fold in half",
                 "back strap", "Þóra Łucja", "Жанна", "opening, left side only", "1/16"):
        assert printed_width(text, 5.0) <= text_width(text, 5.0) * 1.001, text
        assert printed_width(text, 5.0, True) <= text_width(text, 5.0, bold=True) * 1.001, text


@pytest.mark.parametrize("size", [(3, 3), (16, 30), (12, 4000), (4000, 12), (3000, 3000)])
def test_pieces_of_any_size_are_drawn_and_printed(size):
    w, h = size
    corners = [Point(0, 0), Point(w, 0), Point(w, h), Point(0, h)]
    edges = tuple(Edge(f"edge {i}", Path.through(a, b))
                  for i, (a, b) in enumerate(zip(corners, corners[1:] + corners[:1], strict=True)))
    piece = Piece("strip", "strip of cloth with a long name", Outline(edges), {})
    pattern = Pattern("strip", "Strip", (piece,), (), {"length": float(h)}, {}, {})
    assert preview_svg(pattern).count("<text") >= 2
    assert ElementTree.fromstring(pieces_svg(pattern)) is not None
    for paper in ("A4", "full", "roll 610"):
        pages = pypdf.PdfReader(io.BytesIO(tiled_pdf(pattern, paper=paper))).pages
        for page in pages:
            # source: ISO 32000-1:2008, annex C: no side of a page over 14,400 points.
            assert max(page.mediabox.width, page.mediabox.height) <= 14_400


def test_seams_that_differ_only_in_left_and_right_share_a_line():
    text = page_texts(tiled_pdf(draft("underdress"), paper="A4", whole=True), 2)
    assert "gusset to front, left and right 10 cm" in text[0]
    assert "row 1, column 1" in text[1], "the words fit on one page"


def test_many_cautions_run_on_to_another_page_and_none_is_lost():
    from dataclasses import replace

    sentences = tuple(f"Sentence number {i} is about something that must be minded." for i in range(90))
    texts = page_texts(tiled_pdf(replace(drafted(), cautions=sentences), paper="Letter"), 4)
    together = " ".join(texts).replace("\n", " ")
    for i in range(90):
        assert f"Sentence number {i} is about" in together
    assert "page 2 of" in texts[1] and "row 1" not in texts[1]
    assert texts[1].startswith("Mind, continued")
