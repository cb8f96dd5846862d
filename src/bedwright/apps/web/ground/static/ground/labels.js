// Words on the drawing. Each is tried at a few places round what it names, as on a landscape
// drawing beside a line and along it where it runs up the sheet, and written where it covers
// least. Codes of beds come first and are never left out.

import { svg } from "./marks.js";
import { bedCorners, featurePoints, isArea, isBed, middleOf } from "./geometry.js";
import { NEVER, Obstacles, aside } from "./obstacles.js";

const LETTER = 5.8;
const HIGH = 14;
/** What one place further down the list is worth: a little covered is better than a name far off. */
const LATER = 1.5;
const ALONG = [0.5, 0.3, 0.7, 0.15, 0.85];

export function labelsOf(things, view, { extra, furniture, datum }) {
  const obstacles = new Obstacles(things, view, furniture);
  const beds = things.filter(isBed).flatMap((thing) => bedLabel(thing, view, extra(thing), obstacles));
  const wanted = things.filter((each) => !isBed(each)).map((thing) => ({ id: thing.id, words: thing.entry.name || thing.entry.code || "", thing }));
  // A line can be named in many places: what stands at one place has first choice.
  wanted.sort((a, b) => Number(isRun(a.thing)) - Number(isRun(b.thing)));
  const others = wanted.map(({ id, words, thing }) => [words, best(spots(thing, view, words.length * LETTER + 4), id, obstacles), { "data-for": id }]);
  const mark = [datum, best(round(view.place([0, 0]), datum.length * LETTER, 9), null, obstacles), {}];
  return [...beds, ...[...others, mark].flatMap(([words, spot, attributes]) => (spot ? [written(words, spot, attributes)] : []))];
}

/** The code on the bed and its hours of sun below, written up the sheet where the bed is too narrow. */
function bedLabel(thing, view, more, obstacles) {
  const [x, y] = view.place(middleOf(thing));
  const codeAt = { at: [x, more ? y - 5 : y], wide: 18, high: 16 };
  const mine = { "data-for": thing.id };
  obstacles.take(boxOf(codeAt));
  const code = svg("text", { x, y: codeAt.at[1] + 4.5, class: "label code", ...mine }, [thing.entry.code ?? ""]);
  if (!more) return [code];
  const wide = more.length * LETTER;
  const across = bedCorners(thing.entry).map((p) => view.place(p)[0]);
  const upright = Math.max(...across) - Math.min(...across) < wide + 2;
  const hours = { at: [x, y + (upright ? 5 + wide / 2 : 8)], wide, upright };
  obstacles.take(boxOf(hours));
  return [code, written(more, hours, mine)];
}

/** The spot that costs least, earlier ones before later; null where all would lie on something that must be seen. */
function best(found, own, obstacles) {
  let chosen = null, least = NEVER;
  found.forEach((spot, k) => {
    if (k * LATER >= least) return;
    const cost = obstacles.cost(boxOf(spot), own) + k * LATER;
    if (cost < least) [chosen, least] = [spot, cost];
  });
  if (chosen) obstacles.take(boxOf(chosen));
  return chosen;
}

/** In a group of its own, which goes along where the thing is carried. */
function written(words, { at: [x, y], upright }, attributes) {
  const turn = upright ? { transform: `rotate(-90 ${x.toFixed(1)} ${y.toFixed(1)})` } : {};
  return svg("g", attributes, [svg("text", { class: "label", x: x.toFixed(1), y: (y + 4).toFixed(1), ...turn }, [words])]);
}

function boxOf({ at: [x, y], wide, high = HIGH, upright }) {
  const [w, h] = upright ? [high, wide] : [wide, high];
  return [x - w / 2, y - h / 2, x + w / 2, y + h / 2];
}

const isRun = ({ entry }) => !isArea(entry) && !entry.at_m;

/** Places to try, the best first; `at` is the middle of the words. */
function spots(thing, view, wide) {
  const { entry } = thing;
  const points = featurePoints(entry).map((p) => view.place(p));
  if (points.length === 1) return atPoint(entry, points[0], view, wide);
  if (isArea(entry)) return atArea(view.place(middleOf(thing)), points, wide);
  return atLine(points, ((entry.width_m ?? 0) * view.scale) / 2, wide);
}

function atPoint(entry, at, view, wide) {
  const crown = (entry.crown_radius_m ?? 0) * view.scale;
  const inside = crown > 24 ? [{ at: [at[0], at[1] + 14], wide }, { at: [at[0], at[1] - 14], wide }] : [];
  return [...inside, ...round(at, wide, 8), ...(crown > 8 ? round(at, wide, crown + 2) : [])];
}

/** Beside, below and above a point, then at its four corners. */
function round([x, y], wide, off) {
  const side = off + wide / 2, level = off + HIGH / 2;
  return [[side, 0], [-side, 0], [0, level], [0, -level], [side, level], [-side, level], [side, -level], [-side, -level]].map(([dx, dy]) => ({ at: [x + dx, y + dy], wide }));
}

function atArea([x, y], points, wide) {
  const xs = points.map((p) => p[0]), ys = points.map((p) => p[1]);
  const [left, right, top, foot] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const inside = right - left > wide && foot - top > HIGH ? [[x, y]] : [];
  const beside = [[x, foot + 9], [x, top - 8]];
  const sides = [[right + wide / 2 + 4, y], [left - wide / 2 - 4, y]];
  const shifted = [foot + 9, top - 8].flatMap((level) => [[left + wide / 2, level], [right - wide / 2, level]]);
  return [...inside, ...beside, ...sides, ...shifted].map((at) => ({ at, wide }));
}

function atLine(points, half, wide) {
  const runs = points.slice(1).map((point, k) => [points[k], point]);
  const length = ([a, b]) => Math.hypot(b[0] - a[0], b[1] - a[1]);
  runs.sort((a, b) => length(b) - length(a));
  return runs.slice(0, 4).flatMap((run) => {
    const upright = Math.abs(run[1][1] - run[0][1]) > Math.abs(run[1][0] - run[0][0]) * 2;
    const slanted = !upright && Math.abs(run[1][1] - run[0][1]) > Math.abs(run[1][0] - run[0][0]) / 4;
    // Between the edges of a broad path, or beside the line; beside a slanted one at its ends' height.
    const off = half + (slanted ? wide / 3 : 4) + HIGH / 2;
    const sides = half * 2 > HIGH + 2 && length(run) > wide ? [0, off, -off] : [-off, off];
    return ALONG.flatMap((share) => sides.map((side) => {
      const [a, b] = aside(...run, side);
      return { at: [a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share], wide, upright };
    }));
  });
}
