"""The shortened JavaScript of Pyodide does what the published does, judged by Node running both."""

import json
import subprocess

import pytest

from fetching import npm_package
from glue import slim
from machine import Stop, tool

COMPARE = """
import { writeFileSync } from "node:fs";
import { pathToFileURL } from "node:url";
const [out, ...folders] = process.argv.slice(1);
const found = [];
for (const folder of folders) {
  const { loadPyodide } = await import(pathToFileURL(folder + "/pyodide.mjs"));
  const python = await loadPyodide();
  const { _module } = python;
  const number = _module._PyLong_FromLong(42);
  found.push({
    names: Object.keys(_module).filter((name) => typeof _module[name] === "function").sort(),
    number: _module._PyLong_AsLong(number),
    sum: python.runPython("sum(range(10))"),
  });
}
writeFileSync(out, JSON.stringify(found));
process.exit(0);
"""


def published():
    return (npm_package("pyodide") / "pyodide.asm.js").read_text(encoding="utf-8")


def test_every_function_of_the_published_one_is_there_and_runs(tmp_path):
    for path in npm_package("pyodide").iterdir():
        if path.suffix in (".mjs", ".js", ".wasm", ".zip", ".json"):
            (tmp_path / path.name).symlink_to(path)
    short = tmp_path / "pyodide.asm.js"
    short.unlink()
    short.write_text(slim(published()), encoding="utf-8")
    assert short.stat().st_size < 0.7 * len(published())
    out = tmp_path / "found.json"
    command = [tool("node"), "--input-type=module", "-e", COMPARE, out, npm_package("pyodide"), tmp_path]
    ran = subprocess.run(command, capture_output=True, text=True, timeout=120)
    assert ran.returncode == 0, ran.stderr[-2000:]
    stock, ours = json.loads(out.read_text(encoding="utf-8"))
    assert len(stock["names"]) > 3000
    assert ours == stock and ours["number"] == 42


def test_a_file_that_is_not_as_expected_stops_the_build():
    with pytest.raises(Stop, match="defines only 0 functions"):
        slim("var _f=Module['f']=wasmExports['f'];")
