"""Paper is spared: what is printed, what is told in numbers, and on how few sheets."""

import io
import subprocess
import sys
from itertools import combinations

import pypdf
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shapely import MultiLineString, Polygon, box, unary_union

from drafting.garments import GARMENTS
from drafting.sheets.paper import PAPERS
from drafting.sheets.spare import spared
from drafting.sheets.spare_sheet import part_labels, spare_sheet
from drafting.sheets.tiled_pdf import tiled_pdf, tiled_sheets
from drafting.words.problems import BadInput
from tests.drafts import drafted
from tests.printed import cover_words, page_texts
from tests.terminal import run
from tests.wardrobe import ASTA, TAM, body_for, draft, option_values

MAN = {"stature": 1756.0, "bust_girth": 1067.0, "waist_girth": 940.0, "hip_girth": 1012.0}
"""An invented body, for demo drafts."""

MOST = {"apron-dress": 16, "underdress": 14, "tunic": 14, "trousers": 12, "wrap-coat": 18, "hood": 6,
        "head-scarf": 2, "leg-wraps": 2, "cloak": 2}
"""Sheets of A4, covers and all. source: the goal set for this project."""


def pages(pdf: bytes) -> int:
    return len(pypdf.PdfReader(io.BytesIO(pdf)).pages)


@pytest.mark.parametrize("garment", MOST)
@pytest.mark.parametrize("body", ["woman", "man", "child"])
def test_a_garment_takes_no_more_sheets_than_it_needs_and_as_many_as_were_said(garment, body):
    values = {"woman": ASTA, "man": MAN, "child": TAM}[body]
    if garment == "apron-dress" and body == "man":
        values = {**MAN, "torso_length": 400.0}
    pattern = draft(garment, values=values)
    count = pages(tiled_pdf(pattern))
    assert count <= MOST[garment]
    assert tiled_sheets(pattern).count == count


def test_what_an_apron_dress_s_cover_says_has_room_on_one_sheet():
    """source: the sheets it took were counted: its cover spilled four lines of the key on to one of their
    own."""
    sheets = tiled_sheets(draft("apron-dress"))
    assert len(sheets.front) == 1
    said = cover_words(sheets.pdf())
    assert "Pieces in numbers" in said and "Brooch pins are sharp" in said


@pytest.mark.parametrize("paper", ["A3", "Letter", "full"])
@pytest.mark.parametrize("whole", [True, False])
def test_the_count_is_that_of_the_file_on_any_paper(paper, whole):
    pattern = draft("tunic")
    sheets = tiled_sheets(pattern, paper=paper, whole=whole, unit="in", name="Asta")
    assert sheets.count == pages(sheets.pdf())


def test_pieces_that_are_alike_are_printed_once_and_the_others_said():
    spare = spared(drafted().pieces, "cm")
    assert [(part.piece.title, part.what) for part in spare.parts] == [("front", "half"), ("side", "half")]
    (twin,) = spare.twins
    assert (twin.piece.title, twin.template.title) == ("back", "front")
    assert "Back: as the front, without its mark “end of the opening, left side only”; cut 1." in cover_words(
        tiled_pdf(drafted()))


@pytest.mark.parametrize("garment", GARMENTS)
def test_every_piece_is_printed_told_in_numbers_or_like_another(garment):
    for values in (ASTA, TAM):
        pattern = draft(garment, values=values)
        spare = spared(pattern.pieces, "cm")
        known = [part.piece.name for part in spare.parts if part.what != "patch"]
        known += [told.piece.name for told in spare.told] + [twin.piece.name for twin in spare.twins]
        assert sorted(known) == sorted(piece.name for piece in pattern.pieces)
        assert {part.piece.name for part in spare.parts if part.what == "patch"} == {
            told.piece.name for told in spare.told if told.patched}


def test_where_everything_is_told_in_numbers_there_is_no_sheet_to_join():
    pdf = tiled_pdf(draft("head-scarf"))
    assert pages(pdf) == 1
    assert "A square, 87 cm across by 87 cm down." in cover_words(pdf)
    assert "Joining the pages" not in cover_words(pdf)


def test_a_rectangle_is_told_with_the_marks_in_it():
    # Measured in the pattern by hand: body of a tunic, its hole as that of the facing.
    said = cover_words(tiled_pdf(draft("tunic", values=MAN)))
    assert "Body: cut 1. A rectangle, 65.8 cm (658.5 mm) across by 210.8 cm down." in said
    assert "Cut out “neck”, as in the neck facing: on the middle line, its top 102.7 cm" in said
    assert "Level “front waist” straight across, 153.2 cm down." in said


def test_halves_that_differ_at_one_end_are_one_half_with_two_lines_there():
    (leg,) = spared(draft("trousers").pieces, "cm").parts
    assert (leg.what, len(leg.edge)) == ("half", 2)
    sheet = spare_sheet(draft("trousers"), PAPERS["A4"], 10.0, "cm")
    said = {label.text.split(" · ")[0] for _, labels in part_labels(sheet, "Trousers", "cm")
            for label in labels.found}
    assert {"half with front inseam", "waist, to the fold", "gusset", "on the fold"} <= said
    assert "with a line of its own for the other half" in cover_words(tiled_pdf(draft("trousers")))


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.data())
def test_whatever_is_drafted_lies_on_paper_that_hangs_together(data):
    garment = GARMENTS[data.draw(st.sampled_from(list(GARMENTS)))]
    body = body_for(garment, data.draw(st.sampled_from([ASTA, TAM])))
    try:
        pattern = garment.draft(body, data.draw(option_values(garment, body)))
    except BadInput:
        return
    paper = PAPERS[data.draw(st.sampled_from(["A4", "Letter", "A3"]))]
    sheet = spare_sheet(pattern, paper, data.draw(st.sampled_from([5.0, 10.0, 40.0])), "cm")
    for placed in sheet.placed:
        assert all_shown(placed, placed.tiles, sheet.grid)
        assert hang_together(placed.tiles), "pages are joined side by side"
    areas = [Polygon([(p.x, p.y) for p in placed.part.drawn.cutting]) for placed in sheet.placed]
    for one, other in combinations(areas, 2):
        assert one.distance(other) > 4, "shears go along between"


def all_shown(placed, tiles, grid):
    shown = unary_union([box(*grid.window(tile)) for tile in tiles])
    return shown.buffer(0.01).covers(
        MultiLineString([[(p.x, p.y) for p in line] for line in placed.part.cut]))


def test_a_page_that_is_missing_is_noticed():
    sheet = spare_sheet(drafted(), PAPERS["A4"], 10.0, "cm")
    placed = sheet.placed[0]
    assert not any(all_shown(placed, placed.tiles - {tile}, sheet.grid) for tile in placed.tiles)
    assert not hang_together({(0, 0), (1, 1)})


def hang_together(tiles):
    reached, waiting = set(), [min(tiles)]
    while waiting:
        row, column = waiting.pop()
        reached.add((row, column))
        beside = {(row, column + 1), (row + 1, column), (row, column - 1), (row - 1, column)}
        waiting += beside & tiles - reached
    return reached == set(tiles)


def test_what_is_asked_for_whole_is_printed_whole():
    pattern = drafted()
    assert tiled_sheets(pattern, whole=True).count > 2 * tiled_sheets(pattern).count
    text = " ".join(page_texts(tiled_pdf(pattern, whole=True), 2))
    assert "in numbers" not in text and "half" not in text


def test_how_many_sheets_there_will_be_is_known_before_any_is_made():
    # Neither reportlab nor numpy is loaded for it: on the page it stands on the button beforehand.
    code = (
        "import sys; from drafting.requests.workbench import run; from tests.drafts import request;"
        "print(run(request('sheets'))['sheets'], run(request('sheets', whole=True))['sheets'],"
        "run(request('sheets', paper='A5'))['problems'][0]['field'],"
        "[m for m in ('reportlab', 'numpy', 'PIL', 'svgwrite') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    few, all_of_it, field, loaded = done.stdout.split(maxsplit=3)
    assert int(few) == pages(tiled_pdf(drafted())) and int(all_of_it) > 40
    assert field == "paper" and loaded.strip() == "[]"


def test_the_command_line_says_how_many_and_prints_whole_when_asked(tmp_path):
    asked = ["draft", "head-scarf", "-m", "head_girth=56cm", "--out", str(tmp_path)]
    assert "tiled.pdf is 1 sheet of A4" in run(*asked).stdout
    assert pages((tmp_path / "tiled.pdf").read_bytes()) == 1
    said = run(*asked, "--whole").stdout
    count = pages((tmp_path / "tiled.pdf").read_bytes())
    assert count > 10 and f"tiled.pdf is {count} sheets of A4" in said
