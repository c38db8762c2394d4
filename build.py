#!/usr/bin/env python3
"""Fetch the runtimes, assemble dist/, serve it, test it. Needs Python 3.11 and pip, nothing else.

    python3 build.py serve                 the page, on this machine only
    python3 build.py test                  ruff, mypy, and every test on all cores
    python3 build.py test [pytest args]    the tests that pytest is asked for, in one process
    python3 build.py site                  dist/, ready to copy to any static host

Whatever is downloaded is pinned in pyproject.toml, [tool.ellwand], checked against its hash, and
kept in .cache/; a second run needs no network. The steps are in site/prepare/.
"""

import argparse
import contextlib
import functools
import gzip
import hashlib
import http.server
import json
import os
import shutil
import subprocess
import sys
import tempfile
import zipfile
from collections.abc import Iterable
from pathlib import Path
from typing import BinaryIO

sys.path.insert(0, str(Path(__file__).resolve().parent / "site" / "prepare"))

from bytecode import compiler  # noqa: E402
from fetching import integrity, npm_package, wheels  # noqa: E402
from glue import slim  # noqa: E402
from machine import (  # noqa: E402
    CACHE,
    PINS,
    ROOT,
    VERSION,
    Stop,
    alone,
    browser,
    environment,
    files_below,
    fingerprint,
    firefox,
    pdftoppm,
    python,
    run,
    say,
    tool,
    webkit,
)
from starting import digest, fill_in, integrity_of, seal  # noqa: E402

DIST = ROOT / "dist"
SITE = ROOT / "site"
PREPARE = SITE / "prepare"
PORTS = (8000, 8080, 0)  # 0: any that is free
# Named .js in dist/: many a web server does not know that .mjs is JavaScript, and a browser then
# refuses it.
PYODIDE = {
    "pyodide.mjs": "pyodide.js",
    "pyodide.asm.js": "pyodide.asm.js",
    "pyodide.asm.wasm": "pyodide.asm.wasm",
}
MICROPYTHON = {"micropython.mjs": "micropython.js", "micropython.wasm": "micropython.wasm"}

NOT_SHIPPED = ("prepare", "sections", "style", "screenshot.png", "gallery.svg", "worn.png", "__pycache__")
LEAST_RUN = 95  # per cent of the lines of drafting/
LINTED = ("drafting", "tests", "build.py", "site")
MEDIA_TYPES = {
    ".js": "text/javascript",
    ".wasm": "application/wasm",
    ".webmanifest": "application/manifest+json",
    ".json": "application/json",
    ".py": "text/x-python",
    ".whl": "application/zip",
    ".bin": "application/octet-stream",
}


# --- Assembling dist/ -----------------------------------------------------------------------------


def source_wheel(target: Path, name: str, files: Iterable[Path]) -> None:
    """Our own files as a wheel, the way `pip wheel` would write it, dates left out."""
    info = f"{name.replace('-', '_')}-{VERSION}.dist-info"
    content = {path.relative_to(ROOT).as_posix(): path.read_bytes() for path in files}
    content[f"{info}/METADATA"] = (
        f"Metadata-Version: 2.4\nName: {name}\nVersion: {VERSION}\n"
        f"Summary: {PINS['project']['description']}\n"
        f"License-Expression: {PINS['project']['license']}\n"
    ).encode()
    content[f"{info}/WHEEL"] = (
        b"Wheel-Version: 1.0\nGenerator: build.py\nRoot-Is-Purelib: true\nTag: py3-none-any\n"
    )
    with zipfile.ZipFile(target, "w") as wheel:
        for entry, data in content.items():
            wheel.writestr(zipfile.ZipInfo(entry), data)  # ZipInfo: no date but 1980-01-01


def prepared() -> Path:
    """The folder of compiled wheels, standard library and memory snapshot, made by Node once."""
    fonts = files_below(ROOT / "drafting", "*.ttf", "fonts/LICENSE.txt")
    drafting = [path for path in files_below(ROOT / "drafting") if path not in fonts]
    makers = [PREPARE / "pack.py", PREPARE / "prelude.py", PREPARE / "prepare.mjs", ROOT / "build.py"]
    key = fingerprint([*drafting, *fonts, *makers, ROOT / "pyproject.toml"])
    folder = CACHE / "prepared" / key[:16]
    if folder.exists():
        return folder
    say("compiling the packages and making the memory snapshot")
    with tempfile.TemporaryDirectory(dir=CACHE) as scratch:
        wheels_in, out = Path(scratch) / "in", Path(scratch) / "out"
        wheels_in.mkdir()
        for name, files in (("drafting", drafting), ("drafting-fonts", fonts)):
            file_name = f"{name.replace('-', '_')}-{VERSION}-py3-none-any.whl"
            source_wheel(wheels_in / file_name, name, files)
        for wheel in wheels():
            shutil.copy(wheel, wheels_in)
        program, pyodide = PREPARE / "prepare.mjs", npm_package("pyodide")
        core = next((npm_package("@pyscript/core") / "dist").glob("core-*.js"))
        say(run(tool("node"), program, pyodide, core, wheels_in, out).strip())
        shutil.rmtree(CACHE / "prepared", ignore_errors=True)
        folder.parent.mkdir(parents=True)
        os.replace(out, folder)
    return folder


def lock_of(wheel_files: Iterable[Path]) -> str:
    """Pyodide's lock file with just the wheels we ship, each with its sha256."""
    lock = json.loads((npm_package("pyodide") / "pyodide-lock.json").read_text(encoding="utf-8"))
    packages = {}
    for wheel in sorted(wheel_files):
        name, version = wheel.name.split("-")[:2]
        name = name.replace("_", "-")
        packages[name] = {
            "name": name,
            "version": version,
            "file_name": wheel.name,
            "install_dir": "site",
            "sha256": integrity(wheel.read_bytes(), "sha256"),
            "package_type": "package",
            "imports": [],
            "depends": [],
        }
    return json.dumps({"info": lock["info"], "packages": packages}, indent=1)


def packaged(package: str, name: str) -> Path:
    """A file of a pinned npm package. Raises Stop when it holds none of that name."""
    path = npm_package(package) / name
    if not path.exists():
        raise Stop(f"{package} {PINS['tool']['ellwand']['npm'][package]['version']} holds no {name}.")
    return path


def add_pyodide(target: Path) -> None:
    """The worker's interpreter, its library, the wheels and the memory snapshot."""
    made = prepared()
    for path in made.iterdir():
        shutil.copy(path, target)
    for name, ours in PYODIDE.items():
        shutil.copy(packaged("pyodide", name), target / ours)
    glue = target / "pyodide.asm.js"
    glue.write_text(slim(glue.read_text(encoding="utf-8")), encoding="utf-8")
    snapshot = f"snapshot-{fingerprint([made / 'snapshot.bin'])[:12]}.bin"
    os.replace(target / "snapshot.bin", target / snapshot)
    wheel_files = sorted(target.glob("*.whl"))
    (target / "pyodide-lock.json").write_text(lock_of(wheel_files), encoding="utf-8")
    counted = [target / "pyodide.asm.wasm", target / "python_stdlib.zip", *wheel_files]
    first = [wheel.name for wheel in wheel_files if wheel.name.startswith("drafting-")]
    sizes = {path.name: path.stat().st_size for path in counted}
    checked = {name: digest(target / name) for name in ("pyodide-lock.json", "python_stdlib.zip")}
    memory = len(gzip.decompress((target / snapshot).read_bytes()))
    values = {"snapshot": snapshot, "memory": memory, "first": first, "sizes": sizes, "checked": checked}
    fill_in(target / "start.js", values)
    fill_in(target.parent / "start.js", {"snapshot": f"pyodide/{snapshot}"})


def add_page(target: Path) -> None:
    """PyScript, MicroPython, and what they run on the page."""
    pyscript = npm_package("@pyscript/core") / "dist"
    (target / "micropython").mkdir()
    (target / "pyscript").mkdir()
    for name, ours in MICROPYTHON.items():
        shutil.copy(
            packaged("@micropython/micropython-webassembly-pyscript", name), target / "micropython" / ours
        )
    for pattern in ("core*.js", "error-*.js"):  # the error plugin is fetched even to be told "no"
        for path in pyscript.glob(pattern):
            shutil.copy(path, target / "pyscript")
    for name in ("link.py", "lives.py", "migrations.py", "texts.py"):
        shutil.copy(ROOT / "drafting" / "both" / name, target / "app")
    run(python(), PREPARE / "prerender.py", target, *filter(None, [compiler()]))
    run(tool("node"), PREPARE / "tryout.mjs", target)
    seal(target)


def list_for_offline(target: Path) -> None:
    """Tell the service worker every file with its hash, and a version made of those."""
    listed = {}
    for path in files_below(target):
        if path != target / "sw.js":
            listed[path.relative_to(target).as_posix()] = digest(path)
    version = hashlib.sha256(json.dumps(listed).encode()).hexdigest()[:12]
    # In a browser that unpacked it (site/pyodide/unpack.js), the cache holds the memory itself.
    unpacked = {
        path.relative_to(target).as_posix(): integrity_of(gzip.decompress(path.read_bytes()))
        for path in (target / "pyodide").glob("snapshot-*.bin")
    }
    values = {"release": VERSION, "version": version, "files": listed, "unpacked": unpacked}
    fill_in(target / "sw.js", values)


@alone()
def site() -> bool:
    """Bring dist/ up to date; True when it had to be assembled anew."""
    stamp = CACHE / "dist-of"
    own = [ROOT / "build.py", ROOT / "pyproject.toml"]
    ours = [path for path in files_below(SITE) if path.name not in NOT_SHIPPED]
    wanted = fingerprint([*own, *files_below(ROOT / "drafting"), *ours])
    if DIST.exists() and stamp.exists() and stamp.read_text() == wanted:
        return False
    CACHE.mkdir(exist_ok=True)
    environment()
    with tempfile.TemporaryDirectory(dir=CACHE) as scratch:
        fresh = Path(scratch) / "dist"
        shutil.copytree(SITE, fresh, ignore=shutil.ignore_patterns(*NOT_SHIPPED))
        add_pyodide(fresh / "pyodide")
        add_page(fresh)
        list_for_offline(fresh)
        stamp.unlink(missing_ok=True)
        shutil.rmtree(DIST, ignore_errors=True)
        os.replace(fresh, DIST)
    stamp.write_text(wanted)
    return True


def part_of(name: str) -> str:
    """The part of dist/ a file belongs to, for the table of sizes."""
    folder, _, file_name = name.rpartition("/")
    if folder != "pyodide":
        return {"pyscript": "PyScript", "micropython": "MicroPython"}.get(folder, "the page")
    if file_name.startswith("snapshot"):
        return "memory snapshot (later visits)"
    return f"{file_name.split('-')[0]} (wheel)" if file_name.endswith(".whl") else "Pyodide"


def print_sizes() -> None:
    """What dist/ weighs, part by part, as it is and as gzip."""
    totals: dict[str, list[int]] = {}
    for path in files_below(DIST):
        data = path.read_bytes()
        for part in (part_of(path.relative_to(DIST).as_posix()), "together"):
            total = totals.setdefault(part, [0, 0])
            total[0] += len(data)
            total[1] += len(gzip.compress(data))
    say(f"{'dist/':<32}{'raw kB':>10}{'gzip kB':>10}")
    for part, (raw, packed) in sorted(totals.items(), key=lambda item: item[1][0]):
        say(f"{part:<32}{raw / 1000:>10,.0f}{packed / 1000:>10,.0f}")


# --- The three verbs ------------------------------------------------------------------------------


class Handler(http.server.SimpleHTTPRequestHandler):
    """A plain static server, with the media types that browsers insist on."""

    protocol_version = "HTTP/1.1"
    extensions_map = {**http.server.SimpleHTTPRequestHandler.extensions_map, **MEDIA_TYPES}

    def copyfile(self, source: BinaryIO, outputfile: BinaryIO) -> None:
        with contextlib.suppress(ConnectionError):  # the browser went away
            super().copyfile(source, outputfile)

    def log_message(self, *args: object) -> None:
        pass


def server(port: int = 0, folder: Path = DIST) -> http.server.ThreadingHTTPServer:
    handler = functools.partial(Handler, directory=str(folder))
    return http.server.ThreadingHTTPServer(("127.0.0.1", port), handler)


def serve() -> int:
    site()
    for port in PORTS:
        with contextlib.suppress(OSError):  # taken by something else
            service = server(port)
            break
    say(f"http://127.0.0.1:{service.server_port}/   (stop with Ctrl-C)")
    with contextlib.suppress(KeyboardInterrupt):
        service.serve_forever()
    return 0


def test(arguments: list[str]) -> int:
    """All tests, with what they need set up first; or some, each of which sets up what it asks for."""
    environment()
    if arguments:
        return by_module("pytest", *arguments)
    os.environ["ELLWAND_BROWSER"] = browser()
    os.environ["ELLWAND_FIREFOX"] = firefox()
    os.environ["ELLWAND_WEBKIT"] = webkit()
    pdftoppm()
    site()
    cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
    say("ruff")
    failed = by_module("ruff", "check", *LINTED)
    say("mypy")
    failed |= by_module("mypy")
    # A file is the unit of work: what its tests share (a visitor, a set of drafts) is made once.
    lines = CACHE / "lines-run.json"
    lines.unlink(missing_ok=True)
    failed |= by_module(
        "slipcover", "--json", f"--out={lines}", "-m",
        "pytest", f"--numprocesses={min(cores, 4)}", "--dist=loadfile", "--no-loadscope-reorder",
    )
    say(f"lines of drafting/ that the tests ran: {LEAST_RUN} % at least; files with all of them left out")
    failed |= by_module(
        "slipcover", f"--out={lines}", "--json", f"--fail-under={LEAST_RUN}", "--merge", str(lines),
    )
    return int(bool(failed))


def by_module(name: str, *arguments: str) -> int:
    """The exit status of a module of .venv run on this project."""
    return subprocess.call([str(python()), "-m", name, *arguments], cwd=ROOT)


def main(arguments: list[str]) -> int:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("verb", choices=["serve", "test", "site"])
    chosen, rest = parser.parse_known_args(arguments)
    if rest and chosen.verb != "test":
        parser.error(f"`{chosen.verb}` takes no arguments")
    try:
        if chosen.verb == "test":
            return test(rest)
        if chosen.verb == "serve":
            return serve()
        site()
        print_sizes()
        return 0
    except Stop as sentence:
        print(f"build.py: {sentence}", file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        return 130


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
