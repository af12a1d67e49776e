/* Sends what is kept, one entry after another, and tries again with growing waits. An entry leaves the device only when
   the server has answered for its id; the same id never saves twice, so sending again is always safe. */
(() => {
  "use strict";
  const { store } = window.bench;
  const WAITS = [1000, 2000, 4000, 8000, 15000, 30000];
  const PATIENCE = 12000;
  const PATIENCE_WITH_PICTURES = 120000;

  const queue = {
    // From the beginning: what was kept of the page before is sent while the rest of this one is still being set up.
    token: document.querySelector("[data-sheet]")?.dataset.token || "",
    liveAddress: document.querySelector("[data-sheet]")?.dataset.liveAddress || "",
    sheet: null, unit: "", shown: "", saveAddress: "",
    running: null, failures: 0, answered: 0, timer: 0, trouble: "", // "", "away", "sign-in"
    onAnswer() {}, onState() {},
  };

  const SIGN_IN = Symbol("sign in");

  /* A request as a script makes it. Throws on a lost connection; gives SIGN_IN when the session is over. */
  async function ask(address, form, signal) {
    const stop = new AbortController();
    signal?.addEventListener("abort", () => stop.abort());
    const isLarge = Boolean(form) && [...form.values()].some((one) => one instanceof File);
    const clock = setTimeout(() => stop.abort(), isLarge ? PATIENCE_WITH_PICTURES : PATIENCE);
    try {
      const answer = await fetch(address, {
        method: form ? "POST" : "GET", body: form, credentials: "same-origin", redirect: "manual", cache: "no-store",
        headers: { Accept: "application/json", ...(form ? { "X-CSRFToken": queue.token } : {}) },
        signal: stop.signal, keepalive: Boolean(form) && !isLarge, // a request that outlives its page must be small
      });
      if (answer.type === "opaqueredirect" || answer.status === 401) return SIGN_IN;
      if (answer.status >= 500) throw new Error("The server could not answer.");
      const isJson = (answer.headers.get("Content-Type") || "").startsWith("application/json");
      const body = isJson ? await answer.json() : null;
      if (body && body.token) queue.token = body.token;
      return { status: answer.status, body };
    } finally {
      clearTimeout(clock);
    }
  }

  /* The same, once more with a fresh token when the first one had grown old: signing in again changes it. */
  async function send(address, makeForm, signal) {
    const first = await ask(address, makeForm(), signal);
    if (first === SIGN_IN || first.status !== 403) return first;
    const before = queue.token;
    const fresh = await ask(queue.liveAddress);
    if (fresh === SIGN_IN || queue.token === before) return fresh === SIGN_IN ? fresh : first;
    return ask(address, makeForm(), signal);
  }

  function formOf(entry) {
    const form = new FormData();
    const sent = { client_id: entry.id, stage: entry.stage, key: entry.key, string: entry.string ?? "",
      raw: entry.raw, gauge: entry.gauge || "", unit: entry.unit || "", basis: entry.basis ?? "" };
    for (const [name, value] of Object.entries(sent)) form.append(name, value);
    return form;
  }

  const pending = () => store.all(queue.sheet).filter((one) => one.stand === "kept");
  const ofPlace = (place) => store.all(queue.sheet).filter((one) => one.place === place);

  /* The entry that follows on an unanswered one takes its basis from that one's answer. */
  function handOn(entry, body) {
    const basis = body.basis ?? null;
    for (const later of ofPlace(entry.place)) {
      if (later.after) store.put({ ...later, after: false, basis });
    }
  }

  async function deliver(entry) {
    const tried = { ...entry, tries: (entry.tries || 0) + 1 };
    store.put(tried);
    queue.onState(tried, "saving");
    const answer = await send(queue.saveAddress.replace("/STEP/", `/${entry.step}/`), () => formOf(tried));
    if (answer === SIGN_IN) return SIGN_IN;
    queue.answered += 1;
    if (answer.body && answer.status === 200) {
      store.drop(tried);
      handOn(tried, answer.body);
    } else {
      const why = answer.body?.problem || REFUSED[answer.status] || "The server does not take this.";
      store.put({ ...tried, stand: "refused", why });
    }
    queue.onAnswer(tried, answer);
    return answer;
  }

  const REFUSED = {
    403: "You are signed in as somebody who may not write on worksheets.",
    404: "This worksheet has no such field any more.",
  };

  async function run() {
    clearTimeout(queue.timer);
    try {
      for (let next = pending()[0]; next; next = pending()[0]) {
        if ((await deliver(next)) === SIGN_IN) return rest("sign-in");
        queue.failures = 0;
      }
      queue.trouble = "";
    } catch {
      return rest("away");
    }
    return queue.onState(null, "");
  }

  /* Stop for now; everything stays kept. */
  function rest(trouble) {
    queue.trouble = trouble;
    const wait = WAITS[Math.min(queue.failures, WAITS.length - 1)];
    queue.failures += 1;
    queue.timer = setTimeout(flush, wait * (0.8 + Math.random() * 0.4));
    for (const entry of pending()) queue.onState(entry, "kept");
    return queue.onState(null, trouble);
  }

  function flush() {
    if (!queue.running) {
      queue.running = run().finally(() => {
        queue.running = null;
        if (!queue.trouble && pending().length) flush();
      });
    }
    return queue.running;
  }

  function hurry() {
    queue.failures = 0;
    flush();
  }

  window.addEventListener("online", hurry);
  document.addEventListener("visibilitychange", () => {
    if (!document.hidden) hurry();
  });

  Object.assign(queue, { flush, send, ask, pending, ofPlace, SIGN_IN });
  window.bench.queue = queue;
})();
