"""What index.html says for PyScript to start with, so that nothing waits for a file to name the next.

    preloads(dist)          links to what the page needs first, fetched while it is being read
    page_config(), worker_config()   PyScript's, written into the page
    program(folder, mpy_cross)   the page's own Python, compiled where there is a compiler, and its catalogue
    needed_first(folder)    which of it the page needs before it listens
    packed(files)           as one file, for MicroPython to take apart
    style(folder)           the page's style sheets as one, in the order in which they hold
    seal(dist)              the hashes by which the browser knows what is cut off or damaged

Left to itself PyScript asks for one thing after the other: its core, the configurations, a plugin,
MicroPython, and then every module. The last of them would come after a dozen turns to the server.
"""

import ast
import base64
import hashlib
import json
import re
from pathlib import Path

from bytecode import compiled
from machine import Stop

PROGRAM = "app/program.bin"
LATER = "app/later.txt"  # what is not needed before the page listens, as app/arriving.py takes it apart
BEGINS, BEGINS_LATER = "main", "later"  # the modules that import all others
STYLES = ("page", "fields", "pieces", "bar", "sections", "conditions")
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
MODULES = ("pyscript/core.js", "pyscript/core-*.js", "pyscript/error-*.js", "micropython/micropython.js")
FETCHED = ("micropython/micropython.wasm", PROGRAM, "worker.py")
SCRIPTS = ("start.js", "store.js", "last.js")
# By whole.js; wasm is compiled while it arrives, which a hash would end.
CHECKED = (PROGRAM, LATER, "worker.py")
# What else a start needs, and "Try again" has fetched anew where a cache holds it broken.
STARTED = (
    *(*SCRIPTS, "style.css", "figures.svg"),
    *("pyscript/*", "micropython/*", "pyodide/*.js", "pyodide/*.json", "pyodide/*.wasm"),
    *("pyodide/python_stdlib.zip", "pyodide/drafting-*.whl"),
)
_SEALED = re.compile(
    r'<(?:script(?! type="py")|link rel="(?:stylesheet|(?:module)?preload)"(?![^>]* as="fetch"))[^>]*?'
    r' (?:src|href)="([^"]+)"'
)


def preloads(dist: Path) -> str:
    # A browser looks no further than the first script for what comes next, where a page has a policy.
    lines = [f'<link rel="preload" href="{name}" as="script">' for name in ("whole.js", *SCRIPTS)]
    lines += ['<link rel="preload" href="style.css" as="style">']
    lines += [
        f'<link rel="modulepreload" href="{path.relative_to(dist).as_posix()}">'
        for pattern in MODULES for path in sorted(dist.glob(pattern))
    ]
    # crossorigin: what fetch() asks for has to match in this, on the page's own origin too
    lines += [f'<link rel="preload" href="{name}" as="fetch" crossorigin>' for name in FETCHED]
    return "\n".join(lines)


def page_config() -> str:
    return _config("./micropython/micropython.js", {f"./{PROGRAM}": "./program.bin"})


def worker_config() -> str:
    return _config("./pyodide/start.js", {})


def _config(interpreter: str, files: dict[str, str]) -> str:
    plugins = [f"!{name}" for name in UNUSED_PLUGINS]
    return json.dumps({"interpreter": interpreter, "files": files, "plugins": plugins})


def program(folder: Path, mpy_cross: Path | None = None) -> dict[str, bytes]:
    """Every file of the folder by name. Python has lost its docstrings, and is compiled if that can be."""
    files = {}
    for path in sorted(folder.iterdir()):
        text = path.read_text(encoding="utf-8")
        if path.suffix == ".py":
            text = _bare(text)
            if mpy_cross:
                files[f"{path.stem}.mpy"] = compiled(mpy_cross, path.name, text)
                continue
        files[path.name] = text.encode()
    return files


def needed_first(folder: Path) -> set[str]:
    """The modules that main.py imports, they import, and so on, but for later.py and what that alone does."""
    needed, found = set(), {BEGINS}
    while found:
        needed |= found
        sources = [path for name in found if (path := folder / f"{name}.py").exists()]
        found = set().union(*map(_imports, sources)) - needed - {BEGINS_LATER}
    return needed


def _imports(path: Path) -> set[str]:
    """The modules that a script imports, wherever it does."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            found.add(node.module)
    return found


def packed(files: dict[str, bytes]) -> bytes:
    """A line of names and sizes, then one file after the other."""
    sizes = " ".join(f"{name} {len(content)}" for name, content in files.items())
    return sizes.encode() + b"\n" + b"".join(files.values())


def unpacked(program: bytes) -> dict[str, bytes]:
    """The files that `packed` made one of."""
    line, _, rest = program.partition(b"\n")
    words, files, at = line.decode().split(), {}, 0
    for name, size in zip(words[::2], map(int, words[1::2]), strict=True):
        files[name] = rest[at : at + size]
        at += size
    return files


def _bare(source: str) -> str:
    """The same program without docstrings and comments: a third less to fetch and to compile."""
    tree = ast.parse(source)
    for node in ast.walk(tree):
        if not isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef):
            continue
        if ast.get_docstring(node, clean=False) is not None:
            node.body = node.body[1:] or [ast.Pass()]
    return ast.unparse(tree)


def style(folder: Path) -> str:
    """Raises Stop when the folder holds a sheet that STYLES does not place."""
    if unplaced := {path.stem for path in folder.glob("*.css")} - set(STYLES):
        raise Stop(f"starting.STYLES does not say where these style sheets come: {sorted(unplaced)}.")
    return "\n".join((folder / f"{name}.css").read_text(encoding="utf-8") for name in STYLES)


def seal(dist: Path) -> None:
    """Write the hashes into whole.js, and its own and the other scripts' into index.html."""
    page = dist / "index.html"
    started = [path for pattern in STARTED for path in sorted(dist.glob(pattern))]
    fill_in(dist / "whole.js", {
        "checked": {name: digest(dist / name) for name in CHECKED},
        "started": {path.relative_to(dist).as_posix(): digest(path) for path in started},
    })
    text = _SEALED.sub(
        lambda tag: f'{tag[0]} integrity="{digest(dist / tag[1])}"', page.read_text(encoding="utf-8")
    )
    page.write_text(text, encoding="utf-8")


def fill_in(path: Path, values: dict[str, object]) -> None:
    """Replace the line `const BUILD = …` of a script by what only the build knows."""
    lines = path.read_text(encoding="utf-8").splitlines()
    at = [n for n, line in enumerate(lines) if line.lstrip().startswith("const BUILD = ")]
    if len(at) != 1:
        raise Stop(f"{path.name} must have one line that begins with `const BUILD = `.")
    indent = lines[at[0]].partition("const")[0]
    lines[at[0]] = f"{indent}const BUILD = {json.dumps(values)};"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")


def digest(path: Path) -> str:
    return integrity_of(path.read_bytes())


def integrity_of(content: bytes) -> str:
    """source: W3C Subresource Integrity, section 3.5"""
    return "sha256-" + base64.b64encode(hashlib.sha256(content).digest()).decode()
