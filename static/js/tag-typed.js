// A tag's number, typed or scanned while no field has the focus, opens its order with Enter; Escape forgets it.
// A scanner of bar codes types either the number or the address that our own tag's code says. Keys in fields, in open
// dialogs and with Ctrl, Alt or Meta are never looked at, and no key is held back but the Enter that opens an order.
(() => {
  const hint = document.querySelector("[data-tag-hint]");
  if (!hint) return;
  const said = document.querySelector("[data-tag-said]");
  const FIELDS = "input:not([type=checkbox], [type=radio], [type=button], [type=submit], [type=reset], [type=file]), textarea, select, [contenteditable=''], [contenteditable=true], [role=textbox]";
  const CONTROLS = "a, button, summary, input, label, [tabindex='0'], canvas";
  const NUMBER = /^\d{1,2}([-.]?[a-z]{0,3}\d{0,6})?$/i; // so far
  const WHOLE = /^\d{2}[-.]?[a-z]{0,3}\d{4,6}$/i;
  const ADDRESS = /^https?:\/\/.*\/t\/([\w-]+)\/?$/i;
  const FORGET = 6000;
  let typed = "", waits = 0;

  const isAddress = (text) => ["http://", "https://"].some((one) => one.startsWith(text.toLowerCase()) || text.toLowerCase().startsWith(one));
  const show = () => {
    clearTimeout(waits);
    const number = NUMBER.test(typed);
    if (!number && !isAddress(typed)) typed = "";
    const isNew = hint.hidden;
    hint.hidden = !typed || (!number && typed.length < 5);
    hint.querySelector("[data-tag-number]").textContent = number ? typed : "…";
    if (!hint.hidden && isNew) said.textContent = "A tag’s number is being typed. Enter opens its order, Escape forgets it.";
    if (hint.hidden) said.textContent = "";
    if (typed) waits = setTimeout(forget, FORGET);
  };
  const forget = () => { typed = ""; show(); };
  const address = (name, value) => hint.dataset[name].replace("0000", encodeURIComponent(value));
  const opens = (focus) => {
    const scanned = ADDRESS.exec(typed);
    if (scanned) return address("scanned", scanned[1]);
    // Enter on a link or a button is theirs, unless a whole number went before it.
    return NUMBER.test(typed) && (WHOLE.test(typed) || !focus?.matches(CONTROLS)) ? address("typed", typed) : "";
  };

  document.addEventListener("keydown", (event) => {
    const focus = document.activeElement;
    const isElsewhere = event.defaultPrevented || event.isComposing || event.ctrlKey || event.altKey || event.metaKey || focus?.matches(FIELDS) || document.querySelector("dialog[open]");
    if (isElsewhere) { if (typed) forget(); return; }
    if (event.key === "Escape" && typed) { event.preventDefault(); forget(); return; }
    if (event.key === "Enter" && typed) {
      const where = opens(focus);
      if (where) { event.preventDefault(); location.assign(where); } else forget();
      return;
    }
    if (event.key.length !== 1 || event.repeat) return;
    if (isAddress(typed) && typed && "/'".includes(event.key)) event.preventDefault(); // a browser's own quick search
    typed += event.key;
    const before = typed;
    show();
    if (!typed && before.length > 1) { typed = event.key; show(); } // what came before was no number
  });
  addEventListener("focusin", (event) => { if (typed && event.target.matches?.(FIELDS)) forget(); });
  addEventListener("pageshow", forget);
})();
