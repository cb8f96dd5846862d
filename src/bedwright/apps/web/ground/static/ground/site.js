// What stands on the site while it is being drawn, with every step since the last save.
// Things and their entries are never changed in place: a step back is an earlier list.

let nextId = 1;

export class Site extends EventTarget {
  constructor(state) {
    super();
    this.load(state);
  }

  /** Take over what was saved; local steps are gone. */
  load(state) {
    const selectedCode = this.selected?.entry.code;
    const selectedGroup = this.selected?.group;
    this.state = state;
    this.things = [
      ...state.beds.map((entry) => ({ id: nextId++, group: "bed", entry, saved: entry.code })),
      ...state.features.map((entry) => ({ id: nextId++, group: "feature", entry, saved: entry.code })),
    ];
    this.savedThings = this.things;
    this.back = [];
    this.forth = [];
    this.selectedId = this.things.find((t) => t.entry.code === selectedCode && t.group === selectedGroup)?.id ?? null;
    this.tell("load");
  }

  get beds() { return this.things.filter((thing) => thing.group === "bed"); }
  get features() { return this.things.filter((thing) => thing.group === "feature"); }
  get selected() { return this.things?.find((thing) => thing.id === this.selectedId) ?? null; }
  get touched() { return this.things !== this.savedThings && this.notes.length > 0; }
  get notes() { return [...new Set(this.back.map((step) => step.words))]; }

  thing(id) { return this.things.find((thing) => thing.id === id) ?? null; }

  select(id) {
    if (this.selectedId === id) return;
    this.selectedId = id;
    this.tell("select");
  }

  /** One step: an entry takes another form. `same` joins it to the last step, as keys held down do. */
  put(id, entry, words, same = false) {
    const things = this.things.map((thing) => (thing.id === id ? { ...thing, entry } : thing));
    this.step(things, words, same, id);
  }

  add(group, entry, words) {
    const thing = { id: nextId++, group, entry, saved: null };
    const beds = this.beds, features = this.features;
    this.step(group === "bed" ? [...beds, thing, ...features] : [...beds, ...features, thing], words);
    this.select(thing.id);
    return thing;
  }

  remove(id, words) {
    this.step(this.things.filter((thing) => thing.id !== id), words);
    if (this.selectedId === id) this.select(null);
  }

  step(things, words, same = false, id = null) {
    const last = this.back[this.back.length - 1];
    if (!(same && last && last.words === words && !this.forth.length)) {
      this.back.push({ things: this.preview ? this.preview.things : this.things, words });
    }
    this.preview = null;
    this.forth = [];
    this.things = things;
    this.tell("change", { id });
  }

  /** What is shown while something is dragged; `settle` makes it a step, `give up` forgets it. */
  show(id, entry) {
    this.preview ??= { things: this.things };
    this.things = this.things.map((thing) => (thing.id === id ? { ...thing, entry } : thing));
    this.tell("drag", { id });
  }

  settle(words) {
    if (!this.preview) return;
    this.step(this.things, words);
  }

  giveUp() {
    if (!this.preview) return;
    this.things = this.preview.things;
    this.preview = null;
    this.tell("change", {});
  }

  undo() { return this.walk(this.back, this.forth); }
  redo() { return this.walk(this.forth, this.back); }

  walk(from, to) {
    const step = from.pop();
    if (!step) return null;
    to.push({ things: this.things, words: step.words });
    this.things = step.things;
    if (!this.selected) this.selectedId = null;
    this.tell("change", {});
    return step.words;
  }

  /** A code not used yet: letters for beds, a sign of the kind and a number for the rest. */
  freeCode(group, sign) {
    const taken = new Set(this.things.filter((t) => t.group === group).map((t) => t.entry.code));
    if (group === "bed") {
      for (let k = 0; k < 702; k++) {
        const code = (k >= 26 ? String.fromCharCode(64 + Math.floor(k / 26)) : "") + String.fromCharCode(65 + (k % 26));
        if (!taken.has(code)) return code;
      }
    }
    let k = 1;
    while (taken.has(`${sign}${k}`)) k++;
    return `${sign}${k}`;
  }

  /** Codes that beds got since the last save, and those that went. */
  newCodes() {
    const changed = {};
    const now = new Map(this.beds.filter((bed) => bed.saved).map((bed) => [bed.saved, bed.entry.code]));
    for (const [old, code] of now) if (old !== code) changed[old] = code;
    return changed;
  }

  goneBeds() {
    const now = new Set(this.beds.map((bed) => bed.saved));
    const codes = new Set(this.beds.map((bed) => bed.entry.code));
    return this.savedThings.filter((t) => t.group === "bed" && !now.has(t.saved) && !codes.has(t.saved)).map((t) => t.saved);
  }

  tell(name, detail = {}) {
    this.dispatchEvent(new CustomEvent(name, { detail }));
  }
}
