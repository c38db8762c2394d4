"""The booklet, read back with poppler and pdfplumber and compared with pattern.json."""

import re
from io import BytesIO

import pytest

from drafting.checks.truing import true_up
from drafting.pattern import as_json
from drafting.period.counsel import counsel
from drafting.period.impression import Impression
from drafting.sewing import Choices, Material, calibrate, sewing_plan
from drafting.sheets.booklet import booklet
from drafting.sheets.page_forms import FORMS
from drafting.words.problems import BadInput
from drafting.words.units import format_estimate, format_length
from tests.printed import text_across
from tests.sewn import sewn

pdfplumber = pytest.importorskip("pdfplumber")


def stream_words(data: bytes) -> str:
    """All text in the order in which it stands in the file."""
    pypdf = pytest.importorskip("pypdf")
    return " ".join(" ".join(page.extract_text().split()) for page in pypdf.PdfReader(BytesIO(data)).pages)


@pytest.fixture(scope="module")
def underdress():
    return sewn("underdress")


@pytest.mark.parametrize("unit", ["cm", "in"])
@pytest.mark.parametrize("garment", ["apron-dress", "underdress", "trousers", "hood"])
def test_the_lengths_in_it_are_those_of_pattern_json(garment, unit):
    pattern = sewn(garment)
    contract = as_json(pattern)
    text = text_across(booklet(pattern, unit=unit))
    bare = text.replace(" ", "")
    for name, mm in contract["finished"].items():
        shown = f"{name.replace('_', ' ').capitalize()} {format_length(mm, unit)}"
        assert shown in text, shown
    for name, mm in contract["measurements"].items():
        guessed = name in contract["estimated"]
        shown = format_estimate(mm, unit) if guessed else format_length(mm, unit)
        estimated = "≈ " if guessed else ""
        assert f"{name.replace('_', ' ').capitalize()} {estimated}{shown}" in text
    for piece in contract["pieces"]:
        xs, ys = zip(*piece["cutting_line"], strict=True)
        size = f"{format_length(max(xs) - min(xs), unit)} × {format_length(max(ys) - min(ys), unit)}"
        assert size in text, (piece["name"], size)
    table = text[text.index("The seams"):text.index("The order of work")]
    for seam in contract["seams"]:
        sewn_length = min(seam["length_a"], seam["length_b"]) - seam["open_from_top"]
        assert format_length(sewn_length, unit) in table, seam["name"]
        assert seam["name"].replace(" ", "").split(",")[0] in bare


@pytest.mark.parametrize("paper", FORMS)
def test_every_form_is_small_and_has_its_size(underdress, paper):
    data = booklet(underdress, paper=paper, name="Łucja", checks=true_up(underdress))
    assert len(data) <= 400_000
    form = FORMS[paper]
    wanted = (2 * form.width if form.folded else form.width, form.height)
    with pdfplumber.open(BytesIO(data)) as pdf:
        for page in pdf.pages:
            assert float(page.width) / 72 * 25.4 == pytest.approx(wanted[0], abs=0.1)
            assert float(page.height) / 72 * 25.4 == pytest.approx(wanted[1], abs=0.1)
            for char in page.chars:
                assert char["x0"] >= -0.5 and char["x1"] <= page.width + 0.5


def test_sections_and_steps_follow_in_reading_order(underdress):
    plan = sewing_plan(underdress)
    data = booklet(underdress, plan=plan, checks=true_up(underdress),
                   advice=counsel(Impression(garment="underdress", year="980", region="Denmark")))
    sections = ["Underdress", "The finished garment", "How it fits", "For your time and place",
                "The pieces", "Cloth and materials", "The seams", "The order of work",
                "Checked before cutting", "Care", "Mind", "Notes"]
    for text in (text_across(data), stream_words(data)):
        at = [text.index(section) for section in sections]
        assert at == sorted(at)
        steps = [text.index(f"{step.number}. {step.title}") for step in plan.steps]
        assert steps == sorted(steps)


def test_every_steps_sentences_can_be_selected(underdress):
    from drafting.words.wording import spell

    plan = sewing_plan(underdress)
    text = stream_words(booklet(underdress, plan=plan)).replace("\u00a0", " ")
    for step in plan.steps:
        for sentence in step.sentences:
            assert " ".join(spell(sentence, "cm").split()) in text, sentence


@pytest.mark.parametrize("name", ["Łucja", "Þóra Sæmundsdóttir", "Жанна", "Ελένη", "Željko", "Gökçe",
                                  "Ştefănița", "Őrsi", "ßtraße", "Ħal", "Ŵyn", "Ņina", "Їжак"])
def test_any_european_alphabet_prints(name):
    assert f"for {name}" in text_across(booklet(sewn("cap"), name=name), count=1)


@pytest.mark.parametrize("name", [
    "<b>bold</b>", "<script>alert(1)</script>", "&amp; &lt;", "(Tj) ET endstream", "a\x00b\nc",
    "<para><img src='x'/></para>", "\u202eevil", "%PDF-1.7", "\\) Tj", "A" * 100_000, "<font size=99>",
])
def test_a_name_cannot_break_out_of_text(name):
    from drafting.sheets.text import clean

    text = text_across(booklet(sewn("cap"), name=name), count=1)
    shown = " ".join(clean(name).split())
    assert shown.replace(" ", "") in text.replace(" ", "")
    assert "The finished garment" in text


def test_the_same_input_gives_the_same_bytes(underdress):
    for paper in ("A4", "A5 folded"):
        assert booklet(underdress, paper=paper) == booklet(underdress, paper=paper)


def test_estimates_are_marked_and_explained():
    pattern = sewn("tunic")
    text = text_across(booklet(pattern))
    assert pattern.estimated and text.count("≈") >= len(pattern.estimated)
    assert "was estimated" in text


def test_it_prints_in_black_and_grey():
    pattern = sewn("wrap-coat", lining="full")
    with pdfplumber.open(BytesIO(booklet(pattern))) as pdf:
        colours = {colour for page in pdf.pages
                   for thing in (*page.chars, *page.lines, *page.curves, *page.rects)
                   for key in ("stroking_color", "non_stroking_color")
                   if (colour := thing.get(key)) is not None}
    for colour in colours:
        parts = colour if isinstance(colour, tuple) else (colour,)
        assert max(parts) - min(parts) < 1e-6, colour


def test_pages_are_numbered_and_listed_in_the_outline(underdress):
    pypdf = pytest.importorskip("pypdf")
    reader = pypdf.PdfReader(BytesIO(booklet(underdress)))
    titles = [item.title for item in reader.outline]
    assert titles[1:5] == ["The pieces", "Cloth and materials", "If you trim its edges", "The seams"]
    for item in reader.outline:
        page = reader.get_destination_page_number(item)
        assert item.title in " ".join(reader.pages[page].extract_text().split())
    count = len(reader.pages)
    for number, page in enumerate(reader.pages, 1):
        assert f"{number} / {count}" in page.extract_text()


def test_folded_sheets_read_through_when_nested():
    """Fold the sheets of a booklet together in thought: leaf by leaf the page numbers run on."""
    from drafting.sheets.imposition import sheets_of

    for pages in range(1, 25):
        sides = sheets_of(pages)
        assert len(sides) % 2 == 0
        fronts, backs = sides[::2], sides[1::2]
        outer_to_inner = [(f[1], b[0]) for f, b in zip(fronts, backs, strict=True)]
        inner_to_outer = [(b[1], f[0]) for f, b in zip(fronts, backs, strict=True)][::-1]
        read = [page for leaf in (*outer_to_inner, *inner_to_outer) for page in leaf]
        assert read == list(range(len(sides) * 2))


def test_a_folded_booklet_holds_the_pages_of_the_flat_one(underdress):
    flat, folded = (booklet(underdress, paper=paper) for paper in ("A5", "A5 folded"))
    with pdfplumber.open(BytesIO(flat)) as a, pdfplumber.open(BytesIO(folded)) as b:
        assert len(b.pages) == 2 * -(-len(a.pages) // 4)
        first = b.pages[0].crop((b.pages[0].width / 2, 0, b.pages[0].width, b.pages[0].height))
        text = first.extract_text()
    assert "Underdress" in text and f"1 / {len(a.pages)}" in text and "short edge" in text


def test_what_a_lay_and_the_period_say_is_taken_in(underdress):
    class Plan:
        title, width, height = "The lay of the main cloth", 120.0, 60.0

        def draw(self, ink):
            ink.rect(1, 1, 118, 58, 0.3)
            ink.text("selvedge", 10, 10, 4)

    text = text_across(booklet(
        underdress, chalk=["Chalk corner A first.", Plan()], to_buy=[Material("linen 150 cm wide", "2.6 m")],
        advice=counsel(Impression(garment="underdress", year="980", region="York", fibre="linen")),
    ))
    for told in ("The chalk plan", "Chalk corner A first.", "The lay of the main cloth", "selvedge",
                 "linen 150 cm wide", "2.6 m", "Underdress: right"):
        assert told in text
    assert "m² of pieces" not in text


def test_failed_checks_are_shown_as_such():
    pattern = sewn("apron-dress", opening="none")
    checks = true_up(pattern)
    assert not all(check.passed for check in checks)
    text = text_across(booklet(pattern, checks=checks))
    assert text.count("✗") == sum(not check.passed for check in checks)


def test_the_time_says_where_it_comes_from(underdress):
    timed = sewing_plan(underdress, Choices(pace=calibrate(60, 120)))
    assert "reckoned from the seam you timed" in text_across(booklet(underdress, plan=timed))
    assert "guess" in text_across(booklet(underdress))


def test_inches_are_inches_everywhere(underdress):
    text = text_across(booklet(underdress, unit="in", checks=true_up(underdress)))
    body = text[:text.index("Checked before cutting")]
    assert re.search(r"\d in\b", body)
    assert not re.search(r"\d cm\b", body)


@pytest.mark.parametrize("paper", ["", "B7", "A5folded", "../etc", "🧵" * 300])
def test_an_unknown_paper_is_refused_with_those_there_are(underdress, paper):
    with pytest.raises(BadInput) as caught:
        booklet(underdress, paper=paper)
    message = caught.value.problems[0].message
    assert "A5 folded" in message and len(message) < 300
