/* The time at a step counts by itself: while its page is in view and somebody is at work on it. A pause of some minutes
   is work, as long as a hand comes back to the page; after a longer one a new stretch begins. What cannot be sent stays
   on this device under its own id, and is sent later; the server counts no id and no moment twice. */
(() => {
  "use strict";
  const page = document.querySelector("[data-time-address]");
  if (!page) return;
  const { store, queue } = window.bench;
  const IDLE = 5 * 60 * 1000;
  const EVERY = 20000;
  const PREFIX = "bench-span:";
  const memory = new Map();

  let span = null;
  let seen = 0; // when somebody was last at work

  const name = (one) => `${PREFIX}${one.id}`;

  function keep(one) {
    memory.set(name(one), one);
    try {
      localStorage.setItem(name(one), JSON.stringify(one));
    } catch {
      /* memory has it as long as the page stays */
    }
  }

  function drop(one) {
    memory.delete(name(one));
    try {
      localStorage.removeItem(name(one));
    } catch {
      /* nothing was kept there */
    }
  }

  function all() {
    const found = new Map(memory);
    try {
      for (let place = 0; place < localStorage.length; place += 1) {
        const key = localStorage.key(place);
        if (key.startsWith(PREFIX)) found.set(key, JSON.parse(localStorage.getItem(key)));
      }
    } catch {
      /* memory alone */
    }
    return [...found.values()];
  }

  /* Somebody is here: the stretch reaches until now, or a new one begins. */
  function mark() {
    const now = Date.now();
    if (document.hidden) return;
    if (!span || now - seen > IDLE || now < seen) {
      span = { id: store.newId(), sheet: page.dataset.sheet, address: page.dataset.timeAddress, began: now, ended: now,
        sent: 0 };
    }
    seen = now;
    span.ended = now;
  }

  function form(one) {
    const now = Date.now();
    const data = new FormData();
    data.append("client_id", one.id);
    data.append("began_ago", String(Math.max(now - one.began, 0)));
    data.append("ended_ago", String(Math.max(now - one.ended, 0)));
    return data;
  }

  function tell(body, one) {
    if (!body || body.step === undefined || one.sheet !== page.dataset.sheet) return;
    const step = document.querySelector("[data-time-step]");
    const sheet = document.querySelector("[data-time-sheet]");
    if (step && body.step && one.address === page.dataset.timeAddress) step.textContent = `${body.step} on this step`;
    if (sheet && body.sheet) sheet.textContent = ` · ${body.sheet} on the whole sheet`;
  }

  async function send(one) {
    const { ended } = one;
    const answer = await queue.send(one.address, () => form(one));
    if (answer === queue.SIGN_IN || answer.status === 403) return;
    if (answer.status === 200) tell(answer.body, one);
    if (span && one.id === span.id && answer.status === 200) span.sent = ended;
    else drop(one); // over, or refused for good
  }

  let sending = null;
  async function flush() {
    if (span && span.ended > span.sent && span.ended - span.began >= 1000) keep({ ...span });
    if (sending) return;
    sending = (async () => {
      for (const one of all()) {
        if (span && one.id === span.id && one.ended <= span.sent) continue;
        await send(one);
      }
    })().catch(() => {}).finally(() => {
      sending = null;
    });
    await sending;
  }

  for (const kind of ["pointerdown", "keydown", "input", "wheel", "touchmove"]) {
    document.addEventListener(kind, mark, { passive: true, capture: true });
  }
  document.addEventListener("visibilitychange", () => {
    if (!document.hidden) return mark();
    if (span && Date.now() - seen < IDLE) span.ended = Date.now();
    return flush();
  });
  window.addEventListener("pagehide", () => {
    if (span && Date.now() - seen < IDLE) span.ended = Date.now();
    flush();
  });
  window.addEventListener("online", flush);
  setInterval(flush, EVERY);

  window.bench.time = { flush, mark };
  mark();
  flush();
})();
