"""The command line: in a process of its own, as a user starts it, or in this one, which is quicker.

What is run in this process is counted when the suite is measured, and needs no interpreter to start.
"""

import contextlib
import io
import subprocess
import sys
from dataclasses import dataclass
from typing import Any

from drafting.command.line import main


@dataclass(frozen=True)
class Done:
    returncode: int
    stdout: str
    stderr: str


def run(*arguments: str) -> Done:
    """In this process."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        try:
            status = main(arguments)
        except SystemExit as end:  # argparse
            status = int(end.code or 0)
    return Done(status, out.getvalue(), err.getvalue())


def start(*arguments: str | bytes, first: str = "", **options: Any) -> subprocess.Popen[bytes]:
    """In a process of its own, its output in pipes unless `options` say otherwise.

    The process does what the Python text `first` says before it becomes the command line: a preexec_fn could
    wait for ever for a lock that another thread of the tests held as the process was split off.
    """
    options = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, **options}
    command = [sys.executable, "-m", "drafting", *arguments]
    if first:
        become = f"{first}\nimport os, sys\nos.execv(sys.executable, [sys.executable, *sys.argv[1:]])"
        command[1:1] = ["-c", become]
    return subprocess.Popen(command, **options)
