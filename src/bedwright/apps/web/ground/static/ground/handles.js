// What can be pulled at the chosen thing, and what pulling it does.

import {
  add, alongOf, bearingOf, distance, featurePoints, frameOf, isArea, isBed, minus, mm, mmPoint, times, toBed, toSite, turned, wholeTurn,
} from "./geometry.js";

/** Handles of a thing: {name, at, kind, pull(point, snap) -> {entry, marks}}. */
export function handlesOf(thing, view, others) {
  const { entry } = thing;
  if (isBed(thing)) {
    if (entry.rectangle) return [...rectangle(entry, others), turner(entry, view, others)];
    if (entry.circle) return [radius(entry, others), turner(entry, view, others)];
    return [...vertices(entry.polygon.vertices_m, true, others, (vertices_m) => ({ ...entry, polygon: { ...entry.polygon, vertices_m } }), 3), turner(entry, view, others)];
  }
  if (entry.at_m) return entry.kind === "tree" ? [crown(entry)] : [];
  const closed = isArea(entry);
  return vertices(featurePoints(entry), closed, others, (vertices_m) => ({ ...entry, vertices_m }), closed ? 3 : 2);
}

function rectangle(bed, others) {
  const frame = frameOf(bed);
  const { length, width } = frame;
  const made = [];
  for (const [u, v] of [[0, 0], [1, 0], [1, 1], [0, 1], [0.5, 0], [1, 0.5], [0.5, 1], [0, 0.5]]) {
    const isCorner = u !== 0.5 && v !== 0.5;
    made.push({
      name: `${u} ${v}`,
      kind: isCorner ? "corner" : "edge",
      at: toSite(frame, [u * length, v * width]),
      pull(point, snap) {
        const snapped = isCorner ? snap.point(point, others) : { at: point, marks: [] };
        const [along, across] = toBed(frame, snapped.at);
        const laid = snapped.marks.length > 0;
        const fit = (value) => Math.max(0.2, laid ? value : snap.round(value));
        let [a0, a1, c0, c1] = [0, length, 0, width];
        if (u === 1) a1 = fit(along);
        if (u === 0) a0 = length - fit(length - along);
        if (v === 1) c1 = fit(across);
        if (v === 0) c0 = width - fit(width - across);
        const [east_m, north_m] = mmPoint(toSite(frame, [a0, c0]));
        return {
          entry: { ...bed, rectangle: { ...bed.rectangle, east_m, north_m, length_m: mm(a1 - a0), width_m: mm(c1 - c0) } },
          marks: snapped.marks,
        };
      },
    });
  }
  return made;
}

function turner(bed, view, others) {
  const frame = frameOf(bed);
  const centre = toSite(frame, [frame.length / 2, frame.width / 2]);
  const from = toSite(frame, [frame.length, frame.width / 2]);
  return {
    name: "turn",
    kind: "turn",
    from,
    at: add(from, times(alongOf(frame.bearing), 26 / view.scale)),
    pull(point, snap) {
      return { entry: turned(bed, snap.bearing(wholeTurn(bearingOf(minus(point, centre))), others)), marks: [] };
    },
  };
}

function radius(bed, others) {
  const { circle } = bed;
  const centre = [circle.east_m, circle.north_m];
  return {
    name: "radius",
    kind: "edge",
    at: add(centre, [circle.radius_m * Math.SQRT1_2, -circle.radius_m * Math.SQRT1_2]),
    pull(point, snap) {
      const snapped = snap.point(point, others);
      const length = distance(centre, snapped.marks.length ? snapped.at : point);
      return { entry: { ...bed, circle: { ...circle, radius_m: mm(Math.max(0.15, snapped.marks.length ? length : snap.round(length))) } }, marks: snapped.marks };
    },
  };
}

function crown(tree) {
  return {
    name: "crown",
    kind: "edge",
    at: add(tree.at_m, [(tree.crown_radius_m ?? 1) * Math.SQRT1_2, -(tree.crown_radius_m ?? 1) * Math.SQRT1_2]),
    pull(point, snap) {
      return { entry: { ...tree, crown_radius_m: mm(Math.max(0.1, snap.round(distance(tree.at_m, point)))) }, marks: [] };
    },
  };
}

function vertices(points, closed, others, rebuilt, least) {
  const made = points.map((at, k) => ({
    name: `${k}`,
    kind: "corner",
    at,
    pull(point, snap) {
      const before = k > 0 ? points[k - 1] : closed ? points[points.length - 1] : points[1];
      const snapped = snap.point(point, others, before);
      return { entry: rebuilt(points.map((each, j) => (j === k ? mmPoint(snapped.at) : each))), marks: snapped.marks };
    },
    drop: points.length > least ? () => rebuilt(points.filter((_, j) => j !== k)) : null,
  }));
  const n = closed ? points.length : points.length - 1;
  for (let k = 0; k < n; k++) {
    const a = points[k], b = points[(k + 1) % points.length];
    made.push({
      name: `new ${k}`,
      kind: "new",
      at: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2],
      pull(point, snap) {
        const snapped = snap.point(point, others, a);
        return { entry: rebuilt([...points.slice(0, k + 1), mmPoint(snapped.at), ...points.slice(k + 1)]), marks: snapped.marks };
      },
    });
  }
  return made;
}
