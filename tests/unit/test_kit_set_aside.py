"""One bad entry never costs the kit, and ordinary text is no bad entry."""

import json

import pytest

from drafting.both.texts import LONGEST, is_one_line, one_line
from drafting.kit import Kit, KitCloth, merge, read_kit
from drafting.kit.model import MOST_ENTRIES
from drafting.requests import workbench
from drafting.words.problems import BadInput
from drafting.words.units import LengthError, parse_length, with_unit
from tests.hostile.documents import KIT
from tests.terminal import run

ORDINARY = {
    "a family": "Hild 👩‍👩‍👧‍👦",
    "a no-break space": "115\u00a0cm",
    "a narrow one": "1\u202f150 mm",
    "Persian": "می‌خواهم",
    "Devanagari": "क्‍ष",
    "right to left": "\u200fשלום",
    "long": "Hildegard of the farm by the river " * 5,
}
"""source: Unicode 15.0, 23.2: joiners and non-joiners are part of the text in these scripts and in emoji."""


def spoilt(which, number=0, **changes):
    """Marram Farm's kit with one entry changed."""
    kit = json.loads(json.dumps(KIT))
    kit[which][number].update(changes)
    return kit


def ask(do, kit, **more):
    given = {"kit": json.dumps(kit) if do in ("share-kit", "shop") else kit}
    if do == "read-kit":
        given = {"text": json.dumps(kit)}
    if do == "merge-kits":
        given = {"mine": KIT, "theirs": kit}
    return workbench.run({"do": do, **given, **more})


@pytest.mark.parametrize("what", ORDINARY)
def test_ordinary_text_is_saved_linked_and_merged(what):
    text = ORDINARY[what]
    kit = spoilt("wearers", name=text[:LONGEST])
    kit["title"] = kit["cloths"][0]["name"] = text
    kit["garments"][0]["options"] = {"length": text}
    for do in ("write-kit", "share-kit", "read-kit"):
        answer = ask(do, kit)
        assert answer["ok"] and not answer["set_aside"], (do, answer)
    assert ask("merge-kits", kit)["ok"]
    assert json.loads(ask("write-kit", kit)["text"])["wearers"][0]["name"] == text


@pytest.mark.parametrize("text", [
    "a\nb", "a\tb", "a\0", "\x1b[31m", "\u2028", "a\ud800", "x" * (LONGEST + 1)])
def test_what_no_line_holds_is_one_line_after_the_field_s_own_rule(text):
    assert not is_one_line(text)
    assert is_one_line(one_line(text)) and one_line("Hild") == "Hild"


def test_a_birth_after_the_measuring_is_saved_and_told_when_drafted():
    kit = spoilt("wearers", born="2026-11-25", measured="2026-11-01")
    assert not ask("write-kit", kit)["set_aside"]
    listed = ask("shop", kit, seconds=0.05)
    (aside,) = [part for part in listed["listing"]["parts"] if part["title"] == "Not in this list"]
    assert all("lies after" in note for note in aside["notes"]) and listed["ok"]
    assert len(listed["listing"]["parts"]) > 1


BAD = {
    "a wearer with a strange key": (("wearers", 1, {"colour": "red"}), "Wulf"),
    "a cloth that is no text": (("cloths", 0, {"width": 150}), "cloth"),
    "a garment of nobody": (("garments", 0, {"wearer": "w99"}), "w99"),
    "an id twice": (("garments", 1, {"id": "g1"}), "same id"),
    "a cloth that is not there": (("garments", 0, {"cloths": {"main": "c99"}}), "c99"),
    "an age that is none": (("wearers", 0, {"age": "abc"}), "abc"),
    "a date that is none": (("wearers", 0, {"born": "2026-02-30"}), "2026-02-30"),
    "a measurement that is none": (("wearers", 0, {"measurements": {"stature": 5}}), "short line of text"),
    "steps that are none": (("garments", 0, {"done": "all"}), "steps"),
}


@pytest.mark.parametrize("what", BAD)
def test_a_bad_entry_is_named_and_set_aside_and_the_kit_goes_on(what):
    (which, number, changes), word = BAD[what]
    kit = spoilt(which, number, **changes)
    with pytest.raises(BadInput):
        read_kit(json.dumps(kit))
    for do in ("read-kit", "write-kit", "share-kit"):
        answer = ask(do, kit)
        assert answer["ok"], answer
        assert any(word in sentence for sentence in answer["set_aside"]), (do, answer["set_aside"])
        assert all(sentence.endswith(".") and len(sentence) < 400 for sentence in answer["set_aside"])
    told: list = []
    read = read_kit(json.dumps(kit), told)
    assert len(read.wearers) + len(read.garments) + len(read.cloths) >= 1 and told
    assert read.title == KIT["title"]
    assert any(word in conflict for conflict in ask("merge-kits", kit)["conflicts"])


def test_only_the_field_that_does_not_read_is_left_out_of_a_wearer():
    told: list = []
    kit = read_kit(json.dumps(spoilt("wearers", age="abc", born=None)), told)
    assert [w.id for w in kit.wearers] == [w["id"] for w in KIT["wearers"]]
    assert len(kit.garments) == len(KIT["garments"])
    assert dict(kit.wearers[0].wearer.measurements) == KIT["wearers"][0]["measurements"]


def test_a_merge_never_sets_aside_what_is_mine():
    answer = workbench.run({"do": "merge-kits", "mine": spoilt("wearers", colour="red"), "theirs": KIT})
    assert not answer["ok"] and "colour" in answer["problems"][0]["message"]


def many(count, kind="cap"):
    one = {**KIT["garments"][0], "garment": kind}
    garments = [{**one, "id": f"g{i}", "options": {"seam_allowance": f"{i} mm"}} for i in range(count)]
    return {**KIT, "garments": garments}


def test_more_garments_than_a_kit_keeps_are_told_before_anything_is_changed():
    answer = workbench.run({"do": "merge-kits", "mine": many(300), "theirs": many(300, "hood")})
    assert not answer["ok"] and "600 garments" in answer["problems"][0]["message"]
    told: list = []
    kit = read_kit(json.dumps(many(MOST_ENTRIES + 30)), told)
    assert len(kit.garments) == MOST_ENTRIES and len(told) < 20 and "18 more" in told[-1].message


def test_a_hundred_bad_entries_are_told_in_a_dozen_sentences():
    told: list = []
    read_kit(json.dumps({**KIT, "cloths": [{"id": f"c{i}", "width": i} for i in range(100)]}), told)
    assert len(told) <= 14 and all(len(problem.message) < 400 for problem in told)


def test_the_command_line_makes_the_rest_and_keeps_the_file_as_it_was(tmp_path):
    kit = spoilt("wearers", 1, colour="red")
    kit["garments"] = kit["garments"][:1]
    text = json.dumps(kit)
    (tmp_path / "kit.json").write_text(text)
    done = run("kit", str(tmp_path / "kit.json"), "--seconds", "0.05", "--out", str(tmp_path))
    assert done.returncode == 1 and "colour" in done.stderr and "was set aside" in done.stderr
    assert (tmp_path / "kit.json").read_text() == text and "colour" in done.stdout


# --- Two kits in different units ------------------------------------------------------------------------


def bolt(unit, **texts):
    return Kit(unit=unit, cloths=(KitCloth("c1", texts),))


def widths(kit):
    return [round(parse_length(cloth.texts["width"], kit.unit), 1) for cloth in kit.cloths]


def test_a_bare_length_stays_what_it_was_in_its_own_kit():
    merged = merge(bolt("cm", name="wool", width="150"), bolt("in", name="linen", width="60", on_hand="3 m"))
    # source: NIST SP 811: an inch is 25.4 mm
    assert widths(merged.kit) == [1500, 60 * 25.4]
    assert merged.kit.cloths[1].texts["on_hand"] == "3 m"
    assert any("in inches" in said or "say in now" in said for said in merged.conflicts)


def test_two_cloths_of_one_name_that_read_alike_are_two_where_they_mean_another_width():
    merged = merge(bolt("cm", name="wool", width="60"), bolt("in", name="wool", width="60"))
    assert widths(merged.kit) == [600, 60 * 25.4]
    named = next(said for said in merged.conflicts if "“wool”" in said)
    assert "“60”" in named and "“60 in”" in named


def test_two_cloths_that_mean_the_same_are_one_however_they_are_written():
    merged = merge(bolt("cm", name="wool", width="150"), bolt("mm", name="wool", width="1500"))
    assert widths(merged.kit) == [1500] and merged.conflicts == ()


@pytest.mark.parametrize("text", [
    "60", "60,5", "36 1/4", "1,500", "12½", "1.125", "60 cm", '5\'4"', "1 m 12", "about 60", "",
    "1 ft 6", "60.",
])
def test_a_length_with_its_unit_means_the_same_everywhere(text):
    for unit in ("cm", "in", "mm", "m"):
        try:
            mm = parse_length(text, unit)
        except LengthError:
            for other in ("cm", "in", "mm", "m"):
                with pytest.raises(LengthError):
                    parse_length(with_unit(text, unit), other)
            continue
        for other in ("cm", "in", "mm", "m"):
            assert parse_length(with_unit(text, unit), other) == pytest.approx(mm, abs=1e-3)
