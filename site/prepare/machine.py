"""This machine: where things are kept, .venv, npm and node, a browser. Standard library only."""

import contextlib
import hashlib
import json
import os
import shutil
import sqlite3
import subprocess
import sys
import tomllib
from collections.abc import Iterable, Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
CACHE = ROOT / ".cache"
VENV = ROOT / ".venv"
PINS = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
ELLWAND = PINS["tool"]["ellwand"]
_OURS = (ROOT / "drafting" / "__init__.py").read_text(encoding="utf-8")
VERSION = next(line.split('"')[1] for line in _OURS.splitlines() if line.startswith("__version__ = "))

LONGEST_SET_UP = 3600  # seconds that another process may take to fetch and make what is missing
_PROGRAMS = VENV / ("Scripts" if os.name == "nt" else "bin")
_BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
_BROWSER_BY_PLAYWRIGHT = """
from playwright.sync_api import sync_playwright
with sync_playwright() as playwright:
    print(playwright.chromium.executable_path)
"""


class Stop(Exception):
    """Ends the run; its text is a sentence for the person at the terminal."""


def say(text: str) -> None:
    print(text, flush=True)


_times_inside = 0


@contextlib.contextmanager
def alone() -> Iterator[None]:
    """Of several processes, one at a time is in here: what is missing is fetched and made once.

    A process may enter again while it is inside. The lock is a database's: it is the same on every system,
    and let go however the process ends.
    """
    global _times_inside
    CACHE.mkdir(exist_ok=True)
    lock = sqlite3.connect(CACHE / "lock", timeout=LONGEST_SET_UP, isolation_level=None)
    with contextlib.closing(lock):
        if not _times_inside:
            lock.execute("BEGIN EXCLUSIVE")
        _times_inside += 1
        try:
            yield
        finally:
            _times_inside -= 1


def run(*command: str | Path, **options) -> str:
    """What the command printed. Raises Stop, with the last lines it printed, when it fails."""
    done = subprocess.run(
        [str(part) for part in command],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        **options,
    )
    if done.returncode:
        tail = "\n".join(line[:200] for line in done.stdout.strip().splitlines()[-12:])
        raise Stop(f"`{' '.join(map(str, command))[:200]}` failed:\n{tail}")
    return done.stdout


def files_below(folder: Path, *patterns: str) -> list[Path]:
    found = {path for pattern in patterns or ("*",) for path in folder.rglob(pattern)}
    return sorted(p for p in found if p.is_file() and "__pycache__" not in p.parts)


def fingerprint(paths: Iterable[Path], *more: str) -> str:
    """A hash of the files' names and contents, and of whatever text more."""
    digest = hashlib.sha256("\0".join(more).encode())
    for path in paths:
        digest.update(f"\0{path.relative_to(ROOT).as_posix()}\0".encode() + path.read_bytes())
    return digest.hexdigest()


def python() -> Path:
    """The Python of .venv."""
    return _PROGRAMS / ("python.exe" if os.name == "nt" else "python")


def pip(into: Path | None = None) -> list[str | Path]:
    """The command that installs into .venv, or another: .venv's own pip, or the machine's if it has none."""
    machines = getattr(sys, "_base_executable", sys.executable)  # this may be .venv's own, without pip
    having_it = python() if (_PROGRAMS / "pip").exists() else machines
    return [having_it, "-m", "pip", "--disable-pip-version-check", "--python", into or python()]


def environment() -> None:
    """Make .venv and install the project with its tests, unless that is done already."""
    stamp = VENV / "ellwand-installed"
    wanted = fingerprint([], sys.version, json.dumps([PINS["project"], PINS["build-system"]]))
    if stamp.exists() and stamp.read_text() == wanted:
        return
    say("making .venv")
    if not python().exists():
        have_pip = subprocess.run([sys.executable, "-m", "pip", "--version"], capture_output=True)
        pipless = ["--without-pip"] if have_pip.returncode == 0 else []
        try:
            run(sys.executable, "-m", "venv", *pipless, VENV)
        except Stop:
            raise Stop(
                "This Python has neither pip nor what a virtual environment needs. "
                "Install one of them (on Debian: python3-pip) and try again."
            ) from None
    run(*pip(), "install", "--quiet", "--editable", f"{ROOT}[test]")
    stamp.write_text(wanted)


@alone()
def tool(name: str) -> Path | str:
    """npm or node: the machine's, else out of a package installed into .venv."""
    own = _PROGRAMS / name
    if not own.exists():
        if found := shutil.which(name):
            return found
        say(f"no {name} on this machine: installing one into .venv")
        run(*pip(), "install", "--quiet", ELLWAND["node"])
    return own


@alone()
def browser() -> str:
    """The path of a Chromium or Chrome, installed if need be. Raises Stop when there is none."""
    if named := os.environ.get("ELLWAND_BROWSER"):
        return named
    if found := next(filter(None, map(shutil.which, _BROWSERS)), None):
        return found
    downloaded = run(python(), "-c", _BROWSER_BY_PLAYWRIGHT).strip()
    if Path(downloaded).exists():
        return downloaded
    say("no Chromium on this machine: fetching one")
    try:
        run(python(), "-m", "playwright", "install", "chromium", timeout=600)
        return downloaded
    except (Stop, subprocess.TimeoutExpired):
        debian_install("chromium")
    if found := shutil.which("chromium"):
        return found
    raise Stop("The tests need Chromium or Chrome: install one, or name it in ELLWAND_BROWSER.")


def firefox() -> str:
    """The path of a Firefox, or "" and the reason printed: the tests in it are then left out."""
    return _engine("Firefox", "ELLWAND_FIREFOX", {"firefox-esr": ("firefox-esr", "firefox")})


def webkit() -> str:
    """The path of WebKitGTK's WebDriver, or "" and the reason printed: the tests in it are then left out."""
    wanted = {"webkit2gtk-driver": ("WebKitWebDriver",), "xvfb": ("Xvfb",)}
    return _engine("WebKit", "ELLWAND_WEBKIT", wanted)


@alone()
def _engine(name: str, variable: str, wanted: dict[str, tuple[str, ...]]) -> str:
    """The first program of the first package, once every package's program is there, whatever its name."""
    if (named := os.environ.get(variable)) is not None:
        return named
    for package, programs in wanted.items():
        if not any(map(shutil.which, programs)):
            try:
                debian_install(package)
            except Stop as reason:
                say(f"{name} could not be installed: {reason}")
    found = [next(filter(None, map(shutil.which, programs)), "") for programs in wanted.values()]
    if all(found):
        return found[0]
    say(f"no {name} on this machine: the tests in this browser engine are left out")
    return ""


@alone()
def pdftoppm() -> str:
    """The path of poppler's pdftoppm, installed if need be. Raises Stop when there is none."""
    if not shutil.which("pdftoppm"):
        debian_install("poppler-utils")
    if found := shutil.which("pdftoppm"):
        return found
    raise Stop("The tests need poppler's pdftoppm: install it (on Debian: poppler-utils).")


def debian_install(package: str) -> None:
    """Install a Debian package where that is possible; elsewhere do nothing."""
    if shutil.which("apt-get") and os.geteuid() == 0:
        quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
        run("apt-get", "update", env=quiet)
        run("apt-get", "install", "--yes", "--no-install-recommends", package, env=quiet)
