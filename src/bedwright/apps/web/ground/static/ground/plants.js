// The plants of the newest season plan, on canvas: thousands are drawn at once, and those of a
// bed being dragged are drawn once and then carried as they are.

import { alongOf, frameOf, rightOf } from "./geometry.js";

const LEAST_SIGN_PX = 2.2;
/** Below this radius a row is drawn as a line with a stop at each end, as on the sheets. */

export class Plants {
  constructor(still, carried) {
    this.still = still;
    this.carried = carried;
    this.byBed = new Map();
    this.day = "";
    this.shown = true;
    this.carriedCode = null;
    this.n_drawn = 0;
  }

  load(plantings) {
    this.byBed = new Map();
    for (const planting of plantings) {
      const points = planting.rows.flatMap(pointsOf);
      if (!this.byBed.has(planting.bed)) this.byBed.set(planting.bed, []);
      this.byBed.get(planting.bed).push({ ...planting, points });
    }
  }

  standing(code) {
    return (this.byBed.get(code) ?? []).filter((each) => each.from <= this.day && this.day <= each.to);
  }

  count(code) {
    return this.standing(code).reduce((sum, each) => sum + each.points.length, 0);
  }

  /** Draw all plants that stand still. */
  draw(beds, view) {
    const pen = cleared(this.still, view);
    this.n_drawn = 0;
    if (!this.shown) return;
    for (const bed of beds) {
      if (bed.entry.code === this.carriedCode) continue;
      this.n_drawn += this.drawBed(pen, bed, view);
    }
  }

  /** Take a bed's plants up, to be moved as one. */
  carry(bed, beds, view) {
    this.carriedCode = bed.entry.code;
    this.draw(beds, view);
    const pen = cleared(this.carried, view);
    if (this.shown) this.n_drawn += this.drawBed(pen, bed, view);
    this.shift(0, 0);
  }

  shift(dx, dy) {
    this.carried.style.transform = `translate(${dx}px, ${dy}px)`;
  }

  drop(beds, view) {
    this.carriedCode = null;
    cleared(this.carried, view);
    this.shift(0, 0);
    this.draw(beds, view);
  }

  /** The same as lines of a vector drawing, for paper. */
  asPath(beds, view) {
    const pen = new PathPen();
    if (this.shown) for (const bed of beds) this.drawBed(pen, bed, view);
    return pen.parts.join("");
  }

  drawBed(pen, bed, view) {
    const code = bed.saved ?? bed.entry.code;
    const plantings = this.standing(code);
    if (!plantings.length) return 0;
    const frame = frameOf(bed.entry);
    const peg = view.place(frame.peg);
    const along = alongOf(frame.bearing), right = rightOf(frame.bearing);
    const s = view.scale;
    const at = ([a, c]) => [peg[0] + (a * along[0] + c * right[0]) * s, peg[1] - (a * along[1] + c * right[1]) * s];
    let n = 0;
    for (const planting of plantings) {
      n += planting.points.length;
      const radius = planting.radius_m * s;
      pen.beginPath();
      if (radius < LEAST_SIGN_PX) drills(pen, planting.rows, at);
      else signs(pen, planting.points, at, radius);
      pen.stroke();
    }
    return n;
  }
}

/** Takes the strokes of a canvas and writes them down as the data of a path. */
class PathPen {
  constructor() { this.parts = []; }
  beginPath() {}
  stroke() {}
  moveTo(x, y) { this.parts.push(`M${x.toFixed(2)} ${y.toFixed(2)}`); }
  lineTo(x, y) { this.parts.push(`L${x.toFixed(2)} ${y.toFixed(2)}`); }
  arc(x, y, radius) {
    const r = radius.toFixed(2);
    this.parts.push(`a${r} ${r} 0 1 0 ${(-2 * radius).toFixed(2)} 0a${r} ${r} 0 1 0 ${(2 * radius).toFixed(2)} 0`);
  }
}

function pointsOf([a0, c0, a1, c1, n]) {
  if (n === 1) return [[a0, c0]];
  return Array.from({ length: n }, (_, k) => [a0 + ((a1 - a0) * k) / (n - 1), c0 + ((c1 - c0) * k) / (n - 1)]);
}

function signs(pen, points, at, radius) {
  const arm = Math.min(3, radius * 0.5);
  for (const point of points) {
    const [x, y] = at(point);
    pen.moveTo(x + radius, y);
    pen.arc(x, y, radius, 0, 2 * Math.PI);
    pen.moveTo(x - arm, y); pen.lineTo(x + arm, y);
    pen.moveTo(x, y - arm); pen.lineTo(x, y + arm);
  }
}

function drills(pen, rows, at) {
  for (const [a0, c0, a1, c1] of rows) {
    const one = at([a0, c0]), other = at([a1, c1]);
    const length = Math.hypot(other[0] - one[0], other[1] - one[1]);
    const run = length ? [((other[0] - one[0]) / length) * 2.4, ((other[1] - one[1]) / length) * 2.4] : [2, 0];
    pen.moveTo(...one); pen.lineTo(...(length ? other : [one[0] + 2, one[1]]));
    for (const [x, y] of [one, other]) { pen.moveTo(x - run[1], y + run[0]); pen.lineTo(x + run[1], y - run[0]); }
  }
}

function cleared(canvas, view) {
  const ratio = Math.min(2, window.devicePixelRatio || 1);
  const wide = Math.round(view.width * ratio), high = Math.round(view.height * ratio);
  if (canvas.width !== wide || canvas.height !== high) {
    canvas.width = wide;
    canvas.height = high;
  }
  const pen = canvas.getContext("2d");
  pen.setTransform(1, 0, 0, 1, 0, 0);
  pen.clearRect(0, 0, wide, high);
  pen.setTransform(ratio, 0, 0, ratio, 0, 0);
  pen.lineWidth = 0.8;
  pen.strokeStyle = getComputedStyle(canvas).color;
  return pen;
}
