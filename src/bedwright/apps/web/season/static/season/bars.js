// The chart of beds and weeks: arrow keys walk from bar to bar, a bar pulled sideways changes its week.

import { markCurrent, whenFailed, whenShown } from "./panel.js";
import { pulling } from "./pulling.js";

const chart = document.querySelector(".occupancy");

/** Have the plan laid out for trying before the first bar is pulled. */
function prepare() {
  const form = document.querySelector("form[data-ready]");
  if (form) fetch(form.dataset.ready, { method: "POST", headers: { "X-CSRFToken": form.elements.csrfmiddlewaretoken.value } }).catch(() => {});
}

/** One stop for the Tab key; left and right follow time, up and down go to the nearest bar of another lane. */
function walking() {
  const links = [...chart.querySelectorAll(".bar-link")];
  const stop = (link) => links.forEach((each) => each.setAttribute("tabindex", each === link ? "0" : "-1"));
  if (links.length) stop(links[0]);
  chart.addEventListener("focusin", (event) => {
    const link = event.target.closest(".bar-link");
    if (link) stop(link);
  });
  chart.addEventListener("keydown", (event) => {
    const k = links.indexOf(event.target.closest?.(".bar-link"));
    if (k < 0) return;
    const to = { ArrowRight: links[k + 1], ArrowLeft: links[k - 1], Home: links[0], End: links.at(-1), ArrowDown: lane(links, k, 1), ArrowUp: lane(links, k, -1) }[event.key];
    if (!to) return;
    event.preventDefault();
    to.focus();
    to.scrollIntoView({ block: "nearest", inline: "nearest" });
  });
}

function lane(links, k, way) {
  const box = (link) => link.querySelector(".block").getBBox();
  const here = box(links[k]);
  const others = links.map((link) => [link, box(link)]).filter(([, { y }]) => (y - here.y) * way > 1);
  const next = Math.min(...others.map(([, { y }]) => Math.abs(y - here.y)));
  const inLane = others.filter(([, { y }]) => Math.abs(Math.abs(y - here.y) - next) < 1);
  inLane.sort((a, b) => Math.abs(a[1].x - here.x) - Math.abs(b[1].x - here.x));
  return inLane[0]?.[0];
}

if (chart) {
  walking();
  if (chart.dataset.mayMove) pulling(chart, Number(chart.dataset.dayPx));
  prepare();
  whenFailed(() => { for (const link of chart.querySelectorAll(".bar-link:not(.tried)")) link.removeAttribute("transform"); });
  whenShown((code, { trial, kept }) => {
    markCurrent(chart, code);
    if (kept) return;
    const changed = new Set(trial ? trial.changed : []);
    for (const link of chart.querySelectorAll(".bar-link")) {
      link.classList.toggle("tried", changed.has(link.dataset.code));
      if (!trial || link.dataset.code !== code) link.removeAttribute("transform");
    }
  });
}
