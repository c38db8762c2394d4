"""Whatever a file or a link holds, it is read or refused in a sentence, whole or not at all."""

import json

import pytest

from drafting.body import MEASURES
from drafting.both.link import read_link, write_link
from drafting.garments import GARMENTS
from drafting.kit import pack, read_kit, unpack, write_kit
from drafting.lay import lay, read_polygon_file
from drafting.requests import workbench
from drafting.words.problems import BadInput
from tests.hostile.documents import KIT, POLYGONS, RULES, WEARER, sample, spoiled
from tests.hostile.texts import NAMES


def refused_in_sentences(error: BadInput) -> None:
    assert error.problems
    for problem in error.problems:
        assert problem.message.strip().endswith((".", "!", "?", ")", "”")), problem
        assert len(problem.message) < 1500 and "Traceback" not in problem.message


def answered(request):
    result = workbench.run(request)
    if not result["ok"]:
        for problem in result["problems"]:
            assert "went wrong" not in problem["message"], problem
            assert len(problem["message"]) < 1500
    return result


def test_the_corpus_holds_more_than_three_hundred_of_each_kind():
    for right in (KIT, WEARER, RULES, POLYGONS):
        assert len(dict(spoiled(right))) > 300


def test_a_kit_is_read_and_written_back_the_same_or_refused_in_sentences():
    read = 0
    for what, text in sample(KIT, every=3):
        try:
            kit = read_kit(text)
        except BadInput as error:
            refused_in_sentences(error)
            continue
        read += 1
        assert read_kit(write_kit(kit)) == kit, what
        assert unpack(pack(kit, names=True)) == kit, what
    assert read > 50


def test_a_kit_in_any_bytes_is_refused_in_sentences():
    utf16 = json.dumps(KIT).encode("utf-16")
    for text in (b"\xff\xfe{\0}\0", b"\x89PNG\r\n\x1a\n", bytes(range(256)), utf16):
        with pytest.raises(BadInput) as caught:
            read_kit(text)
        refused_in_sentences(caught.value)


def test_a_wearer_is_read_and_written_back_the_same_or_refused_in_sentences():
    read = 0
    for what, text in sample(WEARER, every=2):
        result = answered({"do": "read-wearer", "text": text})
        if result["ok"]:
            read += 1
            written = answered({"do": "write-wearer", "wearer": {
                key: value for key, value in result["wearer"].items() if key != "age"
            }})
            assert written["ok"], (what, written)
            assert answered({"do": "read-wearer", "text": written["text"]}) == result, what
            assert "/" not in written["name"] and "\\" not in written["name"]
    assert read > 30


def test_house_rules_are_told_or_refused_in_sentences():
    told = [answered({"do": "read-house-rules", "text": text})["ok"] for _, text in sample(RULES, every=2)]
    assert any(told) and not all(told)


def test_polygons_are_laid_or_refused_in_sentences():
    laid = 0
    for _, text in sample(POLYGONS, every=3):
        try:
            shapes, width = read_polygon_file(text)
            lay(shapes, width, max_rounds=1, seconds=1)
            laid += 1
        except BadInput as error:
            refused_in_sentences(error)
    assert laid > 20


def test_a_link_of_hostile_texts_comes_back_as_it_was_sent():
    for text in NAMES.values():
        if len(text) > 800 or not text.strip() or not text.isprintable():
            continue
        draft = {"garment": "apron-dress", "name": text, "measurements": {"bust_girth": text},
                 "options": {"length": text}, "cloth": {"cloth_colour": text}}
        came, said = read_link("#" + write_link(draft), set(MEASURES), set(GARMENTS))
        assert not said
        assert came["name"] == text
        assert came["measurements"] == {"bust_girth": text.strip()}
        assert came["options"] == {"length": text.strip()}


def test_no_fragment_makes_reading_a_link_stumble():
    right = write_link({"garment": "apron-dress", "measurements": {"bust_girth": "92 cm"}, "options": {}})
    for text in NAMES.values():
        for fragment in (text, f"#{text}", f"apron-dress&{text}", f"apron-dress&{text}={text}",
                         f"apron-dress&v={text}", f"apron-dress&unit={text}&end", f"kit=1.{text}",
                         f"draft=1.1of2.x.{text}", f"kit=1.{text}of{text}.{text}.{text}", right[:20] + text):
            try:
                read_link(fragment, set(MEASURES), set(GARMENTS))
            except UnicodeEncodeError:
                assert any("\ud800" <= letter <= "\udfff" for letter in fragment)  # no browser sends one
            answered({"do": "open-link", "fragments": [fragment, right]})
            answered({"do": "open-link", "fragments": [right, fragment]})


def test_deflated_bombs_are_refused():
    import base64
    import zlib

    for size in (5_000_000, 60_000_000):
        bomb = base64.urlsafe_b64encode(zlib.compress(b"[" * size, 9)).decode().rstrip("=")
        assert not answered({"do": "open-link", "fragments": [f"kit=1.{bomb}"]})["ok"]


@pytest.mark.parametrize("garment", ["apron-dress", "hood"])
def test_a_field_holding_anything_is_drafted_or_explained_beside_that_field(garment):
    fields = GARMENTS[garment].needs[0], GARMENTS[garment].options[0].name
    body = {name: "92 cm" for name in GARMENTS[garment].needs}
    for text in NAMES.values():
        result = answered({"do": "draft", "garment": garment, "measurements": {**body, fields[0]: text}})
        if not result["ok"]:
            assert any(p["field"] in (fields[0], "waist_girth") for p in result["problems"]), result
        answered({"do": "draft", "garment": garment, "measurements": body, "options": {fields[1]: text}})
