// The site plan as an editor: joins what is drawn, the list, the fields, the sun and saving.

import { Board } from "./board.js";
import { Drafting } from "./drafting.js";
import { Fields, el, read, written } from "./fields.js";
import { boxOf, frameOf, isBed, minus, moved, placeOf, turned } from "./geometry.js";
import { Gestures } from "./gestures.js";
import { keysOf } from "./keys.js";
import { freeCodeFor } from "./kinds.js";
import { Measures } from "./measures.js";
import { Outline } from "./outline.js";
import { Plants } from "./plants.js";
import { printing } from "./printing.js";
import { Saving } from "./saving.js";
import { SetOut } from "./setout.js";
import { Site } from "./site.js";
import { Snapping } from "./snapping.js";
import { Sun, STEPS_H, hatchSample } from "./sun.js";
import { View } from "./view.js";

const LOOK_EVERY_MS = 30_000;

class Editor {
  constructor(root) {
    const data = JSON.parse(document.getElementById("ground-data").textContent);
    this.root = root;
    // Parts take it out of the editor by name.
    this.t = this.t.bind(this);
    this.book = data.book;
    this.words = data.texts;
    this.urls = data.urls;
    this.scales = data.scales;
    this.paper = data.paper;
    this.mayEdit = data.may_edit;
    this.seasonStart = data.season_start;
    this.measures = new Measures(data.units, document.documentElement.lang);
    this.site = new Site(data.state);
    this.view = new View();
    this.snapping = new Snapping(this.view, this.measures);
    this.snapWanted = true;
    this.problems = [];
    this.theirs = [];
    this.handles = [];
    this.marks = [];
    this.load = null;
    this.find = (name) => root.querySelector(`[data-part="${name}"]`);
    this.sheet = this.find("sheet");
    this.form = this.find("fields");
    this.saving = new Saving(this, data.urls, root.querySelector("[name=csrfmiddlewaretoken]")?.value ?? "");
    this.sun = new Sun(this.sheet.querySelector('[data-layer="sun"]'), (month) => this.askSun(month));
    this.plants = new Plants(this.sheet.querySelector('[data-layer="plants"]'), this.sheet.querySelector('[data-layer="carried"]'));
    this.fields = new Fields(this.find("field-list"), {
      book: this.book, measures: this.measures, mayEdit: this.mayEdit, t: this.t,
      entry: (id) => this.site.thing(id)?.entry ?? {},
      put: (id, path, value) => this.putField(id, path, value),
    });
    this.outline = new Outline(this.find("things"), this);
    this.drafting = new Drafting(this);
    this.board = new Board(this.sheet, this);
    this.setOut = new SetOut(this.find("set-out"), this);
    this.gestures = new Gestures(this);
    this.listen();
    keysOf(this);
    printing(this);
    if (this.mayEdit) this.drafting.palette();
    this.sunKey();
    this.setMonth(Number(this.find("month").value));
    this.size();
    this.view.fit(boxOf(this.site.things) ?? [-5, -5, 15, 15]);
    this.showSelected();
    this.outline.draw();
    this.buttons();
    root.dataset.ready = "true";
    this.fetchPlants().finally(() => { root.dataset.settled = "true"; });
  }

  t(key, values = {}) {
    return (this.words[key] ?? key).replace(/\{(\w+)\}/g, (_, name) => values[name] ?? "");
  }

  get busy() { return Boolean(this.drafting.now || this.load || this.site.preview); }

  listen() {
    const { site, view, sun } = this;
    let waiting = false;
    view.addEventListener("change", () => {
      if (waiting) return;
      waiting = true;
      requestAnimationFrame(() => { waiting = false; this.board.all(); this.drafting.draw(); });
    });
    new ResizeObserver(() => this.size()).observe(this.sheet);
    matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => this.board.all());
    site.addEventListener("load", () => this.changed());
    site.addEventListener("change", (event) => this.changed(event.detail.id));
    site.addEventListener("drag", (event) => this.dragged(event.detail.id));
    site.addEventListener("select", () => { this.board.chosen(); this.showSelected(); this.outline.draw(); this.setOut.refresh(); });
    sun.addEventListener("sun", (event) => {
      sun.draw(view, (hours) => this.t("hours_short", { hours }));
      this.board.labels();
      this.outline.draw();
      this.find("sun-note").textContent = this.t("sun_note", { cell: this.measures.words(sun.answer.cell_m) });
      this.root.dataset.sunTook = event.detail.took_ms.toFixed(0);
      this.root.dataset.sunCount = String(Number(this.root.dataset.sunCount ?? 0) + 1);
    });
    sun.addEventListener("fault", (event) => this.announce(event.detail.message || this.t("no_connection"), true));
    const on = (name, act) => this.find(name)?.addEventListener("click", act);
    on("zoom-in", () => view.zoom(1.4));
    on("zoom-out", () => view.zoom(1 / 1.4));
    on("zoom-all", () => view.fit(boxOf(site.things) ?? [-5, -5, 15, 15]));
    on("undo", () => this.undo());
    on("redo", () => this.redo());
    on("save", () => this.saving.save());
    on("print", () => window.print());
    on("fold", () => this.showTools(!("tools" in this.root.dataset)));
    on("remove", () => this.remove());
    on("copy", () => this.copy());
    on("finish", () => this.drafting.close());
    on("by-numbers", () => this.drafting.byNumbers(this.drafting.now.kind));
    on("give-up", () => this.drafting.stop());
    this.find("snap")?.addEventListener("change", (event) => { this.snapWanted = this.snapping.on = event.target.checked; });
    this.find("show-sun").addEventListener("change", (event) => this.showSun(event.target.checked));
    this.find("show-plants").addEventListener("change", (event) => { this.plants.shown = event.target.checked; this.board.all(); });
    this.find("month").addEventListener("change", (event) => { this.setMonth(Number(event.target.value)); this.board.all(); sun.refresh(); });
    this.form.addEventListener("submit", (event) => event.preventDefault());
    this.find("notice").addEventListener("click", (event) => {
      const id = event.target.dataset?.problem;
      if (id) { this.choose(Number(id), { reveal: true, focus: true }); this.showProblems(); this.form.querySelector("[aria-invalid]")?.focus(); }
    });
    window.addEventListener("beforeunload", (event) => { if (site.touched) event.preventDefault(); });
    setInterval(() => this.saving.look(), LOOK_EVERY_MS);
    document.addEventListener("visibilitychange", () => this.saving.look());
  }

  /** On a small screen the tools are folded away; on a large one they always stand there. */
  showTools(shown) {
    this.root.toggleAttribute("data-tools", shown);
    this.find("fold").setAttribute("aria-expanded", String(shown));
  }

  size() {
    const { clientWidth, clientHeight } = this.sheet;
    if (!clientWidth || (clientWidth === this.view.width && clientHeight === this.view.height)) return;
    this.view.resize(clientWidth, clientHeight);
  }

  changed(id = null) {
    if (id === null || !this.board.nodes.has(id)) this.board.all();
    else { this.board.one(id); this.board.labels(); }
    const shown = this.fields.thing;
    const selected = this.site.selected;
    if (selected?.id !== shown?.id || kindOf(selected) !== kindOf(shown)) this.showSelected();
    else if (selected) { this.fields.thing = selected; this.fields.show(selected.entry); }
    this.outline.draw();
    this.setOut.refresh();
    this.buttons();
    this.sun.refresh();
  }

  dragged(id) {
    this.board.one(id);
    this.board.doing([], false, this.marks);
    if (this.site.selected?.id === id) this.fields.show(this.site.selected.entry);
    this.sun.refresh();
  }

  /** Move a thing with the pointer: it is carried as drawn, and drawn anew only when set down. */
  carry(thing, shift, marks) {
    if (!this.load) {
      this.load = { thing };
      if (isBed(thing)) this.plants.carry(thing, this.site.beds, this.view);
    }
    this.load.entry = moved(thing, shift);
    this.load.shift = shift;
    const px = [shift[0] * this.view.scale, -shift[1] * this.view.scale];
    this.board.carried(thing.id, px);
    if (isBed(thing)) this.plants.shift(...px);
    this.board.doing([], false, marks);
    if (this.site.selectedId === thing.id) this.fields.show(this.load.entry);
    if (shades(thing)) this.sun.refresh();
  }

  setDown(thing) {
    const load = this.load;
    this.putBack();
    if (load && (load.shift[0] || load.shift[1])) this.move(thing, load.shift);
  }

  putBack() {
    const load = this.load;
    this.load = null;
    this.marks = [];
    this.site.giveUp();
    this.board.doing([], false, []);
    if (!load) return;
    if (isBed(load.thing)) this.plants.drop(this.site.beds, this.view);
    this.board.carried(load.thing.id, [0, 0]);
    this.fields.show(load.thing.entry);
  }

  move(thing, shift, same = false) {
    const entry = moved(thing, shift);
    this.nodesReset(thing.id);
    this.site.put(thing.id, entry, this.say("moved", thing), same);
    const [east, north] = placeOf({ ...thing, entry });
    this.announce(this.t("moved_to", { what: this.nameOf(thing), east: this.measures.words(east), north: this.measures.words(north) }));
  }

  nodesReset(id) {
    const nodes = this.board.nodes.get(id);
    nodes?.group.removeAttribute("transform");
    nodes?.grip.removeAttribute("transform");
  }

  turn(thing, by) {
    if (!isBed(thing)) return;
    const entry = turned(thing.entry, frameOf(thing.entry).bearing + by);
    this.site.put(thing.id, entry, this.say("turned", thing), true);
    this.announce(this.t("turned_to", { what: this.nameOf(thing), bearing: this.measures.number(frameOf(entry).bearing) }));
  }

  putField(id, path, value) {
    const thing = this.site.thing(id);
    if (!thing || !this.mayEdit || read(thing.entry, path) === value) return;
    this.site.put(id, written(thing.entry, path, value), this.say("changed", thing));
  }

  setPoint(thing, corner, point) {
    if (corner === null) return this.move(thing, minus(point, placeOf(thing)));
    const path = isBed(thing) ? ["polygon", "vertices_m", corner] : ["vertices_m", corner];
    this.site.put(thing.id, written(thing.entry, path, point), this.say("changed", thing));
  }

  choose(id, { reveal = false, focus = false } = {}) {
    this.site.select(id);
    const thing = this.site.selected;
    if (!thing) return;
    if (reveal) this.view.reveal(placeOf(thing));
    this.announce(this.t("chosen", { what: this.nameOf(thing) }));
    const { top, bottom } = this.find("what").getBoundingClientRect();
    if (reveal && (bottom < 0 || top > window.innerHeight)) this.find("what").scrollIntoView({ block: "start" });
    if (focus) this.form.querySelector("input, select")?.focus();
  }

  remove() {
    const thing = this.site.selected;
    if (!thing || !this.mayEdit) return;
    this.site.remove(thing.id, this.say("removed", thing));
    this.announce(this.t("removed_note", { what: this.nameOf(thing) }));
    this.sheet.focus({ preventScroll: true });
  }

  /** The same thing again beside it, under the next free code. */
  copy() {
    const thing = this.site.selected;
    if (!thing || !this.mayEdit) return;
    const kind = isBed(thing) ? kindOf(thing) : thing.entry.kind;
    const box = boxOf([thing]);
    const { soil_test: test, ...rest } = moved(thing, [box[2] - box[0] + 0.6, 0]);
    const entry = { ...rest, code: freeCodeFor(this.site, kind) };
    const added = this.site.add(thing.group, entry, this.t("note_added", { what: `${this.t(thing.group)} ${entry.code}` }));
    this.drafting.added(added);
  }

  undo() {
    if (this.drafting.now) this.drafting.stop();
    const words = this.site.undo();
    if (words) return this.announce(this.t("undone", { what: words }));
    if (this.site.state.back && this.mayEdit) this.saving.step("undo");
  }

  redo() {
    const words = this.site.redo();
    if (words) return this.announce(this.t("redone", { what: words }));
    if (this.site.state.forth && !this.site.touched && this.mayEdit) this.saving.step("redo");
  }

  /** Where the pointer is: what would be drawn, and the sun there. */
  pointAt(at) {
    const place = this.find("position");
    if (!at) { place.textContent = ""; return; }
    const ground = this.view.ground(at);
    const hours = this.sun.at(ground);
    const here = this.t("position_is", { east: this.measures.words(ground[0]), north: this.measures.words(ground[1]) });
    place.textContent = hours === null ? here : `${here} · ${this.t("hours_here", { hours: this.measures.hours(hours) })}`;
    this.drafting.over(at);
  }

  sunKey() {
    const steps = this.find("sun-key");
    STEPS_H.forEach((level, k) => {
      const words = this.t("hours_under", { hours: level });
      steps.append(el("li", {}, [hatchSample(k + 1), ` ${words}`]));
    });
    steps.append(el("li", {}, [hatchSample(0), ` ${this.t("hours_from", { hours: STEPS_H[0] })}`]));
  }

  /* Sun and plants */

  showSun(shown) {
    this.sun.shown = shown;
    this.find("sun-part").hidden = !shown;
    this.find("sun-head").hidden = !shown;
    this.board.all();
    this.outline.draw();
    this.sun.refresh();
  }

  setMonth(month) {
    this.sun.month = month;
    this.find("sun-month").textContent = this.find("month").selectedOptions[0].textContent;
    const [year, first] = this.seasonStart.split("-").map(Number);
    this.plants.day = `${year + (month < first ? 1 : 0)}-${String(month).padStart(2, "0")}-15`;
  }

  async askSun(month) {
    const { beds, features } = this.saving.ground();
    const load = this.load;
    const put = (list) => (load ? list.map((entry) => (entry === load.thing.entry ? load.entry : entry)) : list);
    const { status, body } = await this.saving.post(this.urls.sun, { month, beds: put(beds), features: put(features) });
    if (status === 422) return null;
    if (status !== 200) throw new Error(body.text);
    return body;
  }

  async fetchPlants() {
    const response = await fetch(this.urls.plants, { headers: { Accept: "application/json" } });
    if (!response.ok) return;
    const { plan, plantings } = await response.json();
    this.plants.load(plantings);
    this.find("show-plants").disabled = !plantings.length;
    this.find("plants-note").textContent = plan ? "" : this.t("no_plan");
    this.board.all();
  }

  /* Words and small parts */

  kindWords(kind) { return this.book.kinds[kind] ?? kind; }
  nameOf(thing) {
    if (isBed(thing)) return `${this.t("bed")} ${thing.entry.code ?? ""}${thing.entry.name ? ` (${thing.entry.name})` : ""}`;
    return `${thing.entry.name || this.kindWords(thing.entry.kind)} (${thing.entry.code ?? ""})`;
  }
  say(what, thing) { return this.t(`note_${what}`, { what: `${isBed(thing) ? this.t("bed") : this.kindWords(thing.entry.kind)} ${thing.entry.code ?? ""}` }); }
  othersOf(id) { return this.site.things.filter((thing) => thing.id !== id); }

  showSelected() {
    const thing = this.site.selected;
    this.form.hidden = !thing;
    this.find("nothing").hidden = Boolean(thing);
    if (!thing) {
      this.fields.thing = null;
      this.find("what").textContent = this.t("nothing_chosen");
      return this.buttons();
    }
    this.find("what").textContent = this.nameOf(thing);
    this.fields.build(thing);
    this.showProblems();
    this.buttons();
  }

  /** Each problem of the chosen thing at its field; one without a field above them all. */
  showProblems() {
    this.board.faults();
    const id = this.site.selectedId;
    const mine = this.problems.filter((problem) => problem.id && problem.id === id);
    const over = mine.filter((problem) => !this.fields.mark(problem));
    this.find("thing-problems").replaceChildren(...over.map((problem) => el("p", { class: "problem" }, [problem.words])));
  }

  notice(...nodes) {
    const place = this.find("notice");
    place.hidden = !nodes.length;
    place.replaceChildren(...nodes.map((node) => (typeof node === "string" ? el("p", {}, [node]) : node)));
  }

  buttons() {
    const { site } = this;
    const set = (name, disabled, words) => {
      const button = this.find(name);
      if (!button) return;
      button.disabled = disabled;
      if (words !== undefined) button.title = words;
    };
    const last = site.back[site.back.length - 1], next = site.forth[site.forth.length - 1];
    const { state } = site;
    set("undo", !last && !state.back, last ? this.t("undo_what", { what: last.words }) : state.back ? this.t("undo_revision", { revision: state.revision, note: state.note, author: state.author }) : "");
    set("redo", !next && (!state.forth || site.touched), next ? this.t("redo_what", { what: next.words }) : state.forth ? this.t("redo_revision") : "");
    set("save", !site.touched);
    const words = this.find("unsaved");
    if (words) words.textContent = site.touched ? this.t("unsaved_count", { count: site.back.length }) : this.t("all_saved", { revision: state.revision });
    if (this.find("copy")) this.find("copy").hidden = !site.selected;
    if (this.find("remove")) this.find("remove").hidden = !site.selected;
  }

  announce(words, loud = false) {
    const place = this.find(loud ? "alert" : "status");
    place.textContent = "";
    place.textContent = words;
    this.find("last-said").textContent = words;
  }
}

const kindOf = (thing) => (thing ? (isBed(thing) ? ["rectangle", "polygon", "circle"].find((name) => thing.entry[name]) : `${thing.entry.kind}${Boolean(thing.entry.at_m)}`) : null);
const shades = (thing) => (isBed(thing) ? thing.entry.raised_m > 0 : thing.entry.height_m > 0);

const root = document.querySelector("[data-ground]");
if (root) new Editor(root);
