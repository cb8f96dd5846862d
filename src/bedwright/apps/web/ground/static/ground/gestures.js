// Pointer Events on the drawing: taking hold, pulling handles, drawing, panning, two fingers.

import { cornersOf, distance, middle, minus, placeOf } from "./geometry.js";
import { GESTURE } from "./kinds.js";

const SLIP_PX = 4;

export class Gestures {
  constructor(editor) {
    this.editor = editor;
    this.pointers = new Map();
    this.act = null;
    this.waiting = null;
    const sheet = editor.sheet;
    sheet.addEventListener("pointerdown", (event) => this.down(event));
    sheet.addEventListener("pointermove", (event) => this.move(event));
    sheet.addEventListener("pointerup", (event) => this.up(event));
    sheet.addEventListener("pointercancel", (event) => this.cancel(event));
    sheet.addEventListener("pointerleave", () => editor.pointAt(null));
    sheet.addEventListener("dblclick", () => editor.drafting.close());
    sheet.addEventListener("wheel", (event) => this.wheel(event), { passive: false });
  }

  at(event) {
    const box = this.editor.sheet.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  }

  down(event) {
    const at = this.at(event);
    this.pointers.set(event.pointerId, at);
    this.editor.sheet.setPointerCapture(event.pointerId);
    if (this.pointers.size === 2) return this.beginPinch();
    if (this.pointers.size > 2) return;
    if (event.button === 1) return this.begin(this.panning(at));
    if (event.button > 0) return;
    if (this.editor.drafting.now) return this.begin(this.drawingAct(at));
    const handle = event.target.closest?.("[data-handle]");
    if (handle && this.editor.mayEdit) return this.begin(this.pulling(handle.dataset.handle));
    const hold = event.target.closest?.("[data-thing]");
    if (hold) {
      const id = Number(hold.dataset.thing);
      const wasSelected = this.editor.site.selectedId === id;
      this.editor.site.select(id);
      // A finger first chooses and only then moves, so that the plan can be pushed about safely.
      const may = this.editor.mayEdit && (event.pointerType !== "touch" || wasSelected);
      return this.begin(may ? this.moving(id, at) : this.panning(at));
    }
    return this.begin({ ...this.panning(at), tap: () => this.editor.site.select(null) });
  }

  begin(act) {
    this.act = act;
    this.began = [...this.pointers.values()][0];
    this.slipped = false;
  }

  move(event) {
    const at = this.at(event);
    if (!this.pointers.has(event.pointerId)) return this.editor.pointAt(at);
    this.pointers.set(event.pointerId, at);
    this.editor.snapping.on = this.editor.snapWanted && !event.altKey;
    this.latest = at;
    // One frame, one drawing: of several moves within it only the last counts.
    this.waiting ??= requestAnimationFrame(() => {
      this.waiting = null;
      this.follow();
    });
  }

  follow() {
    if (this.pinch) return this.pinched();
    if (!this.act || !this.latest) return;
    if (!this.slipped && distance(this.latest, this.began) < SLIP_PX) return;
    this.slipped = true;
    this.act.move?.(this.latest);
  }

  up(event) {
    if (!this.pointers.has(event.pointerId)) return;
    if (this.waiting) {
      cancelAnimationFrame(this.waiting);
      this.waiting = null;
      this.follow();
    }
    this.pointers.delete(event.pointerId);
    if (this.pinch) {
      if (!this.pointers.size) this.pinch = null;
      return;
    }
    const act = this.act;
    this.act = this.latest = null;
    if (!act) return;
    if (this.slipped) act.end?.(this.at(event));
    else (act.tap ?? act.end)?.(this.at(event));
  }

  cancel(event) {
    this.pointers.delete(event.pointerId);
    this.pinch = null;
    this.act?.giveUp?.();
    this.act = null;
  }

  wheel(event) {
    event.preventDefault();
    if (event.shiftKey || Math.abs(event.deltaX) > Math.abs(event.deltaY)) return this.editor.view.pan(-event.deltaX || -event.deltaY, 0);
    const lines = event.deltaMode === 1 ? 16 : 1;
    this.editor.view.zoom(Math.exp(-event.deltaY * lines * 0.0015), this.at(event));
  }

  beginPinch() {
    this.act?.giveUp?.();
    this.act = null;
    const [a, b] = this.pointers.values();
    this.pinch = { apart: distance(a, b), middle: middle(a, b) };
  }

  pinched() {
    if (this.pointers.size < 2) return;
    const [a, b] = this.pointers.values();
    const apart = distance(a, b), centre = middle(a, b);
    const { view } = this.editor;
    view.pan(...minus(centre, this.pinch.middle));
    view.zoom(apart / Math.max(1, this.pinch.apart), centre);
    this.pinch = { apart, middle: centre };
  }

  panning(from) {
    let last = from;
    return {
      move: (at) => {
        this.editor.view.pan(...minus(at, last));
        last = at;
      },
    };
  }

  moving(id, from) {
    const { editor } = this;
    const { site, view, snapping } = editor;
    const thing = site.thing(id);
    const others = editor.othersOf(id);
    const corners = cornersOf(thing), place = placeOf(thing);
    return {
      move: (at) => {
        const raw = minus(view.ground(at), view.ground(from));
        const { shift, marks } = snapping.move(corners, place, raw, others);
        editor.carry(thing, shift, marks);
      },
      end: () => editor.setDown(thing),
      tap: () => {},
      giveUp: () => editor.putBack(),
    };
  }

  pulling(name) {
    const { editor } = this;
    const handle = editor.handles.find((each) => each.name === name);
    const thing = editor.site.selected;
    if (!handle || !thing) return null;
    return {
      move: (at) => {
        const { entry, marks } = handle.pull(editor.view.ground(at), editor.snapping);
        editor.marks = marks;
        editor.site.show(thing.id, entry);
      },
      end: () => {
        editor.marks = [];
        editor.site.settle(editor.say(handle.kind === "turn" ? "turned" : "changed", thing));
      },
      tap: () => editor.drafting.tapHandle(handle, thing),
      giveUp: () => editor.putBack(),
    };
  }

  drawingAct(at) {
    const { editor } = this;
    const { drafting } = editor;
    const gesture = GESTURE[drafting.now.kind];
    const start = drafting.snapPoint(at).at;
    if (gesture === "ring" || gesture === "run") {
      return { move: (to) => editor.pointAt(to), end: (to) => drafting.addCorner(drafting.snapPoint(to).at), tap: (to) => drafting.addCorner(drafting.snapPoint(to).at) };
    }
    if (gesture === "spot") {
      const end = (to) => drafting.finish({ points: [drafting.snapPoint(to).at] });
      return { end, tap: end };
    }
    const shape = (to) => {
      const end = drafting.snapPoint(to).at;
      if (gesture === "box") return { points: [start, end] };
      return { centre: start, radius: editor.snapping.round(distance(start, end)) };
    };
    return {
      move: (to) => drafting.shape(shape(to)),
      end: (to) => drafting.finish(shape(to)),
      tap: () => drafting.finishHere(start),
      giveUp: () => drafting.shape(null),
    };
  }
}

