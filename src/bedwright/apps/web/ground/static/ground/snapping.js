// Where a moved point comes to lie: on a corner or edge nearby, square to the line before, or
// on whole steps of length. What it was laid against is returned, to be shown.

import {
  add, alongOf, bearingOf, cornersOf, distance, dot, edgesOf, minus, nearestOn, times, wholeTurn,
} from "./geometry.js";

const REACH_PX = 9;

export class Snapping {
  constructor(view, measures) {
    this.view = view;
    this.measures = measures;
    this.on = true;
  }

  get reach_m() { return REACH_PX / this.view.scale; }
  get step_m() { return this.measures.step_m; }
  round(value) { return this.on ? Math.round(value / this.step_m) * this.step_m : value; }

  /** A single point. `before`: the corner it is drawn from, `back`: the one before that. */
  point(at, others, before = null, back = null) {
    if (!this.on) return { at, marks: [] };
    const corner = nearest(cornersOfAll(others), at, this.reach_m);
    if (corner) return { at: corner, marks: [corner] };
    if (before) {
      const square = this.square(at, before, back);
      if (square) return { at: square, marks: [], lines: [[before, square]] };
    }
    const edge = nearest(edgesOfAll(others).map((each) => nearestOn(each, at)), at, this.reach_m);
    if (edge) return { at: edge, marks: [edge] };
    if (before) {
      const run = minus(at, before);
      const length = Math.hypot(...run);
      if (length > 0) return { at: add(before, times(run, this.round(length) / length)), marks: [] };
    }
    return { at: [this.round(at[0]), this.round(at[1])], marks: [] };
  }

  /** Square to the line before, or along east and north, at a whole length; null if it is not nearly so. */
  square(at, before, back) {
    const first = back ? bearingOf(minus(before, back)) : 0;
    const run = minus(at, before);
    for (const bearing of back ? [first, first + 90, first + 180, first + 270, 0, 90, 180, 270] : [0, 90, 180, 270]) {
      const along = alongOf(wholeTurn(bearing));
      const length = dot(run, along);
      if (length <= 0) continue;
      const foot = add(before, times(along, length));
      if (distance(foot, at) < this.reach_m) return add(before, times(along, Math.max(this.step_m, this.round(length))));
    }
    return null;
  }

  /** A whole thing moved by `shift`: its corners go onto others' corners and edges, else its place onto whole steps. */
  move(corners, place, shift, others) {
    if (!this.on) return { shift, marks: [] };
    const points = cornersOfAll(others);
    let best = null;
    for (const corner of corners) {
      const to = add(corner, shift);
      const found = nearest(points, to, this.reach_m);
      if (found && (!best || distance(found, to) < best.away)) best = { away: distance(found, to), by: minus(found, to), mark: found };
    }
    if (!best) {
      const edges = edgesOfAll(others);
      for (const corner of corners) {
        const to = add(corner, shift);
        for (const edge of edges) {
          const foot = nearestOn(edge, to);
          const away = distance(foot, to);
          if (away < this.reach_m && (!best || away < best.away)) best = { away, by: minus(foot, to), mark: foot, edge };
        }
      }
    }
    if (best) {
      const laid = add(shift, best.by);
      return { shift: best.edge ? add(laid, this.alongEdge(best.edge, add(place, laid))) : laid, marks: [best.mark] };
    }
    const to = add(place, shift);
    return { shift: minus([this.round(to[0]), this.round(to[1])], place), marks: [] };
  }

  /** How far a place has to slide along an edge to lie whole steps from the edge's start. */
  alongEdge([a, b], place) {
    const along = alongOf(bearingOf(minus(b, a)));
    const length = dot(minus(place, a), along);
    return times(along, this.round(length) - length);
  }

  /** A bearing: on fifteen degrees, or parallel and square to another bed. */
  bearing(degrees, others) {
    if (!this.on) return Math.round(degrees * 10) / 10;
    for (const edge of edgesOfAll(others)) {
      const other = bearingOf(minus(edge[1], edge[0]));
      for (const turn of [0, 90, 180, 270]) {
        if (Math.abs(((degrees - other - turn + 540) % 360) - 180) < 3) return wholeTurn(Math.round((other + turn) * 1000) / 1000);
      }
    }
    return wholeTurn(Math.round(degrees / 15) * 15);
  }
}

const cornersOfAll = (things) => [...things.flatMap(cornersOf), [0, 0]];
const edgesOfAll = (things) => things.flatMap(edgesOf);

function nearest(points, at, reach) {
  let best = null, away = reach;
  for (const point of points) {
    const d = distance(point, at);
    if (d < away) { best = point; away = d; }
  }
  return best;
}
