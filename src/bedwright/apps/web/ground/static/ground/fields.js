// The number fields of one thing. What is typed is taken over at once where it is sound; where
// it is not, the field says so and the drawing keeps what it had.

import { plainNumber } from "./measures.js";
import { add, isArea, isBed, middle, mmPoint, shapeName } from "./geometry.js";

let count = 0;

export function el(name, attributes = {}, children = []) {
  const node = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (value === true) node.setAttribute(key, "");
    else if (value !== false && value !== null && value !== undefined) node.setAttribute(key, value);
  }
  node.append(...children);
  return node;
}

export const read = (entry, path) => path.reduce((value, key) => value?.[key], entry);

/** A copy with one value set; undefined takes the key out. */
export function written(entry, path, value) {
  const [key, ...rest] = path;
  const base = Array.isArray(entry) ? [...entry] : { ...entry };
  const inner = rest.length ? written(base[key] ?? {}, rest, value) : value;
  if (inner === undefined) delete base[key];
  else base[key] = inner;
  return base;
}

/** Which of the described fields a thing has. */
export function fieldsOf(thing, book) {
  if (isBed(thing)) return book.bed.filter((field) => !field.shape || field.shape === shapeName(thing.entry));
  return book.feature.filter((field) => !field.kinds || field.kinds.includes(thing.entry.kind))
    .filter((field) => field.key !== "at_m" || thing.entry.at_m);
}

export class Fields {
  constructor(form, context) {
    this.form = form;
    this.context = context;
    this.rows = [];
    this.faults = new Map();
  }

  /** Build the fields of a thing anew. */
  build(thing) {
    this.thing = thing;
    this.rows = [];
    this.faults.clear();
    const nodes = [];
    for (const field of fieldsOf(thing, this.context.book)) {
      const row = this[field.type]?.(field) ?? this.text(field);
      this.rows.push(row);
      nodes.push(row.node);
    }
    this.form.replaceChildren(...nodes);
    this.show(thing.entry);
  }

  /** Values as they are now; the field being typed in is left alone. */
  show(entry) {
    for (const row of this.rows) row.show(entry);
  }

  /** Problems found by the reader of the book, each at its field. True if a field took it. */
  mark(problem) {
    const row = this.rows.find((each) => problem.field && (each.path.join(".") === problem.field || problem.field.startsWith(`${each.path.join(".")}.`) || problem.field.startsWith(`${each.path.join(".")}[`)));
    row?.fault(problem.words);
    return Boolean(row);
  }

  clear() {
    for (const row of this.rows) row.fault("");
  }

  get unsound() { return this.faults.size > 0; }

  put(path, value) {
    this.context.put(this.thing.id, path, value);
  }

  row(field, control, extra = {}) {
    const id = control.id || (control.id = `field-${++count}`);
    const fault = el("div", { class: "problem", id: `${id}-fault`, hidden: true });
    const help = field.help ? el("p", { class: "help", id: `${id}-help` }, [field.help]) : null;
    control.setAttribute("aria-describedby", [help?.id, fault.id].filter(Boolean).join(" "));
    const unit = field.unit ? el("span", { class: "unit" }, [` ${field.unit}`]) : "";
    const node = el("div", { class: `field ${field.wide ? "wide" : ""}` }, [el("label", { for: id }, [field.label, unit]), control, ...(help ? [help] : []), fault]);
    const row = {
      node,
      path: field.path,
      control,
      fault: (words) => {
        fault.textContent = words;
        fault.hidden = !words;
        node.classList.toggle("wrong", Boolean(words));
        if (words) control.setAttribute("aria-invalid", "true");
        else control.removeAttribute("aria-invalid");
      },
      show: (entry) => { if (document.activeElement !== control) control.value = extra.shown(read(entry, field.path)); },
    };
    return row;
  }

  text(field) {
    const control = el("input", { type: "text", maxlength: 80, autocomplete: "off", disabled: !this.context.mayEdit });
    control.addEventListener("change", () => this.put(field.path, control.value.trim() || undefined));
    return this.row(field, control, { shown: (value) => value ?? "" });
  }

  number(field) {
    const { measures, t } = this.context;
    const isLength = field.quantity === "length";
    const control = el("input", { type: "text", inputmode: "decimal", autocomplete: "off", size: 9, disabled: !this.context.mayEdit, "data-key": field.path.join(".") });
    const shown = (value) => (isLength ? measures.inField(value) : measures.number(value));
    const shownIn = { ...field, unit: isLength ? measures.unit : field.unit };
    const row = this.row(shownIn, control, { shown });
    const take = () => {
      const text = control.value;
      const value = text.trim() === "" ? undefined : isLength ? measures.length(text) : plainNumber(text);
      if (text === shown(read(this.context.entry(this.thing.id), field.path))) {
        this.faults.delete(row);
        return row.fault("");
      }
      const missing = value === undefined && field.required;
      const outside = typeof value === "number" && (value < field.low || value > field.high);
      if (value === null || missing || outside) {
        this.faults.set(row, true);
        return row.fault(t("got_expected", { got: text.trim() ? `\u201c${text.trim()}\u201d` : t("nothing"), low: shown(field.low), high: shown(field.high), unit: shownIn.unit ?? "" }));
      }
      this.faults.delete(row);
      row.fault("");
      this.put(field.path, value);
    };
    control.addEventListener("change", take);
    // What was taken over is shown as it was understood.
    control.addEventListener("blur", () => { if (!this.faults.has(row)) control.value = shown(read(this.context.entry(this.thing?.id), field.path)); });
    control.addEventListener("keydown", (event) => {
      if (event.key === "Enter") { event.preventDefault(); take(); }
      if (event.key !== "ArrowUp" && event.key !== "ArrowDown") return;
      event.preventDefault();
      const here = read(this.context.entry(this.thing.id), field.path) ?? 0;
      const step = isLength ? (event.shiftKey ? measures.bigStep_m : measures.step_m) : field.step ?? 1;
      const next = Math.min(field.high, Math.max(field.low, here + (event.key === "ArrowUp" ? step : -step)));
      control.value = shown(Math.round(next * 1e4) / 1e4);
      take();
    });
    return row;
  }

  choice(field) {
    const options = [["", field.required ? this.context.t("please_choose") : field.left_out ?? ""], ...field.choices];
    const control = el("select", { disabled: !this.context.mayEdit }, options.map(([value, label]) => el("option", { value }, [label])));
    control.addEventListener("change", () => this.put(field.path, control.value || undefined));
    return this.row(field, control, { shown: (value) => value ?? "" });
  }

  /** Several of a few: sides, months. `all`: what a left-out list stands for. */
  several(field) {
    const boxes = field.choices.map(([value, label]) => {
      const box = el("input", { type: "checkbox", value, disabled: !this.context.mayEdit });
      return { value, box, node: el("label", { class: "tickbox" }, [box, ` ${label}`]) };
    });
    const fault = el("div", { class: "problem", hidden: true });
    const node = el("fieldset", { class: "several wide" }, [el("legend", {}, [field.label]), el("div", { class: "marks" }, boxes.map((each) => each.node)), fault]);
    node.addEventListener("change", () => {
      const chosen = boxes.filter((each) => each.box.checked).map((each) => each.value);
      const isWhole = field.all && (chosen.length === boxes.length || !chosen.length);
      this.put(field.path, isWhole || !chosen.length ? undefined : chosen);
      if (isWhole) this.show(this.context.entry(this.thing.id));
    });
    return {
      node,
      path: field.path,
      fault: (words) => { fault.textContent = words; fault.hidden = !words; },
      show: (entry) => {
        const value = read(entry, field.path) ?? (field.all ? field.choices.map(([each]) => each) : []);
        for (const each of boxes) each.box.checked = value.includes(each.value);
      },
    };
  }

  /** Corners as a table of positions, or lasting supports as a table of kind, side and height. */
  rowsOf(field, columns, fresh) {
    const { t } = this.context;
    const body = el("tbody");
    const fault = el("div", { class: "problem", hidden: true });
    const more = el("button", { type: "button", class: "quiet small", disabled: !this.context.mayEdit }, [field.add]);
    const table = el("table", { class: "small" }, [
      el("caption", { class: "unseen" }, [field.label]),
      el("thead", {}, [el("tr", {}, [el("th", { scope: "col" }, [t("number")]), ...columns.map((c) => el("th", { scope: "col" }, [c.label])), el("td")])]),
      body,
    ]);
    const node = el("fieldset", { class: "wide" }, [el("legend", {}, [field.label]), table, more, fault]);
    let inner = [];
    const list = () => read(this.context.entry(this.thing.id), field.path) ?? [];
    const rebuild = (entry) => {
      const values = read(entry, field.path) ?? [];
      inner = [];
      body.replaceChildren(...values.map((_, k) => {
        const cells = columns.map((column) => {
          const path = [...field.path, k, ...column.path];
          const made = this[column.type]({ ...column, path });
          const label = el("span", { class: "unseen" }, [`${field.one} ${k + 1}, ${column.label}`]);
          made.node.querySelector("label").replaceChildren(label);
          inner.push(made);
          return el("td", {}, [made.node]);
        });
        const away = el("button", { type: "button", class: "plain", disabled: !this.context.mayEdit || values.length <= (field.least ?? 0), "aria-label": `${t("remove")} ${field.one} ${k + 1}` }, [t("remove")]);
        away.addEventListener("click", () => {
          const kept = list().filter((_, j) => j !== k);
          this.put(field.path, kept.length ? kept : undefined);
          more.focus();
        });
        return el("tr", {}, [el("th", { scope: "row" }, [String(k + 1)]), ...cells, el("td", {}, [away])]);
      }));
      table.hidden = !values.length;
    };
    more.addEventListener("click", () => {
      this.put(field.path, [...list(), fresh(list())]);
      body.lastElementChild?.querySelector("input, select")?.focus();
    });
    return {
      node,
      path: field.path,
      fault: (words) => { fault.textContent = words; fault.hidden = !words; },
      show: (entry) => {
        if ((read(entry, field.path) ?? []).length !== body.children.length) rebuild(entry);
        for (const each of inner) each.show(entry);
      },
    };
  }

  points(field) {
    const position = (label, k) => ({ type: "number", quantity: "length", label: `${label} ${this.context.measures.unit}`, path: [k], low: field.low, high: field.high, required: true });
    return this.rowsOf(field, [position(field.east, 0), position(field.north, 1)], (points) => {
      const [last, first] = [points[points.length - 1], points[0]];
      const closed = isBed(this.thing) || isArea(this.context.entry(this.thing.id));
      return closed ? mmPoint(middle(last, first)) : mmPoint(add(last, [1, 0]));
    });
  }

  supports(field) {
    return this.rowsOf(field, field.columns, () => ({ kind: "trellis", side: "north", height_m: 1.8 }));
  }
}
