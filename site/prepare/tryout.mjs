// Build time, in Node: every module of the page but main is imported by the very MicroPython that is shipped,
// with a document that is nothing. It refuses bytecode of another make than its own.
//
//     node tryout.mjs DIST
import { copyFileSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

const dist = process.argv[2];
const folder = mkdtempSync(join(tmpdir(), "micropython-"));
copyFileSync(join(dist, "micropython", "micropython.js"), join(folder, "micropython.mjs")); // a module by its name
const { loadMicroPython } = await import(pathToFileURL(join(folder, "micropython.mjs")));
const lines = [];
const python = await loadMicroPython({
  url: join(dist, "micropython", "micropython.wasm"), heapsize: 16 * 1024 * 1024,
  stdout: (line) => lines.push(line), linebuffer: true,
});
rmSync(folder, { recursive: true });
python.FS.mkdir("pyscript");
python.FS.writeFile("pyscript/__init__.py", `
class Nothing:
    def __getattr__(self, name):
        return self
    def __call__(self, *given):
        return self
window = document = workers = Nothing()
`);
python.FS.writeFile("pyscript/ffi.py", "create_proxy = to_js = lambda given, *more: given\n");
python.FS.writeFile("program.bin", readFileSync(join(dist, "app", "program.bin")));
const [, unpack] = readFileSync(join(dist, "index.html"), "utf8").match(/<script type="mpy"[^>]*>\n([^]*?)import main/);
python.runPython(unpack);
python.FS.writeFile("later.txt", readFileSync(join(dist, "app", "later.txt")));
python.runPython(`
import binascii
from arriving import unpack
with open("later.txt") as later:
    unpack(binascii.unhexlify(later.read()))
`);
python.runPython(`
import os
for name in os.listdir():
    module, _, kind = name.rpartition(".")
    if kind in ("py", "mpy") and module != "main":
        try:
            __import__(module)
        except Exception as error:
            print("%s: %s" % (name, error))
`);
if (lines.length) {
  console.error(`The MicroPython that is shipped does not take the page's own Python: ${lines.join("; ")}.`);
  process.exit(1);
}
