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
  canvas.addEventListener("pointerup", () => { field.value = canvas.toDataURL("image/png"); });
  pad.querySelector("[data-signature-clear]").addEventListener("click", clear);
}
