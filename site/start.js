// What must work before any Python does, or cannot be done by it:
// - when the visitor has a draft of their own (kept here, or in the link), do not flash the example;
// - MicroPython cannot catch what the browser throws, so what may throw is tried here.
//
// What is said when the page cannot start is in whole.js; everything else about starting in app/engine.py.
const BUILD = { snapshot: "" }; // build.py writes this line

const tried = (action) => {
  try {
    return action() ?? "";
  } catch {
    return false;
  }
};
const file = ([content, type, name]) => ({ files: [new File([content], name, { type })] });
// Each gives false when the browser refuses (storage forbidden or full, too many changes a second).
// What is shared is a link, a text, or a file as [content, type, name]; sharing answers "shared", "" when
// the user thought better of it, or why it failed.
Object.assign(ellwand, {
  recall: (key) => tried(() => localStorage.getItem(key)),
  keep: (key, text) => tried(() => (localStorage.setItem(key, text), true)),
  putAside: (key) => tried(() => (localStorage.setItem(`${key} unreadable`, localStorage.getItem(key)), true)),
  forget: (key) => tried(() => localStorage.removeItem(key)),
  address: (url, state) => tried(() => (history.replaceState(state, "", url), true)),
  canShare: (type, name) =>
    tried(() => Boolean(navigator.share && (!type || navigator.canShare(file(["", type, name]))))),
  promptInstall: async () => {
    try {
      await ellwand.install.prompt();
    } catch {} // it was answered elsewhere meanwhile
  },
  share: async (title, what, content) => {
    try {
      await navigator.share({ title, ...(what === "file" ? file(content) : { [what]: content }) });
      return "shared";
    } catch (error) {
      return error.name === "AbortError" ? "" : String(error.message || error);
    }
  },
});

// The browser offers to install the page once, perhaps before any Python runs: what it offers is kept.
addEventListener("beforeinstallprompt", (event) => {
  event.preventDefault();
  ellwand.install = event;
  document.dispatchEvent(new Event("ellwand-install"));
});

if (ellwand.recall(`ellwand ${location.pathname}`) || location.hash.includes("&"))
  document.documentElement.dataset.returning = "yes";

// Once the page is kept for the next visit: have the memory snapshot unpacked that it starts from.
const unpackOnce = async () => {
  const packed = await caches.match(BUILD.snapshot);
  if (!packed || packed.headers.has("unpacked")) return "yes";
  return new Promise((done) => {
    const worker = new Worker("pyodide/unpack.js");
    Object.assign(worker, { onmessage: ({ data }) => done(data), onerror: () => done("no") });
    worker.postMessage(packed.url);
  });
};
new MutationObserver(async (_, watching) => {
  const root = document.documentElement;
  if (root.dataset.offline !== "ready") return;
  watching.disconnect();
  root.dataset.unpacked = await unpackOnce();
}).observe(document.documentElement, { attributeFilter: ["data-offline"] });
