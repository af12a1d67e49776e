/* The fields of a step: keep every keystroke, say in words how each stands, move on with Enter. */
(() => {
  "use strict";
  const { store, queue } = window.bench;
  const WORDS = {
    "": "", typing: "typing", saving: "saving", saved: "saved", kept: "kept here, not yet saved",
    unreadable: "cannot be read", rival: "two values", refused: "kept here, not taken",
  };
  const OLD = 20000; // a draft of another tab that has not moved for so long has been left behind

  const cellOf = (node) => node.closest("[data-place]");
  const cellAt = (place) => document.querySelector(`[data-place="${CSS.escape(place)}"]`);
  const inputsOf = (cell) => [...cell.querySelectorAll("[data-reading]")];
  const gaugeOf = (cell) => cell.closest("[data-group]")?.querySelector("select[data-gauge]")?.value || "";

  function valueOf(cell) {
    const [first, ...others] = inputsOf(cell);
    if (first.type !== "radio") return first.value;
    return [first, ...others].find((one) => one.checked)?.value ?? "";
  }

  function setValue(cell, value) {
    for (const input of inputsOf(cell)) {
      if (input.type === "radio") input.checked = input.value === value;
      else if (input.value !== value) {
        const whole = document.activeElement === input && input.selectionEnd - input.selectionStart === input.value.length;
        input.value = value;
        if (whole) input.select();
      }
    }
  }

  function say(cell, state, problem) {
    cell.dataset.state = state;
    const word = cell.querySelector("[data-state-word]");
    if (word) word.textContent = WORDS[state];
    const line = cell.querySelector("[data-kept-problem]");
    if (line) {
      line.textContent = problem || "";
      line.hidden = !problem;
    }
    for (const input of inputsOf(cell)) input.setAttribute("aria-invalid", String(state === "unreadable"));
    tellProblems();
  }

  /* What cannot be read is said under its row, where there is room: the columns of a row are narrow. */
  function tellProblems() {
    for (const line of document.querySelectorAll("[data-group-problems]")) {
      const cells = [...line.closest("[data-group]").querySelectorAll("[data-place]")];
      line.textContent = cells.map((cell) => {
        const said = [...cell.querySelectorAll(".cell-problem")].find((one) => !one.hidden && one.textContent);
        return said ? `String ${cell.dataset.string}: ${said.textContent}` : "";
      }).filter(Boolean).join("\n");
    }
  }
  document.addEventListener("bench:swapped", tellProblems);

  /* The draft of a cell: the entry that is being typed, or a kept one that was never sent and may still be changed. */
  function draftOf(cell) {
    const mine = queue.ofPlace(cell.dataset.place);
    const open = mine.filter((one) => (one.stand === "typing" || one.stand === "kept" || one.stand === "refused"));
    const last = open.at(-1);
    if (last && !last.tries) return last;
    return {
      id: store.newId(), sheet: queue.sheet, step: queue.shown, place: cell.dataset.place, stage: cell.dataset.stage,
      key: cell.dataset.key, string: cell.dataset.string ? Number(cell.dataset.string) : null,
      basis: last ? null : cell.dataset.basis ? Number(cell.dataset.basis) : null, after: Boolean(last),
      at: Date.now(), tries: 0, tab: store.tab,
    };
  }

  function keep(cell, stand) {
    for (const old of queue.ofPlace(cell.dataset.place)) if (old.stand === "refused") store.drop(old);
    const entry = { ...draftOf(cell), raw: valueOf(cell), gauge: gaugeOf(cell), unit: queue.unit, stand, moved: Date.now() };
    store.put(entry);
    say(cell, stand === "typing" ? "typing" : queue.trouble ? "kept" : "saving");
  }

  function commit(cell) {
    const drafts = queue.ofPlace(cell.dataset.place).filter((one) => one.stand === "typing");
    const changedGauge = cell.dataset.gauge && gaugeOf(cell) && cell.dataset.gauge !== gaugeOf(cell);
    if (!drafts.length) return;
    if (valueOf(cell) === cell.dataset.saved && !changedGauge && queue.ofPlace(cell.dataset.place).length === 1) {
      store.drop(drafts[0]);
      say(cell, cell.dataset.settled || "");
      return;
    }
    keep(cell, "kept");
    queue.flush();
  }

  /* What the server says about every field of the page; a field with something unsent keeps what was typed. */
  function take(fields) {
    for (const [place, one] of Object.entries(fields)) {
      const cell = cellAt(place);
      if (!cell) continue;
      Object.assign(cell.dataset, { settled: one.state, saved: one.value, gauge: one.gauge, newest: one.undo ?? "" });
      if (queue.ofPlace(place).length) continue;
      cell.dataset.basis = one.basis ?? "";
      setValue(cell, one.value);
      say(cell, one.state, one.problem);
    }
  }

  function show(entry, state) {
    const cell = entry && cellAt(entry.place);
    if (cell) say(cell, state, entry.why);
  }

  /* After a reload or a closed lid: what was not saved yet comes back into its field, and is sent. */
  function restore() {
    for (const entry of store.all(queue.sheet)) {
      const left = entry.tab === store.tab || Date.now() - (entry.moved || entry.at) > OLD;
      if (entry.stand === "typing" && left) store.put({ ...entry, stand: "kept" });
      const cell = cellAt(entry.place);
      if (!cell || entry.step !== queue.shown || (entry.stand === "typing" && !left)) continue;
      setValue(cell, entry.raw);
      say(cell, entry.stand === "refused" ? "refused" : "kept", entry.why);
    }
  }

  /* Enter: the next field, one stop a cell; after the last one, the step's own next action. */
  function stops() {
    return [...document.querySelectorAll("[data-place]")].map((cell) => {
      const inputs = inputsOf(cell).filter((one) => !one.disabled);
      return inputs.find((one) => one.checked) || inputs[0];
    }).filter(Boolean);
  }

  function moveOn(from, back) {
    const all = stops();
    const here = all.findIndex((one) => cellOf(one) === cellOf(from));
    const next = all[here + (back ? -1 : 1)] || (back ? from : document.querySelector("[data-after-fields]"));
    if (!next) return;
    next.focus();
    if (next.select && next.type !== "radio") next.select();
    next.scrollIntoView({ block: "nearest" });
  }

  document.addEventListener("input", (event) => {
    const cell = event.target.matches("[data-reading]") && cellOf(event.target);
    if (cell && event.target.type !== "radio") keep(cell, "typing");
  });
  document.addEventListener("change", (event) => {
    const cell = event.target.matches("[data-reading]") && cellOf(event.target);
    if (!cell) return;
    if (event.target.type === "radio") {
      keep(cell, "kept");
      queue.flush();
    } else commit(cell);
  });
  document.addEventListener("focusout", (event) => {
    if (event.target.matches("[data-reading]")) commit(cellOf(event.target));
  });
  document.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || !event.target.matches("[data-reading]") || event.isComposing) return;
    event.preventDefault();
    if (event.target.type !== "radio") {
      // The same figure read again with another gauge is a new reading too.
      const cell = cellOf(event.target);
      if (cell.dataset.gauge && gaugeOf(cell) && cell.dataset.gauge !== gaugeOf(cell)) keep(cell, "typing");
      commit(cell);
    }
    moveOn(event.target, event.shiftKey);
  });
  document.addEventListener("click", (event) => {
    const button = event.target.closest("[data-all]");
    if (!button) return;
    for (const cell of button.closest("[data-group]").querySelectorAll("[data-place]")) {
      if (valueOf(cell)) continue;
      setValue(cell, button.dataset.all);
      keep(cell, "kept");
    }
    queue.flush();
  });
  window.addEventListener("pagehide", () => {
    for (const entry of store.all(queue.sheet)) {
      if (entry.stand === "typing" && entry.tab === store.tab) store.put({ ...entry, stand: "kept" });
    }
    queue.flush();
  });

  /* What each field held when the page was made is what it goes back to. */
  function begin() {
    for (const cell of document.querySelectorAll("[data-place]")) {
      Object.assign(cell.dataset, { settled: cell.dataset.state || "", saved: valueOf(cell) });
    }
  }

  window.bench.fields = { begin, take, show, restore, moveOn, cellOf, cellAt, valueOf };
})();
