"""PyScript's Python is taken from the snapshot when it is what was compiled, and read anew when it is not."""

import importlib
import sys

import pytest

from prelude import Prelude

TEXTS = {"__init__.py": "from pyscript.inner import WORD\n", "inner.py": "WORD = 'compiled'\n"}


@pytest.fixture
def folder(tmp_path, monkeypatch):
    """Holds the package as PyScript has written it."""
    for name in ("pyscript", "pyscript.ffi"):  # the stand-in of the page's own modules
        monkeypatch.delitem(sys.modules, name, raising=False)
    monkeypatch.chdir(tmp_path)
    monkeypatch.syspath_prepend(tmp_path)
    monkeypatch.setattr(sys, "meta_path", [Prelude(TEXTS), *sys.meta_path])
    package = tmp_path / "pyscript"
    package.mkdir()
    for name, text in TEXTS.items():
        (package / name).write_text(text)
    yield package
    for name in ("pyscript", "pyscript.inner"):
        sys.modules.pop(name, None)


def test_what_was_compiled_is_imported_with_its_file_and_package(folder):
    package = importlib.import_module("pyscript")
    inner = sys.modules["pyscript.inner"]
    assert package.WORD == "compiled"
    assert isinstance(package.__loader__, Prelude) and isinstance(inner.__loader__, Prelude)
    assert package.__path__ == [str(folder)] and inner.__file__ == str(folder / "inner.py")
    assert inner.__package__ == "pyscript"


def test_another_text_in_the_folder_is_read_and_not_what_was_compiled(folder):
    (folder / "inner.py").write_text("WORD = 'another version'\n")
    importlib.invalidate_caches()
    assert importlib.import_module("pyscript").WORD == "another version"
    assert not isinstance(sys.modules["pyscript.inner"].__loader__, Prelude)


def test_a_module_that_is_not_in_the_folder_is_not_there(folder):
    (folder / "inner.py").unlink()
    with pytest.raises(ModuleNotFoundError):
        importlib.import_module("pyscript")
