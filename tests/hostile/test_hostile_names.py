"""A name is text on a sheet: it opens no element, ends no string, runs nothing, and names no other file."""

import io
import json
import re
from pathlib import Path

import pypdf
import pytest
from defusedxml import ElementTree

from drafting.command.kit_verb import safe_name
from drafting.command.line import main
from drafting.kit.marram_farm import HILD
from drafting.requests import workbench
from tests.hostile.documents import KIT
from tests.hostile.texts import NAMES
from tests.terminal import start

CAP = {"garment": "cap", "measurements": dict(HILD.measurements)}
LAID = {"cloth": {"width": "150 cm"}, "seconds": 20, "max_rounds": {"main": 1}}
"""The same lay each time, whatever else goes on on the machine."""

SHEETS = ("tiled.pdf", "booklet.pdf", "chalk-plan.pdf")
DOING = {"/JS", "/JavaScript", "/OpenAction", "/AA", "/Launch", "/EF", "/URI", "/SubmitForm", "/GoToR",
         "/EmbeddedFile", "/RichMedia", "/Movie", "/Sound"}
"""source: ISO 32000-1:2008, 12.6.4 (action types) and 7.11.4 (embedded files)."""
SHORT = {what: name for what, name in NAMES.items() if len(name) < 10_000}


def file(kind, name, **more):
    result = workbench.run({"do": "file", "kind": kind, "name": name, **CAP, **more})
    assert result["ok"], (name[:40], result["problems"])
    return result["bytes"]


def elements(svg: bytes):
    """source: defusedxml refuses entities, DTDs and what else an attacker may declare in XML."""
    return list(ElementTree.fromstring(svg.decode()).iter())


def shape_of(svg: bytes):
    """Every element's tag and the names of its attributes, but for the texts' own lines."""
    words = ("text", "tspan", "title")
    return [(e.tag, sorted(e.attrib)) for e in elements(svg) if not e.tag.endswith(words)]


@pytest.mark.parametrize("kind", ["pieces.svg", "lay.svg"])
def test_in_svg_a_name_adds_no_element_and_no_attribute(kind):
    more = LAID if kind == "lay.svg" else {}
    plain = shape_of(file(kind, "Hild", **more))
    for what, name in NAMES.items():
        svg = file(kind, name, **more)
        assert shape_of(svg) == plain, what
        for element in elements(svg):
            assert not element.tag.lower().endswith(("script", "foreignobject", "animate", "image"))
            assert not any(key.lower().startswith("on") for key in element.attrib), what


def test_in_svg_markup_is_read_back_as_the_text_it_was():
    for what in ("script", "svg end", "cdata end", "entity", "numeric entity", "attribute"):
        texts = "".join("".join(e.itertext()) for e in elements(file("pieces.svg", NAMES[what])))
        assert NAMES[what] in texts, what


def test_the_preview_is_the_same_whatever_the_name():
    plain = workbench.run({"do": "draft", **CAP, "name": "Hild"})["preview"]
    for name in NAMES.values():
        assert workbench.run({"do": "draft", **CAP, "name": name})["preview"] == plain


def skeleton(data: bytes):
    """What a PDF can do besides showing text, as pypdf reads it, and how many pages it has."""
    reader = pypdf.PdfReader(io.BytesIO(data), strict=True)
    kinds = set()
    for object_id in range(1, len(reader.xref[0]) + 1):
        thing = reader.get_object(pypdf.generic.IndirectObject(object_id, 0, reader))
        if isinstance(thing, pypdf.generic.DictionaryObject):
            kinds |= DOING & {str(key) for key in thing}
            kinds |= DOING & {str(thing[key]) for key in ("/S", "/Type") if key in thing}
    return kinds, len(reader.pages)


@pytest.mark.parametrize("kind", SHEETS)
def test_in_pdf_a_name_ends_no_string_and_starts_no_action(kind):
    more = LAID if kind == "chalk-plan.pdf" else {}
    plain = skeleton(file(kind, "Hild", **more))
    some = list(SHORT.items()) if kind == "tiled.pdf" else list(SHORT.items())[::6]
    for what, name in some:
        assert skeleton(file(kind, name, **more)) == plain, what


def test_in_pdf_operators_are_read_back_as_the_text_they_were():
    for what in ("pdf string end", "pdf operators", "pdf hex string", "script", "open bold"):
        reader = pypdf.PdfReader(io.BytesIO(file("tiled.pdf", NAMES[what])))
        text = re.sub(r"\s+", "", "".join(page.extract_text() for page in reader.pages))
        assert re.sub(r"\s+", "", NAMES[what]) in text, what


@pytest.mark.parametrize("kind", ["tiled.pdf", "booklet.pdf"])
@pytest.mark.parametrize("name, kinds", [
    ("李麗", "2 letters that this sheet cannot print (cjk: U+674E, U+9E97)"),
    ("Ása देवी", "(devanagari"), ("ᚺᛁᛚᛞ", "(runic"), ("Hild 👩‍🌾", "U+1F469"), ("Þóra Жанна Łucja", ""),
])
def test_letters_that_a_sheet_cannot_print_are_told_on_it(kind, name, kinds):
    """source: pypdf, which reads back the letters that are on the sheet."""
    reader = pypdf.PdfReader(io.BytesIO(file(kind, name)))
    said = " ".join(" ".join(page.extract_text() for page in reader.pages).split())
    assert ("sheet cannot print" in said) == bool(kinds)
    assert (kinds.split()[-1].strip("()") if kinds else "") in said


@pytest.mark.parametrize("kind", ["pieces.svg", "tiled.pdf", "booklet.pdf", "lay.svg", "lay.json"])
def test_files_are_named_for_the_garment_whatever_the_wearer_is_called(kind):
    for name in SHORT.values():
        result = workbench.run({
            "do": "file", "kind": kind, "name": name, **CAP, **LAID,
        }) if name in list(SHORT.values())[::12] else None
        assert result is None or re.fullmatch(r"cap-[a-z0-9.-]+", result["name"])


def test_a_folder_is_named_for_nobody_s_path():
    for name in NAMES.values():
        safe = safe_name(name)
        assert safe and Path(safe).name == safe and not safe.startswith((".", "-", "~"))
        assert not set(safe) & set("/\\:*?\"'<>|$`;&\0\n ") and len(safe) <= 40


def kit_with(name: str) -> str:
    kit = json.loads(json.dumps(KIT))
    kit["title"] = kit["cloths"][0]["name"] = kit["wearers"][0]["name"] = name
    kit["garments"] = kit["garments"][:1]
    return json.dumps(kit)


@pytest.mark.parametrize("what", [
    "path up", "path up, windows", "path from the root", "dots", "option", "shell", "spreadsheet formula",
    "script", "right to left", "pdf operators", "device", "percent",
])
def test_a_kit_writes_only_below_its_folder(tmp_path, capsys, what):
    (tmp_path / "kit.json").write_text(kit_with(SHORT[what]))
    folder = tmp_path / "a" / "b" / "c"
    status = main(["kit", str(tmp_path / "kit.json"), "--out", str(folder), "--seconds", "0.05"])
    assert "Traceback" not in "".join(capsys.readouterr())
    assert status in (0, 1, 2)
    outside = {p for p in tmp_path.rglob("*") if p.is_file() and folder not in p.parents}
    assert outside == {tmp_path / "kit.json"}
    if status < 2:
        assert (folder / "shopping-list.txt").exists()


def test_names_on_the_command_line_are_only_names(tmp_path):
    for what in ("shell", "path up", "pdf operators", "option", "right to left"):
        process = start("draft", "cap", "-m", "head_girth=56", f"--name={SHORT[what]}",
                        "--out", str(tmp_path / "out"))
        said = process.communicate()[1].decode()
        assert process.returncode == 0 and "Traceback" not in said, said
    assert {p.name for p in tmp_path.iterdir()} == {"out"}
    assert {p.name for p in (tmp_path / "out").iterdir()} == {"pattern.json", "pieces.svg", "tiled.pdf"}
