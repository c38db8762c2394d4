"""The blank measuring sheet, read back from its PDF by pdfplumber."""

import io

import pdfplumber
import pytest

from drafting.body import MEASURES
from drafting.garments import GARMENTS
from drafting.requests import workbench
from tests.terminal import run


def sheet(garments, people=4, **more):
    return workbench.run({"do": "measuring-sheet", "garments": garments, "people": people, **more})


def pages(data):
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        return [(page.extract_text(), page.curves) for page in pdf.pages]


def words(text):
    return " ".join(text.split())


@pytest.mark.parametrize("garment", GARMENTS)
def test_a_sheet_asks_for_all_that_a_garment_needs_and_says_where_the_tape_goes(garment):
    found = pages(sheet([garment])["bytes"])
    text = words(" ".join(page[0] for page in found))
    for name in (*GARMENTS[garment].needs, *GARMENTS[garment].uses):
        assert MEASURES[name].label in text, name
    needed = MEASURES[GARMENTS[garment].needs[0]]
    assert needed.instruction.split()[0] in text
    assert sum(len(page[1]) for page in found) >= len(GARMENTS[garment].needs), "a drawing each"


def test_what_several_garments_need_is_asked_once():
    text = words(" ".join(page[0] for page in pages(sheet(["tunic", "apron-dress", "tunic"])["bytes"])))
    assert "For: tunic, apron dress." in text
    assert text.count(MEASURES["bust_girth"].label) == 1
    needed = text.index("These help")
    for name in {*GARMENTS["tunic"].needs, *GARMENTS["apron-dress"].needs}:
        assert text.index(MEASURES[name].label) < needed, name


@pytest.mark.parametrize("people", [1, 4, 6])
def test_every_person_has_a_column_to_write_in(people):
    with pdfplumber.open(io.BytesIO(sheet(["apron-dress"], people)["bytes"])) as pdf:
        page = pdf.pages[0]
        labels = next(word["x0"] for word in page.extract_words() if word["text"] == "Name")
        rules = {round(line["x0"], 1) for line in page.lines if line["height"] > 10 > line["width"]}
        upright = sorted(x for x in rules if x > labels)
        width = page.width
    assert len(upright) == people + 1, "a column lies between two upright rules"
    apart = [b - a for a, b in zip(upright, upright[1:], strict=False)]
    assert min(apart) > 45, "16 mm, in points: three digits written by hand. common practice, no source"
    assert max(upright) < width


def test_a_sheet_says_which_tape_and_is_the_same_every_time():
    inches = sheet(["hood"], unit="in")["bytes"]
    assert "Write inches" in words(pages(inches)[0][0])
    assert inches == sheet(["hood"], unit="in")["bytes"]


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"garments": ["ball-gown"]}, "ball-gown"),
        ({"garments": []}, "name at least one"),
        ({"garments": "tunic"}, "list of garments"),
        ({"garments": ["hood"], "people": 40}, "1 to 6 people, not 40"),
        ({"garments": ["hood"], "people": "four"}, "number of people"),
    ],
)
def test_what_a_sheet_cannot_be_made_of_is_said(given, said):
    result = workbench.run({"do": "measuring-sheet", **given})
    assert not result["ok"] and said in result["problems"][0]["message"]


def test_the_command_line_writes_the_same_sheet(tmp_path):
    done = run("measuring-sheet", "tunic", "hood", "--people", "5", "--out", str(tmp_path))
    assert done.returncode == 0, done.stderr
    assert (tmp_path / "measuring-sheet.pdf").read_bytes() == sheet(["tunic", "hood"], 5)["bytes"]
    wrong = run("measuring-sheet", "tunic", "--people", "9", "--out", str(tmp_path / "not"))
    assert wrong.returncode == 2 and "1 to 6 people" in wrong.stderr and not (tmp_path / "not").exists()
