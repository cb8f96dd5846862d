// Hours of sun as a layer: hatched the closer the fewer the hours, with lines of equal hours and
// their number, so that it reads in black and white. It follows what is being drawn.

import { svg } from "./marks.js";
import { ringsBelow } from "./isolines.js";

/** Hours below which another hatch is laid over; steps of our own. */
export const STEPS_H = [8, 6, 4, 2];
const LINES_H = [2, 4, 6, 8, 10, 12];

export class Sun extends EventTarget {
  constructor(layer, ask) {
    super();
    this.layer = layer;
    this.ask = ask;
    this.shown = false;
    this.month = 6;
    this.answer = null;
    this.busy = false;
    this.wanted = false;
    layer.append(svg("defs", {}, STEPS_H.map((_, k) => hatch(k))));
    this.marks = svg("g");
    layer.append(this.marks);
  }

  /** Ask for the sun of what is drawn now. While one question is open the newest waits, older ones are dropped. */
  async refresh() {
    if (!this.shown) return;
    this.wanted = true;
    if (this.busy) return;
    this.busy = true;
    while (this.wanted && this.shown) {
      this.wanted = false;
      const began = performance.now();
      try {
        const answer = await this.ask(this.month);
        if (answer) {
          this.answer = { ...answer, rings: ringsOf(answer) };
          this.dispatchEvent(new CustomEvent("sun", { detail: { took_ms: performance.now() - began } }));
        }
      } catch (error) {
        this.dispatchEvent(new CustomEvent("fault", { detail: error }));
      }
    }
    this.busy = false;
  }

  at([e, n]) {
    const a = this.answer;
    if (!a || !this.shown) return null;
    const i = Math.floor((e - a.west_m) / a.cell_m), j = Math.floor((n - a.south_m) / a.cell_m);
    return i < 0 || j < 0 || i >= a.n_east || j >= a.n_north ? null : a.tenths_h[j * a.n_east + i] / 10;
  }

  bed(code) {
    return this.shown ? this.answer?.bed_sun_h[code] ?? null : null;
  }

  draw(view, hours) {
    this.layer.classList.toggle("off", !this.shown);
    if (!this.shown || !this.answer) return this.marks.replaceChildren();
    const { west_m, south_m, cell_m, rings } = this.answer;
    const place = ([i, j]) => [view.x(west_m + (i + 0.5) * cell_m), view.y(south_m + (j + 0.5) * cell_m)];
    const nodes = [];
    STEPS_H.forEach((level, k) => {
      nodes.push(svg("path", { class: "hatched", fill: `url(#hatch-${k})`, "fill-rule": "evenodd", d: outline(rings.get(level), place) }));
    });
    const taken = [];
    for (const level of LINES_H) {
      const found = rings.get(level);
      if (!found?.length) continue;
      nodes.push(svg("path", { class: "isoline", d: outline(found, place) }));
      for (const ring of found) nodes.push(...numbers(ring, place, hours(level), taken, view));
    }
    this.marks.replaceChildren(...nodes);
  }
}

const outline = (rings, place) => (rings ?? []).map((ring) =>
  `M${ring.map((p) => { const [x, y] = place(p); return `${x.toFixed(1)} ${y.toFixed(1)}`; }).join("L")}Z`).join("");

function ringsOf(answer) {
  const values = answer.tenths_h;
  const most = Math.max(...values);
  const rings = new Map();
  // A hair off the tenth, so that no cell lies exactly on a line.
  for (const level of LINES_H) {
    if (level * 10 < most) rings.set(level, ringsBelow(values, answer.n_east, answer.n_north, level * 10 - 0.05));
    else if (STEPS_H.includes(level)) rings.set(level, [frame(answer)]);
  }
  return rings;
}

const frame = ({ n_east, n_north }) => [[-0.5, -0.5], [n_east - 0.5, -0.5], [n_east - 0.5, n_north - 0.5], [-0.5, n_north - 0.5]];

/** The number of a line, where there is room and the line is long enough. */
function numbers(ring, place, words, taken, view) {
  if (ring.length < 14) return [];
  const made = [];
  for (const k of [Math.floor(ring.length * 0.3), Math.floor(ring.length * 0.8)]) {
    const [x, y] = place(ring[k]);
    if (x < 16 || y < 16 || x > view.width - 16 || y > view.height - 16) continue;
    if (taken.some(([tx, ty]) => Math.abs(tx - x) < 46 && Math.abs(ty - y) < 26)) continue;
    taken.push([x, y]);
    made.push(svg("text", { x, y: y + 4, class: "label hours" }, [words]));
    break;
  }
  return made;
}

/** Hatches laid over each other grow closer step by step. */
function hatch(k) {
  const turn = k < 2 ? 45 : 135;
  const off = k % 2 ? 5 : 0;
  return svg("pattern", {
    id: `hatch-${k}`, width: 10, height: 10, patternUnits: "userSpaceOnUse", patternTransform: `rotate(${turn})`,
  }, [svg("path", { class: "hatch", d: `M0 ${off + 0.5}H10` })]);
}

/** A small field of the hatch of one step, for the legend. */
export function hatchSample(n) {
  return svg("svg", { viewBox: "0 0 30 16", width: 30, height: 16, "aria-hidden": "true" }, [
    ...Array.from({ length: n }, (_, k) => svg("rect", { x: 0.5, y: 0.5, width: 29, height: 15, fill: `url(#hatch-${k})` })),
    svg("rect", { x: 0.5, y: 0.5, width: 29, height: 15, class: "fine" }),
  ]);
}
