// Drags a line of the day's order by its grip; letting go sends the new order. Without this file the buttons do the same.
(() => {
  "use strict";
  let line = null;
  const list = () => document.querySelector("[data-day-lines]");

  document.addEventListener("pointerdown", (e) => {
    const grip = e.target.closest(".day-grip");
    if (!grip || !list()) return;
    line = grip.closest(".day-line");
    line.classList.add("dragged");
    grip.setPointerCapture(e.pointerId);
    e.preventDefault();
  });

  document.addEventListener("pointermove", (e) => {
    if (!line) return;
    for (const other of list().children) {
      if (other === line) continue;
      const box = other.getBoundingClientRect();
      if (e.clientY < box.top || e.clientY > box.bottom) continue;
      list().insertBefore(line, e.clientY < box.top + box.height / 2 ? other : other.nextSibling);
      break;
    }
  });

  const end = (send) => {
    if (!line) return;
    line.classList.remove("dragged");
    line = null;
    if (!send) return;
    const field = document.querySelector("[data-day-order]");
    field.value = [...list().children].map((l) => l.dataset.id).join(" ");
    field.form.requestSubmit();
  };
  document.addEventListener("pointerup", () => end(true));
  document.addEventListener("pointercancel", () => end(false));
})();
