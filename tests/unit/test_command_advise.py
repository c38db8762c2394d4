"""The verb `advise`: its words and its exit status."""

import json

import pytest

from tests import terminal

APRON_DRESS = ["apron-dress", "--year", "980", "--region", "Denmark", "--rank", "farmer"]


def run(*arguments):
    return terminal.run("advise", *arguments)


def test_what_is_only_unusual_exits_0_and_names_what_would_be_right():
    done = run(*APRON_DRESS, "--colour", "purple")
    assert done.returncode == 0, done.stderr
    for words in ("Apron dress: right", "unusual for a farmer", "--colour woad-pale", "from memory: ",
                  "organiser's own rules come first"):
        assert words in " ".join(done.stdout.split())


def test_what_is_wrong_for_the_time_exits_1_and_is_told_all_the_same():
    done = run("tunic", "--year", "900", "--region", "York", "--fastening", "zip", "--fibre", "cotton")
    assert done.returncode == 1 and done.stdout.count("WRONG") == 2
    assert "--fibre linen" in done.stdout


def test_what_breaks_the_groups_rules_exits_1_in_the_groups_name(tmp_path):
    file = tmp_path / "rules.json"
    file.write_text(json.dumps({"format": "ellwand-house-rules", "version": 1, "group": "Marram Farm",
                                "years": [850, 950], "message": "Ask Hild."}), encoding="utf-8")
    done = run(*APRON_DRESS, "--house-rules", str(file))
    assert done.returncode == 1
    assert "Marram Farm says" in done.stdout and "850–950" in done.stdout and "Ask Hild." in done.stdout
    assert run("apron-dress", "--year", "900", "--region", "Ribe", "--house-rules", str(file)).returncode == 0


def test_json_carries_everything():
    done = run(*APRON_DRESS, "--colour", "madder", "--json")
    result = json.loads(done.stdout)
    assert result["ok"] and {a["topic"] for a in result["advice"]} == {"garment", "dye"}


@pytest.mark.parametrize(("extra", "words"), [
    (["--year", "1500"], "600 to 1100"), (["--region", "Mordor"], "no region"),
    (["--colour", "grean"], "green"),
    (["-o", "style"], "NAME=VALUE"), (["--house-rules", "nowhere.json"], "Cannot read nowhere.json"),
    (["--activity", "juggling"], "no activity"), (["--age-months", "old"], "old"),
])
def test_bad_input_exits_2_with_a_sentence(extra, words):
    done = run(*APRON_DRESS, *extra)
    assert done.returncode == 2 and not done.stdout
    assert words in done.stderr and "Traceback" not in done.stderr


def test_a_file_that_is_no_text_is_told(tmp_path):
    file = tmp_path / "rules.json"
    file.write_bytes(b"\xff\xfe\x00")
    done = run(*APRON_DRESS, "--house-rules", str(file))
    assert done.returncode == 2 and "UTF-8" in done.stderr


def test_help_lists_what_can_be_chosen():
    text = run("--help").stdout
    for words in ("danelaw", "diamond-twill", "tablet-band", "well-off"):
        assert words in text
