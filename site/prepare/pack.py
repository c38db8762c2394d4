"""Runs inside Pyodide, in Node, at build time: turns source into what starts fastest.

Pyodide's standard library and most wheels come as source, which the browser would compile anew
on every visit: more than half of a plain start. Here each module is compiled once, by the very
interpreter that will run it. Archives come out the same for the same input, byte for byte.
"""

import hashlib
import importlib
import importlib.util
import sys
import zipfile
from base64 import urlsafe_b64encode
from collections.abc import Callable
from importlib._bootstrap_external import _code_to_hash_pyc

STDLIB = "/lib/python312.zip"
SITE_PACKAGES = "/lib/python3.12/site-packages"

# What PyScript's own prelude imports in the worker.
PRELUDE = ("asyncio", "base64", "functools", "html", "inspect", "io", "json", "pathlib", "re")
LATER = ("numpy", "PIL", "reportlab")  # none of these may be needed for the first draft
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
    workbench = importlib.import_module("drafting.workbench")
    for request in ({"do": "describe"}, DRAFT):
        result = workbench.run(request)
        if not result["ok"]:
            raise RuntimeError(f"The first draft fails: {result['problems']}")
    if too_soon := [name for name in LATER if name in sys.modules]:
        raise RuntimeError(f"The first draft must do without {' and '.join(too_soon)}.")


def stdlib_modules_in_use() -> set[str]:
    """Names, inside the standard library's zip, of every module imported so far."""
    origins = (getattr(module, "__file__", None) or "" for module in list(sys.modules.values()))
    return {origin.removeprefix(STDLIB + "/") for origin in origins if origin.startswith(STDLIB)}


def compiled(source: bytes, path: str) -> bytes:
    """A .pyc that is used without looking for its source."""
    code = compile(source, path, "exec", dont_inherit=True)
    return bytes(_code_to_hash_pyc(code, importlib.util.source_hash(source), False))


def repack(source: str, target: str, root: str, chosen: Callable[[str], bool]) -> None:
    """Copy a zip, compiling the modules that `chosen` picks by name; no dates, sorted names."""
    files: dict[str, bytes] = {}
    with zipfile.ZipFile(source) as archive:
        for name in archive.namelist():
            data = archive.read(name)
            if name.endswith("/") or name.endswith(".dist-info/RECORD"):
                continue
            if name.endswith(".py") and chosen(name):
                name, data = name + "c", compiled(data, f"{root}/{name}")
            files[name] = data
    if record := next((n for n in files if n.endswith(".dist-info/METADATA")), ""):
        record = record.replace("METADATA", "RECORD")
        files[record] = "".join(
            [*(_record_line(name, files[name]) for name in sorted(files)), f"{record},,\n"]
        ).encode()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        for name in sorted(files):
            entry = zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0))
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, files[name], compresslevel=9)


def _record_line(name: str, data: bytes) -> str:
    digest = urlsafe_b64encode(hashlib.sha256(data).digest()).rstrip(b"=").decode()
    return f"{name},sha256={digest},{len(data)}\n"


def pack_wheel(source: str, target: str) -> None:
    repack(source, target, SITE_PACKAGES, lambda name: True)


def pack_stdlib(source: str, target: str) -> None:
    """The whole library: what the first draft uses compiled, the rest as source, half the size."""
    in_use = stdlib_modules_in_use()
    repack(source, target, STDLIB, lambda name: name in in_use)
