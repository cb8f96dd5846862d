// Words on the drawing. A label that would lie on another is tried on other sides, then left
// out until one looks closer; codes of beds come first and are never left out.

import { svg } from "./marks.js";
import { featurePoints, isArea, isBed, middleOf } from "./geometry.js";

const LETTER = 6.2;
const HIGH = 13;

export function labelsOf(things, view, extra) {
  const taken = [];
  const nodes = [];
  for (const thing of things.filter(isBed)) {
    const [x, y] = view.place(middleOf(thing));
    const more = extra(thing);
    nodes.push(svg("text", { x, y: y + (more ? -1 : 4.5), class: "label code", "data-for": thing.id }, [thing.entry.code ?? ""]));
    if (more) nodes.push(svg("text", { x, y: y + 12, class: "label small", "data-for": thing.id }, [more]));
    taken.push(boxAt(x, y, Math.max((more ?? "").length, 2) * LETTER, more ? 28 : 16));
  }
  for (const thing of things.filter((each) => !isBed(each))) {
    const words = thing.entry.name || thing.entry.code || "";
    const wide = words.length * LETTER + 4;
    for (const [x0, y, anchor] of spots(thing, view, wide)) {
      const x = anchor === "start" ? x0 : within(x0, wide, view.width);
      const box = boxAt(anchor === "start" ? x + wide / 2 : x, y - 4, wide, HIGH);
      if (x === null || box[2] < 0 || box[0] > view.width || box[3] < 0 || box[1] > view.height) break;
      if (taken.some((other) => meets(box, other))) continue;
      taken.push(box);
      nodes.push(svg("text", { x, y, class: `label${anchor === "start" ? " start" : ""}`, "data-for": thing.id }, [words]));
      break;
    }
  }
  return nodes;
}

/** Moved in from the edge of the sheet; null for what lies well outside it. */
function within(x, wide, width) {
  if (x < -20 || x > width + 20) return null;
  return Math.min(width - wide / 2 - 3, Math.max(wide / 2 + 3, x));
}

const boxAt = (x, y, wide, high) => [x - wide / 2, y - high / 2, x + wide / 2, y + high / 2];
const meets = (a, b) => a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3];

function spots(thing, view, wide) {
  const { entry } = thing;
  const [x, y] = view.place(middleOf(thing));
  const points = featurePoints(entry).map((p) => view.place(p));
  if (points.length === 1) {
    return [[x + 9, y + 4, "start"], [x - wide - 5, y + 4, "start"], [x, y + 20], [x, y - 12]];
  }
  if (isArea(entry)) {
    const xs = points.map((p) => p[0]), ys = points.map((p) => p[1]);
    const fits = Math.max(...xs) - Math.min(...xs) > wide;
    const [top, foot] = [Math.min(...ys), Math.max(...ys)];
    const below = [[x, foot + 14], [x, top - 6], [x, foot + 28], [x, top - 20], [Math.max(...xs) + 6, y + 4, "start"]];
    return fits ? [[x, y + 4], ...below] : below;
  }
  return [[x, y - 8], [x, y + 17], [x + 10, y + 4, "start"], [x - wide - 8, y + 4, "start"]];
}
