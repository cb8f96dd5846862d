// Points are [east_m, north_m]; bearings in degrees clockwise from north. The frame of a bed
// is the one of the garden book: along the bearing from the peg, across to the right of it.

const RAD = Math.PI / 180;
export const CIRCLE_SIDES = 48;

/** To the millimetre, so that moved places stay short numbers. */
export const mm = (value) => Math.round(value * 1000) / 1000 || 0;
export const mmPoint = ([e, n]) => [mm(e), mm(n)];
export const add = (a, b) => [a[0] + b[0], a[1] + b[1]];
export const minus = (a, b) => [a[0] - b[0], a[1] - b[1]];
export const times = (a, k) => [a[0] * k, a[1] * k];
export const dot = (a, b) => a[0] * b[0] + a[1] * b[1];
export const cross = (a, b) => a[0] * b[1] - a[1] * b[0];
export const distance = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1]);
export const middle = (a, b) => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
export const alongOf = (bearing) => [Math.sin(bearing * RAD), Math.cos(bearing * RAD)];
export const rightOf = (bearing) => [Math.cos(bearing * RAD), -Math.sin(bearing * RAD)];
export const bearingOf = ([e, n]) => (Math.atan2(e, n) / RAD + 360) % 360;
export const wholeTurn = (bearing) => ((bearing % 360) + 360) % 360;

export function toSite(frame, [along, across]) {
  return add(frame.peg, add(times(alongOf(frame.bearing), along), times(rightOf(frame.bearing), across)));
}

export function toBed(frame, point) {
  const from = minus(point, frame.peg);
  return [dot(from, alongOf(frame.bearing)), dot(from, rightOf(frame.bearing))];
}

/** Which of the three outlines a bed has. */
export const shapeName = (entry) => ["rectangle", "polygon", "circle"].find((name) => entry[name]);
export const isBed = (thing) => thing.group === "bed";

export function frameOf(bed) {
  const kind = shapeName(bed);
  const shape = bed[kind];
  const bearing = shape.bearing_deg ?? 0;
  if (kind === "rectangle") {
    return { peg: [shape.east_m, shape.north_m], bearing, length: shape.length_m, width: shape.width_m };
  }
  const plain = { peg: [0, 0], bearing };
  let low, high;
  if (kind === "circle") {
    const centre = toBed(plain, [shape.east_m, shape.north_m]);
    low = [centre[0] - shape.radius_m, centre[1] - shape.radius_m];
    high = [centre[0] + shape.radius_m, centre[1] + shape.radius_m];
  } else {
    const local = shape.vertices_m.map((vertex) => toBed(plain, vertex));
    low = [Math.min(...local.map((p) => p[0])), Math.min(...local.map((p) => p[1]))];
    high = [Math.max(...local.map((p) => p[0])), Math.max(...local.map((p) => p[1]))];
  }
  return { peg: toSite(plain, low), bearing, length: high[0] - low[0], width: high[1] - low[1] };
}

export function bedCorners(bed) {
  const kind = shapeName(bed);
  if (kind === "polygon") return bed.polygon.vertices_m;
  if (kind === "rectangle") {
    const frame = frameOf(bed);
    const { length, width } = frame;
    return [[0, 0], [length, 0], [length, width], [0, width]].map((corner) => toSite(frame, corner));
  }
  return ring([bed.circle.east_m, bed.circle.north_m], bed.circle.radius_m);
}

export function ring(centre, radius) {
  return Array.from({ length: CIRCLE_SIDES }, (_, k) =>
    add(centre, times(alongOf((360 * k) / CIRCLE_SIDES), radius)));
}

/** Points of a feature, one or many. */
export const featurePoints = (entry) => (entry.at_m ? [entry.at_m] : entry.vertices_m);
export const AREAS = new Set(["building", "shed", "compost bay", "water butt"]);
export const LINES = new Set(["wall", "fence", "hedge", "path", "utility"]);
export const isArea = (entry) => AREAS.has(entry.kind) && !entry.at_m && entry.vertices_m.length > 2;

/** The points of a thing that others may be laid against. */
export function cornersOf(thing) {
  const { entry } = thing;
  if (!isBed(thing)) return featurePoints(entry);
  if (entry.circle) return [[entry.circle.east_m, entry.circle.north_m]];
  return bedCorners(entry);
}

/** Straight edges of a thing, as pairs of points. */
export function edgesOf(thing) {
  const { entry } = thing;
  if (isBed(thing) && entry.circle) return [];
  const points = cornersOf(thing);
  const closed = isBed(thing) || isArea(entry);
  const edges = points.slice(1).map((point, k) => [points[k], point]);
  if (closed && points.length > 2) edges.push([points[points.length - 1], points[0]]);
  return edges;
}

/** The one point by which a thing is placed: peg, centre, or first corner. */
export function placeOf(thing) {
  const { entry } = thing;
  if (isBed(thing)) {
    if (entry.circle) return [entry.circle.east_m, entry.circle.north_m];
    if (entry.rectangle) return [entry.rectangle.east_m, entry.rectangle.north_m];
    return entry.polygon.vertices_m[0];
  }
  return featurePoints(entry)[0];
}

export function middleOf(thing) {
  const { entry } = thing;
  if (isBed(thing)) {
    const frame = frameOf(entry);
    if (!entry.polygon) return toSite(frame, [frame.length / 2, frame.width / 2]);
  }
  const points = cornersOf(thing);
  if (points.length > 2 && (isBed(thing) || isArea(entry))) return insideOf(points);
  if (points.length === 1) return points[0];
  const k = Math.floor((points.length - 1) / 2);
  return middle(points[k], points[k + 1]);
}

/** A point well inside a simple outline: its centroid, or the middle of its widest slice. */
function insideOf(points) {
  let area = 0, e = 0, n = 0;
  points.forEach((a, k) => {
    const b = points[(k + 1) % points.length];
    const w = cross(a, b);
    area += w; e += (a[0] + b[0]) * w; n += (a[1] + b[1]) * w;
  });
  if (Math.abs(area) < 1e-9) return middle(points[0], points[1]);
  const centroid = [e / (3 * area), n / (3 * area)];
  if (contains(points, centroid)) return centroid;
  const cuts = [];
  points.forEach((a, k) => {
    const b = points[(k + 1) % points.length];
    if ((a[1] > centroid[1]) !== (b[1] > centroid[1])) {
      cuts.push(a[0] + ((b[0] - a[0]) * (centroid[1] - a[1])) / (b[1] - a[1]));
    }
  });
  cuts.sort((a, b) => a - b);
  let best = centroid, widest = 0;
  for (let k = 0; k + 1 < cuts.length; k += 2) {
    if (cuts[k + 1] - cuts[k] > widest) {
      widest = cuts[k + 1] - cuts[k];
      best = [(cuts[k] + cuts[k + 1]) / 2, centroid[1]];
    }
  }
  return best;
}

export function contains(points, [e, n]) {
  let inside = false;
  for (let k = 0, j = points.length - 1; k < points.length; j = k++) {
    const a = points[k], b = points[j];
    if ((a[1] > n) !== (b[1] > n) && e < a[0] + ((b[0] - a[0]) * (n - a[1])) / (b[1] - a[1])) inside = !inside;
  }
  return inside;
}

export function nearestOn([a, b], point) {
  const run = minus(b, a);
  const length2 = dot(run, run);
  const k = length2 ? Math.min(1, Math.max(0, dot(minus(point, a), run) / length2)) : 0;
  return add(a, times(run, k));
}

/** West, south, east and north of things, crowns and widths included; null for none. */
export function boxOf(things) {
  let box = null;
  for (const thing of things) {
    const { entry } = thing;
    const points = isBed(thing) ? bedCorners(entry) : featurePoints(entry);
    const round = isBed(thing) ? 0 : (entry.crown_radius_m ?? (entry.width_m ?? 0) / 2);
    for (const [e, n] of points) {
      box ??= [e, n, e, n];
      box = [Math.min(box[0], e - round), Math.min(box[1], n - round), Math.max(box[2], e + round), Math.max(box[3], n + round)];
    }
  }
  return box;
}

/** A copy of a thing's entry, moved. */
export function moved(thing, [de, dn]) {
  const shift = (point) => mmPoint([point[0] + de, point[1] + dn]);
  const { entry } = thing;
  if (!isBed(thing)) {
    return entry.at_m ? { ...entry, at_m: shift(entry.at_m) } : { ...entry, vertices_m: entry.vertices_m.map(shift) };
  }
  const kind = shapeName(entry);
  const shape = entry[kind];
  if (kind === "polygon") return { ...entry, polygon: { ...shape, vertices_m: shape.vertices_m.map(shift) } };
  const [east_m, north_m] = shift([shape.east_m, shape.north_m]);
  return { ...entry, [kind]: { ...shape, east_m, north_m } };
}

/** A bed turned about its middle; a polygon's corners turn with its bearing. */
export function turned(bed, bearing) {
  const kind = shapeName(bed);
  const shape = bed[kind];
  const to = mm(wholeTurn(bearing));
  if (kind === "circle") return { ...bed, circle: { ...shape, bearing_deg: to } };
  if (kind === "rectangle") {
    const frame = frameOf(bed);
    const centre = toSite(frame, [frame.length / 2, frame.width / 2]);
    const peg = toSite({ peg: centre, bearing: to }, [-frame.length / 2, -frame.width / 2]);
    return { ...bed, rectangle: { ...shape, east_m: mm(peg[0]), north_m: mm(peg[1]), bearing_deg: to } };
  }
  const centre = insideOf(shape.vertices_m);
  const from = { peg: centre, bearing: shape.bearing_deg };
  const vertices_m = shape.vertices_m.map((vertex) => mmPoint(toSite({ peg: centre, bearing: to }, toBed(from, vertex))));
  return { ...bed, polygon: { vertices_m, bearing_deg: to } };
}

/** The bed's side whose outward direction is nearest to a compass direction, as its two ends. */
export function sideEnds(bed, side, inset = 0) {
  const frame = frameOf(bed);
  const turn = wholeTurn({ north: 0, east: 90, south: 180, west: 270 }[side] - frame.bearing);
  const { length, width } = frame;
  const local = [
    [[length - inset, 0], [length - inset, width]],
    [[0, width - inset], [length, width - inset]],
    [[inset, 0], [inset, width]],
    [[0, inset], [length, inset]],
  ][Math.round(turn / 90) % 4];
  return local.map((point) => toSite(frame, point));
}

/** The point at two distances from two known points, to the left or right looking from the first to the second; null if the tapes do not meet. */
export function byTwoDistances(one, other, fromOne, fromOther, side) {
  const base = distance(one, other);
  if (!(base > 0) || fromOne + fromOther < base - 1e-9 || Math.abs(fromOne - fromOther) > base + 1e-9) return null;
  const along = (fromOne ** 2 - fromOther ** 2 + base ** 2) / (2 * base);
  const off = Math.sqrt(Math.max(0, fromOne ** 2 - along ** 2));
  return byOffset(one, other, along, side === "left" ? -off : off);
}

/** The point so far along a baseline and square to it, right positive; null without a baseline. */
export function byOffset(one, other, along, off) {
  const base = distance(one, other);
  if (!(base > 0)) return null;
  return toSite({ peg: one, bearing: bearingOf(minus(other, one)) }, [along, off]);
}
