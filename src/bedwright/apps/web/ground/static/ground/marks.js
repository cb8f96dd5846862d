// Things as a landscape drawing shows them: line types and signs as on the printed plan,
// in pixels, so that lines and signs keep their weight at any scale.

import {
  add, bedCorners, distance, featurePoints, frameOf, isArea, isBed, minus, shapeName, sideEnds, times, toSite,
} from "./geometry.js";

const SVG = "http://www.w3.org/2000/svg";

export function svg(name, attributes = {}, children = []) {
  const node = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) node.setAttribute(key, value);
  node.append(...children);
  return node;
}

const f = (value) => value.toFixed(1);
export const line = (points, closed = false) =>
  points.length ? `M${points.map(([x, y]) => `${f(x)} ${f(y)}`).join("L")}${closed ? "Z" : ""}` : "";
const circle = (x, y, r) => `M${f(x - r)} ${f(y)}a${f(r)} ${f(r)} 0 1 0 ${f(2 * r)} 0a${f(r)} ${f(r)} 0 1 0 ${f(-2 * r)} 0Z`;
const path = (className, d) => svg("path", { class: className, d });

/** All parts of one thing. */
export function marksOf(thing, view) {
  return isBed(thing) ? bedMarks(thing.entry, view) : featureMarks(thing.entry, view);
}

function bedMarks(bed, view) {
  const corners = bedCorners(bed).map((p) => view.place(p));
  const outline = bed.circle
    ? circle(...view.place([bed.circle.east_m, bed.circle.north_m]), bed.circle.radius_m * view.scale)
    : line(corners, true);
  const parts = [path("bed", outline)];
  if (bed.raised_m > 0) parts.push(path("hair", inner(bed, view)));
  for (const support of bed.supports ?? []) parts.push(path("medium", supportLine(bed, support.side, view)));
  parts.push(...pegMarks(bed, view));
  return parts;
}

/** A raised bed has a second line, the inside of its board. */
function inner(bed, view) {
  const room = 3 / view.scale;
  const frame = frameOf(bed);
  if (bed.circle) return circle(...view.place([bed.circle.east_m, bed.circle.north_m]), Math.max(1, bed.circle.radius_m * view.scale - 3));
  if (bed.polygon || Math.min(frame.length, frame.width) < 4 * room) return "";
  const { length, width } = frame;
  const local = [[room, room], [length - room, room], [length - room, width - room], [room, width - room]];
  return line(local.map((p) => view.place(toSite(frame, p))), true);
}

function supportLine(bed, side, view) {
  const [one, other] = sideEnds(bed, side, 4 / view.scale).map((p) => view.place(p));
  const length = distance(one, other);
  if (!length) return "";
  const n = Math.max(1, Math.floor(length / 14));
  const across = [((other[1] - one[1]) / length) * 3, (-(other[0] - one[0]) / length) * 3];
  let d = line([one, other]);
  for (let k = 0; k <= n; k++) {
    const at = [one[0] + ((other[0] - one[0]) * k) / n, one[1] + ((other[1] - one[1]) * k) / n];
    d += line([minus(at, across), add(at, across)]);
  }
  return d;
}

function pegMarks(bed, view) {
  const frame = frameOf(bed);
  const peg = view.place(frame.peg);
  const end = view.place(toSite(frame, [frame.length, 0]));
  const length = distance(peg, end) || 1;
  const run = times(minus(end, peg), 1 / length);
  const side = [run[1], -run[0]];
  const tip = add(peg, times(run, 14));
  const wings = [1, -1].map((sign) => add(add(tip, times(run, -6)), times(side, sign * 2.4)));
  const parts = [];
  if (shapeName(bed) !== "rectangle") parts.push(path("hair dashed", line([peg, end])));
  const square = [[-2.5, -2.5], [2.5, -2.5], [2.5, 2.5], [-2.5, 2.5]].map((corner) => add(peg, corner));
  parts.push(path("solid", line(square, true) + line([tip, ...wings], true)));
  return parts;
}

const FEATURES = {
  wall: (entry, points, view) => [width(entry, view) > 3 ? path("solid", ribbon(points, width(entry, view) / 2)) : path("wall", line(points))],
  fence: (entry, points) => [path("thin", line(points)), path("solid", every(points, 16).map(([x, y]) => circle(x, y, 1.6)).join(""))],
  hedge: (entry, points, view) => {
    const radius = Math.max(3.5, width(entry, view) / 2);
    return [path("fine", every(points, radius * 1.3).map(([x, y]) => circle(x, y, radius)).join(""))];
  },
  tree: (entry, [[x, y]], view) => [
    path("thin dashed", circle(x, y, entry.crown_radius_m ? entry.crown_radius_m * view.scale : 8)),
    path("thin open", circle(x, y, 2.4)),
  ],
  path: (entry, points, view) => {
    const half = width(entry, view) / 2;
    if (half) return [path("hair", line(beside(points, half)) + line(beside(points, -half)))];
    return [path("hair", line(points, points.length > 2))];
  },
  tap: (entry, [[x, y]]) => [path("thin open", circle(x, y, 5)), path("thin", line([[x - 3.5, y - 3.5], [x + 3.5, y + 3.5]]) + line([[x - 3.5, y + 3.5], [x + 3.5, y - 3.5]]))],
  utility: (entry, points) => {
    if (points.length > 1) return [path("medium dash-dotted", line(points))];
    const [[x, y]] = points;
    return [path("thin open", line([[x, y - 6], [x + 5.5, y + 4], [x - 5.5, y + 4]], true))];
  },
};

function featureMarks(entry, view) {
  const points = featurePoints(entry).map((p) => view.place(p));
  const draw = FEATURES[entry.kind];
  if (draw) return draw(entry, points, view);
  if (points.length === 1) return [path("thin open", circle(...points[0], Math.max(4, width(entry, view) / 2)))];
  return [path(isArea(entry) ? "medium pale" : "medium", line(points, isArea(entry)))];
}

const width = (entry, view) => (entry.width_m ?? 0) * view.scale;

/** What is pressed to take hold of a thing: its ground, or a broad line. */
export function gripOf(thing, view) {
  const { entry } = thing;
  if (isBed(thing) || isArea(entry)) {
    const points = isBed(thing) ? bedCorners(entry) : entry.vertices_m;
    return svg("path", { class: "grip area", d: line(points.map((p) => view.place(p)), true) });
  }
  const points = featurePoints(entry).map((p) => view.place(p));
  if (points.length === 1) {
    const crown = entry.kind === "tree" ? (entry.crown_radius_m ?? 0) * view.scale : width(entry, view) / 2;
    return svg("path", { class: "grip area", d: circle(...points[0], Math.max(12, crown)) });
  }
  return svg("path", { class: "grip line", d: line(points), "stroke-width": f(Math.max(16, width(entry, view))) });
}

/** The outline that shows what is chosen or at fault. */
export const outlineOf = (thing, view) => {
  const grip = gripOf(thing, view);
  return grip.getAttribute("d");
};

function every(points, step) {
  const made = [points[0]];
  for (let k = 1; k < points.length; k++) {
    const one = points[k - 1], other = points[k];
    const n = Math.min(2000, Math.max(1, Math.round(distance(one, other) / step)));
    for (let j = 1; j <= n; j++) made.push([one[0] + ((other[0] - one[0]) * j) / n, one[1] + ((other[1] - one[1]) * j) / n]);
  }
  return made;
}

/** A line beside another, mitred at its corners. */
function beside(points, off) {
  return points.map((point, k) => {
    const before = k > 0 ? normal(points[k - 1], point) : null;
    const after = k + 1 < points.length ? normal(point, points[k + 1]) : null;
    const one = before ?? after, other = after ?? before;
    if (!one) return point;
    const sum = add(one, other);
    const length2 = sum[0] ** 2 + sum[1] ** 2;
    return add(point, times(length2 > 0.2 ? times(sum, 2 / length2) : one, off));
  });
}

const normal = (a, b) => {
  const length = distance(a, b) || 1;
  return [-(b[1] - a[1]) / length, (b[0] - a[0]) / length];
};
const ribbon = (points, half) => line([...beside(points, half), ...beside(points, -half).reverse()], true);

/** A sample of a thing for the legend, 44 by 20 pixels. */
export function sampleOf(kind) {
  const view = { scale: 1, place: (p) => p, x: (x) => x, y: (y) => y };
  const node = svg("svg", { viewBox: "0 0 44 20", width: 44, height: 20, "aria-hidden": "true", focusable: "false" });
  const area = [[6, 3], [38, 3], [38, 17], [6, 17]], run = [[2, 10], [42, 10]];
  const beds = {
    rectangle: [path("bed", line(area, true)), path("solid", line([[3.5, 14.5], [8.5, 14.5], [8.5, 19.5], [3.5, 19.5]], true))],
    polygon: [path("bed", line([[6, 3], [22, 3], [22, 10], [38, 10], [38, 17], [6, 17]], true)), path("solid", line([[3.5, 14.5], [8.5, 14.5], [8.5, 19.5], [3.5, 19.5]], true))],
    circle: [path("bed", circle(22, 10, 8))],
  };
  if (beds[kind]) node.append(...beds[kind]);
  else if (["building", "shed", "compost bay"].includes(kind)) node.append(...featureMarks({ kind, vertices_m: area }, view));
  else if (["tree", "tap", "water butt"].includes(kind)) node.append(...featureMarks({ kind, at_m: [22, 10], crown_radius_m: 9, width_m: 12 }, view));
  else node.append(...featureMarks({ kind, vertices_m: run, width_m: { path: 9, hedge: 9 }[kind] }, view));
  return node;
}

/** North point, as on the sheets. */
export function northPoint() {
  return svg("svg", { viewBox: "0 0 32 52", width: 32, height: 52, "aria-hidden": "true" }, [
    path("thin", "M16 50V14"), path("solid", "M16 14L20.5 27L16 26Z"), path("fine open", "M16 14L11.5 27L16 26Z"),
    svg("text", { x: 16, y: 11, class: "north" }, ["N"]),
  ]);
}

/** The site datum, from which all positions are measured; its name is one of the labels. */
export function datumMark(view) {
  const [x, y] = view.place([0, 0]);
  return svg("g", { class: "datum" }, [
    path("fine", circle(x, y, 5) + line([[x - 9, y], [x + 9, y]]) + line([[x, y - 9], [x, y + 9]])),
  ]);
}

/** The tape along one edge: its length beside its middle, on the side away from a point. */
export function tapeLabel(one, other, words, view, away = null) {
  const a = view.place(one), b = view.place(other);
  const at = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  let angle = Math.atan2(b[1] - a[1], b[0] - a[0]);
  if (angle > Math.PI / 2 + 1e-9 || angle <= -Math.PI / 2 + 1e-9) angle += Math.PI;
  const inner = away ? minus(view.place(away), at) : [0, 1];
  const isBelow = -Math.sin(angle) * inner[0] + Math.cos(angle) * inner[1] >= 0;
  const turn = `translate(${f(at[0])} ${f(at[1])}) rotate(${f((angle * 180) / Math.PI)})`;
  return svg("text", { class: "tape", transform: turn, y: isBelow ? -7 : 15 }, [words]);
}
