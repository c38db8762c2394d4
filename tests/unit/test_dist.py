"""What lies in dist/ fits together: hashes, parts, names, addresses."""

import base64
import hashlib
import io
import json
import re
import struct
import zipfile

import pytest

from fetching import npm_package
from machine import ROOT, files_below
from starting import LATER, PROGRAM, packed, unpacked


@pytest.fixture
def offline_list(dist):
    script = (dist / "sw.js").read_text(encoding="utf-8")
    return json.loads(re.search(r"^const BUILD = (.*);$", script, re.MULTILINE)[1])["files"]


def files(folder):
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}


def test_service_worker_lists_every_file_with_its_hash(dist, offline_list):
    assert set(offline_list) == files(dist) - {"sw.js"}
    for name, expected in offline_list.items():
        # source: W3C Subresource Integrity, section 3.5
        digest = base64.b64encode(hashlib.sha256((dist / name).read_bytes()).digest()).decode()
        assert expected == f"sha256-{digest}", name


def test_lock_names_every_wheel_with_its_hash(dist):
    lock = json.loads((dist / "pyodide" / "pyodide-lock.json").read_text(encoding="utf-8"))
    wheels = {path.name: path for path in (dist / "pyodide").glob("*.whl")}
    pinned = {package["file_name"]: package["sha256"] for package in lock["packages"].values()}
    assert pinned == {
        name: hashlib.sha256(path.read_bytes()).hexdigest() for name, path in wheels.items()
    }


def test_no_module_of_the_standard_library_is_lost_when_it_is_parted(dist):
    def modules(archive):
        return {name.removesuffix("c") if name.endswith(".pyc") else name
                for name in archive.namelist() if not name.endswith("/")}

    (rest,) = (dist / "pyodide").glob("stdlib_rest-*.whl")
    with zipfile.ZipFile(rest) as wheel:
        second = modules(zipfile.ZipFile(io.BytesIO(wheel.read("stdlib_rest.zip"))))
    with zipfile.ZipFile(dist / "pyodide" / "python_stdlib.zip") as archive:
        first = modules(archive)
    with zipfile.ZipFile(npm_package("pyodide") / "python_stdlib.zip") as archive:
        assert first | second == modules(archive)
    assert {name.split("/")[0] for name in first}.isdisjoint(name.split("/")[0] for name in second)


def test_no_module_of_drafting_is_lost_when_it_is_parted(dist):
    def modules(pattern):
        (wheel,) = (dist / "pyodide").glob(pattern)
        names = zipfile.ZipFile(wheel).namelist()
        return {name for name in names if name.endswith(".pyc")}

    first, rest = modules("drafting-*.whl"), modules("drafting_rest-*.whl")
    source = {f"{p.relative_to(ROOT).as_posix()}c" for p in files_below(ROOT / "drafting", "*.py")}
    assert first | rest == source
    assert first.isdisjoint(rest)
    assert "drafting/requests/workbench.pyc" in first


def test_fonts_are_apart_from_the_wheel_of_the_first_draft(dist):
    def fonts(pattern):
        (wheel,) = (dist / "pyodide").glob(pattern)
        return {name for name in zipfile.ZipFile(wheel).namelist() if name.endswith(".ttf")}

    assert fonts("drafting-*.whl") == set()
    assert fonts("drafting_fonts-*.whl") == {
        "drafting/sheets/fonts/DejaVuSans.ttf",
        "drafting/sheets/fonts/DejaVuSans-Bold.ttf",
    }


def test_the_pages_own_python_is_compiled_and_whole(dist):
    files = unpacked((dist / PROGRAM).read_bytes())
    later = unpacked(bytes.fromhex((dist / LATER).read_text(encoding="ascii")))
    assert files.keys().isdisjoint(later) and {"main", "fields"} <= {name.partition(".")[0] for name in files}
    assert {"later", "sewing"} <= {name.partition(".")[0] for name in later}
    assert packed(files).endswith(b"".join(files.values()))
    files |= later
    assert json.loads(files.pop("catalog.json"))["garments"]
    ours = {path.stem for path in files_below(ROOT / "site" / "app", "*.py")}
    assert {name.partition(".")[0] for name in files} == ours | {"link", "lives", "migrations", "texts"}
    # source: MicroPython's documentation, "MicroPython .mpy files": "M", the version, the flags
    assert {content[:2] for name, content in files.items() if name.endswith(".mpy")} == {b"M\x06"}


def test_icons_have_the_sizes_that_the_manifest_says(dist):
    manifest = json.loads((dist / "manifest.webmanifest").read_text(encoding="utf-8"))
    sizes = {icon["src"]: icon["sizes"] for icon in manifest["icons"]}
    assert {"192x192", "512x512"} <= set(sizes.values())  # source: W3C Web Application Manifest
    for name, size in sizes.items():
        if name.endswith(".png"):
            # source: PNG specification (W3C, second edition), 11.2.2: IHDR begins with both sizes
            width, height = struct.unpack(">II", (dist / name).read_bytes()[16:24])
            assert f"{width}x{height}" == size, name


@pytest.mark.parametrize("name", ["index.html", "manifest.webmanifest"])
def test_addresses_are_relative(dist, name):
    text = (dist / name).read_text(encoding="utf-8")
    named = r"""(?:src|href|start_url|scope|interpreter)["']?\s*[=:]\s*["']([^"']*)"""
    addresses = re.findall(named, text)
    assert addresses
    assert [a for a in addresses if a.startswith("/") or "://" in a] == []


def test_the_part_of_pillow_with_a_published_flaw_is_not_shipped(dist):
    """from memory: CVE-2024-28219: Pillow before 10.3 may write past a buffer in _imagingcms, the colour
    management; without that library nothing of it can be reached, whatever a file holds."""
    (wheel,) = (dist / "pyodide").glob("pillow-*.whl")
    libraries = {name for name in zipfile.ZipFile(wheel).namelist() if "imaging" in name.lower()}
    assert any(name.startswith("PIL/_imaging.") for name in libraries), "else this looks for the wrong names"
    assert not any("imagingcms" in name for name in libraries)
