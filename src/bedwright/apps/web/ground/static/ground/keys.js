// The drawing by keyboard, while it has the focus: move, turn, walk, zoom. Numbers are typed in
// the fields; nothing needs a pointer.

import { placeOf } from "./geometry.js";

const MOVES = { ArrowUp: [0, 1], ArrowDown: [0, -1], ArrowRight: [1, 0], ArrowLeft: [-1, 0] };

export function keysOf(editor) {
  editor.sheet.addEventListener("keydown", (event) => {
    if (event.target !== editor.sheet || event.metaKey) return;
    if (act(editor, event)) event.preventDefault();
  });
  document.addEventListener("keydown", (event) => {
    const typing = event.target.closest?.("input, textarea, select");
    if (event.key === "Escape" && editor.drafting.now) {
      editor.drafting.stop();
      editor.announce(editor.t("stopped"));
    }
    if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
    const key = event.key.toLowerCase();
    if (key === "s" && editor.mayEdit) { event.preventDefault(); document.activeElement?.blur?.(); editor.saving.save(); }
    if (typing) return;
    if (key === "z" && !event.shiftKey) { event.preventDefault(); editor.undo(); }
    if (key === "y" || (key === "z" && event.shiftKey)) { event.preventDefault(); editor.redo(); }
  });
}

function act(editor, event) {
  const { site, view, measures } = editor;
  if (event.ctrlKey) return false;
  const thing = site.selected;
  const way = MOVES[event.key];
  if (way) {
    if (!thing || !editor.mayEdit || event.altKey) { view.pan(-way[0] * 40, way[1] * 40); return true; }
    const step = event.shiftKey ? measures.bigStep_m : measures.step_m;
    editor.move(thing, [way[0] * step, way[1] * step], true);
    view.reveal(placeOf(site.selected));
    return true;
  }
  switch (event.key) {
    case "+": case "=": view.zoom(1.25); return true;
    case "-": view.zoom(0.8); return true;
    case "0": editor.find("zoom-all").click(); return true;
    case "PageDown": case "PageUp": {
      const k = site.things.indexOf(thing);
      const n = site.things.length;
      if (n) editor.choose(site.things[(k + (event.key === "PageDown" ? 1 : -1) + n + (k < 0 && event.key === "PageUp" ? 1 : 0)) % n].id, { reveal: true });
      return true;
    }
    case "[": case "]":
      if (thing && editor.mayEdit) editor.turn(thing, (event.key === "]" ? 1 : -1) * 5);
      return true;
    case "Delete": case "Backspace": editor.remove(); return true;
    case "Enter":
      if (editor.drafting.now) editor.drafting.close();
      else if (thing) editor.form.querySelector("input, select")?.focus();
      return true;
    case "Escape":
      if (editor.busy) editor.putBack();
      else if (thing) { site.select(null); editor.announce(editor.t("none_chosen")); }
      return true;
    default: return false;
  }
}
