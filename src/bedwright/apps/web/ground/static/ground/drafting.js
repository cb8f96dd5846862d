// Drawing new things: by pulling, corner by corner, or by numbers.

import { isBed } from "./geometry.js";
import { GESTURE, atMiddle, freeCodeFor, groupOf, made } from "./kinds.js";
import { sampleOf } from "./marks.js";

export class Drafting {
  constructor(editor) {
    this.editor = editor;
    /** What is being drawn: its kind, its corners so far, and where the pointer is. */
    this.now = null;
  }

  palette() {
    const list = this.editor.find("palette");
    for (const button of list.querySelectorAll("button[data-kind]")) {
      button.prepend(sampleOf(button.dataset.kind));
      // A key or a voice has no place to point at: the thing is added by its numbers.
      button.addEventListener("click", (event) => (event.detail === 0 ? this.byNumbers(button.dataset.kind) : this.start(button.dataset.kind)));
    }
  }

  start(kind) {
    if (this.now?.kind === kind) return this.stop();
    this.stop();
    this.now = { kind, points: [] };
    this.editor.site.select(null);
    this.editor.sheet.classList.add("drawing");
    this.editor.find("hint").hidden = false;
    this.editor.find("hint-words").textContent = this.editor.t(`hint_${GESTURE[kind]}`, { what: this.editor.kindWords(kind) });
    this.editor.find("finish").hidden = !["ring", "run"].includes(GESTURE[kind]);
    this.pressed();
    this.editor.announce(this.editor.find("hint-words").textContent);
    // On a small screen the tools give way to the sheet that is drawn on.
    this.editor.showTools(false);
    this.editor.sheet.focus({ preventScroll: true });
    this.editor.sheet.scrollIntoView({ block: "nearest" });
  }

  stop() {
    this.now = null;
    this.editor.sheet.classList.remove("drawing");
    this.editor.find("hint").hidden = true;
    this.editor.board.doing([], false, []);
    this.pressed();
  }

  pressed() {
    for (const button of this.editor.find("palette").querySelectorAll("button")) {
      button.setAttribute("aria-pressed", String(button.dataset.kind === this.now?.kind));
    }
  }

  snapPoint(at) {
    const points = this.now?.points ?? [];
    return this.editor.snapping.point(this.editor.view.ground(at), this.editor.site.things, points[points.length - 1] ?? null, points[points.length - 2] ?? null);
  }

  over(at) {
    if (!this.now) return;
    this.now.over = this.snapPoint(at);
    this.draw();
  }

  draw() {
    if (!this.now) return;
    const { points, over } = this.now;
    this.editor.board.doing(over ? [...points, over.at] : points, false, over?.marks ?? []);
  }

  shape(shape) {
    if (!shape) return this.editor.board.doing([], false, []);
    const entry = made(this.now.kind, "", shape);
    const thing = { group: groupOf(this.now.kind), entry };
    if (shape.radius !== undefined) return this.editor.board.doing([shape.centre, [shape.centre[0] + shape.radius, shape.centre[1]]], false, []);
    const corners = isBed(thing) ? cornersOfBox(shape.points) : entry.vertices_m;
    this.editor.board.doing([...corners, corners[0]], true, []);
  }

  addCorner(at) {
    const { now } = this;
    if (!now) return;
    const [first] = now.points;
    const last = now.points[now.points.length - 1];
    const near = (a) => a && Math.hypot(a[0] - at[0], a[1] - at[1]) * this.editor.view.scale < 9;
    if (now.points.length > 2 && near(first) && GESTURE[now.kind] === "ring") return this.close();
    if (near(last)) return;
    now.points.push(at);
    this.draw();
    this.editor.announce(this.editor.t("corner_set", { number: now.points.length }));
  }

  close() {
    const { now } = this;
    if (!now || !["ring", "run"].includes(GESTURE[now.kind])) return;
    const least = GESTURE[now.kind] === "ring" ? 3 : 2;
    if (now.points.length < least) return this.editor.announce(this.editor.t("more_corners", { least }));
    this.finish({ points: now.points });
  }

  finishHere(centre) {
    this.finish(atMiddle(this.now.kind, centre, 0.001));
  }

  finish(drawn) {
    if (!this.now) return;
    const { kind } = this.now;
    const [a, b] = drawn.points ?? [];
    const flat = GESTURE[kind] === "box" && (Math.abs(a[0] - b[0]) < 0.05 || Math.abs(a[1] - b[1]) < 0.05);
    if (flat || drawn.radius < 0.05) return this.editor.announce(this.editor.t("too_small"));
    this.stop();
    this.insert(kind, drawn);
  }

  /** A new thing in the middle of the view, its first number ready to be typed. */
  byNumbers(kind) {
    this.stop();
    this.insert(kind, atMiddle(kind, this.editor.view.middle, this.editor.measures.step_m));
    const first = this.editor.fields.rows.find((row) => row.control?.dataset?.key)?.control ?? this.editor.form.querySelector("input");
    first?.focus();
    first?.select?.();
  }

  insert(kind, drawn) {
    const code = freeCodeFor(this.editor.site, kind);
    const group = groupOf(kind);
    const entry = made(kind, code, drawn);
    if (group === "feature") entry.name = this.editor.kindWords(kind);
    this.added(this.editor.site.add(group, entry, this.editor.t("note_added", { what: `${this.editor.kindWords(kind)} ${code}` })));
  }

  added(thing) {
    this.editor.announce(this.editor.t("added_note", { what: this.editor.nameOf(thing) }));
  }

  tapHandle(handle, thing) {
    if (handle.drop && this.pressedHandle === handle.name) {
      this.pressedHandle = null;
      return this.editor.site.put(thing.id, handle.drop(), this.editor.say("changed", thing));
    }
    // Pressed twice, a corner goes.
    this.pressedHandle = handle.name;
    setTimeout(() => { this.pressedHandle = null; }, 500);
  }
}

const cornersOfBox = ([a, b]) => [a, [b[0], a[1]], b, [a[0], b[1]]];
