// Drags a line of the day's order by its grip; letting go sends the new order. Without this file the buttons do the same.
(() => {
  "use strict";
  const edge = 72, speed = 12; // px from the window's edge at which the page scrolls along, px a frame
  let line = null, before = [], y = 0, frame = 0, moved = null;
  const list = () => document.querySelector("[data-day-lines]");
  const ids = () => [...list().children].map((l) => l.dataset.id);

  // The lines around it are moved and never the dragged one: taken out of the page it would lose the finger.
  function place() {
    for (const other of [...list().children]) {
      if (other === line) continue;
      const box = other.getBoundingClientRect(), middle = box.top + box.height / 2;
      const above = Boolean(line.compareDocumentPosition(other) & Node.DOCUMENT_POSITION_PRECEDING);
      if (above && y < middle) while (line.previousElementSibling && line.nextElementSibling !== other) line.after(line.previousElementSibling);
      else if (!above && y > middle) while (line.nextElementSibling && line.previousElementSibling !== other) line.before(line.nextElementSibling);
    }
  }

  function along() {
    frame = requestAnimationFrame(along);
    const way = y < edge ? -speed : y > innerHeight - edge ? speed : 0;
    if (!way) return;
    scrollBy(0, way);
    place();
  }

  document.addEventListener("pointerdown", (e) => {
    const grip = e.target.closest(".day-grip");
    if (!grip || !list() || line || e.button) return;
    line = grip.closest(".day-line");
    before = ids();
    y = e.clientY;
    line.classList.add("dragged");
    grip.setPointerCapture(e.pointerId);
    frame = requestAnimationFrame(along);
    e.preventDefault();
  });

  document.addEventListener("pointermove", (e) => {
    if (!line) return;
    y = e.clientY;
    place();
  });

  function end(send) {
    if (!line) return;
    cancelAnimationFrame(frame);
    line.classList.remove("dragged");
    line = null;
    if (!list()) return;
    const now = ids();
    if (now.join() === before.join()) return;
    if (!send) {
      list().append(...before.map((id) => document.getElementById("line-" + id)));
      return;
    }
    const field = document.querySelector("[data-day-order]");
    field.value = now.join(" ");
    field.form.requestSubmit();
  }
  document.addEventListener("pointerup", () => end(true));
  document.addEventListener("pointercancel", () => end(false));
  document.addEventListener("keydown", (e) => { if (e.key === "Escape") end(false); });

  // By keyboard: the button that was pressed keeps the focus where its line went.
  document.addEventListener("submit", (e) => { moved = e.submitter?.name === "move" ? e.submitter.value : null; });
  document.addEventListener("ww:page", () => {
    if (moved) document.querySelector(`.day-moves button[value="${CSS.escape(moved)}"]`)?.focus();
    moved = null;
  });
})();
