// Set-out as surveyors measure: a point from two known points by two tapes, or along a baseline
// and square to it. The same tapes are read back for the point chosen, to check it outdoors.

import { el } from "./fields.js";
import { byOffset, byTwoDistances, cornersOf, distance, dot, isBed, minus, mmPoint, placeOf, rightOf, bearingOf, alongOf } from "./geometry.js";

export class SetOut {
  constructor(root, editor) {
    this.root = root;
    this.editor = editor;
    const part = (name) => root.querySelector(`[name="${name}"]`);
    this.parts = Object.fromEntries(["one", "other", "way", "first", "second", "side", "what"].map((name) => [name, part(name)]));
    this.outcome = root.querySelector("[data-outcome]");
    this.readings = root.querySelector("[data-readings]");
    root.addEventListener("submit", (event) => {
      event.preventDefault();
      this.place();
    });
    root.addEventListener("input", () => this.preview());
    root.addEventListener("change", () => this.preview());
    root.addEventListener("toggle", () => this.refresh());
  }

  /** Points known on the site, each with a name. */
  known() {
    const { site, t } = this.editor;
    const points = [{ key: "datum", name: t("datum"), at: [0, 0] }];
    for (const thing of site.things) {
      const words = isBed(thing) ? t("bed_code", { code: thing.entry.code }) : thing.entry.name || thing.entry.code;
      const corners = cornersOf(thing);
      corners.slice(0, 12).forEach((at, k) => {
        const name = corners.length === 1 ? words : k === 0 && isBed(thing) && thing.entry.rectangle ? t("peg_of", { what: words }) : t("corner_of", { number: k + 1, what: words });
        points.push({ key: `${thing.group} ${thing.entry.code} ${k}`, name, at, id: thing.id });
      });
    }
    return points;
  }

  /** Points of the chosen thing that can be set. */
  targets() {
    const { site, t } = this.editor;
    const thing = site.selected;
    const made = thing ? [["place", t("whole_thing", { what: thing.entry.code })]] : [];
    const corners = thing?.entry.polygon?.vertices_m ?? (thing && !isBed(thing) && !thing.entry.at_m ? thing.entry.vertices_m : []);
    corners.forEach((_, k) => made.push([`corner ${k}`, t("corner_of", { number: k + 1, what: thing.entry.code })]));
    return made;
  }

  refresh() {
    if (!this.root.open) return;
    const points = this.known();
    const keep = (select, options, fallback) => {
      const value = select.value;
      select.replaceChildren(...options.map(([key, name]) => el("option", { value: key }, [name])));
      select.value = options.some(([key]) => key === value) ? value : options[Math.min(fallback, options.length - 1)]?.[0] ?? "";
    };
    keep(this.parts.one, points.map((p) => [p.key, p.name]), 0);
    keep(this.parts.other, points.map((p) => [p.key, p.name]), 1);
    keep(this.parts.what, this.targets(), 0);
    this.preview();
  }

  /** The point that the fields mean now, or why there is none. */
  point() {
    const { t, measures } = this.editor;
    const points = this.known();
    const one = points.find((p) => p.key === this.parts.one.value), other = points.find((p) => p.key === this.parts.other.value);
    const first = measures.length(this.parts.first.value), second = measures.length(this.parts.second.value);
    const byTape = this.parts.way.value === "distances";
    if (!one || !other || first === null || second === null || this.parts.first.value.trim() === "") return { words: "" };
    const side = this.parts.side.value;
    const at = byTape
      ? byTwoDistances(one.at, other.at, first, second, side)
      : byOffset(one.at, other.at, first, side === "left" ? -second : second);
    if (!at) return { words: distance(one.at, other.at) > 0 ? t("tapes_do_not_meet", { base: measures.words(distance(one.at, other.at)) }) : t("same_point") };
    return { at, one, other, words: t("position_is", { east: measures.words(at[0]), north: measures.words(at[1]) }) };
  }

  preview() {
    const { editor } = this;
    for (const label of this.root.querySelectorAll("[data-way]")) label.hidden = label.dataset.way !== this.parts.way.value;
    const found = this.point();
    this.outcome.textContent = found.words;
    editor.board.doing(found.at ? [found.one.at, found.at, found.other.at] : [], false, found.at ? [found.at] : []);
    this.readBack();
  }

  /** Both ways of measuring the chosen thing's place from the two known points. */
  readBack() {
    const { editor } = this;
    const { t, measures } = editor;
    const points = this.known();
    const one = points.find((p) => p.key === this.parts.one.value), other = points.find((p) => p.key === this.parts.other.value);
    const thing = editor.site.selected;
    if (!thing || !one || !other || distance(one.at, other.at) === 0) {
      this.readings.textContent = "";
      return;
    }
    const at = this.targetPoint(thing);
    const bearing = bearingOf(minus(other.at, one.at));
    const from = minus(at, one.at);
    const off = dot(from, rightOf(bearing));
    this.readings.textContent = t("now_measures", {
      what: this.parts.what.selectedOptions[0]?.textContent ?? thing.entry.code,
      first: measures.words(distance(one.at, at)), one: one.name,
      second: measures.words(distance(other.at, at)), other: other.name,
      along: measures.words(dot(from, alongOf(bearing))), off: measures.words(Math.abs(off)), side: off < 0 ? t("left") : t("right"),
    });
  }

  targetPoint(thing) {
    const corner = /^corner (\d+)$/.exec(this.parts.what.value);
    return corner ? cornersOf(thing)[Number(corner[1])] ?? placeOf(thing) : placeOf(thing);
  }

  place() {
    const { editor } = this;
    const found = this.point();
    const thing = editor.site.selected;
    if (!found.at || !thing) return editor.announce(thing ? found.words || editor.t("distances_missing") : editor.t("choose_first"));
    const corner = /^corner (\d+)$/.exec(this.parts.what.value);
    editor.setPoint(thing, corner ? Number(corner[1]) : null, mmPoint(found.at));
    editor.announce(found.words);
  }
}
