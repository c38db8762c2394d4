"""What each trick of the loading buys: the site built without it, and visited in turn with the whole one.

A part of tests/bench.py: `python tests/bench.py tricks`. A trick is what has to be changed in our sources to
be without it; each is built in a copy of the project below .cache/tricks. DEVELOPERS.md, "Private ground",
says what they lean on. One is worth its keep at 100 ms or a tenth: of a visit, of the bytes or of the memory.
"""

import shutil
from pathlib import Path

import build
from machine import CACHE, ROOT, python, run
from tests.bench_loading import (
    DRAWN,
    REST,
    UNPACKED,
    bytes_before_first_pattern,
    chromium,
    held_by,
    type_and_keep,
)
from tests.bench_results import Grid
from tests.conftest import PlainSite

ROUNDS = 5
WHOLE = "with all of them"
START, PACK, STARTING = "site/pyodide/start.js", "site/prepare/pack.py", "site/prepare/starting.py"
GLUE, PREPARE = "site/prepare/glue.py", "site/prepare/prepare.mjs"
TRICKS: dict[str, tuple[tuple[str, str, str], ...]] = {
    "glue shortened": (
        (GLUE, "return _DEFINITION.sub(lambda found: instead.get(found[0], found[0]), text)", "return text"),
    ),
    "memory snapshot": ((START, "return await caches.match(here(BUILD.snapshot));", "return undefined;"),),
    "snapshot unpacked ahead": (
        ("site/start.js", 'if (!packed || packed.headers.has("unpacked")) return "yes";', 'return "yes";'),
    ),
    "PyScript's Python compiled": (
        (PREPARE, "remembering.remember(texts);\n", ""),
        (PREPARE, 'if type(find_spec("pyscript").loader).__name__ != "Prelude":', "if False:"),
    ),
    "modules compiled": (
        (PACK, 'if name.endswith(".py") and compiles(name):', "if False:"),
        (PACK, 'files[name + "c"] = compiled(archive.read(name), f"{SITE_PACKAGES}/{name}")',
         "files[name] = archive.read(name)"),
        (PACK, '.rglob("*.pyc")', '.rglob("*.py")'),
    ),
    "library parted": (
        (PACK, 'in_use.__contains__, lambda name: name.split("/")[0] in packages', "in_use.__contains__"),
        (PACK, 'keeps=lambda name: name.split("/")[0] not in packages', "keeps=lambda name: False"),
    ),
    "our own wheel parted": (
        (PACK, "in_use = drafting_in_use()", "in_use = set(zipfile.ZipFile(source).namelist())"),
    ),
    "unused parts left out": (
        (PACK, "keeps=lambda name: not UNUSED.match(name)", "keeps=lambda name: True"),
    ),
    "machine code kept": ((START, "snapshot ? untouched : counted", "counted"),),
    "asked for early": (
        (START, 'begin(["pyodide.asm.wasm"], snapshot ? untouched : counted);\n', ""),
        (START, 'begin(["python_stdlib.zip"]);\n', ""),
        (START, "return counted(name, plainFetch(input, options));",
         'return (name === "pyodide.asm.wasm" ? untouched : counted)(name, plainFetch(input, options));'),
    ),
    "memory let go": ((START, "return { memory: takenOnce(memory) };", "return { memory };"),),
    "all named in the page": ((STARTING, 'return "\\n".join(lines)\n', 'return ""\n'),),
    "page's Python in one file": (
        (STARTING, '{f"./{PROGRAM}": "./program.bin"}',
         '{f"./app/{name}": f"./{name}" for name in ["catalog.json", "link.py", "migrations.py", '
         '*(path.name for path in (Path(__file__).parents[1] / "app").glob("*.py"))]}'),
        (STARTING, 'FETCHED = ("micropython/micropython.wasm", PROGRAM,',
         'FETCHED = ("micropython/micropython.wasm",'),
        ("site/prepare/prerender.py",
         '    shutil.rmtree(dist / "app")\n    (dist / starting.PROGRAM).parent.mkdir()\n', ""),
        ("site/index.html",
         'with open("program.bin", "rb") as program:\n    sizes = program.readline().decode().split()\n',
         "if True:\n    sizes = []\n"),
        ("build.py", 'run(tool("node"), PREPARE / "tryout.mjs", target)', "pass"),
    ),
    "what comes later parted": (
        ("site/prepare/prerender.py", "module not in first", "False"),
    ),
    "page's own before the worker's": (
        ("site/whole.js", "await Promise.all([workersChecked, pageCame]);", "await workersChecked;"),
    ),
    "page's Python compiled": (
        ("build.py", "*filter(None, [compiler()])", "*[]"),
    ),
    "docstrings left out": (
        (STARTING, 'text = _bare(text)', "pass"),
    ),
    "plugins refused": (
        (STARTING, 'plugins = [f"!{name}" for name in UNUSED_PLUGINS]', "plugins = []"),
        ("build.py", 'for pattern in ("core*.js", "error-*.js"):', 'for pattern in ("*.js",):'),
    ),
}
VISITS = ("first", "later", "third")  # machine code is kept on the second, so the third has it
COLUMNS = (
    *(f"{visit} visit: {what}" for visit in VISITS for what in ("usable", "pattern", "processor")),
    "memory of the first", "memory of the third", "fetched until the pattern",
)
UNITS = (*["ms"] * 9, "MB", "MB", "kB")


def tricks(chosen: tuple[str, ...] = tuple(TRICKS), rounds: int = ROUNDS) -> Grid:
    """Every trick undone by itself, in turn, and what all of them come to."""
    build.site()
    folders = {WHOLE: build.DIST, **{trick: site_without(trick) for trick in chosen}}
    sites = {name: PlainSite(folder) for name, folder in folders.items()}
    found: dict[str, list[list[float]]] = {name: [] for name in sites}
    for n in range(rounds):
        for name in turned(list(sites), n * len(sites) // rounds):
            with chromium() as browser:
                found[name].append([*visits(browser, sites[name].url), fetched(browser, folders[name])])
            print(f"{n + 1}. {name}: " + ", ".join(f"{value:,.0f}" for value in found[name][-1]), flush=True)
    for site in sites.values():
        site.stop()
    lines = {name: [list(column) for column in zip(*values, strict=True)] for name, values in found.items()}
    return Grid(WHOLE, COLUMNS, UNITS, lines)


def turned(names: list[str], by: int) -> list[str]:
    """Each round begins elsewhere, so that nobody always comes after the same."""
    return names[by:] + names[:by]


def site_without(trick: str) -> Path:
    """dist/ of a copy of the project in which the trick is undone."""
    home = copy_of_project(CACHE / "tricks" / trick.replace(" ", "-"))
    undo(trick, home)
    run(python(), home / "build.py", "site", cwd=home)
    return home / "dist"


def copy_of_project(home: Path) -> Path:
    """What a site is built from, anew. It shares .venv and what was fetched with this project."""
    for name in ("drafting", "site"):
        shutil.rmtree(home / name, ignore_errors=True)
        shutil.copytree(ROOT / name, home / name, ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("build.py", "pyproject.toml"):
        shutil.copy(ROOT / name, home)
    (home / ".cache").mkdir(exist_ok=True)
    for name in (".venv", ".cache/files", ".cache/npm"):
        if not (home / name).is_symlink():
            (home / name).symlink_to(ROOT / name)
    if not (home / ".cache" / "prepared").exists():  # most tricks leave it as it is
        shutil.copytree(CACHE / "prepared", home / ".cache" / "prepared")
    return home


def undo(trick: str, home: Path) -> None:
    for name, before, after in TRICKS[trick]:
        change(home, name, before, after)


def change(home: Path, name: str, before: str, after: str) -> None:
    """Raises AssertionError where the source is not what it was when this was written down."""
    changed = undone((home / name).read_text(encoding="utf-8"), before, after)
    (home / name).write_text(changed, encoding="utf-8")


def undone(text: str, before: str, after: str) -> str:
    """Raises AssertionError where the source is not what it was when the change was written down."""
    assert text.count(before) == 1, before
    return text.replace(before, after)


def visits(browser, url: str) -> list[float]:
    """Three visits of one profile: what COLUMNS says, less what is fetched."""
    context = browser.new_context()
    times, memory = [], []
    for kind in VISITS:
        page = context.new_page()
        page.wait_for_timeout(REST)
        before = processor_time(browser)
        page.goto(url)
        page.wait_for_function(DRAWN)
        taken = processor_time(browser) - before
        page.wait_for_function(UNPACKED, timeout=180_000)
        times += [page.evaluate(f"performance.getEntriesByName('{mark}')[0].startTime")
                  for mark in ("usable", "first-pattern")] + [taken]
        memory.append(held_by(page, browser))
        if kind == "first":
            type_and_keep(page)
        page.close()
    context.close()
    return [*times, memory[0], memory[-1]]


def processor_time(browser) -> float:
    """ms that all processes of the browser have used by now."""
    processes = browser.new_browser_cdp_session().send("SystemInfo.getProcessInfo")["processInfo"]
    return sum(process["cpuTime"] for process in processes) * 1000


def fetched(browser, folder: Path) -> float:
    return bytes_before_first_pattern(browser, folder) / 1000
