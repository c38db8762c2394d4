"""The command line: its words, its files and its exit status."""

import json

import pytest
from defusedxml import ElementTree

from drafting.garments import GARMENTS
from tests.terminal import run, start

DRAFT = ["draft", "apron-dress", "-m", "bust_girth=92cm", "-m", "waist_girth=78cm",
         "-m", "torso_length=38cm", "-o", "length=115cm", "-o", "hem_girth=240cm", "--paper", "A4"]


def test_a_sound_draft_writes_its_files_and_exits_0(tmp_path):
    process = start(*DRAFT, "--out", str(tmp_path))
    said, complaints = (text.decode() for text in process.communicate())
    assert process.returncode == 0 and not complaints, said + complaints
    assert {path.name for path in tmp_path.iterdir()} == {"pattern.json", "pieces.svg", "tiled.pdf"}
    pattern = json.loads((tmp_path / "pattern.json").read_text())
    assert (pattern["format"], pattern["version"], pattern["unit"]) == ("ellwand-pattern", 1, "mm")
    assert "hem hangs level" in said


def test_a_failing_check_exits_1_and_still_writes(tmp_path):
    done = run(*DRAFT, "-o", "opening=none", "--out", str(tmp_path))
    assert done.returncode == 1
    assert (tmp_path / "tiled.pdf").exists()
    assert "FAILS" in done.stdout and "opening='side'" in done.stdout


@pytest.mark.parametrize(
    ("extra", "words"),
    [
        (["-m", "waist_girth=nine"], "Waist girth"),
        (["-m", "waist_girth"], "NAME=VALUE"),
        (["-m", "girth=90"], "girth"),
        (["-o", "colour=red"], "no option"),
        (["--paper", "B9"], "B9"),
        (["--age-months", "old"], "old"),
    ],
)
def test_bad_input_exits_2_with_a_sentence_and_writes_nothing(tmp_path, extra, words):
    done = run(*DRAFT, *extra, "--out", str(tmp_path / "new"))
    assert done.returncode == 2
    assert words in done.stderr and "Traceback" not in done.stderr
    assert not (tmp_path / "new").exists()


def test_a_folder_that_cannot_be_written_is_told(tmp_path):
    (tmp_path / "file").write_text("in the way")
    done = run(*DRAFT, "--out", str(tmp_path / "file"))
    assert done.returncode == 2 and "Choose another folder" in done.stderr


def test_a_date_of_birth_says_how_long_a_childs_dress_fits(tmp_path):
    done = run("draft", "apron-dress", "-m", "bust_girth=64", "-m", "waist_girth=60", "-m",
               "torso_length=26", "-m", "stature=122", "--born", "2018-05-31", "--measured",
               "2026-11-25", "--out", str(tmp_path))
    assert "fits until about" in done.stdout
    wrong = run(*DRAFT, "--born", "31.5.2018", "--out", str(tmp_path))
    assert wrong.returncode == 2 and "31.5.2018" in wrong.stderr


def test_help_lists_what_the_garment_takes_with_units_defaults_and_ranges():
    text = run("draft", "apron-dress", "--help").stdout
    for words in ("bust_girth", "hem_girth", "seam_allowance", "0.6 cm to 6 cm (default 2.5 cm)"):
        assert words in text


def test_garments_are_listed():
    done = run("garments")
    assert done.returncode == 0 and "apron-dress" in done.stdout and "torso_length" in done.stdout


def test_a_cloth_adds_the_lay_and_the_chalk_plan(tmp_path):
    cloth = ["--cloth-width", "60cm", "--shrinkage", "6,3", "--seconds", "1"]
    done = run(*DRAFT, *cloth, "--out", str(tmp_path))
    assert done.returncode == 0, done.stderr
    lay = json.loads((tmp_path / "lay.json").read_text())
    assert lay["cloth"]["width"] == pytest.approx(600 * 0.97)
    assert lay["to_buy"] == pytest.approx(lay["length"] / 0.94, abs=0.1)
    pattern = json.loads((tmp_path / "pattern.json").read_text())
    wanted = sum(piece["cut"] for piece in pattern["pieces"])
    assert len(lay["placements"]) == wanted
    assert any("piecing" in piece["name"] for piece in pattern["pieces"])
    assert (tmp_path / "chalk-plan.pdf").read_bytes().startswith(b"%PDF")
    assert "to buy" in done.stdout


@pytest.mark.parametrize(
    ("extra", "words"),
    [
        (["--cloth-width", "2cm"], "Cloth width"),
        (["--shrinkage", "100"], "no cloth to trust"),
        (["--nap", "--seconds", "0"], "--seconds"),
        (["--on-hand", "0"], "Cloth on hand"),
        (["--cloth-width", "9cm"], "too little"),
    ],
)
def test_a_cloth_that_cannot_be_cut_exits_2_and_writes_nothing(tmp_path, extra, words):
    done = run(*DRAFT, *extra, "--out", str(tmp_path / "new"))
    assert done.returncode == 2
    assert words in done.stderr and "Traceback" not in done.stderr
    assert not (tmp_path / "new").exists()


def test_any_polygons_are_laid(tmp_path):
    file = tmp_path / "squares.json"
    square = [[0, 0], [40, 0], [40, 40], [0, 40]]
    file.write_text(json.dumps({"width": 80, "pieces": [{"name": "s", "quantity": 4, "outline": square}]}))
    done = run("lay", str(file), "--seconds", "1", "--json")
    assert done.returncode == 0, done.stderr
    # source: plane geometry, four squares of 40 fill 80 × 80
    assert json.loads(done.stdout)["length"] == pytest.approx(80, abs=0.1)


@pytest.mark.parametrize("text", ["", "{", '{"width": 10, "pieces": []}', "\x00\xff"])
def test_a_file_that_is_no_polygons_exits_2(tmp_path, text):
    file = tmp_path / "bad.json"
    file.write_bytes(text.encode("latin-1"))
    done = run("lay", str(file))
    assert done.returncode == 2 and done.stderr and "Traceback" not in done.stderr


def test_a_draft_that_is_told_who_is_shown_prints_the_advice_and_writes_it_in_the_booklet(tmp_path):
    shown = ["--year", "980", "--region", "Hedeby", "--colour", "purple", "--fibre", "wool"]
    done = run(*DRAFT, *shown, "--booklet", "--out", str(tmp_path))
    assert done.returncode == 0, done.stderr
    assert "For a farmer or craftsperson in Denmark, 980" in done.stdout
    assert "unusual for a farmer" in done.stdout and (tmp_path / "booklet.pdf").exists()
    refused = run(*DRAFT, "--year", "980", "--region", "Atlantis", "--out", str(tmp_path / "x"))
    assert refused.returncode == 2 and "Atlantis" in refused.stderr and not (tmp_path / "x").exists()


def test_the_body_verb_parts_what_is_given_estimated_and_missing():
    done = run("body", "-m", "stature=168cm", "-m", "bust_girth=96cm", "--for", "underdress")
    assert done.returncode == 0, done.stderr
    assert [line for line in done.stdout.splitlines() if line and not line.startswith(" ")][0] == "Given"
    assert "arm length" in done.stdout.lower()
    wrong = run("body", "-m", "stature=nine")
    assert wrong.returncode == 2 and "Traceback" not in wrong.stderr


def test_the_gallery_shows_every_garment_for_a_volunteer(tmp_path):
    done = run("gallery", "--who", "Wulf", "--unit", "in", "--out", str(tmp_path))
    assert done.returncode == 0, done.stderr
    svg = (tmp_path / "gallery.svg").read_text()
    texts = "".join(ElementTree.fromstring(svg).itertext())
    assert all(garment.title in texts for garment in GARMENTS.values())


def test_a_lay_of_polygons_is_told_in_words_piece_by_piece(tmp_path):
    file = tmp_path / "bars.json"
    bar = [[0, 0], [80, 0], [80, 10], [0, 10]]
    file.write_text(json.dumps({"width": 80, "pieces": [
        {"name": "bar", "quantity": 3, "outline": bar, "rotations": [90]}]}))
    done = run("lay", str(file), "--seconds", "0.2")
    first, *rest = done.stdout.splitlines()
    assert done.returncode == 0 and first.startswith("3 pieces on a strip 80 wide: length 30.0")  # 3 × 10
    assert len(rest) == 3 and all("turned 90°" in line for line in rest)


def test_too_little_cloth_is_told_with_what_would_save_some(tmp_path):
    cloth = ["--cloth-width", "60cm", "--on-hand", "1m", "--lining-width", "60cm", "--seconds", "0.1"]
    done = run(*DRAFT, *cloth, "--out", str(tmp_path))
    assert done.returncode == 0, done.stderr
    assert "too short" in done.stdout and "Nothing that was tried makes it fit." in done.stdout
    assert "the lining's cloth is left aside" in done.stdout
