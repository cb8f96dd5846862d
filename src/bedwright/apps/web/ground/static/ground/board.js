// The layers of the drawing, and what is drawn anew when. Sun, ground, plants and what is being
// done lie in layers of their own, so that moving one thing repaints little.

import { boxOf, distance, edgesOf, isArea, isBed, middleOf, placeOf } from "./geometry.js";
import { handlesOf } from "./handles.js";
import { furnitureBoxes, scaleBar } from "./furniture.js";
import { labelsOf } from "./labels.js";
import { datumMark, gripOf, line, marksOf, northPoint, outlineOf, svg, tapeLabel } from "./marks.js";

export class Board {
  constructor(root, editor) {
    this.root = root;
    this.editor = editor;
    const layer = (name) => root.querySelector(`[data-layer="${name}"]`);
    this.ground = layer("ground");
    this.over = layer("over");
    this.furniture = root.querySelector(".scale-bar");
    root.querySelector(".north-point").append(northPoint());
    this.parts = Object.fromEntries(["paths", "beds"].map((name) => [name, this.ground.appendChild(svg("g"))]));
    this.tops = Object.fromEntries(["labels", "grips", "faults", "chosen", "doing"].map((name) => [name, this.over.appendChild(svg("g", { class: name }))]));
    this.nodes = new Map();
  }

  /** Everything, as after a change of view or of many things. */
  all() {
    const { site, view } = this.editor;
    this.nodes.clear();
    const marks = { paths: [datumMark(view)], beds: [] };
    const grips = [];
    for (const thing of site.things) {
      const group = svg("g", { class: `thing ${isBed(thing) ? "is-bed" : "is-feature"}` }, marksOf(thing, view));
      const grip = gripOf(thing, view);
      grip.dataset.thing = thing.id;
      this.nodes.set(thing.id, { group, grip });
      marks[isBed(thing) ? "beds" : "paths"].push(group);
      grips.push([rank(thing), grip]);
    }
    this.parts.paths.replaceChildren(...marks.paths);
    this.parts.beds.replaceChildren(...marks.beds);
    this.tops.grips.replaceChildren(...grips.sort((a, b) => a[0] - b[0]).map(([, grip]) => grip));
    this.bar = scaleBar(view, this.editor.measures);
    this.furniture.replaceChildren(this.bar);
    this.labels();
    this.faults();
    this.chosen();
    this.editor.plants.draw(site.beds, view);
    this.editor.root.dataset.plants = String(this.editor.plants.n_drawn);
    this.editor.sun.draw(view, (hours) => this.editor.t("hours_short", { hours }));
  }

  /** One thing that changed its form. */
  one(id) {
    const thing = this.editor.site.thing(id);
    const nodes = this.nodes.get(id);
    if (!thing || !nodes) return this.all();
    const { view } = this.editor;
    nodes.group.replaceChildren(...marksOf(thing, view));
    const grip = gripOf(thing, view);
    for (const name of ["d", "stroke-width"]) if (grip.hasAttribute(name)) nodes.grip.setAttribute(name, grip.getAttribute(name));
    this.chosen();
    if (isBed(thing)) this.editor.plants.draw(this.editor.site.beds, view);
  }

  /** Carry a thing as it is by some pixels. */
  carried(id, [dx, dy]) {
    const to = `translate(${dx.toFixed(1)} ${dy.toFixed(1)})`;
    const nodes = this.nodes.get(id);
    nodes.group.setAttribute("transform", to);
    nodes.grip.setAttribute("transform", to);
    this.tops.chosen.setAttribute("transform", to);
    for (const label of this.tops.labels.querySelectorAll(`[data-for="${id}"]`)) label.setAttribute("transform", to);
  }

  labels() {
    const { site, view, sun, measures } = this.editor;
    const extra = (bed) => {
      const hours = sun.bed(bed.entry.code);
      return hours === null ? null : this.editor.t("hours_short", { hours: measures.hours(hours) });
    };
    this.tops.labels.replaceChildren(...labelsOf(site.things, view, { extra, furniture: furnitureBoxes(view, this.bar), datum: this.editor.t("datum") }));
    // Labels made anew while a thing is being carried go along with it.
    const { load } = this.editor;
    if (load?.shift) this.carried(load.thing.id, [load.shift[0] * view.scale, -load.shift[1] * view.scale]);
  }

  faults() {
    const { site, view, problems } = this.editor;
    const nodes = [];
    problems.forEach((problem, k) => {
      const thing = problem.id && site.thing(problem.id);
      if (!thing) return;
      const [x, y] = view.place(placeOf(thing));
      nodes.push(svg("path", { class: "fault", d: outlineOf(thing, view) }));
      nodes.push(svg("path", { class: "fault-mark", d: `M${x} ${y - 13}l11 19h-22Z` }));
      nodes.push(svg("text", { class: "fault-number", x, y: y + 3 }, [String(k + 1)]));
    });
    const theirs = this.editor.theirs;
    for (const thing of theirs) nodes.push(svg("path", { class: "theirs", d: outlineOf(thing, view) }));
    this.tops.faults.replaceChildren(...nodes);
  }

  chosen() {
    const { editor } = this;
    const { site, view } = editor;
    const thing = site.selected;
    this.tops.chosen.removeAttribute("transform");
    editor.handles = [];
    if (!thing) return this.tops.chosen.replaceChildren();
    const nodes = [svg("path", { class: "chosen-line", d: outlineOf(thing, view) })];
    // Opposite sides of a rectangle are alike and need no second tape.
    const edges = edgesOf(thing).slice(0, thing.entry.rectangle ? 2 : 60);
    for (const [one, other] of edges) {
      if (distance(one, other) * view.scale > 30) nodes.push(tapeLabel(one, other, editor.measures.words(distance(one, other)), view, middleOf(thing)));
    }
    if (editor.mayEdit) {
      editor.handles = handlesOf(thing, view, editor.othersOf(thing.id));
      const room = editor.handles.length < 90;
      const reach = this.reach(thing);
      for (const handle of editor.handles) {
        if (!room && handle.kind === "new") continue;
        const [x, y] = view.place(handle.at);
        if (handle.from) nodes.push(svg("path", { class: "hair", d: line([view.place(handle.from), [x, y]]) }));
        const sign = handle.kind === "corner"
          ? svg("rect", { class: "handle", x: x - 4.5, y: y - 4.5, width: 9, height: 9 })
          : svg("circle", { class: `handle ${handle.kind}`, cx: x, cy: y, r: handle.kind === "new" ? 3 : 5 });
        const hit = svg("circle", { class: `hit ${handle.kind}`, cx: x, cy: y, r: handle.kind === "turn" ? Math.max(10, reach) : reach, "data-handle": handle.name });
        nodes.push(sign, hit);
      }
    }
    this.tops.chosen.replaceChildren(...nodes);
  }

  /** How far round a handle it can be taken hold of: further by finger, never so far that a small thing has no middle left to move it by. */
  reach(thing) {
    const [w, s, e, n] = boxOf([thing]);
    const sides = [(e - w) * this.editor.view.scale, (n - s) * this.editor.view.scale];
    const isOpen = !isBed(thing) && !isArea(thing.entry) && !thing.entry.at_m;
    const most = matchMedia("(pointer: coarse)").matches ? 20 : 13;
    return Math.min(most, Math.max(4, (isOpen ? Math.max(...sides) : Math.min(...sides)) / 3.2));
  }

  /** What is being drawn, and what it is being laid against. */
  doing(points, closed, marks, words = null) {
    const { view } = this.editor;
    const nodes = [];
    if (points.length) nodes.push(svg("path", { class: "draft", d: line(points.map((p) => view.place(p)), closed) }));
    for (const point of points.slice(0, 60)) {
      const [x, y] = view.place(point);
      nodes.push(svg("circle", { class: "draft", cx: x, cy: y, r: 2.5 }));
    }
    const edges = points.slice(1).map((p, k) => [points[k], p]);
    for (const [one, other] of edges.slice(-4)) {
      if (distance(one, other) > 0) nodes.push(tapeLabel(one, other, this.editor.measures.words(distance(one, other)), view));
    }
    for (const mark of marks) {
      const [x, y] = view.place(mark);
      nodes.push(svg("circle", { class: "snap", cx: x, cy: y, r: 7 }));
    }
    if (words) nodes.push(svg("text", { class: "label", x: words.at[0], y: words.at[1] }, [words.text]));
    this.tops.doing.replaceChildren(...nodes);
  }
}

/** Small things lie over large ones, so that each can be taken hold of. */
const rank = (thing) => (isBed(thing) ? 2 : thing.entry.at_m && thing.entry.kind !== "tree" ? 3 : thing.entry.kind === "tree" ? 1 : 0);
