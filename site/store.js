// The kits on this device: in IndexedDB, else in localStorage, else nowhere (the page then uses its
// address). Plain JavaScript, because MicroPython cannot catch what the browser throws: every promise
// here resolves, to a value or to false.
//
//   await ellwand.kits.first             the kit that the last visit left off with, or null or false;
//                                        asked for while everything else is still loading
//   ellwand.kits.wanted                  the id of that kit, even where it was never saved
//   await ellwand.kits.where()           "database", "storage" or false
//   await ellwand.kits.get(id)           {id, revision, by, text, title, changed, …} or null
//   await ellwand.kits.list()            the same without the texts, the latest first
//   await ellwand.kits.save(id, base, text, about)
//                                        {saved: revision}, or {behind: revision} and nothing written
//                                        when the kit is no longer at revision `base`
//   await ellwand.kits.remove(id)        true
//   ellwand.kits.hear(react)             react(id, revision, by) when another tab has saved or removed
//
// A save is one transaction that reads the revision and writes the whole kit, so it is there wholly or
// not at all, and two tabs cannot write over each other. `by` is the tab that wrote it.
{
  const PATIENCE = 3000; // ms for a database that neither opens nor fails, as some browsers' do
  const LONGEST = 10000; // ms for a transaction that neither ends nor fails; a large kit takes some
  const name = `ellwand ${ellwand.home}`;
  const prefix = `${name} kit `;
  const attempt = (action, otherwise = false) => {
    try {
      return action();
    } catch {
      return otherwise;
    }
  };
  const tab = Math.random().toString(36).slice(2, 10);

  // --- IndexedDB --------------------------------------------------------------------------------
  let opened;
  const again = () => (opened = undefined);
  const database = () => {
    opened ??= new Promise((resolve) => {
      const request = attempt(() => indexedDB.open(name, 1));
      const none = () => (again(), resolve(false)); // whoever wants it next tries once more
      if (!request) return none();
      const patience = setTimeout(none, PATIENCE);
      request.onupgradeneeded = () => request.result.createObjectStore("kits", { keyPath: "id" });
      request.onerror = request.onblocked = none;
      request.onsuccess = async () => {
        clearTimeout(patience);
        const found = request.result;
        // A later version of the page wants it, or the browser closed it: let go, and open it again.
        found.onversionchange = () => (found.close(), again());
        found.onclose = again;
        const waits = new Promise((done) => setTimeout(done, PATIENCE));
        if (attempt(() => ellwand.recall(ellwand.kitsToMove))) await Promise.race([moveFormer(found), waits]);
        resolve(found);
      };
    });
    return opened;
  };
  // The kits that were kept by the address with index.html (see start.js) come to the others. One whose id
  // is taken, Marram Farm's, stays behind.
  const moveFormer = (into) =>
    new Promise((done) => {
      const request = attempt(() => indexedDB.open(ellwand.former));
      if (!request) return done();
      request.onerror = request.onblocked = done;
      request.onsuccess = () => {
        const from = request.result;
        const moved = () => {
          from.close();
          indexedDB.deleteDatabase(ellwand.former);
          ellwand.forget(ellwand.kitsToMove);
          done();
        };
        if (!from.objectStoreNames.contains("kits")) return moved();
        from.transaction("kits").objectStore("kits").getAll().onsuccess = ({ target }) => {
          const writing = into.transaction("kits", "readwrite", { durability: "strict" });
          for (const kit of target.result)
            writing.objectStore("kits").add(kit).onerror = (event) => {
              event.preventDefault();
              event.stopPropagation();
            };
          Object.assign(writing, { oncomplete: moved, onabort: done });
        };
      };
    });
  // `work(store, give)` may give the result before the transaction ends; it counts once it has ended.
  const transact = async (mode, work) => {
    const found = await database();
    if (!found) return false;
    return new Promise((resolve) => {
      const begin = () => {
        const transaction = found.transaction("kits", mode, { durability: "strict" });
        let result = false;
        setTimeout(() => resolve(false), LONGEST);
        transaction.oncomplete = () => resolve(result);
        transaction.onabort = transaction.onerror = () => resolve(false);
        work(transaction.objectStore("kits"), (value) => (result = value));
        return true;
      };
      if (!attempt(begin)) (again(), resolve(false)); // the database was closed under us
    });
  };
  const inDatabase = {
    get: (id) =>
      transact("readonly", (store, give) => {
        store.get(id).onsuccess = ({ target }) => give(target.result ?? null);
      }),
    all: () =>
      transact("readonly", (store, give) => {
        store.getAll().onsuccess = ({ target }) => give(target.result);
      }),
    swap: (id, base, make) =>
      transact("readwrite", (store, give) => {
        store.get(id).onsuccess = ({ target }) => {
          const revision = target.result?.revision ?? 0;
          if (revision !== base) return give({ behind: revision });
          store.put(make(revision + 1));
          give({ saved: revision + 1 });
        };
      }),
    remove: (id) =>
      transact("readwrite", (store, give) => {
        store.delete(id).onsuccess = () => give(true);
      }),
  };

  // --- localStorage: read and written in one go, so no tab comes between. A browser writes it to the
  // disk a little later, so a page that is killed may lose its last moments here. ------------------
  const read = (key) => attempt(() => JSON.parse(localStorage.getItem(key)), null);
  const inStorage = {
    get: (id) => read(prefix + id),
    all: () =>
      attempt(() => Object.keys(localStorage), [])
        .filter((key) => key.startsWith(prefix))
        .map(read)
        .filter(Boolean),
    swap: (id, base, make) => {
      const revision = read(prefix + id)?.revision ?? 0;
      if (revision !== base) return { behind: revision };
      const text = JSON.stringify(make(revision + 1));
      return attempt(() => (localStorage.setItem(prefix + id, text), { saved: revision + 1 }));
    },
    remove: (id) => attempt(() => (localStorage.removeItem(prefix + id), true)),
  };

  let chosen;
  const where = () => {
    chosen ??= (async () => {
      if (await database()) return "database";
      const probe = `${name} probe`;
      const works = attempt(() => {
        localStorage.setItem(probe, "1");
        localStorage.removeItem(probe);
        return true;
      });
      return works ? "storage" : false;
    })();
    return chosen;
  };
  const keeper = async () => ({ database: inDatabase, storage: inStorage })[await where()];
  const channel = attempt(() => new BroadcastChannel(name), null);
  const tell = (id, revision) => attempt(() => channel?.postMessage({ id, revision, by: tab }));
  const latestFirst = (a, b) => b.changed - a.changed;

  const kits = {
    tab,
    where,
    get: async (id) => {
      const kept = await keeper();
      return kept ? kept.get(id) : false;
    },
    list: async () => {
      const found = await (await keeper())?.all();
      return found ? found.sort(latestFirst).map(({ text, ...about }) => about) : false;
    },
    save: async (id, base, text, about) => {
      const make = (revision) => ({ ...about, id, text, revision, by: tab, changed: Date.now() });
      const result = (await (await keeper())?.swap(id, base, make)) ?? false;
      if (result.saved) tell(id, result.saved);
      return result;
    },
    remove: async (id) => {
      const result = (await (await keeper())?.remove(id)) ?? false;
      if (result) tell(id, 0);
      return result;
    },
    hear: (react) => {
      if (channel) channel.onmessage = ({ data }) => react(data.id, data.revision, data.by);
    },
    // Whether the browser promises not to clear this site's storage when it runs short.
    persist: async () => {
      try {
        return await navigator.storage.persist();
      } catch {
        return false;
      }
    },
  };
  // Which kit is open is this tab's own affair; a new tab begins with the one used last.
  const last = () => {
    const noted = attempt(() => sessionStorage.getItem(name)) || read(name)?.kit;
    return typeof noted === "string" ? noted : "";
  };
  kits.first = (async () => {
    const id = (kits.wanted = last());
    const found = id && (await kits.get(id));
    if (found) return found;
    const [latest] = (await kits.list()) || [];
    return latest ? kits.get(latest.id) : null;
  })();
  kits.use = (id) => attempt(() => (sessionStorage.setItem(name, id), true));
  globalThis.ellwand.kits = kits;
}
