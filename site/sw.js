// The service worker: the whole site in one cache, so that the page works with no network.
//
// - build.py fills in every file with its sha256, and a version made of those.
// - Installing fetches each file and has the browser check its hash; files that an older cache holds
//   unchanged are copied, where what it holds is still what the list says. Should anything be missing or
//   not match (a connection lost, a host half updated), installing fails, the version in use stays, and the
//   next visit goes on from there.
// - A new version waits until no page uses the old one, or until a page posts "use the new version". It
//   tells a page that posts "which release" and a port which it is of.
// - Everything is answered from the cache first. Nothing is ever asked of another origin.
// - What a page asks for past the caches (the copy there is damaged) is fetched, and takes the place of
//   the one in the cache if it is what the list says. The two files that tell of the others' damage are
//   looked at on each visit, so that loading the page again puts it in order.
const BUILD = { release: "", version: "", files: {}, unpacked: {} }; // build.py writes this line

const scope = self.registration.scope;
const family = `ellwand ${scope} `; // one origin may host several copies
const cacheName = family + BUILD.version;
const LIST = new URL("files-and-hashes.json", scope).href; // kept in each cache, never on a server

const listed = async (cache) => {
  const response = await cache.match(LIST);
  return response ? response.json() : {};
};

const isAsListed = async (path, kept) => {
  const { [path]: listed } = kept.headers.has("unpacked") ? BUILD.unpacked : BUILD.files;
  const hash = await crypto.subtle.digest("SHA-256", await kept.arrayBuffer());
  return listed === `sha256-${btoa(String.fromCharCode(...new Uint8Array(hash)))}`;
};

const install = async () => {
  const cache = await caches.open(cacheName);
  const older = (await caches.keys()).filter((n) => n.startsWith(family) && n !== cacheName);
  const known = await Promise.all(
    older.map(async (name) => {
      const cache = await caches.open(name);
      return [cache, await listed(cache)];
    }),
  );
  await cache.put(LIST, new Response(JSON.stringify(BUILD.files)));
  const queue = Object.entries(BUILD.files);
  const keep = async ([path, integrity]) => {
    const url = new URL(path, scope).href;
    if (await cache.match(url)) return; // from an installation that was interrupted
    for (const [other, files] of known) {
      const copy = files[path] === integrity && (await other.match(url));
      if (copy && (await isAsListed(path, copy.clone()))) return cache.put(url, copy);
    }
    // "no-cache": ask the server whether what the page fetched a moment ago is still current
    const response = await fetch(url, { integrity, cache: "no-cache" });
    if (!response.ok) throw new Error(`${path}: ${response.status}`);
    await cache.put(url, response);
  };
  const lane = async () => {
    while (queue.length) await keep(queue.shift());
  };
  await Promise.all([lane(), lane(), lane()]);
};

const activate = async () => {
  for (const name of await caches.keys()) {
    if (name.startsWith(family) && name !== cacheName) await caches.delete(name);
  }
  await self.clients.claim();
};

let opened; // asked for once, and not for each file
const answer = async (request) => {
  const cache = await (opened ??= caches.open(cacheName));
  const url = new URL(request.url);
  if (url.href.split(/[?#]/)[0] === scope) url.pathname += "index.html";
  if (request.cache === "reload" && request.mode !== "navigate") return anew(cache, url.href);
  const cached = await cache.match(url.origin + url.pathname);
  return cached ?? fetch(request);
};

const anew = async (cache, url) => {
  const integrity = BUILD.files[url.slice(scope.length)];
  const response = await fetch(url, { integrity, cache: "reload" }).catch(() => null);
  if (!response?.ok) return (await cache.match(url)) ?? Response.error();
  if (integrity) await cache.put(url, response.clone());
  return response;
};

const lookAtTheFirst = async () => {
  const cache = await caches.open(cacheName);
  for (const name of ["index.html", "whole.js"]) {
    const cached = await cache.match(scope + name);
    if (cached && !(await isAsListed(name, cached))) await anew(cache, scope + name);
  }
};

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(activate()));
self.addEventListener("message", (event) => {
  if (event.data === "use the new version") self.skipWaiting();
  if (event.data === "which release") event.ports[0].postMessage(BUILD.release);
});
self.addEventListener("fetch", (event) => {
  const { method, mode, url } = event.request;
  if (method !== "GET" || !url.startsWith(scope)) return;
  event.respondWith(answer(event.request));
  if (mode === "navigate") event.waitUntil(lookAtTheFirst());
});
