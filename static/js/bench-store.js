/* What was typed and is not saved yet, kept on this device until the server has answered. One key an entry, so that
   two tabs never overwrite each other. Where the browser keeps nothing, memory stands in and the page says so. */
(() => {
  "use strict";
  const memory = new Map();
  const PREFIX = "bench:";

  const storage = (() => {
    try {
      localStorage.setItem("bench-try", "1");
      localStorage.removeItem("bench-try");
      return localStorage;
    } catch {
      return null;
    }
  })();

  const tab = (() => {
    try {
      const known = sessionStorage.getItem("bench-tab") || newId();
      sessionStorage.setItem("bench-tab", known);
      return known;
    } catch {
      return newId();
    }
  })();

  function newId() {
    if (crypto.randomUUID) return crypto.randomUUID();
    const bytes = crypto.getRandomValues(new Uint8Array(16)); // a page without HTTPS has no randomUUID
    bytes[6] = (bytes[6] & 0x0f) | 0x40;
    bytes[8] = (bytes[8] & 0x3f) | 0x80;
    const hex = [...bytes].map((one) => one.toString(16).padStart(2, "0")).join("");
    return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
  }

  const name = (entry) => `${PREFIX}${entry.sheet}:${entry.id}`;

  function put(entry) {
    const text = JSON.stringify(entry);
    memory.set(name(entry), text);
    try {
      if (storage) storage.setItem(name(entry), text);
    } catch {
      store.isFull = true; // memory still has it
    }
  }

  function drop(entry) {
    memory.delete(name(entry));
    if (storage) storage.removeItem(name(entry));
  }

  /* Every entry of a sheet in the order in which it was begun. */
  function all(sheet) {
    const start = `${PREFIX}${sheet}:`;
    const texts = new Map(memory);
    if (storage) {
      for (let place = 0; place < storage.length; place += 1) {
        const key = storage.key(place);
        if (key.startsWith(start)) texts.set(key, storage.getItem(key));
      }
      if (!store.isFull) for (const key of memory.keys()) if (storage.getItem(key) === null) texts.delete(key);
    }
    return [...texts].filter(([key]) => key.startsWith(start)).map(([, text]) => JSON.parse(text))
      .sort((one, other) => one.at - other.at);
  }

  function remember(key, value) {
    try {
      if (storage) storage.setItem(`bench-${key}`, value);
    } catch {
      /* a preference that is not kept is no loss */
    }
  }

  const recall = (key) => (storage ? storage.getItem(`bench-${key}`) : null);

  const store = { put, drop, all, newId, remember, recall, tab, lasts: storage !== null, isFull: false };
  window.bench = { store };
})();
