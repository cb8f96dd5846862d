// Saving, stepping through revisions, and what to do when somebody else was at work too.

import { el } from "./fields.js";

export class Saving {
  constructor(editor, urls, token) {
    this.editor = editor;
    this.urls = urls;
    this.token = token;
    this.busy = false;
  }

  async post(url, body) {
    const response = await fetch(url, {
      method: "POST",
      headers: { "Content-Type": "application/json", "X-CSRFToken": this.token, Accept: "application/json" },
      body: JSON.stringify(body),
    });
    const kind = response.headers.get("Content-Type") ?? "";
    if (response.redirected || !kind.includes("json")) throw new Error(this.editor.t(response.status === 403 ? "not_allowed" : "signed_out"));
    return { status: response.status, body: await response.json() };
  }

  ground() {
    const { site } = this.editor;
    return { beds: site.beds.map((bed) => bed.entry), features: site.features.map((feature) => feature.entry) };
  }

  async save({ base = this.editor.site.state.revision, ground = this.ground(), forget = [] } = {}) {
    const { editor } = this;
    if (this.busy) return;
    if (editor.fields.unsound) return editor.announce(editor.t("fields_first"), true);
    this.busy = true;
    const sent = editor.site.things;
    editor.site.sentSteps = editor.site.back.length;
    editor.announce(editor.t("saving"));
    try {
      const { status, body } = await this.post(this.urls.save, {
        base, ...ground, forget, new_codes: editor.site.newCodes(), note: editor.site.notes.join("; ").slice(0, 200),
      });
      if (status === 422) return this.problems(body.problems ?? [], ground, body.text);
      if (status === 409) return await this.conflict(body);
      if (status !== 200) throw new Error(body.text ?? `${status}`);
      this.saved(body, sent);
    } catch (error) {
      editor.announce(editor.t("not_saved_because", { why: error.message || editor.t("no_connection") }), true);
    } finally {
      this.busy = false;
      editor.buttons();
    }
  }

  saved(body, sent) {
    const { editor } = this;
    editor.theirs = [];
    editor.problems = [];
    editor.notice();
    editor.site.load(body, sent);
    const words = body.merged ? "saved_merged" : body.changed ? "saved" : "nothing_changed";
    editor.announce(editor.t(words, { revision: body.revision, author: body.others ?? "" }));
    if (body.merged) editor.notice(editor.t("saved_merged", { revision: body.revision, author: body.others }));
  }

  /** Every problem in the words of the command line: at its field, on the drawing and in a list. */
  problems(problems, sent, text) {
    const { editor } = this;
    const { site, t } = editor;
    const gone = site.goneBeds();
    let askForget = false;
    editor.problems = problems.map((problem) => {
      const words = `${t("got_words", { got: problem.got, expected: problem.expected })}${problem.hint ? ` ${problem.hint}` : ""}`;
      const match = /^(beds|site\.features)\[(\d+)\]\.?(.*)$/.exec(problem.where);
      const group = match?.[1] === "beds" ? "bed" : "feature";
      const entry = match ? sent[`${group}s`][Number(match[2]) - 1] : null;
      const thing = entry ? site.things.find((each) => each.group === group && (each.entry === entry || each.entry.code === entry.code)) : null;
      if (!thing && gone.length && /^(history|wishes)/.test(problem.where)) askForget = true;
      return { id: thing?.id ?? null, field: (match?.[3] ?? "").replace(/\[(\d+)\]/g, (_, k) => `.${k - 1}`), where: thing ? [`${t(group)} ${thing.entry.code ?? ""}`, match[3]].filter(Boolean).join(", ") : problem.where, words };
    });
    const list = el("ol", {}, editor.problems.map((problem) => {
      const place = problem.id
        ? el("button", { type: "button", class: "plain", "data-problem": problem.id }, [problem.where])
        : el("strong", {}, [problem.where]);
      return el("li", {}, [place, `: ${problem.words}`]);
    }));
    const nodes = [el("p", {}, [text ?? t("not_saved_problems", { count: problems.length })]), list];
    if (askForget) {
      const button = el("button", { type: "button", class: "grave" }, [t("forget_beds", { codes: gone.join(", ") })]);
      button.addEventListener("click", () => this.save({ forget: gone }));
      nodes.push(el("p", {}, [t("beds_named")]), button);
    }
    editor.notice(...nodes);
    editor.showProblems();
    editor.find("notice").focus();
    editor.announce(t("not_saved_problems", { count: problems.length }), true);
  }

  /** Both changed the same entries: theirs is drawn dashed beside mine, and each is chosen by hand. */
  async conflict(body) {
    const { editor } = this;
    const { site, t } = editor;
    const theirs = await this.now();
    const asThing = (group) => (entry) => ({ id: `${group} ${entry.code}`, group, entry });
    const both = [...theirs.beds.map(asThing("bed")), ...theirs.features.map(asThing("feature"))];
    const parts = body.parts.map((part) => {
      const match = /^(beds|site features) (.+)$/.exec(part);
      return { part, key: match ? `${match[1] === "beds" ? "bed" : "feature"} ${match[2]}` : null };
    });
    const keys = new Set(parts.map((each) => each.key).filter(Boolean));
    editor.theirs = both.filter((thing) => keys.has(thing.id));
    const choices = parts.map(({ part, key }, k) => {
      if (!key) return { key, node: el("li", {}, [part]) };
      const has = both.some((thing) => thing.id === key);
      const name = `conflict-${k}`;
      const pick = (value, label) => el("label", { class: "tickbox" }, [el("input", { type: "radio", name, value, checked: value === "theirs" }), ` ${label}`]);
      const node = el("li", {}, [el("fieldset", {}, [
        el("legend", {}, [key.replace(/^(bed|feature) /, (_, g) => `${t(g)} `)]),
        pick("theirs", t(has ? "keep_theirs" : "keep_gone", { author: body.author || t("somebody") })), pick("mine", t("keep_mine")),
      ])]);
      return { key, node };
    });
    const go = el("button", { type: "button" }, [t("save_so")]);
    const drop = el("button", { type: "button", class: "grave" }, [t("drop_mine")]);
    go.addEventListener("click", () => {
      const mine = new Set(choices.filter((each) => each.node.querySelector("input:checked")?.value === "mine").map((each) => each.key));
      this.save({ base: theirs.revision, ground: this.together(theirs, both, mine) });
    });
    drop.addEventListener("click", () => { editor.theirs = []; editor.notice(); site.load(theirs); });
    const problems = (body.problems ?? []).map((problem) => el("li", {}, [`${problem.where}: ${t("got_words", problem)}`]));
    editor.notice(
      el("p", {}, [body.text, " ", t("conflict_by", { author: body.author || t("somebody"), revision: body.head })]),
      el("ul", { class: "plain-list" }, [...choices.map((each) => each.node), ...problems]),
      el("div", { class: "actions" }, [...(problems.length ? [] : [go]), drop]),
    );
    editor.board.faults();
    editor.find("notice").focus();
    editor.announce(`${body.text} ${t("conflict_by", { author: body.author || t("somebody"), revision: body.head })}`, true);
  }

  /** Their ground with all of mine that they did not touch, and of the rest what was chosen. */
  together(theirs, both, mine) {
    const { site } = this.editor;
    const before = new Map(site.savedThings.map((thing) => [`${thing.group} ${thing.saved}`, thing.entry]));
    const own = new Map(site.things.map((thing) => [`${thing.group} ${thing.entry.code}`, thing.entry]));
    const other = new Map(both.map((thing) => [thing.id, thing.entry]));
    const isSame = (a, b) => JSON.stringify(a) === JSON.stringify(b);
    const kept = new Map();
    for (const key of new Set([...other.keys(), ...own.keys()])) {
      const changed = !isSame(own.get(key), before.get(key));
      const theirsChanged = !isSame(other.get(key), before.get(key));
      const value = changed && (!theirsChanged || mine.has(key)) ? own.get(key) : other.get(key);
      if (value) kept.set(key, value);
    }
    const of = (group) => [...kept].filter(([key]) => key.startsWith(`${group} `)).map(([, entry]) => entry);
    return { beds: of("bed"), features: of("feature") };
  }

  async now() {
    const response = await fetch(this.urls.now, { headers: { Accept: "application/json" } });
    if (!response.ok || response.redirected) throw new Error(this.editor.t("signed_out"));
    return response.json();
  }

  /** Somebody saved meanwhile: said at once, taken over only when nothing of mine is open. */
  async look() {
    const { editor } = this;
    if (document.hidden || this.busy || editor.busy || editor.form.contains(document.activeElement)) return;
    try {
      const now = await this.now();
      if (this.busy || now.revision === editor.site.state.revision || now.revision === this.seen) return;
      this.seen = now.revision;
      const author = now.author || editor.t("somebody");
      if (editor.site.touched) return editor.notice(editor.t("changed_by", { author, revision: now.revision }));
      editor.site.load(now);
      editor.announce(editor.t("taken_over", { author, revision: now.revision }));
    } catch {
      // No connection just now; saving will say so if it still fails then.
    }
  }

  async step(direction) {
    const { editor } = this;
    if (this.busy) return;
    this.busy = true;
    try {
      const { status, body } = await this.post(this.urls.step, { base: editor.site.state.revision, direction });
      if (status !== 200) throw new Error(body.text ?? `${status}`);
      editor.problems = [];
      editor.notice();
      editor.site.load(body);
      editor.announce(editor.t(direction === "undo" ? "revision_undone" : "revision_redone", { revision: body.revision }));
    } catch (error) {
      editor.announce(error.message || editor.t("no_connection"), true);
    } finally {
      this.busy = false;
      editor.buttons();
    }
  }
}
