// Draws a signature with a finger, a pen or a mouse, as strokes of an SVG
// path in a box of 600 × 200.
"use strict";

const longest = 60_000; // characters kept

// signing turns an svg into a pad that writes into a hidden field.
export function signing(pad, field, clear) {
  const path = pad.querySelector("path");
  pad.removeAttribute("hidden");
  clear.hidden = false;
  let last; // of the stroke being drawn
  const point = (e) => {
    const box = pad.getBoundingClientRect();
    return [Math.round(((e.clientX - box.left) / box.width) * 600), Math.round(((e.clientY - box.top) / box.height) * 200)]
      .map((n) => Math.max(0, n));
  };
  const draw = (letter, [x, y]) => {
    const text = (field.value + " " + letter + x + "," + y).trim();
    if (text.length > longest) return;
    field.value = text;
    path.setAttribute("d", text);
    last = [x, y];
  };
  pad.addEventListener("pointerdown", (e) => {
    pad.setPointerCapture(e.pointerId);
    draw("M", point(e));
    draw("L", last); // a dot, if nothing follows
    e.preventDefault();
  });
  pad.addEventListener("pointermove", (e) => {
    const at = point(e);
    if (last && Math.hypot(at[0] - last[0], at[1] - last[1]) >= 3) draw("L", at);
  });
  for (const end of ["pointerup", "pointercancel"]) pad.addEventListener(end, () => { last = undefined; });
  clear.addEventListener("click", () => {
    field.value = "";
    path.setAttribute("d", "");
  });
}
