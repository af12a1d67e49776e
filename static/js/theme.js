// Sets light or dim before the page is drawn: what this device chose, else what its system prefers.
(() => {
  const root = document.documentElement;
  const prefers = matchMedia("(prefers-color-scheme: dark)");
  const chosen = () => { try { return localStorage.getItem("light"); } catch { return null; } };
  const show = () => { root.dataset.light = chosen() || (prefers.matches ? "dim" : "day"); };
  show();
  prefers.addEventListener("change", show);
  addEventListener("storage", show);
  document.addEventListener("click", (event) => {
    if (!event.target.closest("[data-switch-light]")) return;
    try { localStorage.setItem("light", root.dataset.light === "dim" ? "day" : "dim"); } catch { /* not kept, still shown */ }
    show();
  });
})();
