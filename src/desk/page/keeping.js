// What is kept in this browser between visits: patterns, and earlier versions of each. Every call says what went wrong, and the desk
// tells it: a store that is full or forbidden must not look like one that keeps.
const keeping = (() => {
  const opened = new Promise((tell, fail) => {
    if (!window.indexedDB) return fail(new Error("none"));
    const asked = indexedDB.open("ringtrue desk", 1);
    asked.onupgradeneeded = () => {
      asked.result.createObjectStore("patterns", { keyPath: "id" });
      asked.result.createObjectStore("versions", { keyPath: "id", autoIncrement: true }).createIndex("of", "of");
    };
    asked.onsuccess = () => tell(asked.result);
    asked.onerror = () => fail(asked.error);
  });
  opened.catch(() => {});

  const work = async (stores, way, does) => {
    // Written to the disk itself before it counts as kept, where the browser can promise that.
    const store = (await opened).transaction(stores, way, { durability: way === "readwrite" ? "strict" : "default" });
    return new Promise((tell, fail) => {
      let result;
      store.oncomplete = () => tell(result && "result" in result ? result.result : result);
      store.onerror = store.onabort = () => fail(store.error);
      result = does(...stores.map((name) => store.objectStore(name)));
    });
  };

  return {
    opened,
    // All patterns, the newest first.
    all: async () => (await work(["patterns"], "readonly", (patterns) => patterns.getAll())).sort((a, b) => b.changed - a.changed),
    one: (id) => work(["patterns"], "readonly", (patterns) => patterns.get(id)),
    keep: (pattern) => work(["patterns"], "readwrite", (patterns) => patterns.put(pattern)),
    versions: async (id) =>
      (await work(["versions"], "readonly", (versions) => versions.index("of").getAll(id))).sort((a, b) => b.at - a.at),
    keep_version: (version) => work(["versions"], "readwrite", (versions) => versions.add(version)),
    remove: (id) =>
      work(["patterns", "versions"], "readwrite", (patterns, versions) => {
        patterns.delete(id);
        const asked = versions.index("of").openKeyCursor(IDBKeyRange.only(id));
        asked.onsuccess = () => {
          if (!asked.result) return;
          versions.delete(asked.result.primaryKey);
          asked.result.continue();
        };
      }),
  };
})();

// Why nothing is kept, in words for whoever writes.
const not_kept = (error) =>
  error && error.name === "QuotaExceededError"
    ? "This browser has no room left to keep the pattern. Save it as a file now."
    : "This browser keeps nothing of this page between visits. Save the pattern as a file before you close it.";
