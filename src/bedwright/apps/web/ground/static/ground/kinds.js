// New things: what each is made of when it is drawn, or added by numbers.

import { bearingOf, distance, minus, mm, mmPoint } from "./geometry.js";

export const BED_SHAPES = ["rectangle", "polygon", "circle"];
const SIGNS = {
  building: "BU", wall: "W", fence: "FE", hedge: "H", tree: "T", path: "P", tap: "TAP", utility: "U",
  "water butt": "WB", shed: "SH", "compost bay": "CO",
};
/** How each kind is drawn: one press, a pulled box, a pulled circle, or corner by corner. */
export const GESTURE = {
  rectangle: "box", circle: "round", polygon: "ring", tree: "round", tap: "spot", "water butt": "spot",
  building: "box", shed: "box", "compost bay": "box", wall: "run", fence: "run", hedge: "run", path: "run", utility: "run",
};
/** Sizes to start from; all are shown in the fields at once, to be set right. [m] */
const HEIGHTS = { building: 3, wall: 2, fence: 1, hedge: 1.5, tree: 4, "water butt": 1, shed: 2.3, "compost bay": 1 };
const WIDTHS = { hedge: 0.8, path: 0.9, "water butt": 0.6 };

export const groupOf = (kind) => (BED_SHAPES.includes(kind) ? "bed" : "feature");

export function freeCodeFor(site, kind) {
  return site.freeCode(groupOf(kind), SIGNS[kind]);
}

/** A thing from what was drawn. The soil of a bed is never guessed: it is left to be chosen. */
export function made(kind, code, drawn) {
  if (groupOf(kind) === "bed") return { code, ...outline(kind, drawn) };
  const entry = { code, kind, name: kind };
  if (HEIGHTS[kind]) entry.height_m = HEIGHTS[kind];
  if (WIDTHS[kind]) entry.width_m = WIDTHS[kind];
  if (kind === "tree") return { ...entry, at_m: mmPoint(drawn.centre), crown_radius_m: mm(drawn.radius), crown_base_m: 1 };
  if (GESTURE[kind] === "spot") return { ...entry, at_m: mmPoint(drawn.points[0]) };
  const points = GESTURE[kind] === "box" ? boxCorners(drawn.points) : drawn.points;
  return { ...entry, vertices_m: points.map(mmPoint) };
}

function outline(kind, drawn) {
  if (kind === "circle") {
    const [east_m, north_m] = mmPoint(drawn.centre);
    return { circle: { radius_m: mm(drawn.radius), east_m, north_m, bearing_deg: 0 } };
  }
  if (kind === "polygon") {
    return { polygon: { vertices_m: drawn.points.map(mmPoint), bearing_deg: mm(longest(drawn.points)) } };
  }
  const [[w, s], , [e, n]] = boxCorners(drawn.points);
  // The string line runs along the longer side; across is to the right of it.
  if (n - s >= e - w) return { rectangle: { length_m: mm(n - s), width_m: mm(e - w), east_m: mm(w), north_m: mm(s), bearing_deg: 0 } };
  return { rectangle: { length_m: mm(e - w), width_m: mm(n - s), east_m: mm(w), north_m: mm(n), bearing_deg: 90 } };
}

function longest(points) {
  let best = 0, bearing = 0;
  points.forEach((a, k) => {
    const b = points[(k + 1) % points.length];
    if (distance(a, b) > best + 1e-6) {
      best = distance(a, b);
      bearing = bearingOf(minus(b, a));
    }
  });
  return bearing;
}

function boxCorners([a, b]) {
  const [w, e] = [Math.min(a[0], b[0]), Math.max(a[0], b[0])];
  const [s, n] = [Math.min(a[1], b[1]), Math.max(a[1], b[1])];
  return [[w, s], [e, s], [e, n], [w, n]];
}

/** What stands in the middle of the view when a thing is added by numbers. */
export function atMiddle(kind, [e, n], step) {
  const r = (value) => Math.round(value / step) * step;
  const centre = [r(e), r(n)];
  const off = (de, dn) => [centre[0] + de, centre[1] + dn];
  if (GESTURE[kind] === "round") return { centre, radius: kind === "tree" ? 2 : 1 };
  if (GESTURE[kind] === "spot") return { points: [centre] };
  if (kind === "polygon") return { points: [off(-1.5, -1), off(1.5, -1), off(1.5, 0), off(0, 0), off(0, 1), off(-1.5, 1)] };
  if (kind === "rectangle") return { points: [off(-0.6, -2), off(0.6, 2)] };
  if (GESTURE[kind] === "box") return { points: [off(-1, -0.75), off(1, 0.75)] };
  return { points: [off(-2, 0), off(2, 0)] };
}
