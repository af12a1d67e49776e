// Small manners of every page, found by data attributes.
// data-once: a form that is on its way is not sent twice.  data-submits: a field that sends its form when it changes.
// data-print: prints the page.  data-opens="id": opens that dialog.
const connection = document.querySelector("[data-connection]");
const bench = document.querySelector("[data-keeper-box]");
const alone = ["127.0.0.1", "localhost", "[::1]"].includes(location.hostname); // works without any network
const lost = (yes) => { if (!bench) connection.hidden = !yes; };

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.method !== "post" || event.defaultPrevented) return;
  if (form.dataset.sent === "yes") { event.preventDefault(); return; }
  if ("once" in form.dataset) form.dataset.sent = "yes";
  if (!navigator.onLine && !alone) { event.preventDefault(); delete form.dataset.sent; lost(true); return; }
  if (!form.hasAttribute("hx-post")) event.submitter?.classList.add("is-busy");
});
addEventListener("pageshow", () => {
  document.querySelectorAll("form[data-sent]").forEach((form) => delete form.dataset.sent);
  document.querySelectorAll(".is-busy").forEach((button) => button.classList.remove("is-busy"));
});
addEventListener("offline", () => lost(!alone));
addEventListener("online", () => lost(false));
document.addEventListener("htmx:sendError", () => lost(true));
document.addEventListener("htmx:afterOnLoad", () => lost(false));

document.addEventListener("change", (event) => event.target.closest("[data-submits]")?.form.requestSubmit());
document.addEventListener("click", (event) => {
  if (event.target.closest("[data-print]")) window.print();
  const opens = event.target.closest("[data-opens]");
  if (opens) document.getElementById(opens.dataset.opens)?.showModal();
  const drawer = document.querySelector(".drawer[open]");
  if (drawer && !drawer.contains(event.target)) drawer.open = false;
});
document.addEventListener("keydown", (event) => {
  const drawer = document.querySelector(".drawer[open]");
  if (event.key !== "Escape" || !drawer) return;
  drawer.open = false;
  drawer.firstElementChild.focus();
});
document.querySelector("[data-errors]")?.focus();
