// A signature by finger or pen, kept as a small PNG in a hidden field. Nothing is sent unless something was drawn.
for (const pad of document.querySelectorAll("[data-signature]")) {
  pad.hidden = false;
  const canvas = pad.querySelector("canvas");
  const field = pad.querySelector("input[type=hidden]");
  const pen = canvas.getContext("2d");
  const clear = () => { pen.fillStyle = "#fff"; pen.fillRect(0, 0, canvas.width, canvas.height); field.value = ""; };
  const at = (event) => {
    const box = canvas.getBoundingClientRect();
    return [(event.clientX - box.left) * canvas.width / box.width, (event.clientY - box.top) * canvas.height / box.height];
  };
  if (field.value) {
    const kept = new Image();
    kept.onload = () => pen.drawImage(kept, 0, 0);
    kept.src = field.value;
  } else clear();
  pen.lineWidth = 4;
  pen.lineCap = pen.lineJoin = "round";
  pen.strokeStyle = "#1c1712";
  canvas.addEventListener("pointerdown", (event) => {
    canvas.setPointerCapture(event.pointerId);
    pen.beginPath();
    pen.moveTo(...at(event));
    event.preventDefault();
  });
  canvas.addEventListener("pointermove", (event) => {
    if (!canvas.hasPointerCapture(event.pointerId)) return;
    pen.lineTo(...at(event));
    pen.stroke();
  });
  const anew = pad.querySelector("[data-signature-anew]");
  canvas.addEventListener("pointerup", () => { field.value = canvas.toDataURL("image/png"); anew.hidden = true; });
  pad.querySelector("[data-signature-clear]").addEventListener("click", clear);
  // What was signed for is what is listed above: a list that changes takes the signature, and its tick, back.
  let named = document.querySelector("[data-named]").value;
  document.body.addEventListener("htmx:oobAfterSwap", () => {
    const now = document.querySelector("[data-named]").value;
    if (now === named) return;
    named = now;
    const isSeveral = Boolean(document.querySelector("#named ol"));
    const tick = document.querySelector('[name="terms-read"]');
    if (field.value || tick.checked && isSeveral) { clear(); tick.checked = false; anew.hidden = false; field.dispatchEvent(new Event("input", { bubbles: true })); }
  });
}
