// The counter: chips that fill a field in, the promises that follow the lines.
document.addEventListener("click", (event) => {
  const chip = event.target.closest("[data-chips] button");
  if (chip) {
    const field = document.getElementById(chip.closest("[data-chips]").dataset.chips);
    const replaces = "chipsReplace" in chip.closest("[data-chips]").dataset;
    field.value = replaces || !field.value.trim() ? chip.textContent : `${field.value.replace(/[\s,]+$/, "")}, ${chip.textContent}`;
    field.dispatchEvent(new Event("input", { bubbles: true }));
  }
  // What was typed into the box in vain goes along to the new customer's form.
  const carries = event.target.closest("[data-carries-text]");
  if (carries) carries.href = carries.href.split("?")[0] + "?new=" + encodeURIComponent(document.querySelector(carries.dataset.carriesText).value);
});
const wakeChips = (root) => root.querySelectorAll("[data-chips]").forEach((chips) => { chips.hidden = false; });
wakeChips(document);
document.addEventListener("piece", (event) => wakeChips(event.detail));

const form = document.querySelector("form.book-in");
if (form) {
  // A person's own promise stays; one that was only proposed follows the lines.
  const proposals = () => Object.fromEntries([...document.querySelectorAll("[data-proposed]")].map((one) => [one.dataset.of, one.dataset.proposed]));
  let proposed = proposals();
  const follow = () => {
    const now = proposals();
    for (const [place, day] of Object.entries(now)) {
      const promise = form.querySelector(`[data-piece="${place}"] [name$="job-promised_on"]`);
      const isOurs = promise && (place in proposed ? promise.value === proposed[place] : !promise.value);
      if (isOurs && promise.value !== day) { promise.value = day; promise.dispatchEvent(new Event("input", { bubbles: true })); }
    }
    proposed = now;
  };
  // Asked for by what shows it: asked by the form, it would be sent where the button last touched sends the form.
  const reckon = () => htmx.ajax("POST", form.dataset.reckon, { source: "#reckoned", target: "#reckoned", swap: "innerHTML" });
  let waits = 0;
  const later = () => { clearTimeout(waits); waits = setTimeout(reckon, 250); };
  // What is ticked and typed as work, and what the instruments are called once there are several.
  form.addEventListener("change", (event) => {
    const isWork = event.target.closest("[data-reckons]");
    const isName = /instrument-(maker|model_name|serial|kind)$/.test(event.target.name || "") && form.querySelectorAll("[data-piece]").length > 1;
    if (isWork || isName) later();
  });
  form.addEventListener("refilled", reckon);
  form.addEventListener("visit", later);
  document.body.addEventListener("htmx:afterSwap", (event) => { if (event.detail.target.id === "reckoned") follow(); });
  // Photographs that were refused are answered with the reason, which is shown like any other answer.
  document.body.addEventListener("htmx:beforeSwap", (event) => {
    if (event.detail.xhr.status === 422) { event.detail.shouldSwap = true; event.detail.isError = false; }
  });
  // A scanner types its code and Enter into whichever field has the focus: Enter in a one-line field does not send.
  form.addEventListener("keydown", (event) => {
    if (event.key === "Enter" && event.target.tagName === "INPUT" && event.target.type !== "checkbox") event.preventDefault();
  });
}
