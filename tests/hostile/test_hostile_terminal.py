"""Whatever the terminal, the disk or the files do, the command line ends with a sentence."""

import json
import os
import signal
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from drafting.command.line import main
from tests.terminal import start

CAP = ["draft", "cap", "-m", "head_girth=56"]
FULL = "/dev/full"
ROOT = Path(__file__).resolve().parents[2]
needs_dev_full = pytest.mark.skipif(not os.path.exists(FULL), reason="this machine has no /dev/full")


def end(process):
    said = process.stderr.read().decode()
    process.wait(60)
    assert "Traceback" not in said and "Exception" not in said, said
    return process.returncode, said


def refused(capsys, *arguments):
    assert main(arguments) == 2
    said = capsys.readouterr()
    assert "Traceback" not in said.err and "went wrong" not in said.err
    assert said.err.strip().endswith((".", ")"))
    return said.err


def test_a_pipe_that_closes_ends_it_quietly(tmp_path):
    for arguments in (["garments"], [*CAP, "--out", str(tmp_path / "out")], ["draft", "cap", "--help"]):
        process = start(*arguments)
        process.stdout.close()
        assert end(process) == (0 if (tmp_path / "out").exists() else 2, "") or arguments[-1] == "--help"


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this machine has no named pipes")
def test_ctrl_c_ends_it_with_a_word(tmp_path):
    os.mkfifo(tmp_path / "kit.json")
    # A shell's job in the background ignores Ctrl-C, and so would what it starts.
    process = start("kit", str(tmp_path / "kit.json"), "--out", str(tmp_path / "out"),
                    first="import signal; signal.signal(signal.SIGINT, signal.SIG_DFL)")
    with open(tmp_path / "kit.json", "wb"):  # opens once the other side reads
        process.send_signal(signal.SIGINT)
        assert end(process) == (2, "Stopped.\n")
    assert not (tmp_path / "out").exists()


def test_status_2_means_that_nothing_was_written(tmp_path):
    for read in (False, True):
        out = tmp_path / f"out-{read}"
        process = start(*CAP, "--out", str(out))
        if read:
            process.stdout.readline()  # as `| head -1` does
        process.stdout.close()
        assert (end(process)[0], len(list(out.iterdir()))) == (0, 3)


@needs_dev_full
def test_what_was_written_is_no_bad_input_when_it_cannot_be_printed(tmp_path):
    with open(FULL, "wb") as full:
        status, said = end(start(*CAP, "--out", str(tmp_path / "out"), stdout=full))
    assert status == 1 and "cannot be printed" in said and (tmp_path / "out" / "tiled.pdf").exists()


@pytest.mark.parametrize("how", ["drafting", "ellwand"])
def test_ctrl_c_while_it_is_loaded_ends_it_with_a_word(how):
    """The signal comes as the command line is imported, and from nowhere else."""
    begin = {
        "drafting": "import runpy; runpy.run_module('drafting', run_name='__main__')",
        "ellwand": "from importlib.metadata import EntryPoint as E; sys.exit(E('', START, '').load()())",
    }[how]
    started = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]["scripts"]["ellwand"]
    code = (
        "import signal, sys\n"
        "class Interrupted:\n"
        "    def find_spec(self, name, path=None, target=None):\n"
        "        if name == 'drafting.garments': signal.raise_signal(signal.SIGINT)\n"
        "signal.signal(signal.SIGINT, signal.default_int_handler)\n"
        f"sys.meta_path.insert(0, Interrupted())\nSTART = {started!r}\n{begin}"
    )
    process = subprocess.Popen([sys.executable, "-c", code], stderr=subprocess.PIPE)
    assert end(process) == (2, "Stopped.\n")


@needs_dev_full
def test_a_full_disk_behind_the_output_is_told():
    with open(FULL, "wb") as full:
        status, said = end(start("garments", stdout=full))
    assert status == 2 and "cannot be printed" in said


def test_no_output_at_all_is_no_fault(tmp_path):
    process = start("garments", stdout=None, first="import os; os.close(1)")
    assert end(process)[0] == 0


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp437"])
def test_a_terminal_without_the_letters_still_gets_the_draft(tmp_path, encoding):
    process = start(*CAP, "--name", "Þóra Жанна", "--out", str(tmp_path / "out"),
                    env={**os.environ, "PYTHONIOENCODING": encoding}, stdout=subprocess.DEVNULL)
    assert end(process) == (0, "")


def test_an_argument_in_no_encoding_is_only_a_name(tmp_path):
    process = start(*CAP, b"--name=\xff\xfe", "--out", str(tmp_path / "out"), stdout=subprocess.DEVNULL)
    assert end(process) == (0, "")


@pytest.mark.parametrize("verb", [["kit"], ["lay"], [
    "advise", "cap", "--year", "980", "--region", "Denmark", "--rank", "farmer", "--house-rules"]])
def test_a_file_that_is_missing_a_folder_binary_or_empty_is_told(tmp_path, capsys, verb):
    contents = {"binary": bytes(range(256)) * 20, "utf-16": "{}".encode("utf-16"), "empty": b"",
                "nested": b"[" * 100_000, "number": b"1", "null": b"null"}
    for name, content in contents.items():
        (tmp_path / name).write_bytes(content)
    for name in (*contents, "missing", ".", "x" * 5000, "a\nb", "\u202e"):
        refused(capsys, *verb, str(tmp_path / name))


@pytest.mark.skipif(not os.path.exists("/dev/zero"), reason="this machine has no /dev/zero")
@pytest.mark.parametrize("verb", ["lay", "kit"])
def test_a_file_without_an_end_is_told(tmp_path, capsys, verb):
    refused(capsys, verb, "/dev/zero")


def test_names_of_pieces_move_no_cursor(tmp_path, capsys):
    square, name = [[0, 0], [40, 0], [40, 40], [0, 40]], "a\x1b[2J\x07\u202eb"
    file = tmp_path / "squares.json"
    for outline, status in ((square, 0), (square[:2], 2)):
        file.write_text(json.dumps({"width": 80, "pieces": [{"name": name, "outline": outline}]}))
        assert main(["lay", str(file), "--seconds", "0.1"]) == status
        said = "".join(capsys.readouterr())
        assert "[2J" in said and not set(said) & {"\x1b", "\x07"}
        assert status or "\u202e" not in said


def test_a_folder_that_cannot_be_made_is_told_and_nothing_is_written(tmp_path, capsys):
    (tmp_path / "file").write_text("")
    for out in (tmp_path / "file", tmp_path / "file" / "below", tmp_path / ("x" * 5000)):
        assert "Choose another folder" in refused(capsys, *CAP, "--out", str(out))
    assert [path.name for path in tmp_path.iterdir()] == ["file"]


def test_what_no_one_foresaw_is_still_a_sentence(monkeypatch, capsys):
    monkeypatch.setattr("drafting.command.line._garments", lambda given: 1 / 0)
    assert main(["garments"]) == 2
    said = capsys.readouterr().err
    assert "ZeroDivisionError" in said and "Traceback" not in said
