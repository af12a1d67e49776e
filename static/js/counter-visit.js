// Several instruments in one visit: the part of the form for one more is fetched, and taken off again.
// Visit.add(place, instrument) resolves to that part, or to null when it could not be fetched.
const Visit = (() => {
  const box = document.querySelector("[data-another]");
  const form = box?.closest("form");
  if (!form) return null;
  const holder = form.querySelector("[data-pieces]");
  const pieces = () => [...holder.querySelectorAll("[data-piece]")];
  const places = () => pieces().map((one) => Number(one.dataset.piece));
  const next = () => {
    const behind = Math.max(...places()) + 1, most = Number(box.dataset.most);
    return behind <= most ? behind : [...Array(most + 1).keys()].find((one) => one > 1 && !places().includes(one));
  };
  const chosen = (piece) => piece.querySelector(':scope > [name$="instrument"]')?.value || "";
  const changed = () => {
    box.hidden = places().length >= Number(box.dataset.most);
    for (const button of box.querySelectorAll("[data-add-piece]")) button.hidden = Boolean(button.dataset.addPiece) && pieces().some((one) => chosen(one) === button.dataset.addPiece);
    form.dispatchEvent(new CustomEvent("visit", { bubbles: true }));
    form.dispatchEvent(new Event("input", { bubbles: true }));
  };
  const add = async (place, instrument) => {
    const asks = new URLSearchParams();
    if (instrument) asks.set("instrument", instrument);
    const customer = form.querySelector(':scope > [name="customer"]');
    if (customer) asks.set("customer", customer.value);
    let answer = null;
    try { answer = await fetch(`${box.dataset.another.replace(/0\/$/, `${place}/`)}?${asks}`); } catch { /* said below */ }
    const isThere = Boolean(answer?.ok && !answer.redirected);
    box.querySelector("[data-another-failed]").hidden = isThere;
    if (!isThere) return null;
    const fetched = document.createElement("template");
    fetched.innerHTML = (await answer.text()).trim();
    const piece = fetched.content.querySelector("[data-piece]");
    const after = pieces().filter((one) => Number(one.dataset.piece) < place).pop();
    after.after(piece);
    htmx.process(piece);
    document.dispatchEvent(new CustomEvent("piece", { detail: piece }));
    changed();
    return piece;
  };
  box.addEventListener("click", async (event) => {
    const button = event.target.closest("[data-add-piece]");
    if (!button) return;
    event.preventDefault();
    button.disabled = true;
    const piece = await add(next(), button.dataset.addPiece);
    button.disabled = false;
    piece?.querySelector(button.dataset.addPiece ? '[name$="job-complaint"]' : '[name$="instrument-kind"]').focus();
  });
  // What was typed goes with it, so it is asked for twice.
  holder.addEventListener("click", (event) => {
    const button = event.target.closest("[data-drop-piece]");
    if (!button) return;
    event.preventDefault();
    if (button.dataset.sure !== "yes") {
      button.dataset.sure = "yes";
      button.textContent = "Really take it off, with what is typed here";
      setTimeout(() => { button.dataset.sure = ""; button.textContent = "Take it off"; }, 5000);
      return;
    }
    button.closest("[data-piece]").remove();
    changed();
    box.querySelector("[data-add-piece]:not([hidden])")?.focus();
  });
  changed();
  return { add, kept: () => pieces().slice(1).map((one) => ({ place: Number(one.dataset.piece), instrument: chosen(one) })) };
})();
