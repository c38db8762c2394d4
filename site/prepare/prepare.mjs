// Build time, in Node: compile the standard library and the wheels, make the memory snapshot of an
// interpreter that has the first draft's modules imported, and check that a draft runs from it.
//
//     node prepare.mjs PYODIDE_FOLDER WHEELS_IN FOLDER_OUT
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { gzipSync } from "node:zlib";

const [pyodideFolder, wheelsIn, out] = process.argv.slice(2);
const { loadPyodide } = await import(pathToFileURL(join(pyodideFolder, "pyodide.mjs")));
const pack = readFileSync(new URL("pack.py", import.meta.url), "utf8");
const wheels = readdirSync(wheelsIn).filter((name) => name.endsWith(".whl")).sort();
const stdlib = "python_stdlib.zip";
const extractDir = "/lib/python3.12/site-packages";
mkdirSync(out, { recursive: true });

process.on("uncaughtException", ({ message }) => {
  console.error(message.trim().split("\n").at(-1)); // without traceback or minified source
  process.exit(1);
});

const bytesOf = (...path) => new Uint8Array(readFileSync(join(...path)));
const withPack = (python) => {
  python.FS.writeFile("/home/pyodide/pack.py", pack);
  return python.pyimport("pack");
};

// 1. An untouched Pyodide drafts once, which tells what of the library is in use, and compiles.
const packer = await loadPyodide();
packer.FS.mkdirTree("/in");
packer.FS.mkdirTree("/out");
for (const name of wheels) {
  const bytes = bytesOf(wheelsIn, name);
  packer.FS.writeFile(`/in/${name}`, bytes);
  packer.unpackArchive(bytes, "wheel", { extractDir });
}
const packing = withPack(packer);
packing.first_draft();
packer.FS.writeFile(`/in/${stdlib}`, bytesOf(pyodideFolder, stdlib));
packing.pack_stdlib(`/in/${stdlib}`, `/out/${stdlib}`);
for (const name of wheels) packing.pack_wheel(`/in/${name}`, `/out/${name}`);
for (const name of [stdlib, ...wheels]) {
  writeFileSync(join(out, name), packer.FS.readFile(`/out/${name}`));
}

// 2. A fresh one, on the compiled library, imports what the first draft needs and is photographed.
// Only the memory is kept, not the files: the browser unpacks the wheels again, later, at leisure.
const stdLibURL = join(out, stdlib);
const sitter = await loadPyodide({ _makeSnapshot: true, stdLibURL });
for (const name of wheels.filter((name) => /^(drafting|svgwrite)-/.test(name))) {
  sitter.unpackArchive(bytesOf(out, name), "wheel", { extractDir });
}
const first = withPack(sitter);
first.first_draft();
first.destroy();
sitter.runPython("import sys; del sys.modules['pack']");
const snapshot = sitter.makeMemorySnapshot();
writeFileSync(join(out, "snapshot.bin"), gzipSync(snapshot, { level: 9 }));

// 3. A third starts from the photograph, without any of our files, and must draft.
const check = await loadPyodide({ _loadSnapshot: snapshot, stdLibURL });
check.FS.writeFile("/home/pyodide/pack.py", pack);
check.pyimport("pack").first_draft();
const modules = check.runPython("import sys; len(sys.modules)");
console.log(`snapshot: ${snapshot.length} bytes of memory, ${modules} modules`);
