// Drag the gate on the map; the buttons beside it do the same in steps.
"use strict";

(() => {
  let held = null; // { frame, svg, mark, dx, dy } while the mark is dragged

  const inPicture = (svg, event) => new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());

  const between = (a, b, share) => (Number(a) + (Number(b) - Number(a)) * share).toFixed(6);

  document.addEventListener("pointerdown", (event) => {
    const mark = event.target.closest("[data-drag] .map-yard");
    if (!mark) return;
    const svg = mark.ownerSVGElement;
    held = { frame: mark.closest("[data-drag]"), svg, mark, from: inPicture(svg, event) };
    mark.setPointerCapture(event.pointerId);
    event.preventDefault();
  });

  document.addEventListener("pointermove", (event) => {
    if (!held) return;
    const at = inPicture(held.svg, event);
    held.mark.setAttribute("transform", `translate(${at.x - held.from.x} ${at.y - held.from.y})`);
  });

  document.addEventListener("pointerup", (event) => {
    if (!held) return;
    const { frame, svg, mark, from } = held;
    held = null;
    const at = inPicture(svg, event);
    if (Math.hypot(at.x - from.x, at.y - from.y) < 2) return;
    const spot = mark.querySelector("circle");
    const x = (Number(spot.getAttribute("cx")) + at.x - from.x) / svg.viewBox.baseVal.width;
    const y = (Number(spot.getAttribute("cy")) + at.y - from.y) / svg.viewBox.baseVal.height;
    const { west, east, north, south } = frame.dataset;
    document.getElementById("f-lon").value = between(west, east, x);
    document.getElementById("f-lat").value = between(north, south, y);
    document.getElementById("do-look").click();
  });

  document.addEventListener("pointercancel", () => {
    held?.mark.removeAttribute("transform");
    held = null;
  });
})();
