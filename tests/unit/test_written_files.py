"""Files of the command line: all of a run's or none, whatever the disk does and whoever ends it."""

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from drafting.command import writing
from drafting.command.writing import write_files
from drafting.desk.takeaway import FILES
from drafting.words.problems import BadInput
from tests.hostile.documents import KIT
from tests.terminal import run, start

CAP = ["draft", "cap", "-m", "head_girth=56"]
OLD = {"a.txt": b"old a", "b.txt": b"old b"}
NEW = {"a.txt": b"new a", "b.txt": b"new b", "in/c.txt": b"new c"}


def nothing(path):
    return False


def contents(folder: Path) -> dict[str, bytes]:
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


def test_files_are_written_and_the_folders_they_are_in(tmp_path):
    folder = tmp_path / "deep" / "er"
    assert write_files(folder, NEW, nothing) == ""
    assert contents(folder) == NEW


@pytest.mark.parametrize("full", range(1, 4))
def test_a_disk_that_fills_up_leaves_what_was_there(tmp_path, monkeypatch, full):
    write_files(tmp_path, OLD, nothing)
    left = [full]

    def fsync(number):
        left[0] -= 1
        if not left[0]:
            raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", fsync)
    with pytest.raises(BadInput, match="No space left on device. Choose another folder."):
        write_files(tmp_path, NEW, nothing)
    assert contents(tmp_path) == OLD
    assert {path.name for path in tmp_path.iterdir()} == set(OLD)


@pytest.mark.parametrize("broken", range(1, 5))
def test_a_file_that_cannot_take_its_place_takes_none_of_the_others(tmp_path, monkeypatch, broken):
    write_files(tmp_path, {**OLD, "stale.txt": b"stale"}, nothing)
    left, replace, rename = [broken], os.replace, os.rename

    def failing(what):
        def change(new, place):
            left[0] -= 1
            if not left[0]:
                raise PermissionError(13, "Permission denied")
            what(new, place)

        return change

    monkeypatch.setattr(os, "replace", failing(replace))
    monkeypatch.setattr(os, "rename", failing(rename))
    with pytest.raises(BadInput, match="Permission denied"):
        write_files(tmp_path, NEW, lambda path: path.name == "stale.txt")
    assert contents(tmp_path) == {**OLD, "stale.txt": b"stale"}
    assert not (tmp_path / "in").exists() and not (tmp_path / "earlier").exists()


def test_a_folder_in_a_files_place_is_told_and_the_others_stay(tmp_path):
    (tmp_path / "b.txt").mkdir()
    (tmp_path / "a.txt").write_bytes(b"old a")
    with pytest.raises(BadInput, match="Choose another folder"):
        write_files(tmp_path, NEW, nothing)
    assert contents(tmp_path) == {"a.txt": b"old a"}


def test_a_disk_without_second_names_keeps_the_older_file_as_a_copy(tmp_path, monkeypatch):
    def link(*paths, **options):
        raise PermissionError(1, "Operation not permitted")  # as FAT answers

    monkeypatch.setattr(os, "link", link)
    write_files(tmp_path, OLD, nothing)
    write_files(tmp_path, NEW, nothing)
    assert contents(tmp_path) == NEW


# No file may be larger; a cap's sheet is.
LIMITED = "import resource; resource.setrlimit(resource.RLIMIT_FSIZE, (4000, 4000))"


def test_a_draft_that_the_disk_cuts_off_leaves_the_draft_before(tmp_path):
    """source: POSIX.1-2017, setrlimit, RLIMIT_FSIZE: a write beyond it fails with EFBIG."""
    assert run(*CAP, "--out", str(tmp_path)).returncode == 0
    before = contents(tmp_path)
    process = start(*CAP, "-m", "head_girth=60", "--out", str(tmp_path), first=LIMITED)
    said = process.communicate()[1].decode()
    assert process.returncode == 2 and "File too large. Choose another folder." in said
    assert contents(tmp_path) == before


def test_a_kill_at_any_time_leaves_one_run_s_files(tmp_path):
    """Killed between any two of its steps: the writing itself is slowed so that each is hit."""
    slow = (
        "import os, sys, time\nfrom pathlib import Path\nfrom drafting.command.writing import write_files\n"
        "sync = os.fsync\nos.fsync = lambda number: (sync(number), print(flush=True), time.sleep(60))\n"
        "write_files(Path(sys.argv[1]), {'a.txt': b'new a', 'b.txt': b'new b'}, lambda path: False)"
    )
    write_files(tmp_path, OLD, nothing)
    with subprocess.Popen([sys.executable, "-c", slow, str(tmp_path)], stdout=subprocess.PIPE) as process:
        process.stdout.readline()
        process.kill()
    assert {name: data for name, data in contents(tmp_path).items() if "/" not in name} == OLD
    write_files(tmp_path, NEW, nothing)
    assert contents(tmp_path) == NEW, "and the next run clears away what was left beside"


def test_whoever_asks_it_to_end_waits_for_the_renames(tmp_path, monkeypatch):
    write_files(tmp_path, OLD, nothing)
    replace = os.replace

    def interrupted(new, place):
        replace(new, place)
        os.kill(os.getpid(), signal.SIGINT)
        time.sleep(0)

    monkeypatch.setattr(os, "replace", interrupted)
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    try:
        with pytest.raises(KeyboardInterrupt):
            write_files(tmp_path, NEW, nothing)
    finally:
        signal.signal(signal.SIGINT, before)
    assert {name: data for name, data in contents(tmp_path).items() if ".ellwand" not in name} == NEW


def test_an_earlier_drafts_files_are_put_aside_and_told(tmp_path):
    (tmp_path / "notes.txt").write_text("mine")
    assert run(*CAP, "--booklet", "--out", str(tmp_path)).returncode == 0
    booklet = (tmp_path / "booklet.pdf").read_bytes()
    done = run(*CAP, "-m", "head_girth=60", "--out", str(tmp_path))
    assert "1 file of an earlier run moved to" in done.stdout
    assert {path.name for path in tmp_path.iterdir()} == {
        "notes.txt", "pattern.json", "pieces.svg", "tiled.pdf", "earlier"}
    assert (tmp_path / "earlier" / "booklet.pdf").read_bytes() == booklet
    assert "earlier run" not in run(*CAP, "--out", str(tmp_path)).stdout


def test_a_garment_that_left_the_kit_is_not_left_among_the_others(tmp_path):
    kit, out = tmp_path / "a.json", tmp_path / "out"
    for garments in (KIT["garments"][:2], KIT["garments"][1:2]):
        kit.write_text(json.dumps({**KIT, "garments": garments}))
        done = run("kit", str(kit), "--seconds", "0.05", "--out", str(out))
        assert done.returncode in (0, 1), done.stderr
        (out / "my notes").mkdir(exist_ok=True)
        (out / "my notes" / "tiled.pdf").write_bytes(b"mine")
    here = [path.name for path in out.iterdir() if path.name[:2].isdigit()]
    assert len(here) == 1 and here[0].startswith("01-") and here[0].endswith(KIT["garments"][1]["garment"])
    assert (out / "my notes" / "tiled.pdf").exists()
    assert "of an earlier run moved to" in done.stdout
    assert len({path.parent for path in (out / "earlier").rglob("pattern.json")}) == 2


def test_a_bolt_that_left_the_kit_is_not_left_among_the_others(tmp_path):
    kit, out = tmp_path / "a.json", tmp_path / "out"
    for name in ("red wool", "grey wool"):
        cloths = [{**KIT["cloths"][0], "name": name}, *KIT["cloths"][1:]]
        kit.write_text(json.dumps({**KIT, "cloths": cloths}))
        done = run("kit", str(kit), "--seconds", "0.05", "--out", str(out))
        assert done.returncode in (0, 1), done.stderr
    assert (out / "bolts" / "grey-wool" / "lay.json").exists()
    assert not (out / "bolts" / "red-wool").exists()
    assert (out / "earlier" / "bolts" / "red-wool" / "lay.json").exists()


def test_earlier_files_are_never_written_over(tmp_path):
    def ours(path):
        return path.name == "a.txt" and len(path.parts) == 1

    for text in (b"1", b"2", b"3"):
        write_files(tmp_path, {"a.txt": text}, ours)
        write_files(tmp_path, {"b.txt": text}, ours)
    kept = {path.parent.name: path.read_bytes() for path in tmp_path.rglob("a.txt")}
    assert kept == {"earlier": b"1", "earlier-2": b"2", "earlier-3": b"3"}


def test_every_name_a_draft_can_write_is_known_as_its_own():
    assert {"pattern.json", "tiled.pdf", "booklet.pdf", "lay.json", "chalk-plan.pdf"} <= set(FILES)
    assert writing.EARLIER not in FILES
