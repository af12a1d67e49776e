// Marks on the drawing of an instrument. A tap fills in the next blank row of [data-marks] (or adds one) and asks what
// is there; choosing a place from the list puts the dot there. The rows are what is sent; dots only show them.
const SVG = "http://www.w3.org/2000/svg";
const wakeMarks = (marks) => {
  const rows = () => [...marks.querySelectorAll("[data-row]")];
  const field = (row, name) => row.querySelector(`[name$="-${name}"]`);
  const drawings = [...marks.querySelectorAll("[data-outline]")];
  const turned = (side) => drawings.find((one) => one.dataset.outline === side)?.dataset.turned === "yes";
  const again = [...marks.querySelectorAll("[data-mark-again]")]; // marks of an earlier visit, to be taken over
  const first = Number(marks.dataset.marks) || 0; // how many marks are drawn already

  const dot = (drawing, number, x, y) => {
    const group = document.createElementNS(SVG, "g");
    group.setAttribute("class", "ol-mark is-new");
    const circle = document.createElementNS(SVG, "circle");
    const text = document.createElementNS(SVG, "text");
    for (const [name, value] of [["cx", x], ["cy", y], ["r", 12]]) circle.setAttribute(name, value);
    for (const [name, value] of [["x", x], ["y", y], ["dy", 4.6], ["text-anchor", "middle"]]) text.setAttribute(name, value);
    text.textContent = number;
    group.append(circle, text);
    drawing.querySelector("[data-dots]").append(group);
  };
  const placeOf = (row) => {
    const option = field(row, "place").selectedOptions[0];
    if (!option?.dataset.x) return null;
    const x = Number(option.dataset.x);
    return [turned(field(row, "side").value) ? 1 - x : x, Number(option.dataset.y)];
  };
  const draw = () => {
    for (const drawing of drawings) drawing.querySelector("[data-dots]").replaceChildren();
    let number = first;
    for (const row of rows()) {
      const tapped = field(row, "x").value !== "" ? [Number(field(row, "x").value), Number(field(row, "y").value)] : null;
      const at = tapped || placeOf(row);
      if (!at) continue;
      number += 1;
      const drawing = drawings.find((one) => one.dataset.outline === field(row, "side").value);
      if (drawing) dot(drawing, number, at[0] * 200, at[1] * 600);
    }
    for (const before of again) before.hidden = rows().some((row) => ["side", "x", "y"].every((name) => field(row, name).value === before.dataset[name]));
  };
  // The place of the list that is nearest to a tap: the drawing is three times as high as wide.
  const nearest = (row, side, x, y) => {
    const front = turned(side) ? 1 - x : x;
    const far = (one) => (one.dataset.x - front) ** 2 + (3 * (one.dataset.y - y)) ** 2;
    return [...field(row, "place").options].filter((one) => one.dataset.x).sort((a, b) => far(a) - far(b))[0]?.value || "";
  };
  const blank = (row) => !["note", "place", "x", "photo"].some((name) => field(row, name)?.value);

  // A new mark in the next blank row, or in one more; its note is asked for.
  const put = (side, x, y, note) => {
    const list = marks.querySelector("[data-rows]");
    const row = rows().find(blank) || (list ? Rows.add(list.dataset.rows) : rows()[0]);
    const values = { side, x, y, place: nearest(row, side, Number(x), Number(y)), ...(note && { note }) };
    for (const [name, value] of Object.entries(values)) field(row, name).value = value;
    draw();
    field(row, "note").focus();
    field(row, "note").dispatchEvent(new Event("input", { bubbles: true }));
  };

  for (const before of again) {
    const { side, x, y, note } = before.dataset;
    before.addEventListener("click", () => put(side, x, y, note));
  }
  for (const drawing of drawings) {
    drawing.classList.add("is-tappable");
    drawing.addEventListener("click", (event) => {
      const box = drawing.getBoundingClientRect();
      const scale = Math.min(box.width / 200, box.height / 600);
      const x = (event.clientX - box.left - (box.width - 200 * scale) / 2) / (200 * scale);
      const y = (event.clientY - box.top - (box.height - 600 * scale) / 2) / (600 * scale);
      if (x < 0 || x > 1 || y < 0 || y > 1) return;
      put(drawing.dataset.outline, x.toFixed(4), y.toFixed(4));
    });
  }
  marks.addEventListener("change", (event) => {
    const row = event.target.closest("[data-row]");
    if (row && event.isTrusted && /-(place|side)$/.test(event.target.name || "")) field(row, "x").value = field(row, "y").value = "";
    draw();
  });
  // On a form where kind and hand are still chosen, the drawing follows them.
  marks.closest("[data-piece]")?.addEventListener("change", (event) => {
    if (/instrument-kind$/.test(event.target.name || "")) {
      const known = marks.querySelector(`[data-kind-shapes="${event.target.value}"]`);
      if (known) marks.querySelectorAll("[data-kind-shapes]").forEach((one) => { one.toggleAttribute("hidden", one.dataset.kindShapes !== event.target.value); });
    }
    if (/-hand$/.test(event.target.name || "")) {
      for (const drawing of drawings) {
        const turn = (drawing.dataset.outline === "back") !== (event.target.value === "left");
        drawing.dataset.turned = turn ? "yes" : "no";
        const shapes = drawing.querySelector("[data-turns]");
        if (turn) shapes.setAttribute("transform", "translate(200 0) scale(-1 1)");
        else shapes.removeAttribute("transform");
      }
      draw();
    }
  });
  draw();
};
document.querySelectorAll("[data-marks]").forEach(wakeMarks);
document.addEventListener("piece", (event) => event.detail.querySelectorAll("[data-marks]").forEach(wakeMarks));
