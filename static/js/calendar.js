// Moving a promise in the bench's calendar: dragged to a day, or with Alt and the arrows. Without script, "Move" does it.
const calendar = document.querySelector("[data-calendar]");
const sender = document.querySelector("[data-calendar-move]");
const STEPS = { ArrowLeft: -1, ArrowRight: 1, ArrowUp: -7, ArrowDown: 7 };
let held = null;

function send(number, day) {
  sender.elements.number.value = number;
  sender.elements.day.value = day;
  sender.requestSubmit();
}

document.addEventListener("dragstart", (event) => {
  held = event.target.closest?.("[data-job]");
  if (!held) return;
  event.dataTransfer.setData("text/plain", held.dataset.job);
  event.dataTransfer.effectAllowed = "move";
  held.classList.add("is-held");
});
document.addEventListener("dragend", () => { held?.classList.remove("is-held"); held = null; });
for (const day of calendar.querySelectorAll("[data-day]")) {
  day.addEventListener("dragover", (event) => { if (held && !("shut" in day.dataset)) { event.preventDefault(); day.classList.add("is-target"); } });
  day.addEventListener("dragleave", () => day.classList.remove("is-target"));
  day.addEventListener("drop", (event) => {
    event.preventDefault();
    day.classList.remove("is-target");
    if (held && held.dataset.at !== day.dataset.day) send(held.dataset.job, day.dataset.day);
  });
}
document.addEventListener("keydown", (event) => {
  const job = event.target.closest?.("[data-job]");
  if (!job || !event.altKey || !(event.key in STEPS)) return;
  event.preventDefault();
  const now = new Date();
  const start = job.dataset.at || [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((n) => String(n).padStart(2, "0")).join("-");
  const at = new Date(`${start}T12:00:00Z`), said = () => at.toISOString().slice(0, 10);
  at.setUTCDate(at.getUTCDate() + STEPS[event.key]);
  // Past the days on which no customer can come: they take no promise.
  while (calendar.querySelector(`[data-day="${said()}"][data-shut]`)) at.setUTCDate(at.getUTCDate() + Math.sign(STEPS[event.key]));
  send(job.dataset.job, said());
});
if (location.hash.startsWith("#o-")) document.getElementById(location.hash.slice(1))?.querySelector("a")?.focus();
