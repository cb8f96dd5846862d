// A bar pulled sideways: whole weeks, then the panel's numbers are sent.

import { show } from "./panel.js";

const SLIP_PX = 4;
const DAY_MS = 86400000;

export function pulling(chart, dayPx) {
  let held = null;
  chart.addEventListener("pointerdown", (event) => {
    const link = event.target.closest?.(".bar-link");
    // A finger scrolls the chart; the numbers beside it move a bar without pulling.
    if (!link || event.button !== 0 || event.pointerType === "touch") return;
    held = { link, from: event.clientX, weeks: 0, pulled: false };
  });
  window.addEventListener("pointermove", (event) => {
    if (!held) return;
    const by = event.clientX - held.from;
    if (!held.pulled && Math.abs(by) < SLIP_PX) return;
    held.pulled = true;
    held.weeks = Math.round(by / dayPx / 7);
    held.link.setAttribute("transform", `translate(${held.weeks * 7 * dayPx} 0)`);
    held.link.classList.add("pulled");
  });
  const drop = (send) => {
    const act = held;
    held = null;
    if (!act?.pulled) return;
    act.link.classList.remove("pulled");
    // The click that ends a pull must not choose the bar as well.
    const stop = (click) => { click.preventDefault(); click.stopPropagation(); };
    window.addEventListener("click", stop, { capture: true, once: true });
    setTimeout(() => window.removeEventListener("click", stop, { capture: true }), 0);
    if (send && act.weeks) moveBy(act.link, act.weeks);
    else act.link.removeAttribute("transform");
  };
  window.addEventListener("pointerup", () => drop(true));
  window.addEventListener("pointercancel", () => drop(false));
  chart.addEventListener("dragstart", (event) => event.preventDefault());
}

async function moveBy(link, weeks) {
  const panel = await show(link.getAttribute("href"));
  const form = panel?.querySelector("form[data-move]");
  if (!form) return link.removeAttribute("transform");
  const day = new Date(Date.parse(link.dataset.from) + weeks * 7 * DAY_MS);
  form.elements.day.value = day.toISOString().slice(0, 10);
  form.requestSubmit();
}
