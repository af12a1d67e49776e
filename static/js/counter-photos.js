// Photographs go ahead of the book-in's form: of the instrument, or of one mark. Each lies in this browser's own
// database until the server has answered for it, so that neither a lost connection nor a reload loses it; each has a
// key of its own, under which the server keeps it once. A mark's row carries the key of its photograph.
const PhotoStore = {
  memory: new Map(), // where the browser gives no database, as in some private windows
  opened: null,
  open() {
    PhotoStore.opened ||= new Promise((done) => {
      let asked;
      try { asked = indexedDB.open("book-in-photos", 1); } catch { done(null); return; }
      asked.onupgradeneeded = () => asked.result.createObjectStore("waiting", { keyPath: "key" });
      asked.onsuccess = () => done(asked.result);
      asked.onerror = asked.onblocked = () => done(null);
    });
    return PhotoStore.opened;
  },
  async in(mode, act) {
    const base = await PhotoStore.open();
    if (!base) return undefined;
    return new Promise((done) => {
      const asked = act(base.transaction("waiting", mode).objectStore("waiting"));
      asked.onsuccess = () => done(asked.result);
      asked.onerror = () => done(undefined);
    });
  },
  async put(one) { PhotoStore.memory.set(one.key, one); await PhotoStore.in("readwrite", (store) => store.put(one)); },
  async drop(key) { PhotoStore.memory.delete(key); await PhotoStore.in("readwrite", (store) => store.delete(key)); },
  async all() {
    const kept = await PhotoStore.in("readonly", (store) => store.getAll());
    for (const one of kept || []) PhotoStore.memory.set(one.key, one);
    return [...PhotoStore.memory.values()];
  },
};

const KeptPhotos = (form) => {
  const FORTNIGHT = 14 * 24 * 3600 * 1000;
  const said = { sending: "is being sent …", waiting: "kept here, not sent yet" };
  const states = new Map(); // key → "sending" | "waiting"
  let isLooked = false; // whether it is known what this browser still keeps
  const newKey = () => {
    const bytes = crypto.getRandomValues(new Uint8Array(16));
    bytes[6] = bytes[6] & 15 | 64;
    bytes[8] = bytes[8] & 63 | 128;
    return [...bytes].map((one) => one.toString(16).padStart(2, "0")).join("").replace(/^(.{8})(.{4})(.{4})(.{4})/, "$1-$2-$3-$4-");
  };
  const pieces = () => [...form.querySelectorAll("[data-piece]")];
  const draftOf = (piece) => piece.querySelector('[name$="job-draft_key"]').value;
  const pieceOf = (draft) => pieces().find((one) => draftOf(one) === draft);
  const rowsOf = (piece) => [...piece.querySelectorAll("[data-row]")].filter((row) => row.querySelector("[data-photo-key]"));
  const keyField = (row) => row.querySelector("[data-photo-key]");
  const rowWith = (key) => pieces().flatMap(rowsOf).find((row) => keyField(row).value === key);
  const mine = async () => (await PhotoStore.all()).filter((one) => pieceOf(one.draft));

  const problem = (text) => Object.assign(document.createElement("span"), { className: "form-problem", textContent: text, role: "alert" });
  const picture = (source, words) => {
    const image = Object.assign(new Image(96, 72), { src: source, alt: words });
    image.addEventListener("load", () => { if (source.startsWith("blob:")) URL.revokeObjectURL(source); });
    return image;
  };
  const shown = (one, words) => {
    const holder = document.createElement("span");
    holder.className = "waiting-photo";
    holder.append(picture(URL.createObjectURL(one.file), words), Object.assign(document.createElement("span"), { className: "small soft", textContent: said[states.get(one.key)] || "" }));
    return holder;
  };

  const drawRow = (row) => {
    const place = row.querySelector("[data-mark-picture]"), key = keyField(row).value;
    row.querySelector("[data-mark-photo]").hidden = false;
    const shows = `${key} ${states.get(key) || ""} ${PhotoStore.memory.has(key)}`;
    if (!isLooked || place.dataset.shows === shows) return;
    place.dataset.shows = shows;
    if (!key) { place.replaceChildren(); return; }
    const words = `Photograph of the mark ${row.querySelector('[name$="-note"]').value}`.trim();
    const one = PhotoStore.memory.get(key);
    if (one) { place.replaceChildren(shown(one, words)); return; }
    const image = picture(`${form.dataset.photos}${key}.jpg`, words);
    image.addEventListener("error", () => place.replaceChildren(problem("This photograph did not arrive; take it again.")), { once: true });
    place.replaceChildren(image);
  };
  const drawWaiting = (piece) => {
    const here = [...PhotoStore.memory.values()].filter((one) => one.draft === draftOf(piece) && !one.ofMark);
    const place = piece.querySelector("[data-photos-waiting]"), shows = here.map((one) => `${one.key} ${states.get(one.key) || ""}`).join();
    if ((place.dataset.shows || "") === shows) return;
    place.dataset.shows = shows;
    place.replaceChildren(...here.map((one) => shown(one, "Photograph")));
  };
  const draw = () => { for (const piece of pieces()) { drawWaiting(piece); rowsOf(piece).forEach(drawRow); } };

  // The pictures that the server has of an instrument, without those of its marks.
  const list = async (piece) => {
    const holder = piece.querySelector("[data-drafts]");
    const asks = new URLSearchParams([["draft_key", draftOf(piece)], ...rowsOf(piece).map((row) => ["mark", keyField(row).value])]);
    try {
      const answer = await fetch(`${holder.dataset.drafts}?${asks}`);
      if (answer.ok && !answer.redirected) holder.innerHTML = await answer.text();
    } catch { /* what is shown stays */ }
  };
  const csrf = () => form.querySelector("[name=csrfmiddlewaretoken]").value;

  // true: the server has it, or refused it for good.
  const send = async (one) => {
    if (states.get(one.key) === "sending") return false;
    states.set(one.key, "sending");
    draw();
    const piece = pieceOf(one.draft), body = new FormData();
    for (const [name, value] of [["csrfmiddlewaretoken", csrf()], ["job-draft_key", one.draft], ["key", one.key]]) body.append(name, value);
    body.append("job-photos", one.file, one.name);
    let answer = null;
    try { answer = await fetch(piece.querySelector("[data-drafts]").dataset.keep, { method: "POST", body }); } catch { /* tried again */ }
    const isDone = answer && !answer.redirected && (answer.ok || answer.status === 422);
    if (!isDone) { states.set(one.key, "waiting"); draw(); return false; }
    await PhotoStore.drop(one.key);
    states.delete(one.key);
    if (answer.ok) { if (!one.ofMark) await list(piece); draw(); return true; }
    refuse(one, piece, await answer.text());
    return true;
  };
  const refuse = (one, piece, html) => {
    const told = new DOMParser().parseFromString(html, "text/html").querySelector(".form-problem")?.textContent || "This photograph cannot be kept.";
    const row = one.ofMark && rowWith(one.key);
    if (row) {
      keyField(row).value = "";
      changed(row);
      drawRow(row);
      row.querySelector("[data-mark-picture]").append(problem(told));
    } else piece.querySelector("[data-drafts]").append(problem(told));
    draw();
  };
  const changed = (row) => keyField(row).dispatchEvent(new Event("input", { bubbles: true }));
  const sendAll = async () => {
    let all = true;
    for (const one of await mine()) all = await send(one) && all;
    return all;
  };

  const take = async (files, piece, row) => {
    for (const file of files) {
      const one = { key: newKey(), draft: draftOf(piece), ofMark: Boolean(row), file, name: file.name || "photograph.jpg", at: Date.now() };
      if (row) { keyField(row).value = one.key; changed(row); }
      await PhotoStore.put(one);
      send(one);
    }
  };
  form.addEventListener("change", (event) => {
    const field = event.target, piece = field.closest("[data-piece]");
    if (field.matches("[data-photos]") && field.files.length) { take([...field.files], piece); field.value = ""; }
    if (field.matches("[data-mark-file]") && field.files.length) { take([field.files[0]], piece, field.closest("[data-row]")); field.value = ""; }
    draw();
  });
  form.addEventListener("click", async (event) => {
    const drop = event.target.closest("[data-drop-photo]");
    if (!drop) return;
    const piece = drop.closest("[data-piece]");
    try { await fetch(drop.dataset.dropPhoto, { method: "POST", headers: { "X-CSRFToken": csrf() } }); } catch { return; }
    await list(piece);
  });
  // Nothing is booked in while a photograph of it is still on its way.
  form.addEventListener("submit", async (event) => {
    if (![...PhotoStore.memory.values()].some((one) => pieceOf(one.draft))) return;
    event.preventDefault();
    const button = event.submitter;
    button?.classList.add("is-busy");
    const all = await sendAll();
    button?.classList.remove("is-busy");
    form.querySelector("[data-photos-late]").hidden = all;
    if (all) form.requestSubmit(button);
  });
  document.addEventListener("draft-over", async (event) => {
    for (const one of await PhotoStore.all()) if (event.detail.includes(one.draft)) await PhotoStore.drop(one.key);
  });
  const again = async () => {
    for (const one of await PhotoStore.all()) if (Date.now() - one.at > FORTNIGHT) await PhotoStore.drop(one.key);
    isLooked = true;
    draw();
    sendAll();
  };
  const look = async () => { await again(); for (const piece of pieces()) list(piece); };
  addEventListener("online", again);
  setInterval(() => { if ([...PhotoStore.memory.values()].some((one) => states.get(one.key) === "waiting")) sendAll(); }, 8000);
  form.addEventListener("refilled", look);
  document.addEventListener("piece", draw);
  new MutationObserver(draw).observe(form.querySelector("[data-pieces]"), { childList: true, subtree: true });
  again();
};
document.querySelectorAll("form.book-in").forEach(KeptPhotos);
