// What a label on the drawing should not lie on, in pixels, and how bad it would be if it did.

import { bedCorners, featurePoints, isArea, isBed } from "./geometry.js";

/** A label that would lie on another, on a bed or on the scale bar is left out until one looks closer. */
export const NEVER = 100;
const AREA = 40;
const HEAVY = 24;
const LIGHT = 6;
const LIGHT_KINDS = new Set(["path", "utility"]);
const CROWN_SIDES = 16;

export class Obstacles {
  constructor(things, view, furniture) {
    this.view = view;
    this.boxes = [...furniture];
    this.lines = [];
    this.grounds = [];
    for (const thing of things) this.add(thing);
  }

  add(thing) {
    const { entry } = thing;
    const place = (p) => this.view.place(p);
    if (isBed(thing)) return this.ground(bedCorners(entry).map(place), NEVER, NEVER, thing.id);
    const points = featurePoints(entry).map(place);
    if (isArea(entry)) return this.ground(points, AREA, HEAVY, thing.id);
    if (points.length === 1) return this.spot(thing, points[0]);
    const half = ((entry.width_m ?? 0) * this.view.scale) / 2;
    const cost = LIGHT_KINDS.has(entry.kind) ? LIGHT : HEAVY;
    for (let k = 1; k < points.length; k++) for (const side of half > 1 ? [half, -half] : [0]) this.line(...aside(points[k - 1], points[k], side), cost);
  }

  ground(points, inside, edge, id) {
    this.grounds.push({ points, inside, id });
    points.forEach((point, k) => this.line(point, points[(k + 1) % points.length], edge));
  }

  spot({ entry }, [x, y]) {
    this.boxes.push([x - 6, y - 6, x + 6, y + 6]);
    const radius = (entry.crown_radius_m ?? 0) * this.view.scale;
    if (radius < 8) return;
    const at = (k) => [x + radius * Math.cos((2 * Math.PI * k) / CROWN_SIDES), y + radius * Math.sin((2 * Math.PI * k) / CROWN_SIDES)];
    for (let k = 0; k < CROWN_SIDES; k++) this.line(at(k), at(k + 1), LIGHT);
  }

  line(a, b, cost) {
    this.lines.push({ a, b, cost, box: [Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.max(a[0], b[0]), Math.max(a[1], b[1])] });
  }

  /** A label has been written: nothing else may lie there. */
  take(box) { this.boxes.push(box); }

  /** How bad a label in this box would be; `own` is the thing it names, on whose ground it may lie. */
  cost(box, own = null) {
    const { view } = this;
    if (box[0] < 2 || box[1] < 2 || box[2] > view.width - 2 || box[3] > view.height - 2) return NEVER;
    if (this.boxes.some((other) => meets(box, other))) return NEVER;
    let cost = 0;
    for (const each of this.lines) if (meets(box, each.box) && crosses(each.a, each.b, box)) cost += each.cost;
    if (cost >= NEVER) return cost;
    const middle = [(box[0] + box[2]) / 2, (box[1] + box[3]) / 2];
    for (const { points, inside, id } of this.grounds) if (id !== own && holds(points, middle)) cost += inside;
    return cost;
  }
}

const meets = (a, b) => a[0] <= b[2] && b[0] <= a[2] && a[1] <= b[3] && b[1] <= a[3];

export function aside(a, b, off) {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  const [x, y] = [(-(b[1] - a[1]) / length) * off, ((b[0] - a[0]) / length) * off];
  return [[a[0] + x, a[1] + y], [b[0] + x, b[1] + y]];
}

/** Whether a stretch from a to b runs through a box: what the box's four sides leave of it. */
function crosses(a, b, [left, top, right, foot]) {
  let from = 0, to = 1;
  for (const [start, run, low, high] of [[a[0], b[0] - a[0], left, right], [a[1], b[1] - a[1], top, foot]]) {
    if (run === 0) {
      if (start < low || start > high) return false;
      continue;
    }
    const [one, other] = [(low - start) / run, (high - start) / run];
    from = Math.max(from, Math.min(one, other));
    to = Math.min(to, Math.max(one, other));
    if (from > to) return false;
  }
  return true;
}

function holds(points, [x, y]) {
  let inside = false;
  for (let k = 0, j = points.length - 1; k < points.length; j = k++) {
    const [ax, ay] = points[k], [bx, by] = points[j];
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
  }
  return inside;
}
