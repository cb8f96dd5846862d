// What every drawing carries beside what it shows: the scale bar, and where it lies.

import { svg } from "./marks.js";

const STEPS = [0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500];
const HIGH = 26;
/** Sizes of the north point and margins of both, as the style sheet has them. */
const NORTH = [44, 64];
const MARGIN = 8;

/** A scale bar of four parts in round numbers, at most as wide as a part of the view. */
export function scaleBar(view, measures) {
  const per = view.scale / measures.per_m;
  const most = Math.min(180, view.width * 0.45);
  const step = STEPS.findLast((each) => each * 4 * per <= most) ?? STEPS[0];
  const d = step * per;
  const bar = svg("svg", { width: 4 * d + 40, height: HIGH, "aria-hidden": "true" });
  for (let k = 0; k < 4; k++) bar.append(svg("rect", { class: k % 2 ? "fine open" : "solid", x: 8 + k * d, y: 16, width: d, height: 6 }));
  for (const k of d > 24 ? [0, 1, 2, 3, 4] : [0, 2, 4]) {
    bar.append(svg("text", { class: "label small", x: 8 + k * d, y: 12 }, [`${measures.plain.format(k * step)}${k === 4 ? ` ${measures.unit}` : ""}`]));
  }
  return bar;
}

/** The boxes that scale bar and north point take on the sheet. */
export function furnitureBoxes(view, bar) {
  const wide = Number(bar.getAttribute("width"));
  return [
    [0, view.height - HIGH - MARGIN, wide + MARGIN, view.height],
    [view.width - NORTH[0], 0, view.width, NORTH[1]],
  ];
}
