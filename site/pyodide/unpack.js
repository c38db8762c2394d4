// A worker that lives for a second: unpacks the memory snapshot in the caches, so that no start has to. What
// memory that takes goes back to the system with the worker; the service worker, which lives in the page's
// process, would keep it. site/start.js tells it the snapshot's address, and is told "yes" or "no".
const unpack = async (url) => {
  for (const name of await caches.keys()) {
    const cache = await caches.open(name);
    const packed = await cache.match(url);
    if (!packed || packed.headers.has("unpacked")) continue;
    const memory = packed.body.pipeThrough(new DecompressionStream("gzip"));
    await cache.put(url, new Response(memory, { headers: { unpacked: "yes" } }));
  }
  return "yes";
};
onmessage = async ({ data }) => {
  // No space, or damaged: pyodide/start.js unpacks it, or starts without.
  postMessage(await unpack(data).catch(() => "no"));
  close();
};
