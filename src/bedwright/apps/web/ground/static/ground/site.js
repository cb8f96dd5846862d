// What stands on the site while it is being drawn, with every step since the last save.
// Things and their entries are never changed in place: a step back is an earlier list.

let nextId = 1;

export class Site extends EventTarget {
  constructor(state) {
    super();
    this.load(state);
  }

  /** Take over what was saved; local steps are gone, save those done since the things of `sent` were sent. */
  load(state, sent = null) {
    const now = this.things ?? [];
    const words = this.back?.slice(this.sentSteps ?? 0).map((step) => step.words) ?? [];
    this.state = state;
    this.things = [...this.asThings("bed", state.beds, now), ...this.asThings("feature", state.features, now)];
    this.savedThings = this.things;
    this.back = [];
    this.forth = [];
    this.sentSteps = 0;
    if (sent && now !== sent && words.length) {
      this.back = [{ things: this.things, words: [...new Set(words)].join("; ") }];
      this.things = this.replay(sent, now);
    }
    if (!this.selected) this.selectedId = null;
    this.tell("load");
  }

  /** Entries as things; one known by its code keeps its number, so that it stays chosen. */
  asThings(group, entries, now) {
    const known = new Map(now.filter((thing) => thing.group === group).map((thing) => [thing.entry.code, thing.id]));
    return entries.map((entry) => ({ id: known.get(entry.code) ?? nextId++, group, entry, saved: entry.code }));
  }

  /** What was done between `sent` and `now`, done to the things just loaded. */
  replay(sent, now) {
    const before = new Map(sent.map((thing) => [thing.id, thing.entry]));
    const after = new Map(now.map((thing) => [thing.id, thing]));
    const ids = new Set(this.things.map((thing) => thing.id));
    const kept = this.things
      .filter((thing) => !before.has(thing.id) || after.has(thing.id))
      .map((thing) => (after.has(thing.id) && after.get(thing.id).entry !== before.get(thing.id) ? { ...thing, entry: after.get(thing.id).entry } : thing));
    const added = now.filter((thing) => !before.has(thing.id) && !ids.has(thing.id));
    const all = [...kept, ...added];
    return [...all.filter((thing) => thing.group === "bed"), ...all.filter((thing) => thing.group !== "bed")];
  }

  get beds() { return this.things.filter((thing) => thing.group === "bed"); }
  get features() { return this.things.filter((thing) => thing.group === "feature"); }
  get selected() { return this.things?.find((thing) => thing.id === this.selectedId) ?? null; }
  get touched() { return this.back.length > 0; }
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
