// Choosing the kind of an instrument offers the bridge and the number of strings it usually has.
// <select data-kind> whose options carry data-family and data-strings; the fields are the form's …family and …string_count.
document.addEventListener("change", (event) => {
  const kind = event.target.closest("select[data-kind]");
  if (!kind) return;
  const usual = kind.selectedOptions[0].dataset;
  const set = (name, value) => {
    const field = (kind.closest("[data-piece]") || kind.form).querySelector(`[name$="${name}"]:not([type="hidden"])`);
    if (field && value && !field.dataset.touched) {
      field.value = value;
      field.dispatchEvent(new Event("input", { bubbles: true }));
    }
  };
  set("family", usual.family);
  set("string_count", usual.strings);
});
// What a person has set by hand stays.
document.addEventListener("change", (event) => {
  if (event.isTrusted && /(family|string_count)$/.test(event.target.name || "")) event.target.dataset.touched = "yes";
});
