"""Runs inside Pyodide, in Node, at build time: turns source into what starts fastest.

Pyodide's standard library and most wheels come as source, which the browser would compile anew
on every visit: more than half of a plain start. Here each module is compiled once, by the very
interpreter that will run it; and the library is parted in two, so that a first visit fetches only
what a first draft can need. Archives come out the same for the same input, byte for byte.
"""

import ast
import hashlib
import importlib
import importlib.util
import re
import sys
import zipfile
from base64 import urlsafe_b64encode
from collections.abc import Callable
from importlib._bootstrap_external import _code_to_hash_pyc
from pathlib import Path

# As Pyodide has them: its library in one zip that is first on the path, and a folder for packages.
STDLIB = next(path for path in sys.path if path.endswith(".zip"))
SITE_PACKAGES = Path(next(path for path in sys.path if path.endswith("site-packages")))
STDLIB_REST = f"stdlib_rest-{'.'.join(map(str, sys.version_info[:3]))}-py3-none-any.whl"

# What PyScript's own prelude imports in the worker.
PRELUDE = ("asyncio", "base64", "functools", "html", "inspect", "io", "json", "pathlib", "re")
LATER = ("numpy", "PIL", "reportlab")  # none of these may be needed for the first draft
SMALL = ("svgwrite", "segno")  # not needed for it either, but the snapshot has room for them
# Left out of what others publish: no lay and no sheet uses it, and all of it would lie in memory, the
# shared libraries loaded too. Tests make every sheet and a lay in the browser from what is left.
UNUSED = re.compile(
    r"numpy/(f2py|fft|ma|polynomial|random|testing)/"
    r"|numpy/_core/(include|lib|tests)/"
    r"|numpy/_core/(_simd|_(operand|rational|struct|umath)\w*_tests)\.cpython"
    r"|PIL/_(imaging\w+|webp)\.cpython"
    r"|reportlab/(fonts|graphics)/"
    r"|.*\.(pyi|pxd)$"
)
LATER_TABLES = "drafting/period/statements/"
DRAFT = {
    "do": "draft",
    "garment": "apron-dress",
    "measurements": {"bust_girth": "92", "waist_girth": "78", "torso_length": "38"},
    "options": {"length": "115", "hem_girth": "240"},
    "unit": "cm",
}


def first_draft() -> None:
    """Do what a visit begins with, so that all it needs is imported and its data read.

    Raises RuntimeError when that fails or needs a package that is only loaded later.
    """
    for name in PRELUDE:
        importlib.import_module(name)
    workbench = importlib.import_module("drafting.requests.workbench")
    result = workbench.run(DRAFT)
    if not result["ok"]:
        raise RuntimeError(f"The first draft fails: {result['problems']}")
    if too_soon := [name for name in LATER if name in sys.modules]:
        raise RuntimeError(f"The first draft must do without {' and '.join(too_soon)}.")


def everything_light() -> None:
    """Import all of drafting that needs no package loaded later, and read its tables.

    A draft from the snapshot then needs no file of ours, whichever garment or body it is of.
    """
    for name in SMALL:
        importlib.import_module(name)
    for path in sorted((SITE_PACKAGES / "drafting").rglob("*.pyc")):
        name = ".".join(path.relative_to(SITE_PACKAGES).with_suffix("").parts)
        if not name.endswith("__main__"):
            try:
                importlib.import_module(name.removesuffix(".__init__"))
            except ModuleNotFoundError as error:
                if (error.name or "").split(".")[0] not in LATER:
                    raise
    tables = importlib.import_module("drafting.body.data")
    for path in sorted(Path(tables.__file__).parent.glob("*.json")):
        tables.load(path.stem)
    importlib.import_module("drafting.period.statements").statements()


def drafting_in_use() -> set[str]:
    """Names, inside our wheel, of every module of drafting imported so far."""
    files = (getattr(module, "__file__", None) for module in list(sys.modules.values()))
    paths = (Path(file) for file in files if file)
    ours = (path for path in paths if path.is_relative_to(SITE_PACKAGES / "drafting"))
    return {path.relative_to(SITE_PACKAGES).as_posix() for path in ours}


def stdlib_named_in(modules: set[str]) -> None:
    """Import every standard module that these modules of ours name, inside functions too."""
    for name in sorted(modules):
        for node in ast.walk(ast.parse((SITE_PACKAGES / name).read_bytes())):
            names = [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
            if isinstance(node, ast.ImportFrom) and not node.level and node.module:
                names = [node.module]
            for module in names:
                if module.split(".")[0] in sys.stdlib_module_names:
                    importlib.import_module(module)


def stdlib_modules_in_use() -> set[str]:
    """Names, inside the standard library's zip, of every module imported so far."""
    origins = (getattr(module, "__file__", None) or "" for module in list(sys.modules.values()))
    return {origin.removeprefix(STDLIB + "/") for origin in origins if origin.startswith(STDLIB)}


def compiled(source: bytes, path: str) -> bytes:
    """A .pyc that is used without looking for its source."""
    code = compile(source, path, "exec", dont_inherit=True)
    return bytes(_code_to_hash_pyc(code, importlib.util.source_hash(source), False))


def repack(
    source: str,
    target: str,
    root: str,
    compiles: Callable[[str], bool] = lambda name: True,
    keeps: Callable[[str], bool] = lambda name: True,
) -> None:
    """Copy the files of a zip that `keeps` picks, compiling the modules that `compiles` picks."""
    files: dict[str, bytes] = {}
    with zipfile.ZipFile(source) as archive:
        for name in archive.namelist():
            if name.endswith(("/", ".dist-info/RECORD")) or not keeps(name):
                continue
            data = archive.read(name)
            if name.endswith(".py") and compiles(name):
                name, data = name + "c", compiled(data, f"{root}/{name}")
            files[name] = data
    write_archive(target, files)


def write_archive(target: str, files: dict[str, bytes]) -> None:
    """A zip with sorted names and no dates; a wheel gets its RECORD."""
    if metadata := next((name for name in files if name.endswith(".dist-info/METADATA")), ""):
        record = metadata.replace("METADATA", "RECORD")
        lines = [_record_line(name, files[name]) for name in sorted(files)]
        files[record] = "".join([*lines, f"{record},,\n"]).encode()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        for name in sorted(files):
            entry = zipfile.ZipInfo(name)  # 1980-01-01
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, files[name], compresslevel=9)


def _record_line(name: str, data: bytes) -> str:
    digest = urlsafe_b64encode(hashlib.sha256(data).digest()).rstrip(b"=").decode()
    return f"{name},sha256={digest},{len(data)}\n"


def pack_wheel(source: str, target: str) -> None:
    repack(source, target, str(SITE_PACKAGES), keeps=lambda name: not UNUSED.match(name))


def pack_drafting(source: str, first: str, rest: str) -> None:
    """Part our own wheel: the modules in use by now with the tables, and the other modules with theirs."""
    in_use = drafting_in_use()

    def comes_first(name: str) -> bool:
        return name in in_use or not (name.endswith(".py") or name.startswith(LATER_TABLES))

    repack(
        source,
        first,
        str(SITE_PACKAGES),
        keeps=comes_first,
    )
    files: dict[str, bytes] = {}
    with zipfile.ZipFile(source) as archive:
        for name in archive.namelist():
            if ".dist-info/" in name and not name.endswith("RECORD"):
                text = archive.read(name).replace(b"Name: drafting\n", b"Name: drafting-rest\n")
                files[name.replace("drafting-", "drafting_rest-")] = text
            elif name.endswith(".py") and name not in in_use:
                files[name + "c"] = compiled(archive.read(name), f"{SITE_PACKAGES}/{name}")
            elif not comes_first(name):
                files[name] = archive.read(name)
    write_archive(rest, files)


def pack_stdlib(source: str, first: str, rest: str) -> None:
    """Part the standard library: packages in use by now, and (as a wheel around a zip) the rest.

    Packages are kept whole, since the parts of one must lie in one place; their modules that are
    not in use stay source, which is half the size. The zip in the wheel is put on sys.path.
    """
    in_use = stdlib_modules_in_use()
    packages = {name.split("/")[0] for name in in_use}
    repack(
        source, first, STDLIB, in_use.__contains__, lambda name: name.split("/")[0] in packages
    )
    repack(source, "/rest.zip", STDLIB, keeps=lambda name: name.split("/")[0] not in packages)
    version = STDLIB_REST.split("-")[1]
    info = f"stdlib_rest-{version}.dist-info"
    files = {
        "stdlib_rest.zip": Path("/rest.zip").read_bytes(),
        f"{info}/METADATA": f"Metadata-Version: 2.1\nName: stdlib-rest\nVersion: {version}\n".encode(),
        f"{info}/WHEEL": b"Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n",
    }
    write_archive(rest, files)
