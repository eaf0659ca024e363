// A finger moves a mark in a photo: the cross follows by as much as the finger slides, and the form posts the new place when it lets go.
(() => {
  "use strict";
  let drag = null;
  const inPicture = (svg, event) => {
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    return [point.x, point.y];
  };
  document.addEventListener("pointerdown", (event) => {
    const svg = event.target.closest?.("svg.placing");
    if (!svg || event.button || svg.classList.contains("busy")) return;
    const cross = svg.querySelector("[data-cross]");
    const [x, y] = inPicture(svg, event);
    const fresh = svg.dataset.placing === "new";
    const from = fresh ? [x, y] : cross.dataset.cross.split(" ").map(Number);
    drag = { svg, cross, start: [x, y], from, at: from, moved: fresh };
    cross.removeAttribute("visibility");
    cross.setAttribute("transform", `translate(${from[0]} ${from[1]})`);
    svg.setPointerCapture(event.pointerId);
    event.preventDefault();
  });
  document.addEventListener("pointermove", (event) => {
    if (!drag) return;
    const [x, y] = inPicture(drag.svg, event);
    const box = drag.svg.viewBox.baseVal;
    const within = (value, low, size) => Math.min(low + size - 1, Math.max(low, value));
    drag.at = [within(drag.from[0] + x - drag.start[0], box.x, box.width), within(drag.from[1] + y - drag.start[1], box.y, box.height)];
    drag.moved ||= Math.hypot(x - drag.start[0], y - drag.start[1]) > box.width / 200;
    drag.cross.setAttribute("transform", `translate(${drag.at[0]} ${drag.at[1]})`);
  });
  const end = (event) => {
    if (!drag) return;
    const { svg, at, moved } = drag;
    drag = null;
    if (event.type === "pointercancel" || !moved) return;
    const form = document.querySelector("form.placing-form");
    form.elements.x.value = at[0].toFixed(2);
    form.elements.y.value = at[1].toFixed(2);
    svg.classList.add("busy");
    form.requestSubmit();
  };
  document.addEventListener("pointerup", end);
  document.addEventListener("pointercancel", end);
})();
