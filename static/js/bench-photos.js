/* Photographs of a step: shown as they stand until the server has them, whichever step they were taken at. */
(() => {
  "use strict";
  const form = document.querySelector("[data-step-photos]");
  if (!form) return;
  const { queue, live } = window.bench;
  const page = document.querySelector("[data-sheet]");
  const place = document.querySelector("[data-waiting-photos]");
  const elsewhere = document.querySelector("[data-photos-elsewhere]");
  const REFUSED = {
    403: "You are signed in as somebody who may not add photographs here.",
    404: "This worksheet is not there any more.",
    413: "This photograph is larger than the server takes.",
  };
  const isHere = (one) => one.address === form.dataset.address;
  const isOfStep = (one) => Boolean(one.address);

  async function send(one, signal) {
    const since = queue.answered;
    const answer = await queue.send(one.address, () => {
      const body = new FormData();
      for (const [name, value] of Object.entries({ key: one.key, when: one.when, caption: one.caption })) body.append(name, value);
      body.append("photos", one.file, one.name);
      return body;
    }, signal);
    if (answer === queue.SIGN_IN) {
      queue.onState(null, (queue.trouble = "sign-in"));
      return "later";
    }
    one.mayComeRight = answer.status !== 422; // with somebody else signed in, or another day
    if (answer.status !== 200) return answer.body?.problem || REFUSED[answer.status] || "The server does not take this photograph.";
    if (isHere(one)) live.take(answer.body, since);
    return "kept";
  }

  function tile(one) {
    const row = document.createElement("li");
    const figure = document.createElement("figure");
    const words = document.createElement("figcaption");
    const button = document.createElement("button");
    words.append(one.caption, ...(one.caption ? [document.createElement("br")] : []), sender.words(one));
    if (one.why) words.append(KeptPhotos.problem(one.why));
    figure.append(KeptPhotos.picture(URL.createObjectURL(one.file), `${one.caption || "Photograph"}, not yet saved`), words);
    Object.assign(button, { type: "button", className: "btn btn-quiet", textContent: "Remove" });
    button.setAttribute("aria-label", `Remove the photograph ${one.caption || one.name}, which is not saved yet`);
    button.addEventListener("click", () => sender.remove(one.key));
    row.append(figure, button);
    return row;
  }

  function linkTo([address, many]) {
    const link = document.createElement("a");
    link.href = `${many[0].page}#photos`;
    link.textContent = `${many[0].title} (${many.length})`;
    link.dataset.of = address;
    return link;
  }

  let shows = "";
  function draw() {
    const all = KeptPhotos.known().filter(isOfStep).sort((one, other) => one.at - other.at);
    const now = all.map((one) => `${one.key} ${one.why || sender.words(one)}`).join();
    if (now === shows) return;
    shows = now;
    place.replaceChildren(...all.filter(isHere).map(tile));
    const others = new Map();
    for (const one of all.filter((one) => !isHere(one))) others.set(one.address, [...(others.get(one.address) || []), one]);
    elsewhere.hidden = !others.size;
    elsewhere.replaceChildren("Kept on this device and not yet saved, of other steps: ", ...[...others].flatMap((one, at) => [at ? ", " : "", linkTo(one)]), ".");
  }

  const onRefused = (one, why) => KeptPhotos.put({ ...one, why });
  const sender = PhotoSender({ isMine: isOfStep, send, onKept() {}, onRefused, draw });

  form.addEventListener("change", (event) => {
    const field = event.target;
    if (field.type !== "file" || !field.files.length) return;
    const about = { address: form.dataset.address, page: location.pathname, title: page.dataset.title };
    sender.take([...field.files], { ...about, when: form.elements.when.value, caption: form.elements.caption.value.trim() });
    form.reset();
  });
  KeptPhotos.all().then(async (all) => {
    for (const one of all.filter((one) => one.why && one.mayComeRight)) await KeptPhotos.put({ ...one, why: "" });
    draw();
    sender.sendAll();
  });
})();
