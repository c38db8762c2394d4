// What must work before any Python does, or cannot be done by it:
// - when the visitor has a draft of their own (kept here, or in the link), do not flash the example;
// - the parts of the page are shown one at a time;
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
  // A draft in the address, as a fragment; or "" for none: then what stands there is the part.
  address: (fragment, state) =>
    fragment || holdsDraft() ? write("replaceState", state, fragment || `#${part()}`) : true,
  canShare: (type, name) =>
    tried(() => Boolean(navigator.share && (!type || navigator.canShare(file(["", type, name]))))),
  promptInstall: async () => {
    try {
      await ellwand.install.prompt();
    } catch {} // it was answered elsewhere meanwhile
  },
  // The release that a service worker is of; "" when it does not tell.
  releaseOf: (worker) =>
    new Promise((resolve) => {
      const { port1, port2 } = new MessageChannel();
      port1.onmessage = ({ data }) => resolve(String(data));
      setTimeout(resolve, 3000, "");
      worker.postMessage("which release", [port2]);
    }),
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

// By its address with index.html the page once kept things apart. They come here; store.js is told to fetch
// the kits that are in a database of their own.
ellwand.former = `ellwand ${ellwand.home}index.html`;
ellwand.kitsToMove = `ellwand ${ellwand.home} kits to move`;
for (const key of tried(() => Object.keys(localStorage)) || []) {
  if (!key.startsWith(ellwand.former)) continue;
  const here = key.replace(ellwand.former, `ellwand ${ellwand.home}`);
  const free = ellwand.recall(here) ? `${ellwand.home} former ${here}` : here;
  if (ellwand.keep(ellwand.kitsToMove, "yes") && ellwand.keep(free, ellwand.recall(key))) ellwand.forget(key);
}

if (ellwand.recall(`ellwand ${ellwand.home}`) || location.hash.includes("&"))
  document.documentElement.dataset.returning = "yes";

// Each part of the page has its address: Back and Forward go through them, and a reload, or the next visit,
// comes back to the one that was shown last. Where a draft is kept in the address, the part is only in the
// browser's history.
const PARTS = ["wearer", "garment", "pieces", "cutting", "chalking", "sewing", "try-on", "kit", "take-away"];
const lastPart = `ellwand ${ellwand.home} part`;
const part = () => document.documentElement.dataset.part;
const markPart = () => {
  for (const link of document.querySelectorAll("nav a"))
    if (link.hash === `#${part()}`) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
};
const showPart = (name) => {
  document.documentElement.dataset.part = name;
  ellwand.keep(lastPart, name);
  markPart();
  document.dispatchEvent(new Event("ellwand-part"));
};
// What this page wrote last: going back brings what was written earlier.
let address = location.hash;
let state = history.state;
const isPart = (hash) => PARTS.includes(hash.slice(1));
const holdsDraft = () => address !== "" && !isPart(address);
const write = (how, more, hash) =>
  tried(() => {
    const next = { ...more, part: part() };
    history[how](next, "", hash || location.pathname + location.search);
    [address, state] = [hash, next];
    return true;
  });
ellwand.holdsDraft = holdsDraft;
ellwand.goTo = (name) => {
  if (name === part()) return;
  showPart(name);
  write("pushState", state, holdsDraft() ? address : `#${name}`);
};
{
  const last = holdsDraft() ? "pieces" : ellwand.recall(lastPart);
  const wanted = isPart(address) ? address.slice(1) : (state?.part ?? last);
  showPart(PARTS.includes(wanted) ? wanted : PARTS[0]);
  write("replaceState", state, address);
}
document.addEventListener("DOMContentLoaded", markPart);

// How far down a part one was, for a reload in the middle of work: what it holds may come after the browser
// has given up scrolling to where it was.
const lastPlace = `ellwand ${ellwand.home} place`;
const place = () => JSON.stringify([part(), Math.round(scrollY)]);
const keepPlace = () => document.documentElement.dataset.usable && ellwand.keep(lastPlace, place());
addEventListener("scrollend", keepPlace);
addEventListener("pagehide", keepPlace);
ellwand.backToPlace = () =>
  tried(() => {
    const [of, down] = JSON.parse(ellwand.recall(lastPlace) || "[]");
    if (of === part()) scrollTo({ top: down, behavior: "instant" });
  });
addEventListener("popstate", (event) => {
  const came = location.hash;
  const link = !event.state?.part && came !== "" && !isPart(came);
  showPart(isPart(came) ? came.slice(1) : (event.state?.part ?? "pieces"));
  if (link) write("replaceState", {}, came);
  else write("replaceState", state, holdsDraft() ? address : `#${part()}`);
  if (link) document.dispatchEvent(new Event("ellwand-link"));
});

// The keyboard of a phone covers what lies low: the field that is typed in stays above it, with all that is
// said beneath it, also when that is said only then.
const keepInSight = () => {
  const field = document.activeElement?.closest(".field");
  if (!field || visualViewport.scale > 1) return;
  field.scrollIntoView({ block: "nearest", behavior: "instant" });
  const { offsetTop, height } = visualViewport;
  const covered = field.getBoundingClientRect().bottom + 8 - offsetTop - height;
  if (covered > 0) scrollBy({ top: covered, behavior: "instant" });
};
const grown = new ResizeObserver(([entry]) => {
  if (entry.target === lastField) keepInSight();
  lastField = entry.target;
});
let lastField = null;
addEventListener("focusin", ({ target }) => {
  grown.disconnect();
  lastField = null;
  if (target.matches(".field input[type='text']")) grown.observe(target.closest(".field"));
});
visualViewport?.addEventListener("resize", keepInSight);

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
