/* Swaps in what the server says without touching the fields, sends the small forms, looks for others' changes. */
(() => {
  "use strict";
  const { queue, fields } = window.bench;
  const EVERY = 10000;
  let stamp = "";

  /* Put each piece in its place. Something that is being written in, or that an entry opened, stays as it is. */
  function swap(pieces) {
    for (const [name, html] of Object.entries(pieces)) {
      const holder = document.querySelector(`[data-piece="${CSS.escape(name)}"]`);
      if (!holder || isBusy(holder)) continue;
      const open = [...holder.querySelectorAll("details[open][id]")].map((one) => one.id);
      const back = holder.contains(document.activeElement) ? document.activeElement.id : "";
      const template = document.createElement("template");
      template.innerHTML = html;
      holder.replaceChildren(template.content);
      for (const id of open) document.getElementById(id)?.setAttribute("open", "");
      if (back) document.getElementById(back)?.focus();
    }
    document.dispatchEvent(new CustomEvent("bench:swapped"));
  }

  function isBusy(holder) {
    return [...holder.querySelectorAll("textarea, input[type=text]")].some(
      (one) => one.value !== one.defaultValue || one === document.activeElement,
    );
  }

  /* `since` is how many readings had been answered when this was asked for: what is older than the page is let go. */
  function take(body, since = queue.answered) {
    if (!body) return;
    if (since !== queue.answered || queue.running) {
      lookSoon();
      return;
    }
    if (body.pieces) swap(body.pieces);
    if (body.fields) fields.take(body.fields);
    if (body.stamp) stamp = body.stamp;
  }

  /* Small forms: what is unsent goes first, so that a decision never overtakes the readings that it rests on. */
  async function submit(form, button) {
    const says = form.querySelector("[data-form-says]");
    const tell = (text) => {
      if (says) {
        says.textContent = text;
        says.hidden = !text;
      }
    };
    tell(form.dataset.busy || "");
    await queue.flush();
    if (queue.pending().length) return tell("Not now: readings wait on this device. Try again when they are saved.");
    if (!form.matches("[data-live]")) return plain(form, button);
    const since = queue.answered;
    try {
      const answer = await queue.send(form.action, () => new FormData(form, button));
      if (answer === queue.SIGN_IN) return tell("You have been signed out. Sign in again; nothing here is lost.");
      if (answer.status === 200) form.reset();
      take(answer.body, since);
      return tell(answer.status === 200 ? "" : answer.body?.problem || "The server does not take this.");
    } catch {
      return tell("No connection. Try again when it is back; what you wrote stays here.");
    }
  }

  function plain(form, button) {
    form.dataset.cleared = "yes";
    const token = form.querySelector("[name=csrfmiddlewaretoken]");
    if (token) token.value = queue.token;
    setTimeout(() => form.requestSubmit(button)); // not while the first submission is still being told of
  }

  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (!form.matches("[data-live], [data-after-saving]") || form.dataset.cleared) return;
    event.preventDefault();
    submit(form, event.submitter);
  });

  /* One at a time: an answer that was overtaken would put back what the later one had brought. */
  let looking = null;
  async function look() {
    while (looking) await looking;
    if (document.hidden || queue.running || queue.trouble === "sign-in") return;
    looking = lookNow().finally(() => {
      looking = null;
    });
    await looking;
  }

  async function lookNow() {
    const since = queue.answered;
    try {
      const answer = await queue.ask(`${queue.liveAddress}?since=${encodeURIComponent(stamp)}`);
      if (answer === queue.SIGN_IN) {
        queue.trouble = "sign-in";
        queue.onState(null, "sign-in");
      } else if (answer.status === 200) take(answer.body, since);
    } catch {
      /* the next reading says so, should the connection stay away */
    }
  }

  /* After a reading: what it means, as soon as the hand rests for a moment. */
  let soon = 0;
  function lookSoon() {
    clearTimeout(soon);
    soon = setTimeout(async () => {
      await queue.running;
      look();
    }, 120);
  }

  function begin(page) {
    stamp = page.dataset.stamp;
    setInterval(look, EVERY);
  }

  window.bench.live = { take, begin, look, lookSoon };
})();
