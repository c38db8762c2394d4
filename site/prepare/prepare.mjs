// Build time, in Node: compile the standard library and the wheels, make the memory snapshot of an
// interpreter that has the first draft's modules imported, and check that a draft runs from it.
//
//     node prepare.mjs PYODIDE_FOLDER PYSCRIPT_CORE WHEELS_IN FOLDER_OUT
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { gzipSync } from "node:zlib";

const [pyodideFolder, pyscriptCore, wheelsIn, out] = process.argv.slice(2);
const { loadPyodide } = await import(pathToFileURL(join(pyodideFolder, "pyodide.mjs")));
const pack = readFileSync(new URL("pack.py", import.meta.url), "utf8");
const wheels = readdirSync(wheelsIn).filter((name) => name.endsWith(".whl")).sort();
const stdlib = "python_stdlib.zip";
const drafting = wheels.find((name) => name.startsWith("drafting-"));
const draftingRest = drafting.replace("drafting-", "drafting_rest-");
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
// PyScript's Python stands in its minified core as {pyscript:{"__init__.py":"…","display.py":"…"}}.
const preludeOf = (core) => {
  const begin = core.indexOf('{pyscript:{"__init__.py":');
  for (let end = core.indexOf("}", begin); begin > 0 && end > 0; end = core.indexOf("}", end + 1)) {
    try {
      return new Function(`return ${core.slice(begin, end + 1)}`)().pyscript;
    } catch {} // that brace closes something inside
  }
  throw new Error("PyScript's core does not hold its Python where prepare.mjs looks for it.");
};

// 1. An untouched Pyodide drafts once, which tells what of the library is in use, and compiles.
const packer = await loadPyodide();
packer.FS.mkdirTree("/in");
packer.FS.mkdirTree("/out");
for (const name of wheels) {
  packer.FS.writeFile(`/in/${name}`, bytesOf(wheelsIn, name));
  await packer.loadPackage(join(wheelsIn, name), { messageCallback() {} }); // as the worker does
}
const packing = withPack(packer);
const [rest, extractDir] = [packing.STDLIB_REST, packing.SITE_PACKAGES.toString()];
packing.first_draft();
packing.stdlib_named_in(packing.drafting_in_use());
packer.FS.writeFile(`/in/${stdlib}`, bytesOf(pyodideFolder, stdlib));
packing.pack_stdlib(`/in/${stdlib}`, `/out/${stdlib}`, `/out/${rest}`);
for (const name of wheels) {
  if (name === drafting) packing.pack_drafting(`/in/${name}`, `/out/${name}`, `/out/${draftingRest}`);
  else packing.pack_wheel(`/in/${name}`, `/out/${name}`);
}
for (const name of [stdlib, rest, draftingRest, ...wheels]) {
  writeFileSync(join(out, name), packer.FS.readFile(`/out/${name}`));
}

// 2. A fresh one, on the compiled library, does the same and is photographed. Only the memory is
// kept, not the files: the browser unpacks the wheels again, later, while the user looks.
const stdLibURL = join(out, stdlib);
const sitter = await loadPyodide({ _makeSnapshot: true, stdLibURL });
// First of all, so that what compiling leaves behind is used again and the memory need not grow.
sitter.FS.writeFile("/home/pyodide/prelude.py", readFileSync(new URL("prelude.py", import.meta.url), "utf8"));
const prelude = preludeOf(readFileSync(pyscriptCore, "utf8"));
const remembering = sitter.pyimport("prelude");
const texts = sitter.toPy(prelude);
remembering.remember(texts);
texts.destroy();
remembering.destroy();
for (const name of [rest, draftingRest, ...wheels].filter((name) => /^(drafting|svgwrite|segno|stdlib)/.test(name))) {
  sitter.unpackArchive(bytesOf(out, name), "wheel", { extractDir });
}
const posing = withPack(sitter);
posing.first_draft();
sitter.runPython(`import sys; sys.path.append("${extractDir}/stdlib_rest.zip")`);
posing.everything_light();
posing.destroy();
sitter.runPython("sys.path.pop(); sys.path_importer_cache.clear(); del sys.modules['pack'], sys.modules['prelude']");
const snapshot = sitter.makeMemorySnapshot();
writeFileSync(join(out, "snapshot.bin"), gzipSync(snapshot, { level: 9 }));

// 3. A third starts from the photograph, without any of our files, and must draft.
const check = await loadPyodide({ _loadSnapshot: snapshot, stdLibURL });
withPack(check).first_draft();
check.FS.mkdirTree("/home/pyodide/pyscript"); // as PyScript does
check.FS.writeFile("/home/pyodide/pyscript/__init__.py", prelude["__init__.py"]);
check.runPython(`
  from importlib.util import find_spec
  if type(find_spec("pyscript").loader).__name__ != "Prelude":
      raise ImportError("The snapshot does not know PyScript's Python again.")
`);
const modules = check.runPython("import sys; len(sys.modules)");
console.log(`snapshot: ${snapshot.length} bytes of memory, ${modules} modules`);
