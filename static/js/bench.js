/* One step of a worksheet: brings fields, queue, pad and pieces together. */
(() => {
  "use strict";
  const page = document.querySelector("[data-sheet]");
  if (!page) return;
  const { store, queue, fields, live, pad } = window.bench;

  Object.assign(queue, {
    sheet: page.dataset.sheet, shown: page.dataset.step, unit: page.dataset.unit, token: page.dataset.token,
    saveAddress: page.dataset.saveAddress, liveAddress: page.dataset.liveAddress,
  });

  /* How everything stands, in one line that is read aloud when it changes. */
  function keeper() {
    const waiting = queue.pending().length;
    const many = waiting === 1 ? "1 reading is" : `${waiting} readings are`;
    const line = document.querySelector("[data-keeper]");
    const words = {
      "sign-in": `You have been signed out. ${waiting ? `${many} kept on this device.` : "Nothing is lost."}`,
      away: `No connection: ${many} kept on this device and sent when it is back.`,
    };
    const text = words[queue.trouble] || (store.isFull || !store.lasts
      ? "This browser keeps nothing by itself: stay on this page until everything is saved." : "");
    if (line.textContent !== text) line.textContent = text;
    document.querySelector("[data-keeper-box]").hidden = !text;
    document.querySelector("[data-sign-in]").hidden = queue.trouble !== "sign-in";
  }

  /* Said aloud once the verdict is there too. */
  const toSay = new Set();
  function announce() {
    const parts = [...toSay].map((place) => {
      const field = fields.cellAt(place);
      const words = { saved: "saved", unreadable: "cannot be read", rival: "two values: choose one", "": "empty" };
      const verdict = field?.querySelector("[data-verdict-word]")?.textContent;
      return field ? `${field.dataset.label}: ${words[field.dataset.state] ?? "kept here"}${verdict ? `, ${verdict}` : ""}.` : "";
    });
    toSay.clear();
    if (parts.length) document.querySelector("[data-announce]").textContent = parts.join(" ");
  }

  queue.onState = (entry, state) => {
    if (entry) fields.show(entry, state);
    keeper();
  };
  queue.onAnswer = (entry, answer) => {
    if (answer.body?.fields) fields.take(answer.body.fields);
    else fields.show({ ...entry, why: answer.body?.problem }, "refused");
    if (answer.status === 200) {
      toSay.add(entry.place);
      live.lookSoon();
    } else fields.restore();
    keeper();
  };

  /* The drawing follows the string in hand. */
  function show(string) {
    for (const one of page.querySelectorAll(".dg-one")) one.classList.toggle("is-shown", one.dataset.string === string);
    for (const button of page.querySelectorAll("[data-show-string]")) {
      button.setAttribute("aria-pressed", String(button.dataset.showString === string));
    }
  }
  let inView = "";
  const has = (string) => page.querySelector(`.dg-one[data-string="${string}"]`);
  document.addEventListener("bench:swapped", () => {
    if (inView && has(inView)) show(inView);
    setTimeout(announce);
  });

  /* The field in hand, for undo and history. */
  let hand = null;
  fields.inHand = () => hand && fields.cellAt(hand)?.querySelector("[data-reading]");
  const tools = page.querySelector("[data-tools]");
  page.addEventListener("focusin", (event) => {
    const cell = event.target.matches("[data-reading]") && fields.cellOf(event.target);
    if (!cell) return;
    hand = cell.dataset.place;
    if (event.target.select && event.target.type === "text" && event.target.matches("[data-figure]")) event.target.select();
    if (tools) {
      tools.querySelector("[data-in-hand]").textContent = cell.dataset.label;
      tools.querySelector("[data-hand-help]").textContent = cell.querySelector("[data-help]")?.textContent || "";
      tools.querySelector("[data-tool-says]").textContent = "";
    }
    if (cell.dataset.string && has(cell.dataset.string)) show((inView = cell.dataset.string));
  });
  page.addEventListener("click", (event) => {
    const string = event.target.closest("[data-show-string]");
    if (string) show((inView = string.dataset.showString));
    if (event.target.closest("[data-undo]")) undo();
    if (event.target.closest("[data-history]")) history();
    if (event.target.closest("[data-close]")) event.target.closest("dialog").close();
  });

  async function undo() {
    const cell = hand && fields.cellAt(hand);
    if (!cell) return tell("Put the cursor in a field first.");
    const unsent = queue.ofPlace(hand).filter((one) => !one.tries);
    if (unsent.length) {
      unsent.forEach(store.drop);
      fields.take({ [hand]: { state: cell.dataset.settled || "", value: cell.dataset.saved || "",
        basis: cell.dataset.basis || null, gauge: cell.dataset.gauge || "", undo: cell.dataset.newest || null } });
      return tell("What was not sent yet is gone from the field.");
    }
    const { newest } = cell.dataset;
    if (!newest) return tell("There is nothing to undo in this field.");
    const form = new FormData();
    form.append("reading", newest);
    const since = queue.answered;
    try {
      const answer = await queue.send(page.dataset.undoAddress, () => form);
      if (answer === queue.SIGN_IN) return queue.onState(null, (queue.trouble = "sign-in"));
      live.take(answer.body, since);
      return tell(answer.status === 200 ? "Undone." : answer.body?.problem || "That cannot be undone.");
    } catch {
      return tell("No connection: undo when it is back.");
    }
  }

  async function history() {
    const cell = hand && fields.cellAt(hand);
    if (!cell) return tell("Put the cursor in a field first.");
    const { stage, key, string } = cell.dataset;
    const dialog = document.querySelector("[data-history-box]");
    const body = dialog.querySelector("[data-history-body]");
    dialog.showModal();
    body.textContent = "Loading …";
    try {
      const asked = new URLSearchParams({ stage, key, string: string || "" });
      const answer = await fetch(`${page.dataset.historyAddress}?${asked}`, { redirect: "manual" });
      if (!answer.ok) throw new Error("not there");
      body.innerHTML = await answer.text();
    } catch {
      body.textContent = "The history cannot be shown without a connection.";
    }
    return null;
  }

  function tell(text) {
    const line = page.querySelector("[data-tool-says]");
    if (line) line.textContent = text;
  }

  const here = page.querySelector(".rail-step.is-here");
  const rail = here?.parentElement;
  if (rail) rail.scrollLeft = here.offsetLeft - (rail.clientWidth - here.clientWidth) / 2;

  pad.begin();
  fields.begin();
  fields.restore();
  keeper();
  live.begin(page);
  queue.flush();
})();
