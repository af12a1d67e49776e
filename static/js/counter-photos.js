// Photographs go ahead of the book-in's form: of the instrument, or of one mark. Until the server has them they lie in
// this browser (kept-photos.js). A mark's row carries the key of its photograph.
const DraftPhotos = (form) => {
  const FORTNIGHT = 14 * 24 * 3600 * 1000; // as long as the server keeps those of a draft
  const { picture, problem } = KeptPhotos;
  let isLooked = false; // whether it is known what this browser still keeps
  const pieces = () => [...form.querySelectorAll("[data-piece]")];
  const draftOf = (piece) => piece.querySelector('[name$="job-draft_key"]').value;
  const pieceOf = (draft) => pieces().find((one) => draftOf(one) === draft);
  const rowsOf = (piece) => [...piece.querySelectorAll("[data-row]")].filter((row) => row.querySelector("[data-photo-key]"));
  const keyField = (row) => row.querySelector("[data-photo-key]");
  const rowWith = (key) => pieces().flatMap(rowsOf).find((row) => keyField(row).value === key);
  const isMine = (one) => Boolean(pieceOf(one.draft));
  const csrf = () => form.querySelector("[name=csrfmiddlewaretoken]").value;

  const shown = (one, words) => {
    const holder = document.createElement("span");
    holder.className = "waiting-photo";
    holder.append(picture(URL.createObjectURL(one.file), words), Object.assign(document.createElement("span"), { className: "small soft", textContent: sender.words(one) }));
    return holder;
  };

  // A plain field without script; with it a button, since what is chosen is sent at once.
  const asButton = (label) => {
    if (label.className) return;
    label.className = "btn btn-secondary";
    label.querySelector("input").className = "visually-hidden";
  };
  const drawRow = (row) => {
    const place = row.querySelector("[data-mark-picture]"), key = keyField(row).value, one = KeptPhotos.get(key);
    asButton(row.querySelector("[data-mark-photo] > label"));
    const shows = `${key} ${one ? sender.words(one) : ""}`;
    if (!isLooked || place.dataset.shows === shows) return;
    place.dataset.shows = shows;
    if (!key) { place.replaceChildren(); return; }
    const words = `Photograph of the mark ${row.querySelector('[name$="-note"]').value}`.trim();
    if (one) { place.replaceChildren(shown(one, words)); return; }
    const image = picture(`${form.dataset.photos}${key}.jpg`, words);
    image.addEventListener("error", () => place.replaceChildren(problem("This photograph did not arrive; take it again.")), { once: true });
    place.replaceChildren(image);
  };
  const drawWaiting = (piece) => {
    const here = KeptPhotos.known().filter((one) => one.draft === draftOf(piece) && !one.ofMark);
    const place = piece.querySelector("[data-photos-waiting]"), shows = here.map((one) => `${one.key} ${sender.words(one)}`).join();
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
  const send = async (one, signal) => {
    const body = new FormData();
    for (const [name, value] of [["csrfmiddlewaretoken", csrf()], ["job-draft_key", one.draft], ["key", one.key]]) body.append(name, value);
    body.append("job-photos", one.file, one.name);
    const answer = await fetch(pieceOf(one.draft).querySelector("[data-drafts]").dataset.keep, { method: "POST", body, signal });
    if (answer.redirected || !(answer.ok || answer.status === 422)) return "later";
    if (answer.ok) return "kept";
    const told = new DOMParser().parseFromString(await answer.text(), "text/html").querySelector(".form-problem");
    return told?.textContent || "This photograph cannot be kept.";
  };
  const changed = (row) => keyField(row).dispatchEvent(new Event("input", { bubbles: true }));
  const onRefused = async (one, why) => {
    await KeptPhotos.drop(one.key);
    const row = one.ofMark && rowWith(one.key);
    if (!row) { pieceOf(one.draft)?.querySelector("[data-photos-refused]").append(problem(why)); return; }
    keyField(row).value = "";
    changed(row);
    drawRow(row);
    row.querySelector("[data-mark-picture]").append(problem(why));
  };
  const onKept = (one) => { if (!one.ofMark && isMine(one)) return list(pieceOf(one.draft)); };
  const sender = PhotoSender({ isMine, send, onKept, onRefused, draw });

  const takeOfMark = (file, piece, row) => {
    const key = KeptPhotos.newKey();
    keyField(row).value = key;
    changed(row);
    sender.take([file], { key, draft: draftOf(piece), ofMark: true });
  };
  form.addEventListener("change", (event) => {
    const field = event.target, piece = field.closest("[data-piece]");
    if (field.matches("[data-photos]") && field.files.length) { piece.querySelector("[data-photos-refused]").replaceChildren(); sender.take([...field.files], { draft: draftOf(piece), ofMark: false }); field.value = ""; }
    if (field.matches("[data-mark-file]") && field.files.length) { takeOfMark(field.files[0], piece, field.closest("[data-row]")); field.value = ""; }
    draw();
  });
  form.addEventListener("click", async (event) => {
    const drop = event.target.closest("[data-drop-photo]");
    if (!drop) return;
    event.preventDefault();
    const piece = drop.closest("[data-piece]");
    try { await fetch(drop.dataset.dropPhoto, { method: "POST", headers: { "X-CSRFToken": csrf() } }); } catch { return; }
    await list(piece);
  });
  // Nothing is booked in while a photograph of it is still on its way.
  form.addEventListener("submit", async (event) => {
    if (!KeptPhotos.known().some(isMine)) return;
    event.preventDefault();
    const button = event.submitter;
    button?.classList.add("is-busy");
    const all = await sender.sendAll();
    button?.classList.remove("is-busy");
    form.querySelector("[data-photos-late]").hidden = all;
    if (all) form.requestSubmit(button);
  });
  document.addEventListener("draft-over", async (event) => {
    for (const one of await KeptPhotos.all()) if (event.detail.includes(one.draft)) await KeptPhotos.drop(one.key);
  });
  const again = async () => {
    // What belongs to a draft that is kept here stays: the clock of a tablet may have been wrong when it was taken.
    const drafts = Draft.keys();
    for (const one of await KeptPhotos.all()) if (one.draft && !drafts.has(one.draft) && !isMine(one) && Date.now() - one.at > FORTNIGHT) await KeptPhotos.drop(one.key);
    isLooked = true;
    draw();
    sender.sendAll();
  };
  const look = async () => { await again(); for (const piece of pieces()) list(piece); };
  form.addEventListener("refilled", look);
  document.addEventListener("piece", draw);
  new MutationObserver(draw).observe(form.querySelector("[data-pieces]"), { childList: true, subtree: true });
  document.addEventListener("DOMContentLoaded", again); // once draft.js is there, too
};
document.querySelectorAll("form.book-in").forEach(DraftPhotos);
