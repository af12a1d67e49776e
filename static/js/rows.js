// Rows of a form that may grow: <ol data-rows="marks"> with <li data-row>, a <template data-row-template="marks"> for
// one more, a button data-add-row="marks", and in each row a button data-remove-row, which a blank row that is alone
// does not show: there is nothing to take off.
// Rows.add(name) adds one and returns it. The server takes a number that is missing for a row left blank.
const Rows = {
  list: (name) => document.querySelector(`[data-rows="${name}"]`),
  total: (name) => document.querySelector(`[name="${name}-TOTAL_FORMS"]`),
  of: (name) => [...Rows.list(name).querySelectorAll("[data-row]")],
  add(name) {
    const total = Rows.total(name);
    const holder = document.createElement("ol");
    holder.innerHTML = document.querySelector(`[data-row-template="${name}"]`).innerHTML.replaceAll("__prefix__", total.value);
    total.value = Number(total.value) + 1;
    const row = Rows.list(name).appendChild(holder.firstElementChild);
    Rows.of(name).forEach(Rows.show);
    return row;
  },
  remove(row) {
    const list = row.closest("[data-rows]");
    row.remove();
    list.dispatchEvent(new Event("change", { bubbles: true }));
  },
  blank: (row) => [...row.querySelectorAll("input, textarea, select[name$='-place']")].every((one) => one.value === "" || /-quantity$/.test(one.name)),
  show(row) {
    const list = row.closest("[data-rows]");
    const alone = list && list.querySelectorAll("[data-row]").length === 1;
    row.querySelectorAll("[data-remove-row]").forEach((button) => { button.hidden = alone && Rows.blank(row); });
  },
};
const wakeRows = (root) => {
  root.querySelectorAll("[data-row]").forEach(Rows.show);
};
wakeRows(document);
["input", "change"].forEach((happened) => document.addEventListener(happened, (event) => {
  event.target.closest("[data-rows]")?.querySelectorAll("[data-row]").forEach(Rows.show);
}));
document.addEventListener("refilled", (event) => wakeRows(event.target));
document.addEventListener("piece", (event) => wakeRows(event.detail));
document.addEventListener("click", (event) => {
  const adds = event.target.closest("[data-add-row]");
  if (adds || event.target.closest("[data-remove-row]")) event.preventDefault();
  if (adds) Rows.add(adds.dataset.addRow).querySelector("input:not([type=hidden]), select, textarea").focus();
  const removes = event.target.closest("[data-remove-row]");
  if (removes) Rows.remove(removes.closest("[data-row]"));
});
