"""Writing a run's files: all of them or none, and none of an earlier run's left among them."""

import os
import shutil
import signal
import tempfile
import threading
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path

from ..words.problems import BadInput, Problem

BESIDE = ".ellwand-"
"""How the folder is called that files are written to before they take their places."""

EARLIER = "earlier"
"""The folder, within the one written to, for what an earlier run left there."""

ENDING = [getattr(signal, name) for name in ("SIGINT", "SIGTERM", "SIGHUP") if hasattr(signal, name)]
"""Signals that ask a program to end."""

Ours = Callable[[Path], bool]
"""Whether a file, by its path below the folder that is written to, is one that such a run writes."""


def write_files(folder: Path, files: Mapping[str, bytes], ours: Ours) -> str:
    """All of the files, by their names, which may hold folders of their own.

    They are written beside their places and then renamed, so that a disk that is full or a run that is
    ended leaves what was there. What is `ours` and none of these goes into a folder for earlier files;
    what is returned says so, "" where there was none. Raises BadInput, and nothing is changed, when a
    file cannot be written.
    """
    made = _first_missing(folder)
    beside = None
    try:
        folder.mkdir(parents=True, exist_ok=True)
        _clear_away(folder)
        beside = Path(tempfile.mkdtemp(prefix=BESIDE, dir=folder))
        _write_beside(beside / "new", files)
        with _undisturbed():
            moved = _into_place(folder, beside, files, ours)
        shutil.rmtree(beside)
        return moved
    except OSError as error:
        if beside is not None:
            shutil.rmtree(beside, ignore_errors=True)
        raise BadInput([Problem(
            "--out", f"Cannot write to {folder}: {error.strerror or error}. Choose another folder."
        )]) from None
    finally:
        if made is not None:
            _remove_empty(made)


def _first_missing(folder: Path) -> Path | None:
    """The outermost of the folders that will have to be made."""
    missing = None
    for path in (folder, *folder.parents):
        with suppress(OSError):
            if path.exists():
                break
        missing = path
    return missing


def _clear_away(folder: Path) -> None:
    """What a run that was killed had written beside and never put into its place."""
    for left in folder.glob(f"{BESIDE}*"):
        shutil.rmtree(left, ignore_errors=True)


def _write_beside(beside: Path, files: Mapping[str, bytes]) -> None:
    for name, data in files.items():
        path = beside / name
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())  # some disks say only now that they are full


@contextmanager
def _undisturbed() -> Iterator[None]:
    """Whoever asks it to end waits until it is done: it takes no longer than a few renames.

    A handler, since a mask would hold for one thread only.
    """
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    asked: list[int] = []
    before = {each: signal.signal(each, lambda number, _: asked.append(number)) for each in ENDING}
    try:
        yield
    finally:
        for each, handler in before.items():
            signal.signal(each, handler or signal.SIG_DFL)
        for each in dict.fromkeys(asked):
            signal.raise_signal(each)


def _into_place(folder: Path, beside: Path, files: Mapping[str, bytes], ours: Ours) -> str:
    """The new files in their places, older ones of ours among the earlier. Raises OSError, all undone."""
    undo: list[Callable[[], object]] = []
    try:
        moved = _set_aside(folder, files, ours, undo)
        for name in files:
            _replace(beside / "new" / name, folder / name, beside / "old" / name, undo)
    except OSError:
        for step in reversed(undo):
            with suppress(OSError):
                step()
        raise
    return moved


def _replace(new: Path, place: Path, old: Path, undo: list[Callable[[], object]]) -> None:
    _make_folders(place.parent, undo)
    if os.path.lexists(place):
        old.parent.mkdir(parents=True, exist_ok=True)
        _copy(place, old)
        undo.append(lambda: os.replace(old, place))
    else:
        undo.append(place.unlink)
    os.replace(new, place)


def _copy(path: Path, to: Path) -> None:
    """A second name for the file, or a copy where the disk knows no second names."""
    try:
        os.link(path, to, follow_symlinks=False)
    except (OSError, NotImplementedError):
        shutil.copy2(path, to, follow_symlinks=False)


def _make_folders(folder: Path, undo: list[Callable[[], object]]) -> None:
    missing = _first_missing(folder)
    folder.mkdir(parents=True, exist_ok=True)
    if missing is not None:
        undo.append(lambda: _remove_empty(missing))


def _set_aside(
    folder: Path, files: Iterable[str], ours: Ours, undo: list[Callable[[], object]]
) -> str:
    """Moves what is ours and not among the files, and says so."""
    written = {Path(name) for name in files}
    found = [path for path in _below(folder) if path not in written and ours(path)]
    if not found:
        return ""
    earlier = _free(folder / EARLIER)
    for path in found:
        place, aside = folder / path, earlier / path
        _make_folders(aside.parent, undo)
        os.rename(place, aside)
        undo.append(lambda place=place, aside=aside: os.rename(aside, place))  # type: ignore[misc]
    for parent in {folder / path.parent for path in found} - {folder}:
        with suppress(OSError):
            parent.rmdir()
        undo.append(lambda parent=parent: parent.mkdir(exist_ok=True))  # type: ignore[misc]
    count = "1 file" if len(found) == 1 else f"{len(found)} files"
    return f"{count} of an earlier run moved to {earlier}"


def _below(folder: Path) -> list[Path]:
    """The files in a folder, as deep in it as a run writes any, by their paths below it."""
    return sorted(path.relative_to(folder) for deep in ("*", "*/*", "*/*/*") for path in folder.glob(deep)
                  if path.is_file() and not path.relative_to(folder).parts[0].startswith(BESIDE))


def _free(folder: Path) -> Path:
    number, path = 1, folder
    while os.path.lexists(path):
        number += 1
        path = folder.with_name(f"{folder.name}-{number}")
    return path


def _remove_empty(folder: Path) -> None:
    """The folder and those in it, as far as there is nothing in them."""
    with suppress(OSError):
        for inner in folder.iterdir():
            if inner.is_dir() and not inner.is_symlink():
                _remove_empty(inner)
        folder.rmdir()
