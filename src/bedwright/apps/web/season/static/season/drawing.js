// The drawing of a plan: one week at a time, blocks that can be chosen and pulled elsewhere.

import { boxOf, frameOf, toBed, toSite } from "../ground/geometry.js";
import { marksOf, northPoint, svg } from "../ground/marks.js";
import { Measures } from "../ground/measures.js";
import { View } from "../ground/view.js";
import { scaleBar } from "../ground/furniture.js";
import { Blocks } from "./blocks.js";
import { Holding } from "./holding.js";
import { markCurrent, send, show, whenFailed, whenShown } from "./panel.js";

const STEP_M = 0.05;
const SLACK_M = 0.6;
const CODES_M = 0.5;
const DAY_MS = 86400000;

class SeasonDrawing {
  constructor(root, data) {
    this.root = root;
    this.data = data;
    this.part = (name) => root.querySelector(`[data-part="${name}"]`);
    this.sheet = this.part("sheet");
    this.mayMove = data.may_edit;
    this.measures = new Measures(data.units, document.documentElement.lang);
    this.view = new View();
    this.beds = data.beds.map((entry, k) => ({ id: k + 1, group: "bed", entry, saved: entry.code }));
    this.features = data.features.map((entry, k) => ({ id: -k - 1, group: "feature", entry }));
    this.ground = root.querySelector('[data-layer="ground"]');
    this.blocks = new Blocks(root.querySelector('[data-layer="blocks"]'), this.beds);
    root.querySelector(".north-point").append(northPoint());
    this.plantings = data.plantings;
    this.chosen = null;
    this.changed = new Set();
    this.tried = null;
    this.ghost = null;
    // What the pointers of the site plan ask for besides.
    this.snapping = {};
    this.drafting = { now: null, close() {} };
    this.listen();
    this.resize();
    this.fit();
    this.toWeek(Number(this.part("week").value));
    this.token = root.querySelector("[name=csrfmiddlewaretoken]")?.value ?? "";
    if (this.mayMove) this.prepare();
    if (data.chosen) this.choose(data.chosen);
    root.dataset.ready = "";
  }

  /** Have the plan laid out for trying before the first block is pulled. */
  prepare() {
    fetch(this.data.ready, { method: "POST", headers: { "X-CSRFToken": this.token } }).then(
      () => { this.root.dataset.prepared = ""; }, () => {});
  }

  t(name, words = {}) { return this.data.texts[name].replace(/\{(\w+)\}/g, (_, key) => words[key]); }

  listen() {
    const slider = this.part("week");
    slider.addEventListener("input", () => this.toWeek(Number(slider.value)));
    this.part("week-form").addEventListener("submit", (event) => event.preventDefault());
    this.part("earlier").addEventListener("click", () => this.stepWeek(-1));
    this.part("later").addEventListener("click", () => this.stepWeek(1));
    this.part("zoom-in").addEventListener("click", () => this.view.zoom(1.4));
    this.part("zoom-out").addEventListener("click", () => this.view.zoom(1 / 1.4));
    this.part("zoom-all").addEventListener("click", () => this.fit());
    this.view.addEventListener("change", () => this.redraw());
    this.sheet.addEventListener("keydown", (event) => this.key(event));
    new Holding(this);
    new ResizeObserver(() => this.resize()).observe(this.sheet);
    whenShown((code, what) => this.shown(code, what));
    whenFailed(() => { this.putBack(); this.list(); });
  }

  key(event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const act = {
      ArrowLeft: () => this.view.pan(60, 0), ArrowRight: () => this.view.pan(-60, 0),
      ArrowUp: () => this.view.pan(0, 60), ArrowDown: () => this.view.pan(0, -60),
      "+": () => this.view.zoom(1.25), "=": () => this.view.zoom(1.25), "-": () => this.view.zoom(0.8),
      0: () => this.fit(), PageUp: () => this.stepWeek(-1), PageDown: () => this.stepWeek(1),
    }[event.key];
    if (!act) return;
    event.preventDefault();
    act();
  }

  resize() {
    const { width, height } = this.sheet.getBoundingClientRect();
    if (width && height) this.view.resize(width, height);
  }

  /** All beds, with room for the codes beside them. */
  fit() {
    const [west, south, east, north] = boxOf(this.beds);
    this.view.fit([west - CODES_M, south - CODES_M, east, north]);
  }

  stepWeek(by) {
    const slider = this.part("week");
    slider.value = String(Number(slider.value) + by);
    this.toWeek(Number(slider.value));
  }

  toWeek(number) {
    const week = this.data.weeks[number];
    this.monday = week.day;
    this.sunday = new Date(Date.parse(week.day) + 6 * DAY_MS).toISOString().slice(0, 10);
    this.part("week-words").value = week.words;
    this.part("week").setAttribute("aria-valuetext", week.words);
    history.replaceState(null, "", `?week=${week.day}`);
    this.standing = this.plantings.filter((each) => this.within(each.from, each.to));
    this.list();
    this.redraw();
  }

  within(from, to) { return from <= this.sunday && to >= this.monday; }

  list() {
    const standing = new Map(this.standing.map((each) => [each.code, each]));
    for (const row of this.part("list").tBodies[0].rows) {
      const planting = standing.get(row.dataset.code);
      row.hidden = !planting;
      if (!planting) continue;
      row.querySelector('[data-part="doing"]').textContent = this.doing(row, planting);
      row.querySelector('[data-part="bed"]').textContent = planting.bed;
      row.querySelector("a").textContent = planting.words;
    }
    const plants = this.standing.reduce((sum, each) => sum + each.rows.reduce((n, row) => n + row[4], 0), 0);
    this.part("stand").textContent = this.t("stand", { plantings: standing.size, plants });
  }

  doing(row, { from, to }) {
    const inWeek = (day) => this.monday <= day && day <= this.sunday;
    const words = [];
    if (inWeek(from)) words.push(this.t("goes_in"));
    if (this.within(row.dataset.pick, row.dataset.picked)) words.push(this.t("picked"));
    if (inWeek(to)) words.push(this.t("cleared"));
    return words.join(", ");
  }

  redraw() {
    if (!this.standing) return;
    const { view } = this;
    const things = [...this.features, ...this.beds];
    this.ground.replaceChildren(...things.flatMap((thing) => [svg("g", {}, marksOf(thing, view))]));
    this.drawBlocks();
    this.root.querySelector(".scale-bar").replaceChildren(scaleBar(view, this.measures));
  }

  drawBlocks() {
    const { chosen, changed, ghost } = this;
    this.blocks.draw(this.standing, this.view, { chosen, changed, ghost });
  }

  planting(code) { return this.plantings.find((each) => each.code === code); }

  choose(code) {
    this.chosen = code;
    this.drawBlocks();
    return show(this.address("why", code));
  }

  address(name, code) { return this.data[name].replace("CODE", code.split("/").map(encodeURIComponent).join("/")); }

  /** The panel shows a planting, however it came there. */
  shown(code, { trial, refused, kept }) {
    // What was kept stays as it was tried until the plan with it opens.
    if (!kept) {
      this.plantings = trial ? trial.plantings : this.data.plantings;
      this.changed = new Set(trial ? trial.changed : []);
      this.tried = trial ? code : null;
    }
    this.standing = this.plantings.filter((each) => this.within(each.from, each.to));
    this.chosen = code ?? this.chosen;
    const planting = this.planting(this.chosen);
    this.ghost = null;
    if (planting && !this.within(planting.from, planting.to)) this.toDay(planting.from);
    else this.drawBlocks();
    markCurrent(this.part("list"), this.chosen);
    this.list();
    if (!planting) return;
    const told = refused ? "refused" : trial ? "tried" : "chosen";
    this.part("stand").textContent = this.t(told, { what: `${planting.words} ${planting.crop}` });
  }

  toDay(day) {
    const number = this.data.weeks.findLastIndex((week) => week.day <= day);
    this.part("week").value = String(Math.max(0, number));
    this.toWeek(Math.max(0, number));
  }

  pointAt() {}

  carry(code, from, at) {
    const planting = this.planting(code);
    const home = frameOf(this.blocks.beds.get(planting.bed).entry);
    const centre = [(planting.along_m[0] + planting.along_m[1]) / 2, (planting.across_m[0] + planting.across_m[1]) / 2];
    const [e, n] = toSite(home, centre);
    const [e0, n0] = this.view.ground(from), [e1, n1] = this.view.ground(at);
    const there = [e + e1 - e0, n + n1 - n0];
    const bed = this.blocks.bedAt(there, SLACK_M);
    this.ghost = bed ? this.placed(planting, bed, there) : null;
    this.drawBlocks();
  }

  /** The block on a bed with its start on whole steps; what is too long for the bed lies at its start. */
  placed(planting, bed, there) {
    const frame = frameOf(bed.entry);
    const long = planting.along_m[1] - planting.along_m[0];
    const raw = toBed(frame, there)[0] - long / 2;
    const most = Math.max(0, frame.length - long);
    const start = Math.min(most, Math.max(0, Math.round(raw / STEP_M) * STEP_M));
    const same = bed.entry.code === planting.bed;
    const wide = Math.min(frame.width, planting.across_m[1] - planting.across_m[0]);
    const across_m = same ? planting.across_m : [0, wide];
    return { ...planting, bed: bed.entry.code, along_m: [start, Math.min(frame.length, start + long)], across_m };
  }

  setDown(code) {
    const ghost = this.ghost;
    if (!ghost) {
      this.part("stand").textContent = this.t("off_beds");
      return this.drawBlocks();
    }
    this.chosen = code;
    const { bed, along_m } = ghost;
    const along = this.measures.us ? along_m[0] / 0.3048 : along_m[0];
    // A block that is on trial on another day is tried on that day again.
    const day = (code === this.tried ? this.planting(code) : this.data.plantings.find((each) => each.code === code)).from;
    this.part("stand").textContent = this.t("trying");
    return send(this.address("move", code), { bed, along: along.toFixed(3), day, base: 0 }, this.token);
  }

  putBack() {
    this.ghost = null;
    this.drawBlocks();
  }
}

const root = document.querySelector("[data-season]");
if (root) new SeasonDrawing(root, JSON.parse(document.getElementById("season-data").textContent));
