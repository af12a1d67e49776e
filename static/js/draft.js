// Keeps what is typed into a form with data-draft="<for whom>" in this browser until it is booked in, so that a reload
// or a dead battery loses nothing. A link with data-draft-carry="<for whom>" takes it along to somebody else's form.
// [data-draft-done="<key>"] on the page that follows says that the draft of that key is booked in.
const Draft = {
  name: (scope) => `book-in:${scope}`,
  read(scope) { try { return JSON.parse(localStorage.getItem(Draft.name(scope))); } catch { return null; } },
  write(scope, kept) { try { localStorage.setItem(Draft.name(scope), JSON.stringify(kept)); } catch { /* shown, not kept */ } },
  drop(scope) { try { localStorage.removeItem(Draft.name(scope)); } catch { /* nothing was kept */ } },
  keys: () => new Set(Draft.scopes().flatMap((scope) => Object.entries(Draft.read(scope)?.fields ?? {})).filter(([name]) => name.endsWith("job-draft_key")).map(([, key]) => key)),
  scopes() { try { return Object.keys(localStorage).filter((one) => one.startsWith("book-in:")).map((one) => one.slice(8)); } catch { return []; } },
};
for (const done of document.querySelectorAll("[data-draft-done]")) for (const scope of Draft.scopes()) if (Draft.read(scope)?.fields["job-draft_key"] === done.dataset.draftDone) Draft.drop(scope);

for (const form of document.querySelectorAll("form[data-draft]")) {
  const scope = form.dataset.draft;
  const stays = (field) => field.name && field.type !== "file" && !/^(csrfmiddlewaretoken|piece|customer|(\d-)?instrument|terms-(key|named))$/.test(field.name);
  const fields = () => [...form.elements].filter(stays);
  const snapshot = () => {
    const kept = {};
    for (const field of fields()) {
      if (field.type === "checkbox") { if (field.checked) (kept[field.name] ||= []).push(field.value); }
      else kept[field.name] = field.value;
    }
    return kept;
  };
  const pieces = () => (typeof Visit === "object" && Visit ? Visit.kept() : []);
  const untouched = JSON.stringify({ ...snapshot(), "job-draft_key": "" });
  let missing = { pieces: [], fields: {} }; // of the draft, when a part of the form could not be fetched for it
  let waits = 0;
  let over = false; // dropped, or gone along to somebody else's form: nothing more is kept under this name
  const end = () => {
    over = true;
    clearTimeout(waits);
    Draft.drop(scope);
  };
  const keyFields = () => [...form.querySelectorAll('[name$="job-draft_key"]')];
  const draftKeys = () => keyFields().map((one) => one.value);
  // Whoever booked in and goes back is at the same draft still, even if the browser asks for the page anew.
  for (const [name, key] of Object.entries(history.state?.sentAs ?? {})) if (form.elements[name]) form.elements[name].value = key;
  form.addEventListener("submit", () => history.replaceState({ ...history.state, sentAs: Object.fromEntries(keyFields().map((one) => [one.name, one.value])) }, ""));
  const keep = () => {
    if (over || form.dataset.sent === "yes") return;
    const now = snapshot();
    if (JSON.stringify({ ...now, "job-draft_key": "" }) !== untouched) Draft.write(scope, { at: Date.now(), fields: { ...missing.fields, ...now }, pieces: [...pieces(), ...missing.pieces] });
  };
  const isOf = (name, { place }) => name.startsWith(`${place}-`);
  const fill = async (kept, wantedPieces = []) => {
    const there = new Set(pieces().map((one) => one.place));
    for (const one of wantedPieces) {
      if (there.has(one.place) || await Visit.add(one.place, one.instrument)) continue;
      missing.pieces.push(one);
      for (const name of Object.keys(kept)) if (isOf(name, one)) missing.fields[name] = kept[name];
    }
    for (const name of [...form.querySelectorAll("[data-rows]")].map((one) => one.dataset.rows)) {
      const wanted = Math.min(Number(kept[`${name}-TOTAL_FORMS`]) || 0, 60);
      while (Number(Rows.total(name).value) < wanted) Rows.add(name);
    }
    for (const field of fields()) {
      const value = kept[field.name];
      if (field.type === "checkbox") field.checked = Array.isArray(value) && value.includes(field.value);
      else if (typeof value === "string" && !/(TOTAL|INITIAL|MIN_NUM|MAX_NUM)_FORMS$/.test(field.name)) field.value = value;
    }
    form.querySelectorAll("details").forEach((one) => { if ([...one.querySelectorAll("input:not([type=hidden]), textarea")].some((field) => field.type !== "checkbox" && field.value && field.value !== field.defaultValue)) one.open = true; });
    form.dispatchEvent(new CustomEvent("refilled", { bubbles: true }));
    form.querySelectorAll("select").forEach((one) => one.dispatchEvent(new Event("change", { bubbles: true })));
  };
  const kept = Draft.read(scope);
  const notice = document.querySelector("[data-draft-notice]");
  if (kept && form.dataset.draftBound === "no") {
    clearTimeout(waits);
    over = true; // until all of it is back
    fill(kept.fields, kept.pieces).finally(() => { over = false; });
    const at = new Date(kept.at);
    document.querySelector("[data-draft-when]").textContent = `on ${at.toLocaleDateString()} at ${at.toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" })}`;
    notice.hidden = false;
  }
  notice?.querySelector("[data-draft-drop]").addEventListener("click", () => {
    document.dispatchEvent(new CustomEvent("draft-over", { detail: draftKeys() }));
    end();
    setTimeout(() => location.replace(location.href), 50);
  });
  const later = () => { clearTimeout(waits); waits = setTimeout(keep, 150); };
  for (const kind of ["input", "change"]) form.addEventListener(kind, later);
  addEventListener("pagehide", keep);
  document.addEventListener("click", (event) => {
    const link = event.target.closest("[data-draft-carry]");
    if (!link) return;
    const carried = Object.fromEntries(Object.entries(snapshot()).filter(([name]) => !/^customer-/.test(name) && !(/^instrument-/.test(name) && link.dataset.draftCarry.startsWith("instrument-"))));
    Draft.write(link.dataset.draftCarry, { at: Date.now(), fields: carried, pieces: pieces() });
    end();
  });
}
