"""The upgrade rehearsed: each runtime one step forward, in a copy of the project, and what that breaks.

    .venv/bin/python tests/rehearse.py                    the newest of each that the registry has
    .venv/bin/python tests/rehearse.py pyodide=0.28.3     this one alone

A pin is changed in a copy below .cache/rehearsal, which is built and visited in Chromium. Where the build
stops for a trick of the loading (DEVELOPERS.md, "Private ground"), or for want of a wheel, it goes on
without it, so that all that breaks is told in one run. Nothing here changes a pin of ours.
"""

import json
import re
import sys
from collections.abc import Iterator
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

import build  # noqa: E402
from machine import CACHE, ELLWAND, Stop, python, run, say, tool  # noqa: E402
from tests.bench_tricks import GLUE, PREPARE, change, copy_of_project, undo  # noqa: E402
from tests.conftest import CHROMIUM_FLAGS, PlainSite  # noqa: E402

RUNTIMES = {
    "PyScript": "@pyscript/core",
    "MicroPython": "@micropython/micropython-webassembly-pyscript",
    "Pyodide": "pyodide",
}
MOST_REPAIRS = 6
PATIENCE = 90_000
"""Milliseconds that each thing on the page may take."""
USABLE = "document.documentElement.dataset.usable"
DRAWN = "performance.getEntriesByName('first-pattern').length"
KEPT = "document.documentElement.dataset.offline === 'ready'"

NO_WHEEL = re.compile(r"\.whl could not be fetched|KeyError: '(numpy|pillow)'")


def newest(package: str, version: str = "latest") -> dict[str, str]:
    """The version that the npm registry has under that name, and its integrity. Raises Stop."""
    said = run(tool("npm"), "view", f"{package}@{version}", "version", "dist.integrity", "--json")
    found = json.loads(said[said.index("{"):])
    return {"version": found["version"], "integrity": found["dist.integrity"]}


def with_pin(home: Path, package: str, pin: dict[str, str]) -> None:
    project = home / "pyproject.toml"
    line = f'"{package}" = {{ version = "{pin["version"]}", integrity = "{pin["integrity"]}" }}'
    text, times = re.subn(
        rf'^"{re.escape(package)}" = .*$', line, project.read_text(encoding="utf-8"), flags=re.MULTILINE
    )
    assert times == 1, package
    project.write_text(text, encoding="utf-8")


def without_wheels(home: Path) -> None:
    project = home / "pyproject.toml"
    text = project.read_text(encoding="utf-8")
    without = re.sub(r"^packages = .*$", "packages = []", text, flags=re.MULTILINE)
    project.write_text(without, encoding="utf-8")


def without_snapshot(home: Path) -> None:
    """No memory snapshot is made, and none is looked for."""
    undo("memory snapshot", home)
    nothing = 'writeFileSync(join(out, "snapshot.bin"), gzipSync(new Uint8Array(8)));\nprocess.exit(0);\n'
    change(home, PREPARE, "// 2. A fresh one", f"{nothing}// 2. A fresh one")


def built(home: Path) -> Iterator[str]:
    """Build the copy's site, doing without what stops it. Yields what stopped it; raises Stop at the last."""
    has_snapshot = True
    for _ in range(MOST_REPAIRS):
        try:
            run(python(), home / "build.py", "site", cwd=home)
            return
        except Stop as stopped:
            said = str(stopped).strip()
            yield f"The build stops: {last_line(said)}"
            if "glue.py shortens" in said:
                change(home, GLUE, "if len(alike) < _LEAST:", "if True:\n        return text")
                yield 'It goes on without the trick "glue shortened".'
            elif NO_WHEEL.search(said):
                without_wheels(home)
                yield "numpy and Pillow are not to be had for it: it goes on without lays and pictures."
            elif has_snapshot and "prepare.mjs" in said:
                has_snapshot = False
                without_snapshot(home)
                yield 'It goes on without the trick "memory snapshot".'
            else:
                raise
    raise Stop(f"It stopped {MOST_REPAIRS} times.")


def visited(dist: Path) -> Iterator[str]:
    """What the page in a folder does that it should not, in sentences."""
    from playwright.sync_api import Error, sync_playwright

    site = PlainSite(dist)
    wrong: list[str] = []
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=build.browser(), args=list(CHROMIUM_FLAGS))
        context = browser.new_context()
        context.set_default_timeout(PATIENCE)
        try:
            for visit in ("first", "later"):
                page = context.new_page()
                page.on("pageerror", lambda error: wrong.append(str(error).splitlines()[0]))
                page.goto(site.url)
                for what, condition in (("usable", USABLE), ("drawn", DRAWN), ("kept for offline", KEPT)):
                    try:
                        page.wait_for_function(condition)
                    except Error:
                        yield f"On a {visit} visit the page is not {what} within {PATIENCE // 1000} s."
                        if condition != KEPT:
                            return
                start = json.loads(page.evaluate(
                    "document.querySelector('script[name^=drafting]').xworker.sync.hello()"))["start"]
                if visit == "later" and start != "snapshot":
                    yield f"A later visit does not start from the snapshot but from: {start}."
                page.close()
        finally:
            yield from (f"The page raises: {error}" for error in dict.fromkeys(wrong))
            browser.close()
            site.stop()


def last_line(text: str) -> str:
    return text.strip().splitlines()[-1]


def rehearsed(name: str, pins: dict[str, dict[str, str]]) -> list[str]:
    """All that breaks when these packages are moved to these pins."""
    home = copy_of_project(CACHE / "rehearsal" / name.replace(" ", "-"))
    for package, pin in pins.items():
        with_pin(home, package, pin)
    found: list[str] = []
    try:
        found += built(home)
        found += visited(home / "dist")
    except Stop as stopped:
        found.append(f"Here it ends: {last_line(str(stopped))}")
    return found


def main(wanted: list[str]) -> int:
    asked = dict(text.split("=", 1) for text in wanted)
    build.site()
    steps: dict[str, dict[str, dict[str, str]]] = {}
    for name, package in RUNTIMES.items():
        if asked and package not in asked:
            continue
        pin, ours = newest(package, asked.get(package, "latest")), ELLWAND["npm"][package]["version"]
        if pin["version"] == ours:
            say(f"{name} {ours}: there is nothing newer.")
        else:
            steps[f"{name} {ours} to {pin['version']}"] = {package: pin}
    if len(steps) > 1:
        steps["all together"] = {package: pin for step in steps.values() for package, pin in step.items()}
    for name, pins in steps.items():
        say(f"\n{name}")
        for sentence in rehearsed(name, pins) or ["Nothing breaks: built, drafted, kept and visited again."]:
            say(f"- {sentence}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
