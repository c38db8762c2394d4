// Whether all that starts the page arrived, and whole; what is said when not. The first of all scripts:
// index.html says that Ellwand could not start until this one has run.
//
// - Scripts, modules and styles carry their hashes in index.html, so that the browser refuses one that
//   is cut off or damaged, wherever it comes from. What PyScript fetches by itself is checked here, and so
//   are the worker's scripts where the service worker has kept them: a worker knows no such hashes.
// - `<html data-failed>` is set to the reason, and `.start-failed` is shown, unless app/main.py has set
//   `<html data-usable>`: from then on app/engine.py tells of what fails.
// - "Try again" has what is broken in the browser's caches fetched anew (see sw.js), and loads the page.
// - What was typed before any Python ran is in the fields again after that.
// - Python that gets into the page later is not run: PyScript would run it, whatever the policy says.
{
  const BUILD = { checked: {}, started: {} }; // build.py writes this line: {file: its hash}

  const root = document.documentElement;
  const base = new URL("./", document.baseURI).href;
  const nameOf = (url) => String(url).replace(base, "").split(/[?#]/)[0];
  const broken = new Set(); // files that did not arrive, or not whole
  root.dataset.starting = "yes";

  const isHere = () => document.readyState !== "loading";
  const say = () => {
    const notice = document.querySelector(".start-failed");
    if (!notice) return;
    notice.hidden = !root.dataset.failed;
    document.getElementById("start-failed-why").textContent = `${root.dataset.failed ?? ""} What you typed is kept.`;
    document.getElementById("start-again").hidden = false;
    document.getElementById("no-style").hidden = !broken.has("style.css");
  };
  const failed = (reason) => {
    if (root.dataset.usable) return;
    root.dataset.failed ??= reason; // what fails after it follows from it
    if (isHere()) say();
  };
  const lost = (name) => {
    broken.add(name);
    failed(`Its part ${name} is missing or damaged.`);
  };
  // A module fails with what it imports, too. Each has a link, which may have failed before this ran.
  const lookThroughModules = async (name) => {
    const links = [...document.querySelectorAll("link[rel=modulepreload]")];
    const whole = ({ href, integrity }) => plainFetch(href, { integrity }).then((r) => r.ok, () => false);
    const found = await Promise.all(links.map(whole));
    lost(nameOf(links.find((_, i) => !found[i])?.href ?? name));
  };
  addEventListener(
    "error",
    ({ target, message }) => {
      if (target === window) return failed(`The browser says: ${message}.`);
      const name = nameOf(target.src || target.href);
      if (target.rel === "stylesheet") broken.add(name);
      else if (target.type === "module") lookThroughModules(name);
      else if (target.localName === "script" || target.rel === "modulepreload") lost(name);
      if (isHere()) say();
    },
    true, // an element's own error event does not bubble
  );
  addEventListener("unhandledrejection", ({ reason }) => {
    const [line] = String(reason?.message ?? reason).split("\n");
    const [, module] = line.match(/module:? (\S+)/) ?? [];
    if (line.includes("pyodide/")) return; // the worker's
    if (module?.startsWith(base)) lost(nameOf(module));
    else if (/wasm|WebAssembly/.test(line)) lost("micropython/micropython.wasm");
    else failed(`The browser says: ${line.slice(0, 150)}.`);
  });
  addEventListener("mpy:done", () => failed("Its program stopped.")); // it says so too when all is well

  const plainFetch = globalThis.fetch.bind(globalThis);
  const anew = (name, integrity) => plainFetch(base + name, { integrity, cache: "reload" });
  const fetchWhole = (name, integrity, options) =>
    plainFetch(base + name, { ...options, integrity }).catch(() => anew(name, integrity));

  // Before worker.py is handed to the worker, and so before that imports any other.
  const OF_THE_WORKER = Object.keys(BUILD.started).filter((name) => /^pyodide\/.*\.js$/.test(name));
  const checkWorker = async (name) => {
    try {
      await fetchWhole(name, BUILD.started[name]);
    } catch {
      broken.add(name);
      throw new Error(`${name} could not be loaded: it is missing or damaged.`);
    }
  };
  let workersChecked;
  const checkWorkers = () => {
    const areKept = Boolean(navigator.serviceWorker?.controller);
    workersChecked = Promise.all(areKept ? OF_THE_WORKER.map(checkWorker) : []);
    workersChecked.catch(() => {}); // whoever asks for worker.py gets the error
  };
  checkWorkers();

  // The page's own comes first: the worker asks for twenty times as much, on the same line.
  const pageCame = new Promise((done) => {
    const awaited = new Set(["micropython/micropython.wasm", "app/program.bin"]);
    const look = (list) => {
      for (const { entryType, name } of list.getEntries())
        if (entryType === "resource") awaited.delete(nameOf(name));
        else if (name === "usable") awaited.clear();
      if (!awaited.size) done();
    };
    const watching = new PerformanceObserver(look);
    for (const type of ["resource", "mark"]) watching.observe({ type, buffered: true });
  });

  globalThis.fetch = async (input, options) => {
    const name = nameOf(input?.url ?? new URL(input, base));
    const integrity = BUILD.checked[name];
    if (!integrity) return plainFetch(input, options);
    if (name === "worker.py") await Promise.all([workersChecked, pageCame]);
    try {
      return await fetchWhole(name, integrity, options);
    } catch (error) {
      broken.add(name);
      if (name !== "worker.py") lost(name); // app/engine.py tells of the worker's
      throw error;
    }
  };
  // Fetches anew what the browser's caches hold broken of all that is needed for a start.
  const mend = async () => {
    broken.clear();
    const files = Object.entries({ ...BUILD.checked, ...BUILD.started });
    await Promise.allSettled(files.map(([name, integrity]) => fetchWhole(name, integrity)));
    checkWorkers();
  };
  // What is kept here is kept for the page, by whichever of its two addresses it was opened.
  const home = location.pathname.replace(/\/index\.html$/, "/");
  const brokenOfWorker = () => ["worker.py", ...OF_THE_WORKER].find((name) => broken.has(name)) ?? "";
  globalThis.ellwand = { mend, brokenOfWorker, home };

  // Told of what comes before PyScript is, since it looked first.
  const PYTHON = 'script[type="mpy"], script[type="py"], mpy-script, py-script';
  const CALLS = './/@*[starts-with(name(), "mpy-") or starts-with(name(), "py-")]';
  const ours = new WeakSet();
  const disarm = (come) => {
    if (!(come instanceof Element)) return;
    for (const python of [come, ...come.querySelectorAll(PYTHON)]) {
      if (!python.matches(PYTHON) || ours.has(python)) continue;
      python.remove();
      python.matches = () => false; // PyScript is told of it all the same, and asks
    }
    const calls = document.evaluate(CALLS, come, null, XPathResult.ORDERED_NODE_SNAPSHOT_TYPE);
    for (let i = 0; i < calls.snapshotLength; i++) {
      const { ownerElement, name } = calls.snapshotItem(i);
      ownerElement.removeAttribute(name);
    }
  };
  const keepOthersOut = () => {
    for (const python of document.querySelectorAll(PYTHON)) ours.add(python);
    const watching = new MutationObserver((changes) => {
      for (const { addedNodes } of changes) addedNodes.forEach(disarm);
    });
    watching.observe(document, { childList: true, subtree: true });
  };
  const define = customElements.define.bind(customElements);
  customElements.define = (name, ...how) => /^m?py-script$/.test(name) || define(name, ...how);
  // A worker in the place of one that failed, by another name.
  globalThis.ellwand.anotherWorker = (failed, name) => {
    const script = document.createElement("script");
    for (const key of ["type", "worker", "src"]) script.setAttribute(key, failed.getAttribute(key));
    script.setAttribute("name", name);
    ours.add(script);
    failed.replaceWith(script);
  };

  const KEY = `ellwand ${home} typed`;
  const boxes = () => [...document.querySelectorAll("main input[type=text][id]")];
  // What is typed before the page listens, or before all of its sections are here, which may be one's.
  const early = new Map();
  const note = ({ target }) => root.dataset.whole || early.set(target, target.value);
  addEventListener("input", note, true);
  globalThis.ellwand.typedEarly = () => [...early];
  const isTyped = (box) => box.value && (early.has(box) || !root.dataset.usable);
  const keepTyped = () => {
    const typed = boxes().filter(isTyped).map((box) => [box.id, box.value]);
    try {
      if (!root.dataset.whole && typed.length) sessionStorage.setItem(KEY, JSON.stringify(typed));
    } catch {} // storage is forbidden
  };
  const putTypedBack = () => {
    try {
      for (const [id, text] of JSON.parse(sessionStorage.getItem(KEY)) ?? []) {
        const box = document.getElementById(id);
        box.value = text;
        early.set(box, text);
      }
      sessionStorage.removeItem(KEY);
    } catch {}
  };
  addEventListener("pagehide", keepTyped);

  const again = async (event) => {
    event.target.disabled = true;
    await mend();
    location.reload();
  };
  const begun = () => {
    if (!document.querySelector("script[type=mpy]")) failed("The page itself arrived cut off.");
    keepOthersOut();
    say();
    putTypedBack();
    for (const button of document.querySelectorAll(".start-again")) button.onclick = again;
  };
  document.addEventListener("readystatechange", begun, { once: true });
}
