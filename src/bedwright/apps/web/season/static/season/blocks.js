// Plantings of one week as hatched blocks on their beds, with the codes that stand on the pegs.

import { bedCorners, frameOf, middleOf, toSite } from "../ground/geometry.js";
import { line, svg } from "../ground/marks.js";
import { Plants } from "../ground/plants.js";

const LETTER = 6.4;
const HIGH = 13;

export class Blocks {
  constructor(layer, beds) {
    this.layer = layer;
    this.beds = new Map(beds.map((bed) => [bed.entry.code, bed]));
    this.things = beds;
    this.plants = new Plants(null, null);
  }

  /** Corners of a planting on the site; `at` puts it elsewhere. */
  corners(planting, at = planting) {
    const frame = frameOf(this.beds.get(at.bed).entry);
    const [a0, a1] = at.along_m, [c0, c1] = at.across_m;
    return [[a0, c0], [a1, c0], [a1, c1], [a0, c1]].map((corner) => toSite(frame, corner));
  }

  draw(standing, view, { chosen, changed, ghost }) {
    const nodes = [], words = [];
    for (const planting of standing) {
      const frame = frameOf(this.beds.get(planting.bed).entry);
      const d = line(planting.outline_m.map((p) => view.place(toSite(frame, p))), true);
      nodes.push(svg("path", { class: "blank", d }));
      nodes.push(svg("path", { class: "block", d, fill: planting.hatch ? `url(#${planting.hatch})` : "none", "data-planting": planting.code }));
      if (planting.state === "failed") nodes.push(svg("path", { class: "failed-block", d: crossed(boxed(planting).map((p) => view.place(toSite(frame, p)))) }));
      if (changed.has(planting.code)) nodes.push(svg("path", { class: "changed-block", d }));
      if (planting.code === chosen) words.push(svg("path", { class: "chosen-block", d }));
      words.push(...codeOf(planting.state === "late" ? { ...planting, words: `${planting.words} *`, label_code: `${planting.label_code}*` } : planting, boxed(planting).map((p) => view.place(toSite(frame, p)))));
    }
    this.plants.load(standing.map((each) => ({ ...each, from: "0", to: "9" })));
    this.plants.day = "1";
    nodes.push(svg("path", { class: "plants", d: this.plants.asPath(this.things, view) }));
    if (ghost) words.push(svg("path", { class: "ghost", d: line(this.corners(ghost).map((p) => view.place(p)), true) }));
    this.layer.replaceChildren(...nodes, ...words, ...this.bedCodes(view));
  }

  /** The code of each bed beside its start, clear of the blocks. */
  bedCodes(view) {
    return this.things.map((bed) => {
      const frame = frameOf(bed.entry);
      const middle = view.place(middleOf(bed));
      const start = view.place(toSite(frame, [0, frame.width / 2]));
      const length = Math.hypot(start[0] - middle[0], start[1] - middle[1]) || 1;
      const out = 13;
      const at = [start[0] + ((start[0] - middle[0]) / length) * out, start[1] + ((start[1] - middle[1]) / length) * out];
      return svg("text", { class: "bed-code", x: at[0].toFixed(1), y: (at[1] + 5).toFixed(1) }, [bed.entry.code]);
    });
  }

  /** The bed under a point of the site: the one it lies in, or nearly. */
  bedAt(point, slack_m) {
    let best = null, nearest = slack_m;
    for (const bed of this.things) {
      const frame = frameOf(bed.entry);
      const corners = bedCorners(bed.entry);
      const away = outside(frame, point, corners);
      if (away <= nearest) [best, nearest] = [bed, away];
    }
    return best;
  }
}

/** Two strokes from corner to corner: what was here is gone. */
function crossed(corners) {
  return line([corners[0], corners[2]], false) + line([corners[1], corners[3]], false);
}

/** The box round what is left of a planting's ground within an odd bed. */
function boxed({ outline_m }) {
  const along = outline_m.map((p) => p[0]), across = outline_m.map((p) => p[1]);
  const [a0, a1, c0, c1] = [Math.min(...along), Math.max(...along), Math.min(...across), Math.max(...across)];
  return [[a0, c0], [a1, c0], [a1, c1], [a0, c1]];
}

/** How far a point lies outside the box of a bed [m]. */
function outside(frame, [e, n]) {
  const rad = (frame.bearing * Math.PI) / 180;
  const east = e - frame.peg[0], north = n - frame.peg[1];
  const along = east * Math.sin(rad) + north * Math.cos(rad), across = east * Math.cos(rad) - north * Math.sin(rad);
  return Math.hypot(Math.max(0, -along, along - frame.length), Math.max(0, -across, across - frame.width));
}

/** The longest words that fit on a block, along its longer side; none on a small one. */
function codeOf(planting, corners) {
  const side = (k) => [corners[(k + 1) % 4][0] - corners[k][0], corners[(k + 1) % 4][1] - corners[k][1]];
  const [one, other] = [side(0), side(1)];
  const lengths = [Math.hypot(...one), Math.hypot(...other)];
  const at = [(corners[0][0] + corners[2][0]) / 2, (corners[0][1] + corners[2][1]) / 2];
  const runs = [[one, lengths[0], lengths[1]], [other, lengths[1], lengths[0]]];
  const level = ([run]) => Math.abs(run[1]) / (Math.hypot(...run) || 1);
  // Words that lie level are read first; only where they do not fit is the sheet turned.
  runs.sort((a, b) => level(a) - level(b));
  for (const lines of [[planting.words], [planting.plan_code, planting.label_code], [planting.label_code]]) {
    const widest = Math.max(...lines.map((words) => words.length)) * LETTER + 2;
    for (const [run, long, high] of runs) {
      if (high < HIGH * lines.length || long < widest) continue;
      let angle = (Math.atan2(run[1], run[0]) * 180) / Math.PI;
      if (angle > 90 || angle <= -90) angle += 180;
      const top = 4 - ((lines.length - 1) * HIGH) / 2;
      const spans = lines.map((words, k) => svg("tspan", { x: 0, y: top + k * HIGH }, [words]));
      return [svg("text", { class: "block-code", transform: `translate(${at[0].toFixed(1)} ${at[1].toFixed(1)}) rotate(${angle.toFixed(1)})` }, spans)];
    }
  }
  return [];
}
