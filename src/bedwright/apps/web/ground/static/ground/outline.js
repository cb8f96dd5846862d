// The list of things beside the drawing: the same plan for people who do not see it.

import { el } from "./fields.js";
import { boxOf, frameOf, isBed } from "./geometry.js";

export class Outline {
  constructor(body, editor) {
    this.body = body;
    this.editor = editor;
    body.addEventListener("click", (event) => {
      const button = event.target.closest("button[data-id]");
      if (button) editor.choose(Number(button.dataset.id), { reveal: true });
    });
    body.addEventListener("keydown", (event) => this.walk(event));
  }

  /** One stop for the Tab key; arrows walk through the list. */
  walk(event) {
    const buttons = [...this.body.querySelectorAll("button[data-id]")];
    const k = buttons.indexOf(event.target);
    const to = { ArrowDown: k + 1, ArrowUp: k - 1, Home: 0, End: buttons.length - 1 }[event.key];
    if (k < 0 || to === undefined || !buttons[to]) return;
    event.preventDefault();
    for (const button of buttons) button.tabIndex = -1;
    buttons[to].tabIndex = 0;
    buttons[to].focus();
  }

  draw() {
    const { site, sun, t } = this.editor;
    const focused = document.activeElement?.dataset?.id;
    const rows = site.things.map((thing) => {
      const { entry } = thing;
      const chosen = thing.id === site.selectedId;
      const button = el("button", { type: "button", class: "plain", "data-id": thing.id, "aria-pressed": String(chosen) }, [entry.code || "–"]);
      const hours = isBed(thing) ? sun.bed(entry.code) : null;
      const changed = thing.saved === null || thing.entry !== site.savedThings.find((each) => each.id === thing.id)?.entry;
      return el("tr", { class: chosen ? "chosen" : null }, [
        el("th", { scope: "row" }, [button, ...(changed ? [el("span", { class: "changed", title: t("not_saved") }, ["*"]), el("span", { class: "unseen" }, [` (${t("not_saved")})`])] : [])]),
        el("td", {}, [this.words(thing)]),
        el("td", { class: "size" }, [this.size(thing)]),
        ...(sun.shown ? [el("td", { class: "number" }, [hours === null ? "" : this.editor.measures.hours(hours)])] : []),
      ]);
    });
    this.body.replaceChildren(...rows);
    const buttons = [...this.body.querySelectorAll("button[data-id]")];
    const stop = buttons.find((b) => Number(b.dataset.id) === site.selectedId) ?? buttons[0];
    for (const button of buttons) button.tabIndex = button === stop ? 0 : -1;
    if (focused) buttons.find((b) => b.dataset.id === focused)?.focus();
  }

  words(thing) {
    const { t, book } = this.editor;
    const { entry } = thing;
    if (isBed(thing)) return entry.name || t("bed");
    return entry.name && entry.name !== entry.kind ? entry.name : book.kinds[entry.kind];
  }

  size(thing) {
    const { measures, t } = this.editor;
    const { entry } = thing;
    if (isBed(thing)) {
      if (entry.circle) return t("across_size", { size: measures.words(entry.circle.radius_m * 2) });
      const frame = frameOf(entry);
      return `${measures.plain.format(frame.length * measures.per_m)} × ${measures.words(frame.width)}`;
    }
    if (entry.height_m) return t("high_size", { size: measures.words(entry.height_m) });
    if (entry.at_m) return "";
    const [w, s, e, n] = boxOf([thing]);
    return measures.words(Math.max(e - w, n - s));
  }
}
