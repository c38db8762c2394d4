"""Runs inside Pyodide, and stays in the memory snapshot: PyScript's own Python, compiled already.

PyScript writes its modules into the folder of work at every start and imports them, which compiled them
anew each time: the longest part of a start from the snapshot. What stands in the folder is looked at
all the same, and imported as usual where it is not what was compiled.
"""

import os
import sys
from importlib.abc import Loader, MetaPathFinder
from importlib.machinery import ModuleSpec
from importlib.util import spec_from_file_location
from types import CodeType, ModuleType

PACKAGE = "pyscript"


class Prelude(MetaPathFinder, Loader):
    """`texts` are the package's modules by file name."""

    def __init__(self, texts: dict[str, str]) -> None:
        self._known: dict[str, tuple[str, str, CodeType]] = {}
        for file, text in texts.items():
            path = os.path.join(os.getcwd(), PACKAGE, file)
            name = PACKAGE if file == "__init__.py" else f"{PACKAGE}.{file.removesuffix('.py')}"
            self._known[name] = path, text, compile(text, path, "exec", dont_inherit=True)

    def find_spec(self, name: str, path: object = None, target: object = None) -> ModuleSpec | None:
        if name not in self._known:
            return None
        file, text, _ = self._known[name]
        try:
            with open(file, encoding="utf-8") as opened:
                if opened.read() != text:
                    return None
        except OSError:
            return None
        return spec_from_file_location(name, file, loader=self)

    def exec_module(self, module: ModuleType) -> None:
        exec(self._known[module.__name__][2], module.__dict__)  # noqa: S102 - as any import does

    def is_package(self, name: str) -> bool:
        return name == PACKAGE


def remember(texts: dict[str, str]) -> None:
    sys.meta_path.insert(0, Prelude(texts))
