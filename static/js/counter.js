// The counter: chips that fill a field in, the promise that follows the lines, photographs that go ahead of the form.
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
document.querySelectorAll("[data-chips]").forEach((chips) => { chips.hidden = false; });

const form = document.querySelector("form.book-in");
if (form) {
  const promise = form.querySelector('[name="job-promised_on"]');
  let proposed = document.querySelector("[data-proposed]")?.dataset.proposed;
  // A person's own promise stays; one that was only proposed follows the lines.
  const follow = () => {
    const now = document.querySelector("[data-proposed]")?.dataset.proposed;
    if (now && promise.value === proposed) { promise.value = now; promise.dispatchEvent(new Event("input", { bubbles: true })); }
    proposed = now || proposed;
  };
  const reckon = () => htmx.ajax("POST", form.dataset.reckon, { source: form, target: "#reckoned", swap: "innerHTML" });
  let waits = 0;
  const later = () => { clearTimeout(waits); waits = setTimeout(reckon, 250); };
  form.querySelector("[data-reckons]").addEventListener("change", later);
  form.addEventListener("refilled", () => {
    reckon();
    const photos = document.getElementById("draft-photos");
    const key = form.querySelector('[name="job-draft_key"]').value;
    htmx.ajax("GET", `${photos.dataset.drafts}?draft_key=${encodeURIComponent(key)}`, { target: "#draft-photos", swap: "innerHTML" });
  });
  document.body.addEventListener("htmx:afterSwap", (event) => {
    if (event.detail.target.id === "reckoned") follow();
    if (event.detail.target.id === "draft-photos" && event.detail.requestConfig?.elt.matches("[data-photos]")) event.detail.requestConfig.elt.value = "";
  });
  // Photographs that were refused are answered with the reason, which is shown like any other answer.
  document.body.addEventListener("htmx:beforeSwap", (event) => {
    if (event.detail.xhr.status === 422) { event.detail.shouldSwap = true; event.detail.isError = false; }
  });
  // A scanner types its code and Enter into whichever field has the focus: Enter in a one-line field does not send.
  form.addEventListener("keydown", (event) => {
    if (event.key === "Enter" && event.target.tagName === "INPUT" && event.target.type !== "checkbox") event.preventDefault();
  });
}
