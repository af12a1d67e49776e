// Photographs on their way to the server. Each lies in this browser's own database until the server has answered for
// it, so that neither a lost connection nor a reload loses it, under a key by which the server keeps it once.
const KeptPhotos = (() => {
  const memory = new Map(); // what this page knows of; all there is where the browser gives no database
  const unwritten = new Set(); // keys that the database did not take
  let opened = null;
  const open = () => {
    opened ||= new Promise((done) => {
      let asked;
      try { asked = indexedDB.open("photographs", 1); } catch { done(null); return; }
      asked.onupgradeneeded = () => asked.result.createObjectStore("waiting", { keyPath: "key" });
      asked.onsuccess = () => done(asked.result);
      asked.onerror = asked.onblocked = () => done(null);
    });
    return opened;
  };
  const within = async (mode, act) => {
    const base = await open();
    if (!base) return undefined;
    return new Promise((done) => {
      let asked;
      const deed = base.transaction("waiting", mode);
      try { asked = act(deed.objectStore("waiting")); } catch { done(undefined); return; }
      deed.oncomplete = () => done(asked.result);
      deed.onerror = deed.onabort = () => done(undefined);
    });
  };
  const put = async (one) => {
    memory.set(one.key, one);
    if (await within("readwrite", (store) => store.put(one)) === undefined) unwritten.add(one.key);
  };
  const drop = async (key) => {
    memory.delete(key);
    unwritten.delete(key);
    await within("readwrite", (store) => store.delete(key));
  };
  // What another tab has sent meanwhile is gone from here, too.
  const all = async () => {
    const kept = await within("readonly", (store) => store.getAll());
    if (kept) {
      for (const key of [...memory.keys()]) if (!unwritten.has(key)) memory.delete(key);
      for (const one of kept) memory.set(one.key, one);
    }
    return [...memory.values()].sort((one, other) => one.at - other.at);
  };
  const newKey = () => { // a page without HTTPS has no randomUUID
    const bytes = crypto.getRandomValues(new Uint8Array(16));
    bytes[6] = bytes[6] & 15 | 64;
    bytes[8] = bytes[8] & 63 | 128;
    return [...bytes].map((one) => one.toString(16).padStart(2, "0")).join("").replace(/^(.{8})(.{4})(.{4})(.{4})/, "$1-$2-$3-$4-");
  };

  const picture = (source, words) => {
    const image = Object.assign(new Image(160, 120), { src: source, alt: words });
    image.addEventListener("load", () => { if (source.startsWith("blob:")) URL.revokeObjectURL(source); });
    return image;
  };
  const problem = (text) => Object.assign(document.createElement("span"), { className: "form-problem", textContent: text, role: "alert" });
  return {
    put, drop, all, newKey, picture, problem,
    known: () => [...memory.values()], get: (key) => memory.get(key), lasts: (key) => !unwritten.has(key),
  };
})();

// Sends the photographs for which a page is answerable, one after another, and again for as long as one of them waits.
//   isMine(one)        whether it is sent from this page
//   send(one, signal)  resolves to "kept", to "later", or to a sentence that says why it is refused for good
//   onKept(one)        the server has it; onRefused(one, why): it lies here still;  draw(): something has changed
const PhotoSender = ({ isMine, send, onKept, onRefused, draw }) => {
  const EVERY = 8000, PATIENCE = 120000;
  const stops = new Map(); // key of what is being sent → what ends that
  let running = null;

  const sendOne = async (one) => {
    const stop = new AbortController(), clock = setTimeout(() => stop.abort(), PATIENCE);
    stops.set(one.key, stop);
    draw();
    let came = "later";
    try { came = await send(one, stop.signal); } catch { /* tried again */ }
    clearTimeout(clock);
    stops.delete(one.key);
    if (came === "kept") {
      await KeptPhotos.drop(one.key);
      await onKept(one);
    } else if (came !== "later") await onRefused(one, came);
    draw();
    return came !== "later";
  };
  const isToSend = (one) => !one.why && isMine(one);
  const toSend = () => KeptPhotos.all().then((all) => all.filter(isToSend));
  const run = async () => {
    const tried = new Set();
    let all = true;
    for (let [next] = await toSend(); next; next = (await toSend()).find((one) => !tried.has(one.key))) {
      tried.add(next.key);
      all = await sendOne(next) && all;
    }
    return all;
  };
  // true: the server has answered for all of them.
  const sendAll = () => {
    running ||= run().finally(() => { running = null; });
    return running;
  };
  const take = async (files, about) => {
    const at = Date.now();
    for (const [place, file] of files.entries()) {
      await KeptPhotos.put({ key: KeptPhotos.newKey(), file, name: file.name || "photograph.jpg", at: at + place, ...about });
    }
    draw();
    sendAll();
  };
  const remove = async (key) => {
    await KeptPhotos.drop(key);
    stops.get(key)?.abort();
    draw();
  };
  const words = (one) => {
    if (one.why) return "";
    if (stops.has(one.key)) return "is being sent …";
    return KeptPhotos.lasts(one.key) ? "kept here, not yet saved" : "not yet saved: stay on this page until it is";
  };
  addEventListener("online", sendAll);
  document.addEventListener("visibilitychange", () => { if (!document.hidden) sendAll(); });
  setInterval(() => { if (KeptPhotos.known().some(isToSend)) sendAll(); }, EVERY);
  return { sendAll, take, remove, words };
};
