// Small manners of every page, found by data attributes.
// data-confirm="…": asks first.  data-once: a form that is on its way is not sent twice.
// data-submits: a field that sends its form when it changes.  data-print: prints the page.
document.addEventListener("submit", (event) => {
  const form = event.target;
  const asks = event.submitter?.dataset.confirm || form.dataset.confirm;
  if (asks && !window.confirm(asks)) { event.preventDefault(); return; }
  if (form.method !== "post" || event.defaultPrevented) return;
  if (form.dataset.sent === "yes") { event.preventDefault(); return; }
  if ("once" in form.dataset) form.dataset.sent = "yes";
});
addEventListener("pageshow", () => document.querySelectorAll("form[data-sent]").forEach((form) => delete form.dataset.sent));
document.addEventListener("change", (event) => {
  const field = event.target.closest("[data-submits]");
  if (field) field.form.requestSubmit();
});
document.addEventListener("click", (event) => {
  if (event.target.closest("[data-print]")) window.print();
  const opens = event.target.closest("[data-opens]");
  if (opens) document.getElementById(opens.dataset.opens)?.showModal();
});
