/* The bench's own keys: digits, fractions of an inch, the sign, and on. It types into the field in hand. */
(() => {
  "use strict";
  const { store, fields } = window.bench;
  let field = null;

  function show(on) {
    document.documentElement.classList.toggle("has-pad", on);
    for (const pad of document.querySelectorAll("[data-pad]")) pad.hidden = !on;
    for (const button of document.querySelectorAll("[data-pad-switch]")) button.setAttribute("aria-pressed", String(on));
    for (const input of document.querySelectorAll("input[data-figure]")) {
      input.inputMode = on ? "none" : "decimal"; // the device's own keyboard stays away while the pad is there
    }
  }

  function type(text) {
    const start = field.selectionStart ?? field.value.length;
    const end = field.selectionEnd ?? field.value.length;
    if (text === "back") field.setRangeText("", start === end ? Math.max(0, start - 1) : start, end, "end");
    else if (text === "sign") field.value = field.value.startsWith("-") ? field.value.slice(1) : `-${field.value}`;
    else field.setRangeText(text, start, end, "end");
    field.dispatchEvent(new Event("input", { bubbles: true }));
  }

  function press(key) {
    if (!field || !field.isConnected) field = document.querySelector("input[data-figure]:not([readonly])");
    if (!field) return;
    if (document.activeElement !== field) field.focus();
    if (key === "next") field.dispatchEvent(new KeyboardEvent("keydown", { key: "Enter", bubbles: true, cancelable: true }));
    else type(key);
  }

  document.addEventListener("focusin", (event) => {
    if (event.target.matches("input[data-figure]")) field = event.target;
  });
  // A press on a key must not take the focus, and with it the caret, out of the field.
  document.addEventListener("pointerdown", (event) => {
    if (event.target.closest("[data-pad] button, [data-keeps-focus]")) event.preventDefault();
  });
  document.addEventListener("mousedown", (event) => {
    if (event.target.closest("[data-pad] button, [data-keeps-focus]")) event.preventDefault();
  });
  document.addEventListener("click", (event) => {
    const key = event.target.closest("[data-pad] [data-key-of-pad]");
    if (key) press(key.dataset.keyOfPad);
    if (event.target.closest("[data-pad-switch]")) {
      const on = !document.documentElement.classList.contains("has-pad");
      store.remember("pad", on ? "on" : "off");
      show(on);
      (fields.inHand() || document.querySelector("input[data-figure]"))?.focus();
    }
  });

  window.bench.pad = { begin: () => show(store.recall("pad") === "on") };
})();
