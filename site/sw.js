// The service worker: the whole site in one cache, so that the page works with no network.
//
// - build.py fills in every file with its sha256, and a version made of those.
// - Installing fetches each file and has the browser check its hash; files that an older cache holds
//   unchanged are copied. Should anything be missing or not match (a connection lost, a host half
//   updated), installing fails, the version in use stays, and the next visit goes on from there.
// - A new version waits until no page uses the old one, or until a page posts "use the new version".
// - Everything is answered from the cache first. Nothing is ever asked of another origin.
const BUILD = { version: "", files: {} }; // build.py writes this line

const scope = self.registration.scope;
const family = `ellwand ${scope} `; // one origin may host several copies
const cacheName = family + BUILD.version;
const LIST = new URL("files-and-hashes.json", scope).href; // kept in each cache, never on a server

const listed = async (cache) => {
  const response = await cache.match(LIST);
  return response ? response.json() : {};
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
      if (copy) return cache.put(url, copy);
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
  const cached = await cache.match(url.href, { ignoreSearch: true });
  return cached ?? fetch(request);
};

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(activate()));
self.addEventListener("message", (event) => {
  if (event.data === "use the new version") self.skipWaiting();
});
self.addEventListener("fetch", (event) => {
  const { method, url } = event.request;
  if (method === "GET" && url.startsWith(scope)) event.respondWith(answer(event.request));
});
