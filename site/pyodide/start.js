// PyScript's `interpreter` for the worker: Pyodide, started the fastest way there is.
//
// - The service worker has cached a memory snapshot: start from it (the interpreter as it was with
//   the first draft's modules imported). The wheels themselves are unpacked later, by worker.py.
// - Otherwise, and whenever the snapshot fails: a plain start, with the wheels of the first draft.
//
// Meanwhile it posts {ellwand: "progress", loaded, total, part} to the page, in bytes of the files
// it counts; worker.py adds those it loads afterwards through globalThis.ellwandExpect(packages).
//
// What does not arrive whole is named in the error, as pyodide/FILE. A file whose hash is known is asked
// for once more, past the caches, when it does not match.
const BUILD = { snapshot: "", memory: 0, first: [], sizes: {}, checked: {} }; // build.py writes this line

const folder = new URL("./", import.meta.url).href;
const here = (name) => folder + name;
const unloaded = (name, { message }) => {
  const why = /server answered/.test(message) ? message : "it is missing or damaged";
  return new Error(`pyodide/${name} could not be loaded: ${why}.`);
};
const module = async (name) => {
  try {
    return await import(here(name));
  } catch (error) {
    throw unloaded(name, error);
  }
};
const nameOf = (url) => (url.startsWith(folder) ? url.slice(folder.length) : "");
const machine = module("pyodide.asm.js"); // asked for by pyodide.js too, which does not say when it fails
machine.catch(() => {});

const progress = { ellwand: "progress", part: "first", loaded: 0, total: 0 };
let lastPosted = 0;
const count = (bytes) => {
  progress.loaded += bytes;
  const now = performance.now();
  if (progress.loaded < progress.total && now - lastPosted < 50) return;
  lastPosted = now;
  postMessage(progress);
};
const expect = (part, names) => {
  const total = names.reduce((sum, name) => sum + (BUILD.sizes[name] ?? 0), 0);
  Object.assign(progress, { part, loaded: 0, total });
  count(0);
};
globalThis.ellwandExpect = (packages) => {
  const begins = [...packages].map((name) => `${name.replaceAll("-", "_")}-`);
  const ofThem = (file) => begins.some((begin) => file.startsWith(begin));
  expect("rest", Object.keys(BUILD.sizes).filter(ofThem));
};

// Pyodide only warns when one of its files does not come, and then waits for ever: this ends that.
let giveUp;
const lost = new Promise((_, reject) => (giveUp = reject));
lost.catch(() => {});
const compile = WebAssembly.instantiateStreaming;
WebAssembly.instantiateStreaming = (...options) => {
  const made = compile.apply(WebAssembly, options);
  made.catch((error) => giveUp(unloaded("pyodide.asm.wasm", error)));
  return made;
};

const browsersFetch = globalThis.fetch.bind(globalThis);
const plainFetch = async (input, options = {}) => {
  const integrity = options.integrity ?? BUILD.checked[nameOf(String(input?.url ?? input))];
  if (!integrity) return browsersFetch(input, options);
  return browsersFetch(input, { ...options, integrity }).catch(() =>
    browsersFetch(input, { ...options, integrity, cache: "reload" }),
  );
};

// The body of a response, counted as it arrives.
const counted = async (name, asked) => {
  try {
    const { body, headers, ok, status } = await asked;
    if (!ok) throw new Error(`the server answered ${status}`);
    const counter = new TransformStream({
      transform(chunk, controller) {
        count(chunk.byteLength);
        controller.enqueue(chunk);
      },
    });
    body.pipeTo(counter.writable).catch((error) => giveUp(unloaded(name, error)));
    const type = name.endsWith(".wasm") ? "application/wasm" : headers.get("content-type");
    return new Response(counter.readable, { headers: { "content-type": type ?? "" } });
  } catch (error) {
    giveUp(unloaded(name, error));
    throw unloaded(name, error);
  }
};
// A response as the cache gives it, uncounted: only of such a one does the browser keep, for the next
// visit, the machine code that it made of WebAssembly. That start is a third faster.
const untouched = async (name, asked) => {
  const response = await asked.catch(() => null);
  const typed = response?.headers.get("content-type") === "application/wasm";
  return response?.ok && typed ? response : counted(name, response ?? asked);
};
const early = new Map(); // downloads begun before Pyodide asks for them
globalThis.fetch = (input, options) => {
  const name = nameOf(String(input?.url ?? input));
  if (name in BUILD.checked && !(name in BUILD.sizes))
    return plainFetch(input, options).catch((error) => {
      giveUp(unloaded(name, error));
      throw error;
    });
  if (!(name in BUILD.sizes)) return plainFetch(input, options);
  if (!early.has(name)) return counted(name, plainFetch(input, options));
  const response = early.get(name);
  early.delete(name);
  return response;
};
const begin = (names, come = counted) => {
  for (const name of names) {
    const response = come(name, plainFetch(here(name)));
    response.catch(() => {}); // whoever asks for it gets the error
    early.set(name, response);
  }
};

const unpacked = ({ body }) => new Response(body.pipeThrough(new DecompressionStream("gzip")));
const cachedSnapshot = async () => {
  try {
    return await caches.match(here(BUILD.snapshot));
  } catch {
    return undefined; // no Cache Storage here (plain http, or a private window)
  }
};
const wholeMemory = async (response) => {
  if (!response.headers.has("unpacked")) response = unpacked(response); // the last visit ended too soon
  const bytes = await response.arrayBuffer();
  if (bytes.byteLength !== BUILD.memory) throw new Error("The memory snapshot in the cache is not whole.");
  return bytes;
};

// A promise that lets go of its value once that was taken: Pyodide keeps its options for good, and
// 25 MB of memory would stay with them.
const takenOnce = (promise) => ({
  then(resolve, reject) {
    promise.then(resolve, reject);
    promise = undefined;
  },
});

// What takes longest to come is asked for before Pyodide's own modules are here.
const begun = (async () => {
  const snapshot = await cachedSnapshot();
  const counts = snapshot ? [] : ["pyodide.asm.wasm", ...BUILD.first]; // else all of it is in the cache
  expect("first", ["python_stdlib.zip", ...counts]);
  begin(["pyodide.asm.wasm"], snapshot ? untouched : counted);
  begin(["python_stdlib.zip"]);
  if (!snapshot) return null;
  const memory = wholeMemory(snapshot);
  memory.catch(() => {}); // whoever takes it gets the error
  return { memory: takenOnce(memory) };
})();

const { loadPyodide: start, version } = await module("pyodide.js");
export { version };

const fastest = async (options) => {
  const snapshot = await begun;
  await machine;
  if (snapshot) {
    try {
      const python = await start({ ...options, _loadSnapshot: snapshot.memory });
      globalThis.ellwandStart = "snapshot";
      return python;
    } catch (error) {
      console.warn("The memory snapshot does not load; starting without it.", error);
      plainFetch(here(BUILD.snapshot), { cache: "reload" }).catch(() => {}); // for the next visit
    }
  }
  globalThis.ellwandStart = "plain";
  return start({ ...options, packages: ["drafting"] });
};

export const loadPyodide = (options) => Promise.race([fastest(options), lost]);
